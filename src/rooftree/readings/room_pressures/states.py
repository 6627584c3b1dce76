"""Readings sorted by the state of the house in which they were taken."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated

if TYPE_CHECKING:
    from rooftree.readings.room_pressures.readings import PressureReading, RoomPressureTest

HOUSE = ""
"""Name of the main space among the rooms."""


@dataclass(frozen=True, slots=True)
class State:
    """How doors and fans stood.

    Attributes
    ----------
    doors_closed, air_handler : bool
        Doors closed; air handler running.
    running : frozenset of str
        Exhaust fans that ran.
    """

    doors_closed: bool
    air_handler: bool
    running: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class StateTable:
    """Mean pressures by room and state.

    Attributes
    ----------
    rooms : dict
        From room to state to pressures against the main space [Pa].
    house : dict
        From state to pressures of the main space against outdoors [Pa].
    doubt : float
        Standard uncertainty of one reading [Pa].
    """

    rooms: dict[str, dict[State, list[float]]]
    house: dict[State, list[float]]
    doubt: float

    def room(self, name: str, state: State) -> Propagated | None:
        """Return the pressure of a room in a state [Pa]; None where it was not read."""
        return self._mean(self.rooms.get(name, {}).get(state))

    def main(self, state: State) -> Propagated | None:
        """Return the main space against outdoors in a state [Pa]; None where not read."""
        return self._mean(self.house.get(state))

    def _mean(self, values: list[float] | None) -> Propagated | None:
        if not values:
            return None
        value = math.fsum(values) / len(values)
        standard = self.doubt / math.sqrt(len(values))
        return Propagated(value, standard, value - 2.0 * standard, value + 2.0 * standard)


def sort_readings(test: RoomPressureTest) -> StateTable:
    """Sort readings by room and state.

    Parameters
    ----------
    test : RoomPressureTest
        Readings. A room read against outdoors is brought to the main space by the main
        space's own reading in the same state, and left out where there is none.

    Returns
    -------
    StateTable
    """
    house: dict[State, list[float]] = {}
    rooms: dict[str, dict[State, list[float]]] = {}
    for row in test.pressures:
        if row.room == HOUSE:
            house.setdefault(_state(row), []).append(row.pressure)
    table = StateTable(rooms, house, test.reading_uncertainty)
    for row in test.pressures:
        if row.room == HOUSE:
            continue
        value = row.pressure
        if row.is_against_outdoors:
            main = table.main(_state(row))
            if main is None:
                continue
            value -= main.value
        rooms.setdefault(row.room, {}).setdefault(_state(row), []).append(value)
    return table


def _state(row: PressureReading) -> State:
    return State(row.doors_closed, row.air_handler, row.running)


def difference(after: Propagated, before: Propagated) -> Propagated:
    """Return a change of pressure.

    Parameters
    ----------
    after, before : Propagated
        In two states [Pa].

    Returns
    -------
    Propagated
        [Pa].
    """
    value = after.value - before.value
    standard = math.hypot(after.standard, before.standard)
    return Propagated(value, standard, value - 2.0 * standard, value + 2.0 * standard)
