"""Check pressures of rooms and house in words."""

from __future__ import annotations

from rooftree.papers.results.room_pressures import WORDS, state_words
from rooftree.readings.room_pressures import (
    PressureReading,
    Room,
    RoomPressureTest,
    reduce_room_pressures,
)
from rooftree.units import DisplaySystem

TEST = RoomPressureTest(
    pressures=(
        PressureReading("den", 12.0),
        PressureReading("bath", 0.4),
        PressureReading("", -1.0, doors_closed=False, air_handler=False),
        PressureReading("", -4.0, doors_closed=False),
        PressureReading("", -2.5, doors_closed=False, air_handler=False, exhausts="hood, dryer"),
    ),
    rooms=(Room("den", undercut=0.012),),
)


def test_rooms_and_effects_are_tables() -> None:
    """Closed rooms with what relieves them, and what moves the house, have a row each."""
    result = reduce_room_pressures(TEST, flow_50=0.6)
    rooms, effects = WORDS.tables(result, DisplaySystem.IP)
    assert [row[0] for row in rooms.rows] == ["den", "bath"]
    assert rooms.rows[0][1] == "12 Pa"
    assert " in²" in rooms.rows[0][3]
    assert rooms.rows[1][2:] == ("not known", "none")
    assert [row[0] for row in effects.rows] == [
        "Air handler on, doors open",
        "Dryer, hood on, doors open",
    ]


def test_the_leaking_side_has_its_line() -> None:
    """The side and its size are told with limits."""
    lines = WORDS.results(reduce_room_pressures(TEST, flow_50=0.6), DisplaySystem.SI)
    assert lines[0].value == "supply ducts leak more to outdoors"
    assert " to " in lines[1].limits


def test_states_are_words() -> None:
    """Doors and fans of each reading are told."""
    assert state_words(TEST.pressures[0]) == "doors closed, air handler on"
    assert state_words(TEST.pressures[-1]) == "doors open, air handler off, dryer, hood on"
    assert len(WORDS.readings(TEST, DisplaySystem.IP)) == len(TEST.pressures)
