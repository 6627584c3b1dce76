"""Mistakes in pressures of rooms and house, while the gauge is still in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.room_pressures.judge_flows import judge_flows
from rooftree.readings.room_pressures.note import SURE, WATER_INCH, note
from rooftree.readings.room_pressures.rooms import CLOSED_OFF, CLOSED_ON
from rooftree.readings.room_pressures.states import HOUSE, StateTable

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.readings.room_pressures.readings import PressureReading, RoomPressureTest
    from rooftree.readings.room_pressures.results import RoomResult

HIGHEST = 100.0
"""Pressure that no room or house has by its own fans [Pa]; ours. The highest of 70 houses with
doors closed was 37.3 Pa (Cummings and Withers, ASHRAE Trans. 112(1), 2006)."""

INCHES_BELOW = 0.16
"""Largest reading of a set that looks like inches of water [Pa]: 40 Pa typed as inches; ours."""

OPEN_DOOR = 1.0
"""Pressure across an open door that cannot be [Pa]: it would pass about 2 m³/s; ours."""

STILL = 1.0
"""Pressure of a closed room with everything off that asks for a look [Pa]; ours."""


def judge_readings(
    test: RoomPressureTest, table: StateTable, rooms: Sequence[RoomResult]
) -> tuple[Finding, ...]:
    """Return every doubt about the readings.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.
    table : StateTable
        The same by state.
    rooms : sequence of RoomResult
        Closed rooms.

    Returns
    -------
    tuple of Finding
    """
    if not test.pressures:
        return (
            note(
                "no-readings",
                "No pressure was read. Close the door of one room, run the air handler, and read"
                " the room against the main space.",
            ),
        )
    units = _judge_units(test, table)
    if units:
        return tuple(units)
    return (
        *_judge_reference(test, table),
        *_judge_open_doors(test),
        *_judge_still(test, table),
        *judge_flows(test, rooms),
    )


def _judge_units(test: RoomPressureTest, table: StateTable) -> list[Finding]:
    largest = max(test.pressures, key=lambda row: abs(row.pressure))
    if abs(largest.pressure) > HIGHEST:
        return [
            note(
                "units",
                f"Almost certain: {abs(largest.pressure):.0f} Pa is no pressure of a room or house"
                " on its own fans. Pascals were entered as inches of water (249 Pa each), or the"
                " hose was on a duct. Enter the reading again with the unit of the gauge.",
                largest.pressure,
                HIGHEST,
                "Pa",
                about=largest.room,
            )
        ]
    shown = [value for name in table.rooms for value in table.rooms[name].get(CLOSED_ON, [])]
    if len(shown) < 2 or max(map(abs, shown)) > INCHES_BELOW or not any(shown):
        return []
    fine = [value for value in shown if abs(round(value, 1) - value) > 1e-6]
    if len(fine) < 2:
        return []
    most = max(map(abs, shown))
    return [
        note(
            "units",
            "Likely: inches of water were entered as pascals. All closed rooms together stay"
            f" within {most:.3f}, finer than the gauge reads pascals; as inches of water that"
            f" would be {most * WATER_INCH:.1f} Pa. Look at the unit on the gauge.",
            most,
            INCHES_BELOW,
            "Pa",
        )
    ]


def _judge_reference(test: RoomPressureTest, table: StateTable) -> list[Finding]:
    lost = [
        row
        for row in test.pressures
        if row.is_against_outdoors
        and row.room != HOUSE
        and not any(
            _state_of(row) == (s.doors_closed, s.air_handler, s.running) for s in table.house
        )
    ]
    if not lost:
        return []
    return [
        note(
            "reference",
            f"{lost[0].room} was read against outdoors, but the main space was not in the same"
            " state. Read the main space against outdoors too, or the room against the main"
            " space.",
            about=lost[0].room,
        )
    ]


def _state_of(row: PressureReading) -> tuple[bool, bool, frozenset[str]]:
    return row.doors_closed, row.air_handler, row.running


def _judge_open_doors(test: RoomPressureTest) -> list[Finding]:
    edge = max(OPEN_DOOR, SURE * test.reading_uncertainty)
    odd = [
        row
        for row in test.pressures
        if not row.is_against_outdoors and not row.doors_closed and abs(row.pressure) > edge
    ]
    return [
        note(
            "open-door",
            f"Almost certain: the door of {row.room} was not open. {row.pressure:+.1f} Pa across"
            " an open door would need more air than a house fan moves. See whether it was closed"
            " or the reference hose lay elsewhere, and correct the state or read again. Before a"
            " fan test open every inside door.",
            row.pressure,
            edge,
            "Pa",
            about=row.room,
        )
        for row in odd
    ]


def _judge_still(test: RoomPressureTest, table: StateTable) -> list[Finding]:
    edge = max(STILL, SURE * test.reading_uncertainty)
    found = []
    for name in table.rooms:
        still = table.room(name, CLOSED_OFF)
        if still is not None and abs(still.value) > edge:
            found.append(
                note(
                    "not-off",
                    f"{name} reads {still.value:+.1f} Pa with the air handler said to be off."
                    " Likely: the air handler or another fan still ran, or the gauge was not"
                    " zeroed; else wind. Switch everything off, wait a minute, zero the gauge,"
                    " read again.",
                    still.value,
                    edge,
                    "Pa",
                    about=name,
                )
            )
    has_on = any(table.room(name, CLOSED_ON) for name in table.rooms)
    has_off = any(table.room(name, CLOSED_OFF) for name in table.rooms)
    if has_on and not has_off:
        found.append(
            note(
                "no-baseline",
                "No closed room was read with the air handler off, so wind and the gauge's zero"
                " are not taken off. Read one room once more with it off.",
            )
        )
    return found
