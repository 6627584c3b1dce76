"""Check pressures by the house's own fans and doors against hand calculations and reductions."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.houses import DAY, make_house, make_leak, make_space
from rooftree.engine.duct_paths import Ducts
from rooftree.engine.field_tests import exhaust_pressure
from rooftree.engine.pressure_tests import (
    dominant_duct_leakage,
    simulate_room_pressures,
    simulate_worst_case,
)
from rooftree.errors import HouseError
from rooftree.house import AirHandler, DuctRun, Fan, House, LeakKind
from rooftree.readings.room_pressures import reduce_room_pressures
from rooftree.readings.room_pressures.results import DuctSide
from rooftree.readings.worst_case import reduce_worst_case
from rooftree.readings.worst_case.readings import ZoneState

FLOW = 0.5
"""Of the air handler [m³/s]."""

UNDERCUT = 0.6 * 0.008 * (2.0 / 1.2041) ** 0.5
"""Coefficient of 80 cm² under a door [m³/(s·Pa^½)]."""


def house_with_rooms(supply: float = 0.10, back: float = 0.04) -> House:
    """Return a house with a closed bedroom, a closet with a burner, ducts outside, three fans."""
    bedroom = replace(make_space("bedroom"), volume=60.0, floor_area=25.0)
    return make_house(
        replace(make_space("main"), return_share=1.0, supply_share=0.8),
        replace(bedroom, supply_share=0.2, return_share=0.0),
        replace(make_space("closet"), volume=5.0, floor_area=2.0, supply_share=0.0),
        make_space("crawl", kind="crawlspace", floor_level=0.0, height=0.6),
        leaks=(
            make_leak("cracks", "main", coefficient=0.02),
            make_leak("window", "bedroom", coefficient=0.002),
            make_leak("flue", "closet", coefficient=0.004, exponent=0.5, kind=LeakKind.FLUE),
            make_leak("door", "main", "bedroom", coefficient=UNDERCUT, exponent=0.5,
                      kind=LeakKind.HOLE),
            make_leak("closet door", "main", "closet", coefficient=UNDERCUT, exponent=0.5,
                      kind=LeakKind.HOLE),
            make_leak("vents", "crawl", coefficient=3.0, exponent=0.5, kind=LeakKind.VENT),
        ),
        fans=(
            Fan("dryer", "dryer", "exhaust", "main", 0.05, DAY, purpose="dryer"),
            Fan("bath", "bath fan", "exhaust", "main", 0.02, DAY, purpose="bath"),
            Fan("fresh", "fresh air", "supply", "main", 0.02, DAY),
        ),
        ducts=(
            DuctRun("supply", "supply", "supply", "crawl", 20.0, 0.7, supply),
            DuctRun("return", "return", "return", "crawl", 10.0, 0.7, back),
        ),
        air_handler=AirHandler("crawl", FLOW, 400.0),
    )  # fmt: skip


def test_a_closed_room_is_pressed_up_by_its_supply() -> None:
    """What comes in by its register leaves under its door and by its window."""
    test = simulate_room_pressures(house_with_rooms())
    closed = {
        row.room: row.pressure
        for row in test.pressures
        if row.room and row.doors_closed and row.air_handler
    }
    assert closed["The closet"] == pytest.approx(0.0, abs=3.0)
    pressure = closed["The bedroom"]
    main = next(
        row.pressure
        for row in test.pressures
        if not row.room and row.doors_closed and row.air_handler
    )
    through = UNDERCUT * pressure**0.5 + 0.002 * (pressure + main) ** 0.65
    assert 0.5 * 0.2 * 0.9 * FLOW < through < 0.2 * 0.9 * FLOW  # pressed up, it gets less
    still = [row.pressure for row in test.pressures if not row.air_handler and not row.exhausts]
    assert still == pytest.approx([0.0] * len(still), abs=1e-9)


def test_room_pressures_reduce_to_the_flow_under_the_door() -> None:
    """The reduction finds the flow through the door by the area that the test states."""
    test = simulate_room_pressures(house_with_rooms())
    room = next(one for one in reduce_room_pressures(test).rooms if one.name == "The bedroom")
    assert room.through_door is not None
    expected = UNDERCUT * room.pressure.value**0.5
    assert room.through_door.value == pytest.approx(expected, rel=0.25)


@pytest.mark.parametrize(
    ("supply", "back", "side", "sign"),
    [
        (0.15, 0.02, DuctSide.SUPPLY, -1.0),
        (0.02, 0.15, DuctSide.RETURN, 1.0),
        (0.08, 0.08, DuctSide.NEITHER, 0.0),
    ],
)
def test_the_dominant_side_moves_the_house(
    supply: float, back: float, side: DuctSide, sign: float
) -> None:
    """The house sinks where supply leaks dominate and rises where return leaks do."""
    house = house_with_rooms(supply, back)
    found, change = dominant_duct_leakage(house)
    assert found is side
    assert change * sign > 0.0 or side is DuctSide.NEITHER
    test = replace(simulate_room_pressures(house), pressure_uncertainty=0.02, wind_uncertainty=0.0)
    assert reduce_room_pressures(test).duct_side is side


def test_ducts_as_air_of_their_own_agree_with_forced_leaks() -> None:
    """At small house pressures both ways of simulating a running air handler agree."""
    house = house_with_rooms()
    changes = [
        dominant_duct_leakage(house, ducts=ducts)[1] for ducts in (Ducts.OPEN, Ducts.LEFT_OUT)
    ]
    assert changes[0] == pytest.approx(changes[1], rel=0.1)


def test_exhaust_alone_by_hand() -> None:
    """Q = C P^n for the fans and the leaks that they draw on."""
    house = house_with_rooms()
    test = simulate_room_pressures(house, ducts=Ducts.LEFT_OUT)
    (dryer,) = (row.pressure for row in test.pressures if row.exhausts == "dryer")
    drawn = 0.022 * (-dryer) ** 0.65 + 0.004 * (-dryer) ** 0.5
    assert drawn == pytest.approx(0.05, rel=2e-3)  # with all doors wide open


def test_the_search_finds_the_worst_case() -> None:
    """No combination of fans, doors and air handler pulls deeper than what the search read."""
    house = house_with_rooms()
    test = simulate_worst_case(house, "closet")
    result = reduce_worst_case(test)
    deepest = min(state.pressure for state in test.states)
    doors = ("door", "closet door")
    everything = [
        exhaust_pressure(house, "closet", running=("dryer", "bath"), air_handler=on, opened=opened)
        for on in (False, True)
        for opened in ((), doors[:1], doors[1:], doors)
    ]
    assert deepest - test.baseline_before[0] == pytest.approx(min(everything), abs=1e-6)
    assert result.says


def test_the_search_knows_what_there_is() -> None:
    """Fans by purpose, doors of the zone and others, air handler with ducts."""
    test = simulate_worst_case(house_with_rooms(), "closet")
    assert (test.has_dryer, test.has_bath_fans, test.has_range_hood) == (True, True, False)
    assert (test.has_zone_door, test.has_interior_doors, test.has_air_handler) == (True,) * 3
    assert test.dryer_flow == pytest.approx(0.05)
    assert test.door_gap == pytest.approx(0.008, rel=1e-3)
    assert len({replace(one, pressure=0.0) for one in test.states}) >= 9
    assert all(isinstance(state, ZoneState) for state in test.states)
    bare = replace(house_with_rooms(), fans=(), ducts=(), air_handler=None)
    without = simulate_worst_case(bare, "main")
    assert not without.has_air_handler
    assert not without.has_dryer


@given(st.floats(255.0, 300.0))
@settings(max_examples=5)
def test_the_baseline_is_the_weather(outdoors: float) -> None:
    """Without fans, only the stack stands between zone and outdoors."""
    test = simulate_worst_case(house_with_rooms(), "closet", outdoor_temperature=outdoors)
    assert test.baseline_before == pytest.approx(test.baseline_after)
    same_sign = test.baseline_before[0] * (outdoors - 293.15)
    assert same_sign >= -1e-6 or abs(test.baseline_before[0]) < 3.0


def test_names_that_the_house_does_not_have() -> None:
    """A zone that is not there is refused by name."""
    with pytest.raises(HouseError, match=r"^shed is not a space of the house; use one of its ids$"):
        simulate_worst_case(house_with_rooms(), "shed")
