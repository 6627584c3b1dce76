"""Check where the test of one burner ends, and that recalled limits never decide."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.finding import Severity
from rooftree.readings.combustion import (
    CAUTIONS,
    Answer,
    CombustionTest,
    Ending,
    FlameLook,
    FlueSample,
    ProbePlace,
    Protocol,
    SpillageCheck,
    Step,
    TimerStart,
    VentCategory,
    VentState,
    Verdict,
    combustion_limits,
    judge_predicted_pressure,
    reduce_combustion,
)
from rooftree.readings.combustion.outcome import REASONS, SENTENCES
from rooftree.readings.combustion.procedure import asked_steps

GOOD = CombustionTest(
    "water heater", "natural draft", 0.0, 20.0, 0.09, -0.4, -1.6, "dryer and bath fan on",
    30.0, -2.0, gas_leak=False, outdoor_temperature=283.15, vent_state=VentState.COLD,
    probe=ProbePlace.BEFORE, sample_seconds=600.0, pilot_relit=Answer.NOT_NEEDED,
    thermostat_restored=Answer.YES, switches_restored=Answer.YES, doors_restored=Answer.YES,
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
    protocol=st.sampled_from(Protocol),
    own_spillage_limit=st.none() | st.floats(30.0, 300.0),
    own_co_limit=st.none() | st.floats(50.0, 400.0),
    vent_category=st.sampled_from(VentCategory),
    flame=st.sampled_from(FlameLook),
    flame_moves=st.sampled_from(Answer),
    soot=st.booleans(),
    spillage_checks=st.just(())
    | st.lists(
        st.builds(SpillageCheck, st.floats(0.0, 600.0), st.booleans()), max_size=6
    ).map(tuple),
    vent_state=st.sampled_from(VentState),
    timed_from=st.sampled_from(TimerStart),
    natural_tested=st.booleans(),
    natural_spillage_seconds=st.none() | st.floats(0.0, 600.0),
    flue_carbon_dioxide=st.none() | st.floats(0.0, 0.15),
    flue_samples=st.just(())
    | st.lists(
        st.builds(
            FlueSample, st.floats(0.0, 900.0), st.floats(0.0, 1000.0),
            st.none() | st.floats(0.0, 0.209), st.none() | st.floats(0.0, 0.15),
        ), max_size=4,
    ).map(tuple),
    probe=st.sampled_from(ProbePlace),
    sample_seconds=st.none() | st.floats(0.0, 900.0),
    analyser_range=st.none() | st.sampled_from([400.0, 1000.0, 2000.0]),
    zeroed_outdoors=st.sampled_from(Answer),
    ambient_co_after=st.none() | st.floats(0.0, 100.0),
    flue_temperature=st.none() | st.floats(280.0, 500.0),
    flue_height=st.none() | st.floats(1.0, 10.0),
    pilot_relit=st.sampled_from(Answer),
    doors_restored=st.sampled_from(Answer),
)  # fmt: skip


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
    assert codes(test) == ["no-oxygen", *found]


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
    _, finding = reduce_combustion(replace(GOOD, flue_co=250.0, flue_oxygen=None)).findings
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
    for draft in (0.0, 0.5):
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


@pytest.mark.published(
    source="ANSI/BPI-1200, training slides on combustion safety",
    where="draft and depressurization no longer pass or fail; spillage and carbon monoxide do",
    read="source",
)
def test_newer_protocol_only_screens_pressure_and_draft() -> None:
    """A deep pull and a flue that does not draw fail no burner there; they stay notes."""
    test = replace(GOOD, protocol=Protocol.BPI_1200, worst_pressure=-9.0, draft_pressure=0.5)
    result = reduce_combustion(test)
    assert codes(test) == ["zone-pressure", "backdraft"]
    assert all(finding.severity is Severity.NOTE for finding in result.findings)
    assert result.outcome.ending is Ending.PASSED
    by_step = {step.step: step.verdict for step in result.steps}
    assert by_step[Step.ZONE] is by_step[Step.DRAFT] is Verdict.SCREENED
    assert reduce_combustion(replace(test, protocol=Protocol.OLDER)).outcome.at is Step.DRAFT


@pytest.mark.published(
    source="ANSI/BPI-1200, training slides on combustion safety",
    where="category I: spillage and carbon monoxide; categories III and IV: carbon monoxide only",
    read="source",
)
@pytest.mark.published(
    source="ASTM E1998-11", where="scope: category I, not III and IV", read="source"
)
@pytest.mark.parametrize(
    ("category", "asked"),
    [(VentCategory.ONE, True), (VentCategory.THREE, False), (VentCategory.FOUR, False)],
)
def test_vents_under_pressure_are_not_watched_for_spillage(
    category: VentCategory, asked: bool
) -> None:
    """Categories III and IV are judged by carbon monoxide only."""
    test = replace(GOOD, draft="fan assisted", vent_category=category, spillage_seconds=None)
    assert (Step.SPILLAGE in asked_steps(test)) == asked
    assert (reduce_combustion(test).outcome.ending is Ending.SHUT_OFF) == asked


@pytest.mark.published(
    source="ANSI/BPI-1200", where="spillage: two minutes warm, five minutes cold", read="memory"
)
@pytest.mark.parametrize(
    ("vent", "seconds", "ending"),
    [
        (VentState.WARM, 120.0, Ending.PASSED), (VentState.WARM, 121.0, Ending.CONFIRM),
        (VentState.COLD, 121.0, Ending.PASSED), (VentState.COLD, 300.0, Ending.PASSED),
        (VentState.NOT_LOGGED, 121.0, Ending.CONFIRM), (VentState.COLD, 301.0, Ending.SHUT_OFF),
    ],
)  # fmt: skip
def test_recalled_times_ask_to_be_looked_up(
    vent: VentState, seconds: float, ending: Ending
) -> None:
    """Beyond a recalled time the burner is neither passed nor failed: the copy decides."""
    test = replace(GOOD, protocol=Protocol.BPI_1200, vent_state=vent, spillage_seconds=seconds)
    assert reduce_combustion(test).outcome.ending is ending


def test_own_copy_of_the_protocol_decides() -> None:
    """A limit typed from one's own copy fails or passes the burner, and is named as such."""
    test = replace(
        GOOD, protocol=Protocol.BPI_1200, vent_state=VentState.WARM, spillage_seconds=121.0,
        own_spillage_limit=120.0, edition="2017", flue_co=110.0,
    )  # fmt: skip
    result = reduce_combustion(test)
    assert result.outcome.ending is Ending.REPAIR_FIRST
    assert result.findings[0].source == "ANSI/BPI-1200, combustion safety, 2017, as typed in"
    assert result.outcome.protocol == "ANSI/BPI-1200, combustion safety; edition: 2017 (own copy)"
    milder = replace(test, own_spillage_limit=150.0)
    assert reduce_combustion(milder).outcome.ending is Ending.PASSED
    strict = replace(milder, own_co_limit=150.0)
    assert codes(strict) == ["flue-co"]


@pytest.mark.published(
    source="National Fuel Gas Code, annex G; ANSI/BPI-1200, annex",
    where="water heater 200 ppm air-free, oven 225 ppm as measured",
    read="memory",
)
@pytest.mark.parametrize(
    ("appliance", "protocol", "ppm", "ending"),
    [
        ("water heater", Protocol.BPI_1200, 115.0, Ending.CONFIRM),
        ("water heater", Protocol.FUEL_GAS_CODE, 115.0, Ending.CONFIRM),
        ("water heater", Protocol.FUEL_GAS_CODE, 113.0, Ending.PASSED),
        ("furnace", Protocol.BPI_1200, 220.0, Ending.PASSED),
        ("oven", Protocol.BPI_1200, 226.0, Ending.CONFIRM),
    ],
)
def test_recalled_carbon_monoxide_asks_to_be_looked_up(
    appliance: str, protocol: Protocol, ppm: float, ending: Ending
) -> None:
    """115 ppm at 9 % oxygen are 202 ppm air-free; ovens are held as measured."""
    oxygen = 0.0 if appliance == "oven" else 0.09
    test = replace(GOOD, appliance=appliance, protocol=protocol, flue_co=ppm, flue_oxygen=oxygen)
    assert reduce_combustion(test).outcome.ending is ending


def test_looks_give_start_and_end_of_spillage() -> None:
    """Spillage began at its first sight and ended between the last one and a clear look."""
    looks = tuple(
        SpillageCheck(time, spills)
        for time, spills in ((5.0, True), (20.0, True), (30.0, False), (60.0, False))
    )
    spillage = reduce_combustion(replace(GOOD, spillage_checks=looks)).spillage
    assert (spillage.start, spillage.returned, spillage.in_order) == (5.0, None, True)
    assert spillage.end is not None
    assert (spillage.end.low, spillage.end.value, spillage.end.high) == (20.0, 25.0, 30.0)


@pytest.mark.parametrize(
    ("looks", "found"),
    [
        (((10, True), (40, False), (80, True), (90, False)), ["spillage", "spillage-returned"]),
        (((10, True), (100, False)), ["looks-too-far-apart"]),
        (((40, False), (10, True)), ["time-backwards"]),
        (((10, True), (320, True)), ["spillage"]),
        (((90, False),), ["looks-too-far-apart"]),
    ],
)
def test_looks_that_cannot_be_trusted(
    looks: tuple[tuple[float, bool], ...], found: list[str]
) -> None:
    """Spillage that comes back, times too far apart or out of order are told."""
    checks = tuple(SpillageCheck(*look) for look in looks)
    assert codes(replace(GOOD, spillage_checks=checks)) == found


def test_natural_conditions_are_walked_after_the_worst_case() -> None:
    """A repetition with fans off has its own step, and stops when it never ends."""
    test = replace(GOOD, spillage_seconds=90.0, natural_tested=True, natural_spillage_seconds=20.0)
    result = reduce_combustion(test)
    assert result.outcome.ending is Ending.REPAIR_FIRST
    assert result.outcome.at is Step.SPILLAGE
    assert Step.NATURAL in result.outcome.path
    worse = reduce_combustion(replace(test, natural_spillage_seconds=None)).outcome
    assert (worse.ending, worse.at) == (Ending.SHUT_OFF, Step.NATURAL)
    assert worse.path[-1] is Step.NATURAL


@pytest.mark.parametrize(
    ("start", "ending"),
    [(TimerStart.LATER, Ending.INCOMPLETE), (TimerStart.CALL, Ending.PASSED),
     (TimerStart.NOT_LOGGED, Ending.PASSED)],
)  # fmt: skip
def test_timer_started_at_the_wrong_moment(start: TimerStart, ending: Ending) -> None:
    """A timer that started late makes a pass worthless; one that started early does not."""
    test = replace(GOOD, timed_from=start)
    assert codes(test) == ["timer-start"]
    assert reduce_combustion(test).outcome.ending is ending


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        ({"vent_state": VentState.WARM}, ["warm-vent"]),
        ({"vent_state": VentState.WARM, "protocol": Protocol.BPI_1200}, []),
        ({"vent_state": VentState.NOT_LOGGED}, ["vent-not-logged"]),
        ({"probe": ProbePlace.NOT_LOGGED}, ["probe-not-logged"]),
        ({"probe": ProbePlace.AFTER}, ["probe-after-dilution"]),
        ({"flue_oxygen": 0.16}, ["probe-after-dilution"]),
        ({"flue_oxygen": None, "flue_carbon_dioxide": 0.03}, ["probe-after-dilution"]),
        ({"flue_oxygen": None, "flue_carbon_dioxide": 0.001}, ["flue-diluted"]),
        ({"flue_oxygen": None}, ["no-oxygen"]),
        ({"sample_seconds": 599.0}, ["not-warmed-up"]),
        ({"flue_carbon_dioxide": 0.069}, []),
        ({"flue_carbon_dioxide": 0.095}, ["gases-disagree"]),
        ({"flue_co": 400.0, "analyser_range": 400.0}, ["above-range", "flue-co"]),
        ({"zeroed_outdoors": Answer.NO}, ["not-zeroed"]),
        ({"ambient_co": -2.0}, ["not-zeroed"]),
        ({"ambient_co_after": 3.0}, []),
        ({"ambient_co_after": 4.0}, ["ambient-rise"]),
        ({"ambient_co_after": 36.0}, ["ambient-co", "ambient-rise"]),
        ({"flame": FlameLook.YELLOW}, ["flame"]),
        ({"flame_moves": Answer.YES}, ["heat-exchanger"]),
        ({"soot": True}, ["soot"]),
        ({"draft_pressure": -0.008}, ["draft-unit"]),
        ({"draft_pressure": 2.0}, ["backdraft", "draft-sign"]),
        ({"draft_pressure": -9.0, "flue_temperature": 423.15, "flue_height": 1.0},
         ["draft-too-strong"]),
        ({"baseline_pressure": -0.002, "worst_pressure": -0.006}, ["zone-unit"]),
        ({"pilot_relit": Answer.NO}, ["not-restored"]),
        ({"doors_restored": Answer.NOT_SAID}, ["as-left"]),
        ({"appliance": "boiler", "flue_co": 80.0, "flue_oxygen": None,
          "flue_carbon_dioxide": 0.09}, ["flue-co"]),
        ({"appliance": "boiler", "flue_co": 900.0, "flue_oxygen": None,
          "flue_carbon_dioxide": 0.1}, ["flue-co", "co-ratio"]),
    ],
)  # fmt: skip
def test_mistakes_are_told(changes: dict[str, object], found: list[str]) -> None:
    """Each mistake in how a reading was taken has its own finding."""
    assert codes(replace(GOOD, **changes)) == found  # type: ignore[arg-type]


@pytest.mark.published(
    source="Cheyney & Cotton, Advantica R5205 (for HSE), 2002",
    where="carbon monoxide over carbon dioxide of boilers as left: 0.008",
    read="source",
)
@pytest.mark.parametrize(("ppm", "found"), [(799.0, False), (801.0, True)])
def test_ratio_of_boilers(ppm: float, found: bool) -> None:
    """800 ppm in 10 % carbon dioxide are the ratio at which British practice drew the line."""
    test = replace(GOOD, appliance="boiler", flue_co=ppm, flue_oxygen=None, flue_carbon_dioxide=0.1)
    assert ("co-ratio" in codes(test)) == found


@pytest.mark.published(
    source="state weatherization standard, quoted by a weatherization contractor",
    where="end of each day of work on shell, equipment or interior doors, and at the end",
    read="quoted in a contractor's page",
)
def test_passing_asks_for_the_next_test() -> None:
    """A burner that passed is told to be tested again after each day of work."""
    says = reduce_combustion(GOOD).says
    assert "after each day of work that makes the house tighter" in says
    assert says.endswith("and at the end.")


def test_burner_tested_in_a_milder_case_than_the_search_found() -> None:
    """The search found -5 Pa and the burner was tested at -1.2 Pa: that is told."""
    (finding,) = reduce_combustion(GOOD, zone_pressure=-5.0).findings
    assert finding.code == "combustion/milder-than-search"
    assert "almost certain" in finding.says
    assert reduce_combustion(GOOD, zone_pressure=-1.5).findings == ()


def test_things_not_put_back_end_the_walk_last() -> None:
    """A burner that passed is not done until everything is as it was."""
    outcome = reduce_combustion(replace(GOOD, thermostat_restored=Answer.NO)).outcome
    assert (outcome.ending, outcome.at) == (Ending.PUT_BACK, Step.AS_LEFT)


def test_last_sample_counts_and_must_have_settled() -> None:
    """Samples give the last one; one that still rises holds back, a fall is a note."""
    samples = (FlueSample(300.0, 40.0, 0.09), FlueSample(600.0, 42.0, 0.09))
    test = replace(GOOD, flue_co=None, flue_oxygen=None, flue_samples=samples)
    result = reduce_combustion(test)
    assert (result.findings, result.gas.measured, result.gas.seconds) == ((), 42.0, 600.0)
    rising = (FlueSample(300.0, 20.0, 0.09), FlueSample(600.0, 42.0, 0.09))
    unsteady = reduce_combustion(replace(test, flue_samples=rising))
    assert unsteady.outcome.ending is Ending.REPAIR_FIRST
    falling = replace(test, flue_samples=(FlueSample(300.0, 80.0, 0.09), samples[1]))
    assert reduce_combustion(falling).outcome.ending is Ending.PASSED
    assert codes(replace(test, flue_samples=samples[::-1])) == ["samples-backwards"]


def test_air_free_value_has_limits() -> None:
    """Five per cent of the reading and 0.2 % of oxygen make 5.3 % together."""
    free = reduce_combustion(replace(GOOD, flue_co=100.0)).gas.air_free
    assert free is not None
    assert free.standard / free.value == pytest.approx((0.05**2 + (0.002 / 0.119) ** 2) ** 0.5)
    nothing = reduce_combustion(replace(GOOD, flue_co=0.0)).gas.air_free
    assert nothing is not None
    assert nothing.high == 0.0


@given(burners)
def test_every_test_ends_in_a_sentence(test: CombustionTest) -> None:
    """Whatever was read, the walk ends, and says so in plain sentences."""
    result = reduce_combustion(test)
    outcome = result.outcome
    assert SENTENCES[outcome.ending] in result.says
    assert tuple(step.step for step in result.steps) == asked_steps(test)
    assert (outcome.at is None) == (outcome.ending is Ending.PASSED)
    if outcome.at:
        (verdict,) = (step.verdict for step in result.steps if step.step is outcome.at)
        assert result.says.startswith(REASONS[outcome.at, verdict])
        assert result.says.endswith(f"It ended at: {outcome.at.value}.")


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


def test_more_oxygen_than_air_is_an_analyser_gone_wrong() -> None:
    """21.5 % is no flue gas and no air; 21.3 % is air by an analyser slightly off."""
    for share, words in ((0.215, "more than air itself: calibrate"), (0.213, "nearly all air")):
        (found,) = reduce_combustion(replace(GOOD, flue_oxygen=share)).findings
        assert found.code == "combustion/flue-diluted"
        assert words in found.says
