"""Check tests of burners and their rooms in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rooftree.papers.results import WORDS
from rooftree.readings.ambient_co import AmbientReading, AmbientTest, reduce_ambient_co
from rooftree.readings.combustion import (
    CombustionTest,
    FlueSample,
    Protocol,
    SpillageCheck,
    reduce_combustion,
)
from rooftree.readings.combustion_air import (
    AirOpening,
    AirSpace,
    CombustionAirTest,
    OpeningKind,
    OpeningPlace,
    RoomBurner,
    reduce_combustion_air,
)
from rooftree.readings.gas_leaks import GasLeak, GasLeakTest, reduce_gas_leaks
from rooftree.readings.worst_case import WorstCaseTest, ZoneState, reduce_worst_case
from rooftree.units import DisplaySystem

BURNER = CombustionTest(
    "water heater", "natural draft", 0.0, None, None, -0.4, -1.6, "dryer on", None, -2.0,
    gas_leak=False, outdoor_temperature=283.15,
    spillage_checks=(SpillageCheck(10.0, spills=True), SpillageCheck(20.0, spills=False)),
    flue_samples=(FlueSample(600.0, 20.0, 0.09),),
)  # fmt: skip
SEARCH = WorstCaseTest(
    "closet", (ZoneState(-1.4, dryer=True), ZoneState(-3.0, dryer=True, bath_fans=True)),
    (-0.4, -0.5, -0.3), has_range_hood=False, dryer_flow=0.07, bath_fans_flow=0.05,
)  # fmt: skip
ROOM = CombustionAirTest(
    "closet", (AirSpace("closet", 2.0, 2.4),), (RoomBurner("heater", 11e3),),
    (AirOpening(OpeningKind.DIRECT, 0.2, 0.2, OpeningPlace.HIGH),),
)  # fmt: skip


def lines_of(reading: object, result: object) -> dict[str, str]:
    """Return the results of a test by their words."""
    words = WORDS[type(reading)]
    return {line.words: line.value for line in words.results(result, DisplaySystem.SI)}


def test_burner_tells_its_outcome_and_its_walk() -> None:
    """Outcome, spillage and air-free value are lines; the walk is a table of steps."""
    result = reduce_combustion(BURNER)
    lines = lines_of(BURNER, result)
    assert lines["Outcome"] == "passed"
    assert lines["Spillage stopped, began at 10 s"] == "15 s"
    assert lines["Carbon monoxide in the flue, air free (by oxygen)"] == "35 ppm"
    (walk,) = WORDS[CombustionTest].tables(result, DisplaySystem.SI)
    assert ("worst-case pressure", "screened only") in walk.rows


@pytest.mark.parametrize("protocol", Protocol)
def test_burner_names_protocol_and_edition(protocol: Protocol) -> None:
    """The method is the protocol that was chosen with its edition, with a result or without."""
    reading = replace(BURNER, protocol=protocol, edition="2017")
    method = WORDS[CombustionTest].method
    assert method(reading, None).endswith("edition: 2017")
    assert method(reading, reduce_combustion(reading)).endswith("edition: 2017 (own copy)")


def test_steps_after_the_end_are_marked() -> None:
    """A walk that ended early still tells what later readings said."""
    result = reduce_combustion(replace(BURNER, gas_leak=True))
    (walk,) = WORDS[CombustionTest].tables(result, DisplaySystem.SI)
    assert ("gas leak", "stops") in walk.rows
    assert ("flue gas", "passes (after the end)") in walk.rows


def test_search_tells_every_combination_and_what_comes_next() -> None:
    """Each combination has a row with what was read and predicted."""
    result = reduce_worst_case(SEARCH, flow_50=0.8, exponent=0.65)
    lines = lines_of(SEARCH, result)
    assert lines["Read next"].startswith("dryer and bath fans on, interior doors closed")
    (table,) = WORDS[WorstCaseTest].tables(result, DisplaySystem.SI)
    assert len(table.rows) == 2
    assert table.rows[0][0] == ("dryer on, interior doors open, zone door open, air handler off")
    assert " to " in table.rows[0][2]


def test_room_air_tells_each_place() -> None:
    """Long logs are told in short, and each place has its row."""
    air = tuple(AmbientReading(60.0 * i, "hall", 1.0) for i in range(20))
    test = AmbientTest(air)
    words = WORDS[AmbientTest]
    assert words.readings(test, DisplaySystem.SI)[12].value == "8"
    (table,) = words.tables(reduce_ambient_co(test), DisplaySystem.SI)
    assert table.rows[0][:4] == ("hall", "1 ppm", "1 ppm", "1 ppm")


def test_leaks_tell_whom_was_told() -> None:
    """Each leak is a line with its state."""
    test = GasLeakTest(leaks=(GasLeak("valve"), GasLeak("union", reported_to="utility")))
    told = [line.value for line in WORDS[GasLeakTest].readings(test, DisplaySystem.SI)]
    assert "found by gas detector, told to nobody, not repaired" in told
    assert lines_of(test, reduce_gas_leaks(test))["Leaks open"] == "2"


def test_combustion_air_tells_every_way() -> None:
    """Volumes are lines; each way by openings is a row that says whether it is recalled."""
    result = reduce_combustion_air(ROOM)
    assert lines_of(ROOM, result)["Volume that the burners ask for"] == "53.1 m³"
    (table,) = WORDS[CombustionAirTest].tables(result, DisplaySystem.SI)
    assert table.rows[0][3].endswith("(recalled)")


def test_everything_that_can_hurt_has_cautions() -> None:
    """Each of these kinds shows the usual cautions."""
    kinds = (CombustionTest, WorstCaseTest, AmbientTest, GasLeakTest, CombustionAirTest)
    for kind in kinds:
        cautions = WORDS[kind].cautions.lower()
        assert "local code" in cautions or "fuel gas code" in cautions
