"""Check that every pressure of a house comes together by place and state."""

from __future__ import annotations

import pytest

from rooftree.job.pressure_map import ALL_OFF, HOUSE, OUTDOORS, map_pressures
from rooftree.readings.room_pressures import PressureReading, Reference, RoomPressureTest
from rooftree.readings.tracer_decay import TracerDecayTest
from rooftree.readings.worst_case import WorstCaseTest, ZoneState
from rooftree.readings.zone_pressures import ZonePressureTest

NAMES = {"attic": "Attic", "closet": "Utility closet"}


def test_a_zone_is_read_from_the_house_and_told_of_the_zone() -> None:
    """The gauge shows house against zone; the map shows the zone against the house."""
    made = map_pressures([ZonePressureTest("attic", -50.0, -44.0)], NAMES)
    (state,) = made.states
    assert state == "test fan holds the house at −50 Pa"
    assert made.values[state, ("Attic", HOUSE)] == 44.0
    assert made.values[state, (HOUSE, OUTDOORS)] == -50.0


def test_readings_in_one_state_are_averaged_and_all_off_comes_first() -> None:
    """A baseline read before and after is one pressure."""
    test = WorstCaseTest(
        "closet",
        (ZoneState(-4.2, dryer=True, interior_doors_closed=True),),
        baseline_before=(-1.0,),
        baseline_after=(-2.0,),
    )
    made = map_pressures([test], NAMES)
    assert made.states == (ALL_OFF, "dryer on, rooms shut")
    assert made.values[ALL_OFF, ("Utility closet", OUTDOORS)] == pytest.approx(-1.5)


def test_the_main_space_is_the_house() -> None:
    """Rooms are read against it, and itself against outdoors."""
    test = RoomPressureTest(
        (
            PressureReading("bedroom", 4.0),
            PressureReading("", -1.0, Reference.OUTDOORS, exhausts="bath fan"),
        )
    )
    made = map_pressures([test], NAMES)
    assert made.places == (("bedroom", HOUSE), (HOUSE, OUTDOORS))
    assert made.states == ("air handler on, doors shut", "air handler and bath fan on, doors shut")


def test_tests_without_pressures_bring_none() -> None:
    """A decay of carbon dioxide has no place on the map."""
    assert not map_pressures([TracerDecayTest()], NAMES).values
