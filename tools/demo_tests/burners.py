"""Room air, gas line, worst case and combustion air of the demo house's utility closet."""

from __future__ import annotations

from dataclasses import replace
from math import copysign
from typing import TYPE_CHECKING

from rooftree.engine.field_tests import exhaust_pressure
from rooftree.job import Test
from rooftree.known import Answer
from rooftree.readings.ambient_co import AmbientReading, AmbientTest
from rooftree.readings.combustion_air import (
    AirOpening,
    AirSpace,
    CombustionAirTest,
    Cover,
    Joined,
    OpeningKind,
    OpeningPlace,
    RoomBurner,
)
from rooftree.readings.gas_leaks import FoundBy, GasLeak, GasLeakTest
from rooftree.readings.worst_case import (
    Combination,
    Envelope,
    Hearth,
    Stage,
    WorstCaseTest,
    next_state,
    zone_pressure,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

CFM, FOOT, INCH, BTU_PER_HOUR = 4.719474e-4, 0.3048, 0.0254, 0.2930711
INDOORS, OUTDOORS = 293.71, 274.26
"""During the visit, 69 and 34 °F [K]."""

EXPONENT = 0.65
CLOSET_SHARE, DOOR_GAP, RETURN_LEAK = 0.02, 32.0 * INCH**2, 48.0 * CFM
"""Of the true closet: its own leaks, the gap of its door, what the return draws from it."""

BASELINE, NOISE = -0.7, 0.15
"""Of the closet with everything off, and of one reading [Pa]."""


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield the tests in the order of the visit."""
    yield _test("room-air", "Carbon monoxide, room by room", "flue-probe", _room_air(rng))
    yield _test("gas-line", "Gas line", "", _gas_line())
    yield _test("worst-case", "Worst case, utility closet", "gauge-1", _search(house, rng))
    yield _test("combustion-air", "Air for the water heater", "", _closet())


def _test(key: str, name: str, instrument: str, reading: object) -> Test:
    return Test(f"test-{key}", name, "visit-1", reading, "utility-closet", instrument)


def _room_air(rng: Generator) -> AmbientTest:
    walk = (
        (0, "outdoors", 0.0, ""), (6, "living room", 1.0, ""), (9, "utility closet", 1.0, ""),
        (14, "bonus room", 1.0, ""), (55, "utility closet", 2.0, "water heater"),
        (60, "living room", 2.0, "range"), (95, "outdoors", 0.0, ""),
    )  # fmt: skip
    air = tuple(
        AmbientReading(60.0 * minutes, place, max(round(level + float(rng.normal(0.0, 0.4))), 0),
                       running)
        for minutes, place, level, running in walk
    )  # fmt: skip
    return AmbientTest(air, Answer.YES, analyser_range=2000.0)


def _gas_line() -> GasLeakTest:
    leak = GasLeak(
        "union above the water heater", FoundBy.SNIFFER, confirmed=True,
        reported_to="owner, and the gas utility the same morning", repaired=True,
        tested_again=True, note="Tightened by the utility's fitter while we were there.",
    )  # fmt: skip
    return GasLeakTest(
        leaks=(leak,), joints_checked=17.0, all_reached=Answer.YES, ambient_gas=0.0,
        connectors=Answer.NO, tubing_bonded=Answer.NOT_NEEDED,
    )  # fmt: skip


def _search(house: House, rng: Generator) -> WorstCaseTest:
    flows = {fan.id: fan.flow for fan in house.fans if fan.kind == "exhaust"}
    pulled = exhaust_pressure(house, "living", running=("dryer",))
    envelope = Envelope(flows["dryer"] / abs(pulled) ** EXPONENT, EXPONENT, CLOSET_SHARE)
    by_ducts = exhaust_pressure(house, "living", running=(), air_handler=True)
    ducts = -copysign(envelope.inflow(abs(by_ducts)), by_ducts)

    def shown(combination: Combination) -> float:
        drawn = flows["dryer"] * ("dryer" in combination.exhausts)
        drawn += flows["bath-fan"] * ("bath_fans" in combination.exhausts)
        blowing = "air_handler" in combination.turns
        zone = RETURN_LEAK if blowing else 0.0
        gap = DOOR_GAP if "zone_door_closed" in combination.turns else None
        value = BASELINE + zone_pressure(envelope, drawn + (ducts if blowing else 0.0), zone, gap)
        return round(value + float(rng.normal(0.0, NOISE)), 1)

    test = WorstCaseTest(
        "utility closet", has_range_hood=False, has_interior_doors=False, shares_flue=Answer.NO,
        hearth=Hearth.NONE, closed_up=Answer.YES, dryer_flow=118.0 * CFM, bath_fans_flow=22.0 * CFM,
        door_gap=30.0 * INCH**2, zone_share=CLOSET_SHARE, height=2.6,
        indoor_temperature=INDOORS, outdoor_temperature=OUTDOORS,
        fans_restored=Answer.YES, doors_restored=Answer.YES,
    )  # fmt: skip
    while (following := next_state(test)) is not None:
        if following.stage in (Stage.BASELINE, Stage.BASELINE_AFTER):
            three = tuple(shown(Combination()) for _ in range(3))
            name = "before" if following.stage is Stage.BASELINE else "after"
            test = replace(test, **{f"baseline_{name}": three})
        else:
            state = following.combination.state(shown(following.combination))
            test = replace(test, states=(*test.states, state))
    return test


def _closet() -> CombustionAirTest:
    louvers = tuple(
        AirOpening(OpeningKind.SAME_STOREY, 12.0 * INCH, 12.0 * INCH, place, Cover.METAL)
        for place in (OpeningPlace.HIGH, OpeningPlace.LOW)
    )
    return CombustionAirTest(
        "utility closet",
        (
            AirSpace("utility closet", 16.0 * FOOT**2, 8.0 * FOOT),
            AirSpace("living and dining room", 420.0 * FOOT**2, 8.0 * FOOT, Joined.OPENING),
        ),
        (RoomBurner("water heater", 40_000.0 * BTU_PER_HOUR),),
        louvers,
        dryer_flow=118.0 * CFM,
        largest_exhaust=22.0 * CFM,
    )
