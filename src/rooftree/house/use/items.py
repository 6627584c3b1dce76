"""One part of what a household uses: power, gas, water, the heat and vapor it leaves."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.house.use.hours import EVEN, GAIN_HOURS
from rooftree.house.use.ip import DAY, HOUR, WEEK, YEAR
from rooftree.known import How, Known

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class UseItem:
    """One part of what a household uses.

    Attributes
    ----------
    id, name : str
        Name in tables of things seen, and in words.
    electricity, gas : float
        Bought in a year [J]; of gas the higher heat content.
    tap_water, hot_water : float
        Water drawn mixed at taps, and drawn as it is stored, mean [m³/s].
    sensible : float
        Heat left in the living spaces, mean [W].
    vapor : float
        Water vapor left in the living spaces, mean [kg/s].
    runs : float
        Times that it is used in a year [-]; 0 where no source counts them.
    gain_hours, vapor_hours : tuple of float, 24
        Heat and vapor of each hour of the day over their mean [-].
    known : Known
        How it is known, and from which table.
    """

    id: str
    name: str
    electricity: float = 0.0
    gas: float = 0.0
    tap_water: float = 0.0
    hot_water: float = 0.0
    sensible: float = 0.0
    vapor: float = 0.0
    runs: float = 0.0
    gain_hours: tuple[float, ...] = GAIN_HOURS
    vapor_hours: tuple[float, ...] = EVEN
    known: Known = field(default_factory=Known)

    @property
    def energy(self) -> float:
        """Return electricity and gas bought in a year [J]."""
        return self.electricity + self.gas

    def times(self, factor: float, known: Known) -> UseItem:
        """Return the same used `factor` times as much [-], and how that is known."""
        return replace(
            self,
            electricity=factor * self.electricity,
            gas=factor * self.gas,
            tap_water=factor * self.tap_water,
            hot_water=factor * self.hot_water,
            sensible=factor * self.sensible,
            vapor=factor * self.vapor,
            runs=factor * self.runs,
            known=known,
        )


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen of one part of the use; exactly one of the numbers is given.

    Attributes
    ----------
    energy : float or None
        Electricity and gas bought for it in a year [J].
    times_a_week : float or None
        Times a week that it is used [-].
    water : float or None
        Water drawn for it, mean [m³/s].
    known : Known
        Measured, told and so on, with by what or by whom.
    """

    energy: float | None = None
    times_a_week: float | None = None
    water: float | None = None
    known: Known = field(default_factory=lambda: Known(How.TOLD))


def replace_seen(items: tuple[UseItem, ...], seen: Mapping[str, Seen]) -> tuple[UseItem, ...]:
    """Return the parts with those replaced that somebody saw.

    Parameters
    ----------
    items : tuple of UseItem
        Such as the reference ones.
    seen : mapping from str to Seen
        What was seen, by id of the part.

    Returns
    -------
    tuple of UseItem
        In the same order. Heat, vapor and water of a part go with its use.

    Raises
    ------
    OutOfRangeError
        If something is named that is not there, or seen in a way that does not fit it.
    """
    names = tuple(item.id for item in items)
    for name in seen:
        if name not in names:
            raise UnknownUseError(name, names)
    return tuple(
        item.times(_factor(item, seen[item.id]), seen[item.id].known) if item.id in seen else item
        for item in items
    )


class UnknownUseError(OutOfRangeError):
    """Something was seen that is no part of the use."""

    def __init__(self, name: str, names: tuple[str, ...]) -> None:
        ValueError.__init__(
            self, f"seen names {name!r}, which is no part of the use; use {', '.join(names)}"
        )
        self.name, self.names = name, names


class UnfitUseError(OutOfRangeError):
    """A part of the use was seen in a way by which its size cannot be told."""

    def __init__(self, item: UseItem, ways: tuple[str, ...]) -> None:
        ValueError.__init__(
            self,
            f"what was seen of {item.name} does not tell how much it uses; "
            f"give one of {', '.join(ways) or 'nothing: leave it out'}",
        )
        self.name, self.ways = item.id, ways


def _factor(item: UseItem, seen: Seen) -> float:
    """Return how many times the part's own use was seen [-]."""
    water = item.tap_water + item.hot_water
    ways = {
        "energy": (seen.energy, item.energy),
        "times_a_week": (seen.times_a_week, item.runs * WEEK / YEAR),
        "water": (seen.water, water),
    }
    given = [(value, usual) for value, usual in ways.values() if value is not None]
    fitting = tuple(name for name, (_, usual) in ways.items() if usual > 0.0)
    if len(given) != 1 or given[0][1] == 0.0:
        raise UnfitUseError(item, fitting)
    value, usual = given[0]
    if not 0.0 <= value < math.inf:
        raise OutOfRangeError(f"what was seen of {item.name}", value, 0.0, math.inf, "(SI)")
    return value / usual


def power_item(
    name: str,
    power: float,
    hours_a_day: float,
    *,
    months: float = 12.0,
    inside: float = 0.0,
    known: Known | None = None,
) -> UseItem:
    """Return a part known by its power and how long it runs.

    Parameters
    ----------
    name : str
        In words; also its id.
    power : float
        Electric power while it runs [W], >= 0.
    hours_a_day : float
        That it runs on days of use [h], 0 to 24.
    months : float
        Of the year in which it is used [-], 0 to 12.
    inside : float
        Share that becomes heat in the living spaces [0-1].
    known : Known or None
        How it is known; None for told.

    Returns
    -------
    UseItem

    Raises
    ------
    OutOfRangeError
        If power, hours or months cannot be.

    Examples
    --------
    >>> power_item("aquarium", 100.0, 24.0, inside=1.0).sensible
    100.0
    """
    for field_name, value, high, unit in (
        ("power", power, math.inf, "W"), ("hours_a_day", hours_a_day, 24.0, "h"),
        ("months", months, 12.0, "months"), ("inside", inside, 1.0, "-"),
    ):  # fmt: skip
        if not 0.0 <= value <= high:
            raise OutOfRangeError(field_name, value, 0.0, high, unit)
    mean = power * hours_a_day * HOUR / DAY * months / 12.0
    return UseItem(
        name, name, electricity=mean * YEAR, sensible=inside * mean, known=known or Known(How.TOLD)
    )
