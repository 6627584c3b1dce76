"""Fans and doors as switches: what is there, what is on, and how a combination is said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.readings.worst_case.readings import ZoneState

if TYPE_CHECKING:
    from rooftree.readings.worst_case.readings import WorstCaseTest

EXHAUSTS = {
    "dryer": "dryer",
    "range_hood": "range hood",
    "bath_fans": "bath fans",
    "other_exhaust": "other exhaust",
}
"""Exhaust fans: name of the field and in words."""

TURNS = {
    "interior_doors_closed": ("interior doors closed", "interior doors open"),
    "zone_door_closed": ("zone door closed", "zone door open"),
    "air_handler": ("air handler on", "air handler off"),
}
"""What is tried both ways once every exhaust runs, in the order tried."""


@dataclass(frozen=True, slots=True)
class Combination:
    """Which fans run and which doors are closed.

    Attributes
    ----------
    exhausts : frozenset of str
        Fields of the fans that run.
    turns : frozenset of str
        Fields of the doors that are closed, and of the air handler where it runs.
    """

    exhausts: frozenset[str] = frozenset()
    turns: frozenset[str] = frozenset()

    @property
    def is_still(self) -> bool:
        """Whether nothing moves air."""
        return not self.exhausts and "air_handler" not in self.turns

    def flipped(self, name: str) -> Combination:
        """Return the combination with one fan or door the other way.

        Parameters
        ----------
        name : str
            Field of the fan or door.

        Returns
        -------
        Combination
        """
        if name in EXHAUSTS:
            return Combination(self.exhausts ^ {name}, self.turns)
        return Combination(self.exhausts, self.turns ^ {name})

    def state(self, pressure: float) -> ZoneState:
        """Return it as a row with a reading.

        Parameters
        ----------
        pressure : float
            What the gauge shows [Pa].

        Returns
        -------
        ZoneState
        """
        return ZoneState(pressure, **dict.fromkeys([*self.exhausts, *self.turns], True))

    def says(self, test: WorstCaseTest) -> str:
        """Return it in words.

        Parameters
        ----------
        test : WorstCaseTest
            The search, for the doors that there are.

        Returns
        -------
        str
            Fans first, then doors.
        """
        fans = [words for name, words in EXHAUSTS.items() if name in self.exhausts]
        doors = [
            on if name in self.turns else off
            for name, (on, off) in TURNS.items()
            if name in available_turns(test)
        ]
        return ", ".join([" and ".join(fans) + " on" if fans else "no exhaust fan", *doors])


def combination_of(state: ZoneState) -> Combination:
    """Return the combination of a row.

    Parameters
    ----------
    state : ZoneState
        One reading.

    Returns
    -------
    Combination
    """
    return Combination(
        frozenset(name for name in EXHAUSTS if getattr(state, name)),
        frozenset(name for name in TURNS if getattr(state, name)),
    )


def available_exhausts(test: WorstCaseTest) -> tuple[str, ...]:
    """Return the exhaust fans that there are.

    Parameters
    ----------
    test : WorstCaseTest
        The search.

    Returns
    -------
    tuple of str
        Names of fields, in the order tried.
    """
    return tuple(name for name in EXHAUSTS if getattr(test, f"has_{name}"))


def available_turns(test: WorstCaseTest) -> tuple[str, ...]:
    """Return the doors, and the air handler, that there are.

    Parameters
    ----------
    test : WorstCaseTest
        The search.

    Returns
    -------
    tuple of str
        Names of fields, in the order tried.
    """
    return tuple(name for name in TURNS if getattr(test, f"has_{name.removesuffix('_closed')}"))
