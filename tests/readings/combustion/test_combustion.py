"""Check where the test of one burner ends, and that recalled limits never decide."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.finding import Severity
from rooftree.readings.combustion import (
    CAUTIONS,
    CombustionTest,
    Ending,
    Step,
    combustion_limits,
    judge_predicted_pressure,
    reduce_combustion,
)
from rooftree.readings.combustion.outcome import SENTENCES

GOOD = CombustionTest(
    "water heater", "natural draft", 0.0, 20.0, 0.09, -0.4, -1.6, "dryer and bath fan on",
    30.0, -2.0, gas_leak=False, outdoor_temperature=283.15,
)  # fmt: skip
ORDER = list(Ending)

burners = st.builds(
    CombustionTest,
    st.sampled_from(["water heater", "furnace", "boiler", "oven"]),
    st.sampled_from(["natural draft", "fan assisted", "sealed combustion", "no burner"]),
    st.floats(0.0, 200.0),
    st.none() | st.floats(0.0, 1000.0),
    st.none() | st.floats(0.0, 0.209),
    st.floats(-3.0, 1.0),
    st.floats(-30.0, 3.0),
    st.just(""),
    st.none() | st.floats(0.0, 600.0),
    st.none() | st.floats(-20.0, 5.0),
    st.booleans(),
    st.floats(250.0, 310.0),
)


def codes(test: CombustionTest) -> list[str]:
    """Return the codes of a test's findings without their first part."""
    return [
        finding.code.removeprefix("combustion/") for finding in reduce_combustion(test).findings
    ]


def test_good_burner_passes() -> None:
    """With every reading in order there are no findings, and retesting is asked for."""
    result = reduce_combustion(GOOD)
    assert result.findings == ()
    assert result.outcome.ending is Ending.PASSED
    assert result.outcome.at is None
    assert result.says.startswith("This burner passed today. Repeat the test after each day")
    assert result.net_pressure == pytest.approx(-1.2)
    assert result.flue_co_air_free == pytest.approx(35.1, abs=0.1)
    assert result.cautions == CAUTIONS


@pytest.mark.published(
    source="BPI, combustion appliance zone test procedure steps; NORA, Advanced Efficiency",
    where="p. 41: testing ends above 35 ppm of ambient carbon monoxide",
    read="source",
)
@pytest.mark.parametrize(("ppm", "stops"), [(35.0, False), (36.0, True), (120.0, True)])
def test_room_air_ends_the_test(ppm: float, stops: bool) -> None:
    """Above 35 ppm the test ends and people leave; at exactly 35 the source is looked for."""
    outcome = reduce_combustion(replace(GOOD, ambient_co=ppm)).outcome
    assert (outcome.ending is Ending.LEAVE) == stops
    assert outcome.at is Step.AMBIENT


@pytest.mark.published(
    source="older trade standard on ambient carbon monoxide",
    where="0-9 ppm proceed, 10-35 locate the source",
    read="quoted in a secondary source",
)
@pytest.mark.parametrize(("ppm", "raised"), [(9.0, []), (10.0, ["raised-co"])])
def test_some_carbon_monoxide_gates(ppm: float, raised: list[str]) -> None:
    """Up to 9 ppm nothing is said; from 10 the source must be found before tightening."""
    assert codes(replace(GOOD, ambient_co=ppm)) == raised


def test_recalled_limit_adds_a_warning() -> None:
    """At 80 ppm the stop stands by what was read; the recalled limit is one more sentence."""
    (finding,) = reduce_combustion(replace(GOOD, ambient_co=80.0)).findings
    assert finding.limit == 35.0
    assert "A recalled limit of 70 ppm is exceeded too" in finding.says


def test_gas_leak_ends_everything() -> None:
    """A gas leak is a stop whatever else was read."""
    result = reduce_combustion(replace(GOOD, gas_leak=True))
    assert codes(replace(GOOD, gas_leak=True)) == ["gas-leak"]
    assert result.outcome.ending is Ending.LEAVE
    assert result.outcome.at is Step.GAS
    assert result.says.endswith("It ended at: gas leak.")


@pytest.mark.published(
    source="BPI, Combustion Safety Test Procedure for Vented Appliances",
    where="pp. 1-2: spillage ends within one minute",
    read="source",
)
@pytest.mark.parametrize(("seconds", "found"), [(60.0, []), (61.0, ["spillage"])])
def test_spillage_of_a_minute(seconds: float, found: list[str]) -> None:
    """A minute passes; more holds tightening back."""
    test = replace(GOOD, spillage_seconds=seconds)
    assert codes(test) == found
    assert (reduce_combustion(test).outcome.ending is Ending.REPAIR_FIRST) == bool(found)


@pytest.mark.parametrize("seconds", [301.0, None])
def test_long_spillage_shuts_the_burner_off(seconds: float | None) -> None:
    """Beyond five minutes, or without end, the burner stays off."""
    result = reduce_combustion(replace(GOOD, spillage_seconds=seconds))
    assert result.outcome.ending is Ending.SHUT_OFF
    assert result.findings[0].severity is Severity.STOP


@pytest.mark.parametrize("draft", ["sealed combustion", "no burner"])
def test_sealed_burner_cannot_spill(draft: str) -> None:
    """Without a draft hood no spillage is asked for."""
    assert codes(replace(GOOD, draft=draft, spillage_seconds=None)) == []


@pytest.mark.published(
    source="Bohac, airport sound-insulation programme, appliance safety tests",
    where="limits: oven 150 ppm, natural-draft water heater and furnace 100 ppm",
    read="source",
)
@pytest.mark.parametrize(
    ("appliance", "ppm", "found"),
    [
        ("water heater", 100, []), ("water heater", 101, ["flue-co"]),
        ("furnace", 101, ["flue-co"]), ("oven", 150, []), ("oven", 151, ["flue-co"]),
    ],
)  # fmt: skip
def test_flue_gas_needs_service(appliance: str, ppm: float, found: list[str]) -> None:
    """Above the programme's limit the burner is serviced before tightening."""
    test = replace(GOOD, appliance=appliance, flue_co=ppm, flue_oxygen=None)
    assert codes(test) == found


@pytest.mark.published(
    source="ANSI Z21.47-1998; trade action levels",
    where="400 ppm air-free: shut down",
    read="quoted in secondary sources",
)
def test_flue_gas_shuts_the_burner_off() -> None:
    """230 ppm with 9 % oxygen is 404 ppm air-free, which is the end."""
    result = reduce_combustion(replace(GOOD, flue_co=230.0))
    assert result.outcome.ending is Ending.SHUT_OFF
    assert result.outcome.at is Step.FLUE_GAS
    assert "404 ppm of carbon monoxide (air-free)" in result.findings[0].says


def test_recalled_limit_of_the_water_heater_warns_only() -> None:
    """250 ppm gates by the programme's limit; the recalled 200 ppm adds its sentence."""
    (finding,) = reduce_combustion(replace(GOOD, flue_co=250.0, flue_oxygen=None)).findings
    assert finding.severity is Severity.GATE
    assert finding.limit == 100.0
    assert "A recalled limit of 200 ppm" in finding.says


def test_missing_flue_gas_leaves_the_test_incomplete() -> None:
    """Without carbon monoxide of the flue the burner has not passed."""
    result = reduce_combustion(replace(GOOD, flue_co=None))
    assert result.outcome.ending is Ending.INCOMPLETE
    assert result.flue_co_air_free is None


def test_diluted_flue_gas_leaves_the_test_incomplete() -> None:
    """A sample of nearly pure air is told to be taken again."""
    result = reduce_combustion(replace(GOOD, flue_oxygen=0.205))
    assert codes(replace(GOOD, flue_oxygen=0.205)) == ["flue-diluted"]
    assert result.outcome.ending is Ending.INCOMPLETE


def test_flue_that_does_not_draw_gates() -> None:
    """At zero or above the smoke does not rise; the burner is repaired first."""
    for draft in (0.0, 1.5):
        result = reduce_combustion(replace(GOOD, draft_pressure=draft))
        assert [finding.code for finding in result.findings] == ["combustion/backdraft"]
        assert result.outcome.ending is Ending.REPAIR_FIRST


def test_weak_draft_is_a_note() -> None:
    """Less draft than older practice asked passes with a note."""
    result = reduce_combustion(replace(GOOD, draft_pressure=-0.8))
    assert codes(replace(GOOD, draft_pressure=-0.8)) == ["weak-draft"]
    assert result.outcome.ending is Ending.PASSED


def test_deep_worst_case_is_a_note() -> None:
    """A pull beyond the recalled limit is a caution, and says that it is only a screen."""
    result = reduce_combustion(replace(GOOD, worst_pressure=-5.4))
    (finding,) = result.findings
    assert finding.code == "combustion/zone-pressure"
    assert finding.severity is Severity.NOTE
    assert finding.value == pytest.approx(5.0)
    assert finding.source.startswith("recalled: ")
    assert "a screen, not a verdict" in finding.says
    assert result.outcome.ending is Ending.PASSED


def test_worst_case_above_the_baseline_is_doubted() -> None:
    """A worst case that raises the pressure was not the worst."""
    assert codes(replace(GOOD, worst_pressure=1.0)) == ["not-worst-case"]


@pytest.mark.parametrize(
    ("appliance", "draft", "limit"),
    [
        ("water heater", "natural draft", 2.0), ("furnace", "natural draft", 3.0),
        ("furnace", "fan assisted", 5.0), ("boiler", "sealed combustion", 50.0),
    ],
)  # fmt: skip
def test_predicted_pull_is_held_against_the_kind_of_flue(
    appliance: str, draft: str, limit: float
) -> None:
    """At the limit nothing is said; beyond it a note names it."""
    assert judge_predicted_pressure(limit, appliance, draft) == ()
    (finding,) = judge_predicted_pressure(limit + 0.1, appliance, draft)
    assert finding.limit == limit


@given(burners)
def test_every_test_ends_in_a_sentence(test: CombustionTest) -> None:
    """Whatever was read, the walk ends, and says so in plain sentences."""
    result = reduce_combustion(test)
    assert result.says.startswith(SENTENCES[result.outcome.ending])
    assert [step.step for step in result.steps] == list(Step)


@given(burners)
def test_recalled_limits_never_decide(test: CombustionTest) -> None:
    """No stop and no gate rests on a limit that is only recalled."""
    recalled = {limit.source for limit in combustion_limits() if limit.recalled}
    for finding in reduce_combustion(test).findings:
        if finding.severity is not Severity.NOTE:
            assert finding.source not in recalled
            assert not finding.source.startswith("recalled")


@given(burners, st.floats(0.0, 100.0))
def test_more_carbon_monoxide_never_ends_better(test: CombustionTest, more: float) -> None:
    """Adding carbon monoxide to the room never improves the ending."""
    worse = reduce_combustion(replace(test, ambient_co=test.ambient_co + more)).outcome.ending
    assert ORDER.index(worse) <= ORDER.index(reduce_combustion(test).outcome.ending)
