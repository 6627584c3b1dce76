"""Check that each doubt is raised where its limit says, with a remedy, and not before."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.airtightness.making import (
    CURVE,
    HOUSE,
    USUAL_PRESSURES,
    made_test,
    wiggle,
    with_flow_times,
    with_station,
    worked_chain,
)
from rooftree.finding import Finding, Severity
from rooftree.readings.airtightness import (
    Direction,
    FanBand,
    FanReading,
    FanTest,
    LeakageCurve,
    Standard,
    Station,
    reduce_both_directions,
    reduce_fan_test,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

GOOD = made_test(factors=wiggle(6, 0.004), pressures=(60, 50, 40, 30, 20, 10))
ISO_CHECKLIST = "quoted in Passipedia, checklist for test reports of airtightness measurements"
ISO_ADVISERS = "quoted in a German energy-adviser summary of EN ISO 9972"


def findings(test: FanTest, code: str = "") -> list[Finding]:
    """Return the findings of one code, or all."""
    found = reduce_fan_test(test, HOUSE).findings
    return [f for f in found if f.code == f"fan-test/{code}" or not code]


def one(test: FanTest, code: str) -> Finding:
    """Return the only finding of a code."""
    (finding,) = findings(test, code)
    return finding


def baselines(before: Sequence[float], after: Sequence[float]) -> FanTest:
    """Return a good test with these baseline readings, its stations moved along."""
    mean = 0.5 * (sum(before) / len(before) + sum(after) / len(after))
    return replace(
        GOOD,
        baseline_before=tuple(before),
        baseline_after=tuple(after),
        stations=tuple(replace(s, pressure=s.pressure + mean) for s in GOOD.stations),
    )


@pytest.mark.parametrize("standard", Standard)
def test_a_good_test_raises_no_doubt(standard: Standard) -> None:
    """Six steady stations in calm, mild weather are beyond reproach."""
    assert findings(replace(GOOD, standard=standard)) == []


@given(
    st.builds(LeakageCurve, st.floats(0.01, 0.1), st.floats(0.55, 0.8)),
    st.integers(0, 50),
    st.sampled_from(Direction),
)
def test_ordinary_scatter_raises_no_doubt(
    curve: LeakageCurve, phase: int, direction: Direction
) -> None:
    """Half a percent of scatter, whatever its pattern, is no finding."""
    factors = wiggle(6 + phase, 0.005)[phase:]
    assert findings(made_test(curve, factors=factors, direction=direction)) == []


def test_the_worked_chain_is_a_cold_day_only_by_half() -> None:
    """5 m times 20 K is within both limits, so the worked chain stays clean."""
    assert findings(worked_chain()) == []


def test_every_finding_has_a_source_and_a_remedy() -> None:
    """Whatever is wrong, the finding says where its limit comes from and what to do."""
    bad = [
        replace(GOOD, baseline_before=(), baseline_after=()),
        baselines((-6.5,), (-6.0,)),
        made_test(pressures=(30, 20, 10)),
        made_test(pressures=(20, 10)),
        made_test(pressures=(12.0,)),
        made_test(LeakageCurve(0.1, 0.4)),
        made_test(LeakageCurve(0.001, 1.2)),
        replace(GOOD, wind_speed=9.0, height=30.0, outdoor_temperature=263.0),
        with_flow_times(GOOD, 3, 2.119),
        with_flow_times(GOOD, 3, 1.3),
        made_test(pressures=(0.24, 0.2, 0.16, 0.12, 0.08)),
    ]
    seen = [finding for test in bad for finding in findings(test)]
    assert len({finding.code for finding in seen}) >= 14
    for finding in seen:
        assert finding.source, finding
        assert re.match(r"^[A-Z0-9].{30,}\.$", finding.says), finding.says


def test_most_pressing_first() -> None:
    """What voids the test comes before what merely weakens it."""
    test = replace(made_test(LeakageCurve(0.1, 0.45)), wind_speed=8.0)
    severities = [f.severity for f in findings(test)]
    assert severities == sorted(severities, key=[Severity.GATE, Severity.NOTE].index)
    assert severities[0] is Severity.GATE


@pytest.mark.published(
    source="ISO 9972:2015", where="average natural pressure within 5 Pa", read=ISO_CHECKLIST
)
@pytest.mark.parametrize(("pressure", "is_large"), [(-5.0, False), (5.0, False), (-5.1, True)])
def test_baseline_size(pressure: float, is_large: bool) -> None:
    """The baseline may be 5 Pa either way and not more."""
    found = findings(baselines((pressure,), (pressure,)), "baseline-large")
    assert bool(found) == is_large


@pytest.mark.published(
    source="ISO 9972:2015, 5.3",
    where="positive and negative baseline readings are averaged separately",
    read="memory",
)
def test_gusts_do_not_cancel_in_the_baseline() -> None:
    """Readings of +7 and -7 Pa average to zero, and yet are too large."""
    finding = one(baselines((7.0, -7.0), (0.0,)), "baseline-large")
    assert finding.value == pytest.approx(7.0)
    assert finding.says.startswith("Before the test the baseline was 7.0 Pa")


@pytest.mark.published(
    source="ISO 9972:2015", where="baseline before and after each series", read=ISO_CHECKLIST
)
def test_baseline_missing() -> None:
    """A baseline not read is told for each end."""
    assert "after" in one(replace(GOOD, baseline_after=()), "baseline-missing").says
    both = replace(GOOD, baseline_before=(), baseline_after=())
    assert len(findings(both, "baseline-missing")) == 2


@pytest.mark.parametrize(("after", "drifts"), [(2.0, False), (2.2, True), (-2.2, True)])
def test_baseline_drift(after: float, drifts: bool) -> None:
    """A baseline that moved by more than 2 Pa is told; our own limit."""
    assert bool(findings(baselines((0.0,), (after,)), "baseline-drift")) == drifts


@pytest.mark.published(
    source="ISO 9972:2015", where="at least five pressure points", read=ISO_ADVISERS
)
@pytest.mark.parametrize(
    ("pressures", "is_few"), [((55, 45, 35, 24, 12), False), ((55, 40, 25, 10), True)]
)
def test_number_of_points(pressures: tuple[float, ...], is_few: bool) -> None:
    """Five stations do, four do not."""
    assert bool(findings(made_test(pressures=pressures), "too-few-points")) == is_few


@pytest.mark.published(source="ASTM E779", where="at least five points, 10 to 60 Pa", read="memory")
def test_number_and_range_of_points_by_astm() -> None:
    """E779 wants five stations too, and the range up to 60 Pa."""
    test = made_test(pressures=(52, 40, 25, 10), standard=Standard.ASTM_E779)
    assert one(test, "too-few-points").source == "recalled: ASTM E779"
    assert one(test, "short-range").limit == 60.0
    assert not findings(replace(test, standard=Standard.ISO_9972), "short-range")


@pytest.mark.published(source="ISO 9972:2015", where="steps of at most 10 Pa", read=ISO_ADVISERS)
@pytest.mark.parametrize(
    ("pressures", "is_wide"),
    [((60, 50, 40, 30, 20, 10), False), ((62, 52, 42, 28, 20, 10), True)],
)
def test_width_of_steps(pressures: tuple[float, ...], is_wide: bool) -> None:
    """Ten pascals, and three for setting them by hand."""
    assert bool(findings(made_test(pressures=pressures), "wide-steps")) == is_wide


@pytest.mark.published(
    source="ISO 9972:2015", where="highest pressure at least 50 Pa", read=ISO_ADVISERS
)
@pytest.mark.parametrize(("highest", "is_short"), [(50.0, False), (49.9, True)])
def test_fifty_pascal_reached(highest: float, is_short: bool) -> None:
    """Below 50 Pa the result is extrapolated, and says so."""
    test = made_test(pressures=(highest, 40, 30, 20, 10))
    assert bool(findings(test, "extrapolated")) == is_short


@pytest.mark.published(
    source="ISO 9972:2015", where="highest pressure at least 25 Pa in any case", read="memory"
)
@pytest.mark.parametrize(("highest", "is_void"), [(25.0, False), (24.5, True)])
def test_twenty_five_pascal_reached(highest: float, is_void: bool) -> None:
    """Below 25 Pa the test does not stand."""
    test = made_test(pressures=(highest, 21, 17, 13, 10))
    found = findings(test, "highest-pressure")
    assert bool(found) == is_void
    assert all(f.severity is Severity.GATE for f in found)


@pytest.mark.published(
    source="ISO 9972:2015",
    where="lowest pressure the greater of 10 Pa (3 Pa either way) and five baselines",
    read=ISO_ADVISERS,
)
@pytest.mark.parametrize(
    ("lowest", "baseline", "code"),
    [
        (7.1, 0.0, ""),
        (6.9, 0.0, "lowest-pressure"),
        (12.9, 0.0, ""),
        (13.5, 0.0, "no-low-pressure"),
        (15.1, 3.0, ""),
        (14.9, 3.0, "lowest-pressure"),
    ],
)
def test_lowest_pressure(lowest: float, baseline: float, code: str) -> None:
    """Not so low that gusts or the baseline drown it, nor so high that 4 Pa is a guess."""
    pressures = (55, 47, 38, 29, 19, lowest)
    found = findings(made_test(pressures=pressures, baseline=baseline))
    assert [f.code for f in found] == ([f"fan-test/{code}"] if code else [])


@pytest.mark.published(
    source="ISO 9972:2015", where="exponent 0.5 to 1.0, else invalid", read=ISO_CHECKLIST
)
@pytest.mark.parametrize(
    ("exponent", "is_void"), [(0.49, True), (0.501, False), (0.999, False), (1.01, True)]
)
def test_exponent(exponent: float, is_void: bool) -> None:
    """No hole has an exponent outside 0.5 to 1."""
    found = findings(made_test(LeakageCurve(0.02, exponent)), "exponent")
    assert bool(found) == is_void
    assert all(f.severity is Severity.GATE for f in found)


@pytest.mark.published(
    source="ISO 9972:2015",
    where="r2 at least 0.98",
    read="quoted in C. Ghiaus, dm4bem_book, tutorial A06",
)
@pytest.mark.parametrize(("scatter", "is_void"), [(0.03, False), (0.14, True)])
def test_scatter(scatter: float, is_void: bool) -> None:
    """Stations that scatter until r² falls below 0.98 do not stand."""
    test = made_test(factors=wiggle(6, scatter))
    r_squared = reduce_fan_test(test, HOUSE).fit.r_squared
    assert r_squared is not None
    assert (r_squared < 0.98) == is_void
    assert bool(findings(test, "scatter")) == is_void


def test_the_course_book_test_just_passes() -> None:
    """The published data set has r² = 0.9815: scattered, and just good enough."""
    flows = [q / 3600.0 for q in (237, 364, 444, 625, 688, 704)]
    unit = LeakageCurve(1.0, 0.0)
    test = made_test(unit, (10, 20, 30, 40, 50, 60), factors=flows)
    assert findings(test, "scatter") == []
    assert findings(test, "exponent") == []


@pytest.mark.published(
    source="ISO 9972:2015 and ASTM E779",
    where="wind near the ground 3 m/s; preferably 2 m/s",
    read="memory",
)
@pytest.mark.parametrize(
    ("standard", "calm", "windy"),
    [(Standard.ISO_9972, 3.0, 3.1), (Standard.ASTM_E779, 2.0, 2.1)],
)
def test_wind(standard: Standard, calm: float, windy: float) -> None:
    """Wind beyond what the standard allows is told."""
    test = replace(GOOD, standard=standard)
    assert findings(replace(test, wind_speed=calm), "wind") == []
    assert one(replace(test, wind_speed=windy), "wind").limit == calm


@pytest.mark.published(
    source="ISO 9972:2015 and ASTM E779",
    where="height times temperature difference 250 m K; 200 m K",
    read="memory",
)
@pytest.mark.parametrize(
    ("standard", "limit"), [(Standard.ISO_9972, 250.0), (Standard.ASTM_E779, 200.0)]
)
@pytest.mark.parametrize("outdoor", [263.0, 323.0])
def test_height_times_temperature(standard: Standard, limit: float, outdoor: float) -> None:
    """A tall house on a cold day, or a hot one, is told."""
    difference = abs(GOOD.indoor_temperature - outdoor)
    test = replace(GOOD, standard=standard, outdoor_temperature=outdoor)
    assert findings(replace(test, height=(limit - 1.0) / difference), "stack") == []
    assert one(replace(test, height=(limit + 1.0) / difference), "stack").limit == limit


def test_one_point_says_that_its_exponent_is_assumed() -> None:
    """A single reading is an estimate and not a test by either standard."""
    finding = one(made_test(pressures=(50.0,)), "one-point")
    assert finding.severity is Severity.GATE
    assert "exponent is assumed" in finding.says


@pytest.mark.published(
    source="ANSI/RESNET/ICC 380",
    where="one-point test, induced pressure at least 15 Pa",
    read="memory",
)
@pytest.mark.parametrize(("pressure", "is_low"), [(15.0, False), (14.9, True)])
def test_one_low_point(pressure: float, is_low: bool) -> None:
    """Carried to 50 Pa from less than 15 Pa, one reading is worth nothing."""
    assert bool(findings(made_test(pressures=(pressure,)), "one-point-low")) == is_low


@given(st.integers(1, 6), st.sampled_from([0.85, 1.15, 1.3]))
def test_a_stray_station_is_named(number: int, factor: float) -> None:
    """The one station that does not belong is named by its number."""
    finding = one(with_flow_times(GOOD, number, factor), "outlier")
    assert finding.about == f"station {number}"
    assert finding.says.startswith(f"Station {number} at ")
    assert finding.value == pytest.approx(factor - 1.0, abs=0.03)


def test_four_stations_name_no_stray_one() -> None:
    """With four stations nobody can tell which one is wrong."""
    test = made_test(pressures=(50, 40, 25, 12), factors=(1.0, 1.2, 1.0, 1.0))
    assert findings(test, "outlier") == []


@pytest.mark.parametrize("factor", [2.119, 0.472])
def test_a_flow_in_the_wrong_unit_is_suspected(factor: float) -> None:
    """A station off by the ratio of cfm to L/s is told as such."""
    finding = one(with_flow_times(GOOD, 4, factor), "unit-slip")
    assert finding.about == "station 4"
    assert ("cfm noted as L/s" if factor > 1.0 else "L/s noted as cfm") in finding.says


def test_a_pressure_in_the_wrong_unit_is_suspected() -> None:
    """A station off by the ratio of inches of water to pascals is told as such."""
    old = GOOD.stations[2]
    test = with_station(GOOD, 3, replace(old, pressure=old.pressure / 249.089))
    finding = one(test, "unit-slip")
    assert finding.about == "station 3"
    assert "inches of water" in finding.says


def test_all_pressures_in_the_wrong_unit_are_suspected() -> None:
    """A whole test at a fifth of a pascal was read in inches of water."""
    small = made_test(pressures=[p / 249.089 for p in USUAL_PRESSURES])
    large = made_test(pressures=[p * 249.089 for p in USUAL_PRESSURES])
    for test in (small, large):
        finding = next(f for f in findings(test, "unit-slip") if f.unit == "Pa")
        assert finding.severity is Severity.GATE
        assert "249 Pa" in finding.says


@pytest.mark.parametrize(
    ("factor", "is_odd"), [(0.01, True), (0.5, False), (2.0, False), (60.0, True)]
)
def test_a_house_beyond_belief_is_questioned(factor: float, is_odd: bool) -> None:
    """Air changes that hardly any house has point at a unit."""
    test = made_test(LeakageCurve(factor * CURVE.coefficient, 0.65))
    assert bool(findings(test, "unit-slip")) == is_odd


def test_swapped_hoses_are_suspected() -> None:
    """A house that a fan empties cannot have more pressure than outdoors."""
    test = replace(GOOD, stations=tuple(replace(s, pressure=-s.pressure) for s in GOOD.stations))
    finding = one(test, "sign")
    assert finding.severity is Severity.GATE
    assert "swapped" in finding.says
    assert "negative" in finding.says


def test_one_station_with_a_lost_sign_is_left_out() -> None:
    """One sign that does not fit is a slip of that station, which is named."""
    old = GOOD.stations[2]
    test = with_station(GOOD, 3, replace(old, pressure=-old.pressure))
    finding = one(test, "sign")
    assert finding.severity is Severity.NOTE
    assert finding.about == "station 3"
    assert finding.value == pytest.approx(40.0)


def test_a_station_without_flow_is_named() -> None:
    """A forgotten flow, and a configuration unknown to the fan, say what to enter."""
    test = with_station(GOOD, 2, Station(-50.0, (FanReading("fan"),)))
    assert one(test, "no-flow").about == "station 2"
    test = with_station(GOOD, 2, Station(-50.0, (FanReading("fan", None, 60.0, "plate"),)))
    assert "no calibration for the configuration noted" in one(test, "no-flow").says


@pytest.mark.parametrize(("fan_pressure", "opening"), [(15.0, "smaller"), (350.0, "larger")])
def test_a_fan_outside_its_band_is_named_once(fan_pressure: float, opening: str) -> None:
    """All stations outside the calibration are told together, with which way to change."""
    band = FanBand("ring", 20.0, 300.0, 0.06, 0.5)
    outside = FanReading("fan", 0.06 * fan_pressure**0.5, fan_pressure, "ring")
    test = replace(GOOD, fans=(replace(GOOD.fans[0], bands=(band,)),))
    for number in (4, 6):
        test = with_station(test, number, replace(GOOD.stations[number - 1], fans=(outside,)))
    finding = one(test, "fan-band")
    assert "at stations 4 and 6;" in finding.says
    assert f"{opening} opening" in finding.says
    assert finding.value == fan_pressure
    assert finding.limit == (20.0 if opening == "smaller" else 300.0)


@pytest.mark.parametrize(
    ("ratio", "code"), [(1.04, ""), (1.2, "shown-flow"), (2.119, "unit-slip"), (0.472, "unit-slip")]
)
def test_shown_flow_against_calibration(ratio: float, code: str) -> None:
    """A gauge set to another configuration, or another unit, gives itself away."""
    fan = replace(GOOD.fans[0], bands=(FanBand("ring", 0.1, 1e5, 0.06, 0.5),))

    def with_fan_pressure(station: Station) -> Station:
        shown = station.fans[0].flow or 0.0
        return replace(
            station, fans=(FanReading("fan", shown, (shown / ratio / 0.06) ** 2, "ring"),)
        )

    test = replace(GOOD, fans=(fan,), stations=tuple(map(with_fan_pressure, GOOD.stations)))
    assert [f.code for f in findings(test)] == ([f"fan-test/{code}"] if code else [])


@pytest.mark.published(
    source="ASTM E779",
    where="both directions required",
    read="quoted in a comparison of ANSI/RESNET/ICC 380 with ASTM E779-10",
)
def test_one_direction_alone_is_told() -> None:
    """Half a test says that the other half is missing."""
    one_way = reduce_fan_test(GOOD, HOUSE)
    (finding,) = reduce_both_directions([one_way], HOUSE).findings
    assert finding.code == "fan-test/one-direction"


@pytest.mark.parametrize(
    ("factor", "says"),
    [
        (1.09, None),
        (1.2, r"^The two directions differ by 18% .*was on\.$"),
        (2.119, r"^.*cfm and L/s.*$"),
    ],
)
def test_directions_that_disagree(factor: float, says: str | None) -> None:
    """Ten percent between the directions is told, a slip of unit as such."""
    down = reduce_fan_test(GOOD, HOUSE)
    up = reduce_fan_test(
        made_test(LeakageCurve(factor * CURVE.coefficient, 0.65), direction=Direction.PRESSURIZE),
        HOUSE,
    )
    found = reduce_both_directions([down, up], HOUSE).findings
    assert len(found) == (0 if says is None else 1)
    if says is not None:
        assert re.match(says, found[0].says)


@pytest.mark.parametrize(("factor", "doubted"), [(1.0, False), (1.0 / 0.4719, True), (3.6, True)])
def test_a_flow_shown_must_go_with_the_configuration(factor: float, doubted: bool) -> None:
    """A flow that the ring could only pass beyond its band was read in another unit."""
    band = FanBand("ring", 25.0, 450.0, 0.018, 0.5)
    test = made_test()
    stations = tuple(
        Station(
            s.pressure,
            (FanReading("fan", factor * (s.fans[0].flow or 0.0), configuration="ring"),),
        )
        for s in test.stations
    )
    fan = replace(test.fans[0], bands=(band,))
    found = findings(replace(test, stations=stations, fans=(fan,)), "shown-flow")
    assert bool(found) is doubted
    assert all("check the unit of the flow" in one.says for one in found)
