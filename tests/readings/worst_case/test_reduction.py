"""Check what the search tells, and that its mistakes are told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.finding import Severity
from rooftree.readings.worst_case import (
    CAUTIONS,
    Answer,
    Combination,
    Hearth,
    WorstCaseTest,
    ZoneState,
    predict_state,
    reduce_worst_case,
)
from rooftree.readings.worst_case.prediction import leakage_of_flow_50
from zone_network import draw_house, draw_search, leakage_read

CFM = 0.3048**3 / 60.0
GOOD = WorstCaseTest(
    "closet",
    (
        ZoneState(-1.4, dryer=True),
        ZoneState(-3.0, dryer=True, bath_fans=True),
        ZoneState(-2.6, dryer=True, bath_fans=True, zone_door_closed=True),
        ZoneState(-3.1, dryer=True, bath_fans=True),
    ),
    (-0.4, -0.5, -0.3), (-0.5, -0.4, -0.4),
    has_range_hood=False, has_air_handler=False, has_interior_doors=False,
    shares_flue=Answer.NO, hearth=Hearth.NONE, closed_up=Answer.YES,
    dryer_flow=150 * CFM, bath_fans_flow=110 * CFM, zone_share=0.05, door_gap=0.02,
    fans_restored=Answer.YES, doors_restored=Answer.YES,
)  # fmt: skip
HOUSE = 1700.0 * CFM


def codes(test: WorstCaseTest, flow_50: float | None = HOUSE) -> list[str]:
    """Return the codes of the findings without their first part."""
    result = reduce_worst_case(test, flow_50=flow_50, exponent=0.65)
    return [finding.code.removeprefix("worst-case/") for finding in result.findings]


def test_search_in_order() -> None:
    """The deepest combination, its change by the door, and the next step are told."""
    result = reduce_worst_case(GOOD, flow_50=HOUSE, exponent=0.65)
    assert result.worst is not None
    assert result.worst.words == "dryer and bath fans on, zone door open"
    assert result.worst.net.value == pytest.approx(-2.63, abs=0.03)
    assert result.worst.readings == 2
    assert result.by_door == pytest.approx(0.45, abs=0.03)
    assert result.by_air_handler is None
    assert result.chance > 0.8
    assert result.following is None
    assert result.cautions == CAUTIONS
    assert [finding.code for finding in result.findings] == ["worst-case/zone-pressure"]
    assert result.says == (
        "With dryer and bath fans on, zone door open, fans pull the zone 2.6 Pa below outdoors,"
        " more than the 2 Pa of older practice (recalled, a screen only). The search is complete."
    )


def test_limit_is_a_recalled_screen() -> None:
    """A pull beyond the recalled limit is a note, never more."""
    (finding,) = reduce_worst_case(GOOD, flow_50=HOUSE, exponent=0.65).findings
    assert finding.severity is Severity.NOTE
    assert finding.source.startswith("recalled: ")
    assert "a screen, not a verdict" in finding.says


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        ({"hearth": Hearth.EMBERS}, "embers"),
        ({"hearth": Hearth.ASH}, "ash"),
        ({"hearth": Hearth.NOT_LOOKED}, "hearth-not-looked"),
        ({"closed_up": Answer.NO}, "not-closed-up"),
        ({"baseline_before": (), "baseline_after": ()}, "no-baseline"),
        ({"baseline_after": ()}, "baseline-once"),
        ({"baseline_after": (2.0, 2.1, 1.9)}, "baseline-drift"),
        ({"states": GOOD.states[1:2]}, "one-combination"),
        ({"states": GOOD.states[:2]}, "search-incomplete"),
        ({"states": (*GOOD.states, replace(GOOD.states[1], pressure=-6.0))}, "repeat-differs"),
        ({"states": tuple(replace(s, pressure=-s.pressure) for s in GOOD.states),
          "baseline_before": (0.4,), "baseline_after": (0.4,)}, "sign"),
        ({"states": tuple(replace(s, pressure=s.pressure / 249.09) for s in GOOD.states),
          "baseline_before": (-0.002,), "baseline_after": (-0.002,)}, "unit"),
        ({"states": (*GOOD.states, replace(GOOD.states[1], pressure=-175.0))}, "unit"),
        ({"fans_restored": Answer.NO}, "not-restored"),
        ({"doors_restored": Answer.NOT_SAID}, "as-left"),
        ({"dryer_flow": None}, "no-prediction"),
        ({"states": (ZoneState(-0.5, dryer=True), *GOOD.states[1:])}, "fan-no-effect"),
        ({"states": tuple(replace(s, pressure=-9.0 + 0.1 * i)
          for i, s in enumerate(GOOD.states))}, "prediction"),
        ({"pressure_uncertainty": 3.0}, "lost-in-wind"),
    ],
)  # fmt: skip
def test_mistakes_are_told(changes: dict[str, object], found: str) -> None:
    """Each mistake raises its own finding."""
    assert found in codes(replace(GOOD, **changes))  # type: ignore[arg-type]
    assert found not in codes(GOOD)


def test_embers_stop_the_fans() -> None:
    """Embers are a stop; ash is a gate."""
    first = reduce_worst_case(replace(GOOD, hearth=Hearth.EMBERS)).findings[0]
    assert (first.severity, "no fan may pull" in first.says) == (Severity.STOP, True)
    assert reduce_worst_case(replace(GOOD, hearth=Hearth.ASH)).findings[0].severity is Severity.GATE


def test_open_window_or_dead_fan_is_named() -> None:
    """Where the zone reads as if one fan were off, that fan is named."""
    states = tuple(replace(state, pressure=-1.5) for state in GOOD.states if state.bath_fans)
    result = reduce_worst_case(replace(GOOD, states=states), flow_50=1100 * CFM, exponent=0.65)
    (finding,) = (each for each in result.findings if each.code == "worst-case/prediction")
    assert "the dryer did not run" in finding.says


def test_nothing_read_yet() -> None:
    """An empty search says what to do first, and has no worst case."""
    result = reduce_worst_case(WorstCaseTest("closet"))
    assert result.worst is None
    assert result.chance == 0.0
    assert result.says.startswith("Everything off, burner off or on pilot")


def test_still_combination_stands_in_for_the_baseline() -> None:
    """Where no baseline was read, the row with all fans off is taken as one."""
    states = (ZoneState(-1.0), ZoneState(-3.0, dryer=True))
    result = reduce_worst_case(replace(GOOD, states=states, baseline_before=(), baseline_after=()))
    assert result.worst is not None
    assert result.worst.net.value == pytest.approx(-2.0)


def test_scatter_of_baselines_widens_the_range() -> None:
    """Wind in the baselines makes every net pressure less sure."""
    windy = replace(GOOD, baseline_before=(-2.4, 1.5, -0.3), baseline_after=(1.5, -2.4, -0.4))
    calm, gusty = reduce_worst_case(GOOD), reduce_worst_case(windy)
    assert calm.worst is not None
    assert gusty.worst is not None
    assert gusty.worst.net.standard > 3.0 * calm.worst.net.standard
    assert gusty.wind > 1.0


def test_gusts_widen_the_range_where_baselines_are_few() -> None:
    """Without repeated baselines the swings seen tell of the wind."""
    once = replace(GOOD, baseline_before=(-0.4,), baseline_after=(-0.4,))
    gusty = replace(once, states=tuple(replace(state, gust=2.0) for state in once.states))
    assert reduce_worst_case(once).wind == 0.0
    assert reduce_worst_case(gusty).wind == pytest.approx(0.8)


@given(st.floats(-20.0, 20.0))
def test_common_shift_changes_nothing(shift: float) -> None:
    """A pressure added to every reading and baseline leaves the net pressures."""
    moved = replace(
        GOOD,
        states=tuple(replace(state, pressure=state.pressure + shift) for state in GOOD.states),
        baseline_before=tuple(value + shift for value in GOOD.baseline_before),
        baseline_after=tuple(value + shift for value in GOOD.baseline_after),
    )
    for one, other in zip(
        reduce_worst_case(GOOD).states, reduce_worst_case(moved).states, strict=True
    ):
        assert one.net.value == pytest.approx(other.net.value, abs=1e-9)
        assert one.net.standard == pytest.approx(other.net.standard)


def test_prediction_needs_every_flow_and_open_rooms() -> None:
    """Without a flow, or with doors of rooms closed, nothing is predicted."""
    leakage = leakage_of_flow_50(HOUSE, 0.65, 0.05)
    both = Combination(frozenset({"dryer", "bath_fans"}))
    found = predict_state(GOOD, leakage, both)
    assert found is not None
    assert found.value == pytest.approx(-2.8, abs=0.05)
    assert predict_state(GOOD, None, both) is None
    assert predict_state(replace(GOOD, dryer_flow=None), leakage, both) is None
    assert predict_state(GOOD, leakage, both.flipped("interior_doors_closed")) is None
    assert (
        predict_state(replace(GOOD, door_gap=None), leakage, both.flipped("zone_door_closed"))
        is None
    )
    assert predict_state(GOOD, leakage, both.flipped("air_handler")) is None


@pytest.mark.parametrize("seed", range(5))
def test_careful_search_raises_no_alarm(seed: int) -> None:
    """A search done with care in a calm leaves at most the note about the recalled limit."""
    rng = np.random.default_rng(100 + seed)
    house = draw_house(rng)
    flow_50, exponent = leakage_read(rng, house)
    result = reduce_worst_case(draw_search(rng, house), flow_50=flow_50, exponent=exponent)
    assert {finding.code for finding in result.findings} <= {"worst-case/zone-pressure"}
