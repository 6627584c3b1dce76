"""What a kind of measure is: its change, the settings it takes, whose work it is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from rooftree.errors import OutOfRangeError, PlanError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rooftree.house import House
    from rooftree.units.kinds import Kind as Quantity

Value: TypeAlias = float | str
"""A setting as a measure holds it: a number in SI, or a word."""


@dataclass(frozen=True, slots=True)
class Setting:
    """One thing that a kind of measure must be told.

    Attributes
    ----------
    unit : Quantity or None
        What a number measures, so that the edge can take it with its unit; None for a word.
    says : str
        What it is, with its SI unit in brackets.
    default : float, str or None
        Taken when the measure does not say; None where there is no such value.
    required : bool
        Whether the measure must say.
    low, high : float
        Smallest and largest number that is taken, in SI.
    choices : tuple of str
        Words that are taken; empty where any word is.
    """

    unit: Quantity | None
    says: str
    default: Value | None = None
    required: bool = False
    low: float = 0.0
    high: float = math.inf
    choices: tuple[str, ...] = ()


Settings: TypeAlias = "Mapping[str, Value]"
Change: TypeAlias = "Callable[[House, Settings], House]"


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of measure.

    Attributes
    ----------
    name : str
        Its key in the registry.
    title : str
        In plain words.
    change : callable
        Takes a house and complete settings, gives the changed house.
    settings : mapping from str to Setting
        What it must or may be told.
    touches : frozenset of str
        What it may change of a house: field names of :class:`rooftree.house.House`.
    stage, rank : int
        Stage it belongs to and place in the order of work.
    trade : str
        Who does it.
    life : float
        Years until it must be done again [years].
    life_source : str
        Where the life comes from.
    """

    name: str
    title: str
    change: Change
    settings: Mapping[str, Setting]
    touches: frozenset[str]
    stage: int = 0
    rank: int = 0
    trade: str = ""
    life: float = 0.0
    life_source: str = ""

    def complete(self, given: Settings) -> Settings:
        """Return the settings given, checked, with defaults for those left out."""
        for name in given:
            if name not in self.settings:
                allowed = ", ".join(sorted(self.settings)) or "none"
                raise PlanError(f"{self.name} has no setting {name!r}; it takes: {allowed}")
        complete: dict[str, Value] = {}
        for name, setting in self.settings.items():
            value = given.get(name, setting.default)
            if value is None:
                if setting.required:
                    raise PlanError(f"{self.name} needs its setting {name!r}: {setting.says}")
                continue
            complete[name] = self._checked(name, setting, value)
        return complete

    def _checked(self, name: str, setting: Setting, value: Value) -> Value:
        where = f"{self.name}.{name}"
        if setting.unit is None:
            if not isinstance(value, str):
                raise PlanError(f"{where} is {value!r}; it takes a word")
            if setting.choices and value not in setting.choices:
                raise PlanError(f"{where} is {value!r}; it takes: {', '.join(setting.choices)}")
            return value
        if isinstance(value, str):
            raise PlanError(f"{where} is {value!r}; it takes a number ({setting.says})")
        unit = setting.says[setting.says.rfind("[") :].strip("[]").replace("0-1", "of 1")
        if not setting.low <= value <= setting.high:
            raise OutOfRangeError(where, value, setting.low, setting.high, unit)
        return float(value)


def number(settings: Settings, name: str) -> float:
    """Return a setting that is a number, in SI.

    Parameters
    ----------
    settings : mapping from str to float or str
        Complete settings.
    name : str
        Which one.

    Returns
    -------
    float
        In the setting's SI unit.

    Raises
    ------
    PlanError
        If it is absent or a word.
    """
    value = settings.get(name)
    if value is None or isinstance(value, str):
        raise PlanError(f"{name} is {value!r}; it takes a number")
    return value


def optional_number(settings: Settings, name: str) -> float | None:
    """Return a setting that is a number, or None where it was left out.

    Parameters
    ----------
    settings : mapping from str to float or str
        Complete settings.
    name : str
        Which one.

    Returns
    -------
    float or None
        In the setting's SI unit.
    """
    return number(settings, name) if name in settings else None


def word(settings: Settings, name: str) -> str:
    """Return a setting that is a word; empty where it was left out.

    Parameters
    ----------
    settings : mapping from str to float or str
        Complete settings.
    name : str
        Which one.

    Returns
    -------
    str
        The word.
    """
    return str(settings.get(name, ""))
