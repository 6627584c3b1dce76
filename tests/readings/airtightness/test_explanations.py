"""What went wrong in a fan test, told from how its stations lie."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from readings.airtightness.making import CURVE, HOUSE, made_test, wiggle
from rooftree.finding import Severity
from rooftree.readings.airtightness import (
    Cause,
    Fan,
    FanBand,
    FanReading,
    LeakageCurve,
    Station,
    reduce_fan_test,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.readings.airtightness import Explanation, FanTest

PRESSURES = (60.0, 52.0, 44.0, 36.0, 28.0, 20.0, 12.0)
NOISE = wiggle(7, 0.006)
RINGS = (
    FanBand("open", 25.0, 400.0, 0.120, 0.495),
    FanBand("ring 1", 25.0, 450.0, 0.045, 0.500),
    FanBand("ring 2", 25.0, 450.0, 0.0155, 0.505),
)


def noisy(factors: Sequence[float] = (1.0,) * 7, curve: LeakageCurve = CURVE) -> FanTest:
    """Return a test with small noise whose flows are multiplied by factors."""
    both = [one * other for one, other in zip(NOISE, factors, strict=True)]
    return replace(made_test(curve, PRESSURES, factors=both), pressure_uncertainty=0.3)


def with_rings(rings: Sequence[str], noted: Sequence[str]) -> FanTest:
    """Return the test read off a fan with rings on it, other ones noted."""
    bands = {band.configuration: band for band in RINGS}
    test = noisy()
    stations = tuple(
        Station(
            station.pressure,
            (
                FanReading(
                    "fan",
                    None,
                    math.pow(
                        (station.fans[0].flow or 0.0) / bands[ring].coefficient,
                        1.0 / bands[ring].exponent,
                    ),
                    name,
                ),
            ),
        )
        for station, ring, name in zip(test.stations, rings, noted, strict=True)
    )
    return replace(test, stations=stations, fans=(Fan("fan", RINGS),))


def codes(test: FanTest) -> set[str]:
    """Return what is said about a test, without the severity."""
    return {f.code for f in reduce_fan_test(test, HOUSE).findings}


def one(test: FanTest, code: str) -> Finding:
    """Return the only finding of a code."""
    (found,) = (f for f in reduce_fan_test(test, HOUSE).findings if f.code == f"fan-test/{code}")
    return found


def best(test: FanTest) -> Explanation:
    """Return the most probable explanation."""
    return reduce_fan_test(test, HOUSE).explanations[0]


@pytest.mark.parametrize("k", range(2, 6))
@pytest.mark.parametrize("factor", [2.0, 1.3, 0.5])
def test_an_opening_is_found_between_two_stations(k: int, factor: float) -> None:
    """From the station on which the leakage changed, the place and the size are told."""
    test = noisy([factor if i >= k else 1.0 for i in range(7)])
    explanation = best(test)
    assert explanation.cause is Cause.OPENED
    assert explanation.stations == tuple(range(k + 1, 8))
    assert explanation.size == pytest.approx(math.log(factor), abs=0.1)
    finding = one(test, "opened")
    assert finding.severity is Severity.GATE
    assert finding.says.startswith(f"Between stations {k} and {k + 1} the house became ")
    assert ("opened" if factor > 1.0 else "closed") in finding.says
    assert "(almost certain)" in finding.says or "(likely)" in finding.says
    assert f"repeat from station {k + 1} on." in finding.says


def test_a_change_before_the_last_station_may_be_that_station() -> None:
    """At either end an opening and a stray station look alike, and both are told."""
    test = noisy([1.3 if i == 6 else 1.0 for i in range(7)])
    assert {"fan-test/opened", "fan-test/outlier"} <= codes(test)


@given(st.floats(0.55, 0.75), st.floats(0.005, 0.06))
@settings(max_examples=20)
def test_a_clean_test_is_left_alone(exponent: float, coefficient: float) -> None:
    """Whatever the curve, small noise is explained by noise."""
    explanation = best(noisy(curve=LeakageCurve(coefficient, exponent)))
    assert explanation.cause is Cause.NONE
    assert explanation.probability > 0.5


@given(st.floats(0.1, 10.0))
@settings(max_examples=20)
def test_the_unit_of_flow_does_not_matter(factor: float) -> None:
    """All flows times a number leave every probability as it was."""
    step = [1.15 if i >= 3 else 1.0 for i in range(7)]
    one_way = reduce_fan_test(noisy(step), HOUSE).explanations
    larger = LeakageCurve(factor * CURVE.coefficient, CURVE.exponent)
    other = reduce_fan_test(noisy(step, larger), HOUSE).explanations
    assert [e.cause for e in one_way] == [e.cause for e in other]
    assert [e.probability for e in one_way] == pytest.approx([e.probability for e in other])


def test_a_larger_opening_is_surer() -> None:
    """The probability that something opened grows with its size."""
    steps = [[size if i >= 3 else 1.0 for i in range(7)] for size in (1.02, 1.06, 1.12, 1.3)]
    found = [
        sum(e.probability for e in reduce_fan_test(noisy(s), HOUSE).explanations
            if e.cause is Cause.OPENED)
        for s in steps
    ]  # fmt: skip
    assert found == sorted(found)
    assert found[0] < 0.1 < 0.9 < found[-1]


@pytest.mark.parametrize("late", [True, False])
def test_a_wrong_configuration_is_named_with_its_stations(late: bool) -> None:
    """The stations, the ring that was on and how sure are told."""
    concerned = range(4, 7) if late else range(4)
    noted = ["open" if i in concerned else "ring 1" for i in range(7)]
    test = with_rings(["ring 1"] * 7, noted)
    finding = one(test, "wrong-configuration")
    where = f"stations {concerned[0] + 1} to {concerned[-1] + 1}"
    assert f"fan fan had configuration 'ring 1' on it at {where}" in finding.says
    assert "(almost certain)" in finding.says or "(likely)" in finding.says


def test_a_gauge_one_ring_behind_is_found() -> None:
    """Two rings that were both noted one too large are exchanged together."""
    rings = ["ring 1"] * 3 + ["ring 2"] * 4
    noted = ["ring 1"] + ["open"] * 2 + ["ring 1"] * 4
    finding = one(with_rings(rings, noted), "wrong-configuration")
    assert "'ring 1' where 'open' was noted and 'ring 2' where 'ring 1' was noted" in finding.says
    assert finding.about == "stations 2 to 7"


def test_flows_shown_are_turned_back_into_fan_pressures() -> None:
    """Where the gauge showed flow for the wrong ring, the ring is found as well."""
    read = with_rings(["ring 1"] * 7, ["ring 1"] * 4 + ["open"] * 3)
    bands = {band.configuration: band for band in RINGS}
    stations = tuple(
        Station(
            s.pressure,
            (
                replace(
                    s.fans[0],
                    fan_pressure=None,
                    flow=bands[s.fans[0].configuration].coefficient
                    * (s.fans[0].fan_pressure or 0.0) ** bands[s.fans[0].configuration].exponent,
                ),
            ),
        )
        for s in read.stations
    )
    finding = one(replace(read, stations=stations), "wrong-configuration")
    assert "configuration 'ring 1' on it at stations 5 to 7" in finding.says


def test_rings_noted_right_give_no_doubt() -> None:
    """A fan whose rings were changed and noted as changed is left alone."""
    rings = ["ring 1"] * 3 + ["ring 2"] * 4
    assert "fan-test/wrong-configuration" not in codes(with_rings(rings, rings))


@pytest.mark.parametrize(
    ("factor", "words"),
    [
        (1.0 / 0.471947, "cfm noted as L/s"),
        (0.471947, "L/s noted as cfm"),
        (3.6, "m³/h noted as L/s"),
        (1.699011, "m³/h noted as cfm"),
    ],
)
def test_flows_in_another_unit_are_named(factor: float, words: str) -> None:
    """Where the first stations are off by the ratio of two units, the units are told."""
    finding = one(noisy([factor] * 3 + [1.0] * 4), "unit-slip")
    assert f"stations 1 to 3 was {words}, or that at stations 4 to 7 was " in finding.says
    assert finding.about == "stations 1 to 3"


def test_pressures_off_by_the_same_bend_the_line() -> None:
    """A forgotten baseline shows as an offset with its size."""
    shifted = noisy()
    moved = tuple(replace(s, pressure=s.pressure - 6.0) for s in shifted.stations)
    result = reduce_fan_test(replace(shifted, stations=moved), HOUSE)
    (offset,) = (e for e in result.explanations if e.cause is Cause.OFFSET)
    assert offset.size == pytest.approx(6.0, abs=3.0 * offset.size_uncertainty)
    assert offset.probability > 0.05


def test_a_fan_that_started_shifts_the_later_stations() -> None:
    """A shift of the house pressure midway is told with its place."""
    test = noisy()
    stations = tuple(
        replace(s, pressure=s.pressure - (6.0 if i >= 3 else 0.0))
        for i, s in enumerate(test.stations)
    )
    found = codes(replace(test, stations=stations))
    assert found & {"fan-test/baseline-shift", "fan-test/opened", "fan-test/offset"}


def test_stations_read_too_soon_differ_by_the_way_they_were_reached() -> None:
    """Up and down again with 8 % between them is told as unsteady."""
    order = (60.0, 44.0, 28.0, 12.0, 20.0, 36.0, 52.0)
    factors = [0.96] * 4 + [1.04] * 3
    both = [a * b for a, b in zip(factors, NOISE, strict=True)]
    test = replace(made_test(CURVE, order, factors=both), pressure_uncertainty=0.3)
    finding = one(test, "unsteady")
    assert "reached from below read 8% more flow" in finding.says


def test_four_stations_explain_nothing() -> None:
    """A line and a step leave no freedom in four stations."""
    test = made_test(CURVE, (60.0, 45.0, 30.0, 15.0), factors=(1.0, 1.0, 2.0, 2.0))
    assert reduce_fan_test(test, HOUSE).explanations == ()


def test_probabilities_make_one() -> None:
    """All kinds of explanations together are certain."""
    result = reduce_fan_test(noisy([1.05 if i >= 3 else 1.0 for i in range(7)]), HOUSE)
    assert math.fsum(e.probability for e in result.explanations) == pytest.approx(1.0)
    assert all(0.0 <= e.share <= 1.0 + 1e-9 for e in result.explanations)


def test_one_pressure_in_inches_is_told_even_where_it_was_left_out() -> None:
    """A station typed in inches of water is found on the line in pascals."""
    test = replace(noisy(), baseline_before=(-1.0,), baseline_after=(-1.0,))
    stations = [replace(s, pressure=s.pressure - 1.0) for s in test.stations]
    stations[2] = replace(stations[2], pressure=stations[2].pressure / 249.089)
    result = reduce_fan_test(replace(test, stations=tuple(stations)), HOUSE)
    (slip,) = (f for f in result.findings if f.code == "fan-test/unit-slip")
    assert slip.about == "station 3"
    assert "inches of water (almost certain)" in slip.says


def test_gusts_widen_what_counts_as_noise() -> None:
    """The same departure at a low pressure is told in calm air and not in gusts."""
    factors = [1.0] * 6 + [1.12]
    calm = replace(noisy(factors), baseline_before=(-0.1, 0.0, 0.1, 0.0))
    swings = tuple(np.array([-1.5, 1.4, -1.2, 1.3, 0.0, 0.0]))
    gusty = replace(calm, baseline_before=swings)
    assert codes(calm) & {"fan-test/outlier", "fan-test/opened", "fan-test/offset"}
    assert not codes(gusty) & {"fan-test/outlier", "fan-test/opened"}
    assert "fan-test/gusts" in codes(gusty)
