"""Check room pressures against houses simulated with the air network, and every finding."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from covered.room_pressures import (
    INSIDE,
    ROOMS,
    KnownHouse,
    draw_house,
    relieving_areas,
)
from rooftree.errors import OutOfRangeError
from rooftree.readings.room_pressures import (
    DuctSide,
    Exhaust,
    PressureReading,
    Reference,
    Room,
    RoomPressureResult,
    RoomPressureTest,
    reduce_room_pressures,
)
from rooftree.readings.room_pressures.limits import pressure_limit
from rooftree.units import Kind, parse

SURE = {
    "pressure_uncertainty": 0.001,
    "wind_uncertainty": 0.0,
    "gap_uncertainty": 0.0,
    "flow_uncertainty": 1e-6,
    "length_uncertainty": 1e-9,
    "discharge_uncertainty": 1e-9,
}


def readings(house: KnownHouse) -> tuple[PressureReading, ...]:
    """Return what a perfect gauge shows in every state."""
    rows = []
    for doors in (False, True):
        for handler in (False, True):
            shown = house.pressures(doors_closed=doors, air_handler=handler)
            rows.append(PressureReading("", float(shown[0]), Reference.OUTDOORS, doors, handler))
            rows += [
                PressureReading(
                    f"room {i}",
                    float(shown[i] - shown[0]),
                    doors_closed=doors,
                    air_handler=handler,
                )
                for i in range(1, ROOMS + 1)
            ]
    fan = house.pressures(doors_closed=False, air_handler=False, exhaust=True)[0]
    rows.append(PressureReading("", float(fan), Reference.OUTDOORS, False, False, "bath"))
    return tuple(rows)


def read_exactly(house: KnownHouse, *, registers: bool = False) -> RoomPressureTest:
    """Return a test of a house without any error."""
    return RoomPressureTest(
        pressures=readings(house),
        rooms=tuple(
            Room(
                f"room {i + 1}",
                undercut=house.undercuts[i],
                supply_flow=house.flows[i] if registers else None,
                leakage_share=house.shares[i],
            )
            for i in range(ROOMS)
        ),
        exhausts=(Exhaust("bath", house.exhaust),),
        house_height=house.height,
        indoor_temperature=INSIDE,
        outdoor_temperature=house.outside,
        discharge=house.discharge,
        **SURE,
    )


def reduce_exactly(house: KnownHouse, *, registers: bool = False) -> RoomPressureResult:
    """Reduce such a test with the true leakage curve."""
    return reduce_room_pressures(
        read_exactly(house, registers=registers),
        flow_50=house.flow_50,
        exponent=house.exponent,
        flow_50_uncertainty=1e-6,
        exponent_uncertainty=1e-6,
    )


def drawn(seed: int) -> KnownHouse:
    """Return a house of three closed rooms that are fed."""
    return draw_house(np.random.default_rng(seed))


@pytest.mark.parametrize("seed", range(12))
def test_simulated_rooms_reduce_back_to_their_net_flow(seed: int) -> None:
    """Pressures from the air network give back what each room is fed, within 2 %.

    The rest is the stack, which the reduction spreads evenly over the height of the room.
    """
    house = drawn(seed)
    for room in reduce_exactly(house).rooms:
        assert room.through_door is not None
        true = house.flows[int(room.name[-1]) - 1]
        assert room.through_door.value == pytest.approx(true, rel=0.02)


@pytest.mark.parametrize("registers", [False, True])
@pytest.mark.parametrize("seed", range(8))
def test_the_relief_brings_all_rooms_to_the_limit(seed: int, registers: bool) -> None:
    """With the openings that it asks for, the simulated rooms stand at 3 Pa, within 0.3 Pa."""
    house = drawn(seed)
    result = reduce_exactly(house, registers=registers)
    added = {room.name: room.area_to_add for room in result.rooms}
    areas = tuple(area.value if (area := added[f"room {i + 1}"]) else 0.0 for i in range(ROOMS))
    after = house.pressures(doors_closed=True, air_handler=True, added=areas)
    for i, area in enumerate(areas, start=1):
        if area:
            assert after[i] - after[0] == pytest.approx(3.0, abs=0.3)
            assert area == pytest.approx(relieving_areas(house)[i - 1], rel=0.12, abs=0.0015)


@pytest.mark.parametrize("seed", range(12))
def test_the_leaking_side_and_its_size_come_back(seed: int) -> None:
    """The sign of the house's change names the side; its size is within 7 %."""
    house = drawn(seed)
    result = reduce_exactly(house)
    true = house.supply_leak - house.return_leak
    assert result.duct_side is (DuctSide.SUPPLY if true > 0.0 else DuctSide.RETURN)
    assert result.duct_imbalance is not None
    assert result.duct_imbalance.value == pytest.approx(abs(true), rel=0.07)


@pytest.mark.parametrize("seed", range(12))
def test_the_exhaust_comes_back(seed: int) -> None:
    """What the fan takes is found from what it does to the house, within 7 %."""
    house = drawn(seed)
    effect = next(each for each in reduce_exactly(house).effects if each.exhaust)
    assert effect.exhaust == "bath"
    assert effect.flow is not None
    assert effect.flow.value == pytest.approx(-house.exhaust, rel=0.07)


def test_exact_readings_raise_only_what_is_so() -> None:
    """A house read without error has rooms beyond the limit and nothing doubtful."""
    found = {
        finding.code.split("/")[1] for finding in reduce_exactly(drawn(4), registers=True).findings
    }
    assert found <= {"beyond-limit", "duct-side", "house-below-outdoors"}


def test_mirrored_air_mirrors_the_result() -> None:
    """A room that gives back more than it gets is the same with the other sign."""
    one, other = (
        reduce_room_pressures(
            RoomPressureTest(
                pressures=(PressureReading("den", sign * 8.0),),
                rooms=(Room("den", undercut=0.012),),
            )
        ).rooms[0]
        for sign in (1.0, -1.0)
    )
    assert one.through_door is not None
    assert other.through_door is not None
    assert one.area_to_add is not None
    assert other.area_to_add is not None
    assert other.through_door.value == pytest.approx(-one.through_door.value)
    assert (other.through_door.low, other.through_door.high) == pytest.approx(
        (-one.through_door.high, -one.through_door.low)
    )
    assert other.area_to_add.value == pytest.approx(one.area_to_add.value)


def test_the_relief_grows_with_the_pressure() -> None:
    """The further a room is beyond the limit, the more it needs; within it, nothing."""

    def relief(pressure: float) -> float:
        test = RoomPressureTest(
            pressures=(PressureReading("den", pressure),), rooms=(Room("den", undercut=0.012),)
        )
        area = reduce_room_pressures(test).rooms[0].area_to_add
        return area.value if area else 0.0

    sizes = [relief(pressure) for pressure in (2.0, 3.0, 3.1, 5.0, 10.0, 30.0)]
    assert sizes[:2] == [0.0, 0.0]
    assert all(after > before for before, after in pairwise(sizes[1:]))


def test_a_room_against_outdoors_is_brought_to_the_main_space() -> None:
    """Read against outdoors with the main space beside it, a room gives the same."""
    test = RoomPressureTest(
        pressures=(
            PressureReading("", -3.0, Reference.OUTDOORS),
            PressureReading("den", 4.0, Reference.OUTDOORS),
        )
    )
    assert reduce_room_pressures(test).rooms[0].pressure.value == pytest.approx(7.0)


def test_readings_in_one_state_are_averaged() -> None:
    """Two readings of one room are surer than one, and their mean counts."""
    test = RoomPressureTest(
        pressures=(
            PressureReading("den", 5),
            PressureReading("den", 7),
            PressureReading("attic", 5),
        )
    )
    den, attic = sorted(reduce_room_pressures(test).rooms, key=lambda room: room.name)[::-1]
    assert den.pressure.value == pytest.approx(6.0)
    assert den.pressure.standard == pytest.approx(attic.pressure.standard / 2.0**0.5)


def test_the_baseline_is_taken_off() -> None:
    """What the closed room shows with everything off is no work of the air handler."""
    test = RoomPressureTest(
        pressures=(PressureReading("den", 6.0), PressureReading("den", 0.6, air_handler=False))
    )
    room = reduce_room_pressures(test).rooms[0]
    assert room.pressure.value == pytest.approx(5.4)
    assert room.baseline == pytest.approx(0.6)


def test_without_the_house_leakage_the_relief_is_smaller_and_says_so() -> None:
    """What leaks from the room to outdoors is left out then, and a finding tells it."""
    test = replace(read_exactly(drawn(3)), pressures=readings(drawn(3)))
    known = reduce_exactly(drawn(3))
    unknown = reduce_room_pressures(test)
    assert {"room_pressures/no-house-leakage"} <= {found.code for found in unknown.findings}
    assert all(effect.flow is None for effect in unknown.effects)
    for one, other in zip(known.rooms, unknown.rooms, strict=True):
        assert one.area_to_add is not None
        assert other.area_to_add is not None
        assert other.area_to_add.value < one.area_to_add.value


def test_nothing_read_is_told() -> None:
    """An empty test says what to read first."""
    result = reduce_room_pressures(RoomPressureTest())
    assert [finding.code for finding in result.findings] == ["room_pressures/no-readings"]
    assert result.says == "These readings do not yet tell what is out of balance."
    assert result.rooms == ()


@pytest.mark.published(
    source="DOE/NREL Standard Work Specifications for home energy upgrades",
    where="6.6201.2",
    read="source",
)
@pytest.mark.parametrize(("pressure", "wanted"), [(3.0, False), (3.1, True), (-3.1, True)])
def test_no_closed_room_goes_beyond_3_pascals(pressure: float, wanted: bool) -> None:
    """Beyond 3 Pa either way against the common area, doors closed, is a finding."""
    test = RoomPressureTest(pressures=(PressureReading("den", pressure),))
    found = {finding.code: finding for finding in reduce_room_pressures(test).findings}
    assert ("room_pressures/beyond-limit" in found) is wanted
    if wanted:
        assert "6.6201.2" in found["room_pressures/beyond-limit"].source


@pytest.mark.published(
    source="Florida Building Code 2002, 601.4",
    where="0.01 in. w.c.",
    read="quoted in Building America Industrialized Housing Partnership, return-air case study",
)
def test_the_florida_limit() -> None:
    """2.5 Pa, a hundredth of an inch of water, can be chosen and is named as the source."""
    limit = pressure_limit("closed room in Florida")
    assert limit.value == pytest.approx(parse("0.01 in. w.c.", Kind.PRESSURE), abs=0.02)
    test = RoomPressureTest(pressures=(PressureReading("den", 2.8),), allowed_pressure=2.5)
    found = {finding.code: finding for finding in reduce_room_pressures(test).findings}
    assert found["room_pressures/beyond-limit"].source == limit.source


@pytest.mark.published(
    source="Cummings and Withers, ASHRAE Trans. 112(1), 2006 (FSEC-RR-140-06)",
    where="abstract",
    read="source",
)
@pytest.mark.parametrize(
    ("inches", "pascals"), [(0.0249, 6.2), (0.150, 37.3), (0.0116, 2.9), (0.059, 14.7)]
)
def test_pressures_of_seventy_houses_in_both_units(inches: float, pascals: float) -> None:
    """Closed rooms +6.2 (37.3 at most), main space -2.9 (-14.7): both units to the last digit."""
    assert parse(f"{inches} in. w.c.", Kind.PRESSURE) == pytest.approx(pascals, abs=0.07)


def codes(test: RoomPressureTest, **known: float) -> set[str]:
    """Return the codes of the findings, without the kind."""
    found = reduce_room_pressures(test, **known).findings
    return {finding.code.removeprefix("room_pressures/") for finding in found}


DEN = Room("den", undercut=0.012, supply_flow=0.03)


@pytest.mark.parametrize(
    ("rows", "rooms", "code"),
    [
        ([PressureReading("den", 1500.0)], (), "units"),
        ([PressureReading("den", 0.024), PressureReading("bath", 0.031)], (), "units"),
        ([PressureReading("den", 4.0, Reference.OUTDOORS)], (), "reference"),
        ([PressureReading("den", 6.0, doors_closed=False)], (), "open-door"),
        ([PressureReading("den", 6.0, air_handler=False)], (), "not-off"),
        ([PressureReading("den", 6.0)], (), "no-baseline"),
        ([PressureReading("den", 6.0)], (), "no-house-reading"),
        ([PressureReading("den", -6.0)], (DEN,), "sign"),
        ([PressureReading("den", 60.0)], (DEN,), "opening-and-registers"),
        ([PressureReading("den", 1.3)], (DEN,), "opening-and-registers"),
        ([PressureReading("den", 0.1)], (DEN,), "silent-room"),
        ([PressureReading("den", 6.0)], (replace(DEN, undercut=12.0),), "impossible"),
        ([PressureReading("den", 6.0)], (replace(DEN, leakage_share=8.0),), "impossible"),
        ([PressureReading("den", 6.0)], (replace(DEN, return_flow=-0.1),), "impossible"),
    ],
)
def test_each_mistake_has_its_finding(
    rows: list[PressureReading], rooms: tuple[Room, ...], code: str
) -> None:
    """What is wrong with one reading is told by name, and nothing raises."""
    assert code in codes(RoomPressureTest(pressures=tuple(rows), rooms=rooms))


def test_a_room_that_fits_is_left_alone() -> None:
    """Pressure, gap and registers that agree raise no doubt."""
    test = RoomPressureTest(
        pressures=(PressureReading("den", 18.0), PressureReading("den", 0.0, air_handler=False)),
        rooms=(DEN,),
    )
    assert codes(test) == {"beyond-limit", "no-house-reading", "no-house-leakage"}


def fan(change: float) -> RoomPressureTest:
    """Return a house in which one exhaust fan of 0.08 m³/s is switched."""
    return RoomPressureTest(
        pressures=(
            PressureReading("", -1.0, Reference.OUTDOORS, False, False),
            PressureReading("", -1.0 + change, Reference.OUTDOORS, False, False, "hood"),
        ),
        exhausts=(Exhaust("hood", 0.08),),
    )


@pytest.mark.parametrize(
    ("change", "wanted"),
    [
        (-2.5, {"house-below-outdoors"}),
        (-0.1, {"exhaust-weak"}),
        (2.0, {"exhaust-sign"}),
    ],
)
def test_an_exhaust_is_held_against_what_it_does(change: float, wanted: set[str]) -> None:
    """A fan that hardly moves the house, or raises it, is told; one that lowers it warns."""
    assert codes(fan(change), flow_50=0.3) == wanted


def test_rooms_have_to_balance_with_the_main_space() -> None:
    """What closed rooms push out is what the main space takes back, or it is told."""
    rows = tuple(PressureReading(f"room {i}", 10.0) for i in range(3))
    rooms = tuple(Room(f"room {i}", undercut=0.012) for i in range(3))
    through = sum(
        room.through_door.value
        for room in reduce_room_pressures(RoomPressureTest(rows, rooms)).rooms
        if room.through_door
    )
    balanced = RoomPressureTest(rows, rooms, main_return_flow=through)
    assert "rooms-do-not-balance" not in codes(balanced)
    assert "rooms-do-not-balance" in codes(replace(balanced, main_return_flow=2.2 * through))


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"allowed_pressure": 0.0}, r"^allowed_pressure is 0 Pa; the method covers .* to inf Pa$"),
        ({"discharge": -0.6}, r"^discharge is -0\.6 -; the method covers .* to inf -$"),
    ],
)
def test_what_no_method_can_take_is_refused(change: dict[str, float], message: str) -> None:
    """No room can be held at nothing, and no opening has a negative edge."""
    with pytest.raises(OutOfRangeError, match=message):
        reduce_room_pressures(replace(RoomPressureTest(), **change))


def test_every_finding_says_what_to_do() -> None:
    """Each sentence ends, and is long enough to hold a remedy."""
    for finding in reduce_exactly(drawn(1)).findings:
        assert finding.says.endswith(".")
        assert len(finding.says) > 60
        assert finding.source


@given(st.data())
def test_no_reading_breaks_the_reduction(data: st.DataObject) -> None:
    """Whatever is typed, a result comes back in finite numbers, with findings in words."""
    number = st.sampled_from([-300.0, -4.0, 0.0, 1e-6, 0.03, 6.0, 295.0, 1e6])
    some = st.none() | number
    name = st.sampled_from(["", "den", "bath"])
    test = RoomPressureTest(
        pressures=tuple(
            PressureReading(
                data.draw(name),
                data.draw(number),
                data.draw(st.sampled_from(Reference)),
                data.draw(st.booleans()),
                data.draw(st.booleans()),
                data.draw(st.sampled_from(["", "hood"])),
            )
            for _ in range(data.draw(st.integers(0, 5)))
        ),
        rooms=tuple(
            Room(
                data.draw(name),
                undercut=data.draw(some),
                supply_flow=data.draw(some),
                return_flow=data.draw(number),
                leakage_share=data.draw(some),
            )
            for _ in range(data.draw(st.integers(0, 2)))
        ),
        exhausts=(Exhaust("hood", data.draw(some)),),
        main_return_flow=data.draw(some),
        house_height=data.draw(some),
        indoor_temperature=data.draw(some),
        outdoor_temperature=data.draw(some),
    )
    result = reduce_room_pressures(test, flow_50=data.draw(st.sampled_from([None, 0.5])))
    for room in result.rooms:
        for value in (room.pressure, room.through_door, room.area_to_add):
            assert value is None or np.isfinite([value.value, value.standard]).all()
    assert all(finding.says.endswith(".") for finding in result.findings)
