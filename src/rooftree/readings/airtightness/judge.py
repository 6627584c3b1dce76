"""Doubts about a fan test, while the fan still stands in the door.

A finding of severity GATE means that the test does not satisfy the standard that it was
made by; one of severity NOTE that the result is worth less than it looks, or needs a look.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.airtightness import limits
from rooftree.readings.airtightness.curve import FitMethod
from rooftree.readings.airtightness.judge_explanations import judge_explanations
from rooftree.readings.airtightness.judge_setup import judge_enclosure, judge_setup
from rooftree.readings.airtightness.judge_stations import judge_stations
from rooftree.readings.airtightness.limits import LIMITS
from rooftree.readings.airtightness.readings import Direction

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rooftree.readings.airtightness.limits import Limit
    from rooftree.readings.airtightness.readings import Enclosure
    from rooftree.readings.airtightness.results import FanTestResult

_URGENCY = {Severity.STOP: 0, Severity.GATE: 1, Severity.NOTE: 2}


def judge_fan_test(result: FanTestResult, enclosure: Enclosure) -> tuple[Finding, ...]:
    """Return every doubt about one direction of a fan test.

    Parameters
    ----------
    result : FanTestResult
        Reduced; its own findings are not looked at.
    enclosure : Enclosure
        Volume, areas and height of the tested space.

    Returns
    -------
    tuple of Finding
        Most pressing first.
    """
    judges = (
        judge_stations,
        judge_explanations,
        judge_setup,
        _judge_baseline,
        _judge_points,
        _judge_range,
        _judge_fit,
        _judge_weather,
        _judge_size,
    )
    found = [finding for judge in judges for finding in judge(result)]
    found += judge_enclosure(enclosure)
    return tuple(sorted(found, key=lambda finding: _URGENCY[finding.severity]))


def judge_both_directions(results: Sequence[FanTestResult]) -> tuple[Finding, ...]:
    """Return every doubt about a set of fan tests of one house.

    Parameters
    ----------
    results : sequence of FanTestResult
        All tests, in both directions or one.

    Returns
    -------
    tuple of Finding
        Empty if both directions were done and agree.
    """
    by_direction = {
        direction: [r.flow50.value for r in results if r.direction is direction]
        for direction in Direction
    }
    if not all(by_direction.values()):
        return (
            _note(
                "fan-test/one-direction",
                "The house was tested in one direction only; turn the fan around and test the "
                "other way, because dampers and flaps leak more one way than the other.",
                source=f"{limits.RECALLED_E779}, which asks for both directions",
            ),
        )
    means = [math.fsum(flows) / len(flows) for flows in by_direction.values()]
    difference = abs(means[0] - means[1]) / (0.5 * (means[0] + means[1]))
    if difference <= limits.DIRECTIONS.value:
        return ()
    return (
        _note(
            "fan-test/directions-differ",
            f"The two directions differ by {difference:.0%} at 50 Pa; look for a damper, flap or "
            "loose sheet that one direction opens, and check that the fan configuration noted "
            "is the one that was on." + _slip_between(means),
            difference,
            limits.DIRECTIONS,
        ),
    )


def _slip_between(flows: Sequence[float]) -> str:
    ratio = abs(math.log(flows[0] / flows[1]))
    if abs(ratio + math.log(limits.FLOW_SLIP)) < limits.SLIP_TOLERANCE:
        return " They differ by as much as cfm and L/s do: check the unit that was noted."
    return ""


def _note(
    code: str, says: str, value: float | None = None, limit: Limit | None = None, source: str = ""
) -> Finding:
    return _finding(Severity.NOTE, code, says, value, limit, source)


def _gate(code: str, says: str, value: float | None = None, limit: Limit | None = None) -> Finding:
    return _finding(Severity.GATE, code, says, value, limit, "")


def _finding(
    severity: Severity, code: str, says: str, value: float | None, limit: Limit | None, source: str
) -> Finding:
    return Finding(
        code=code,
        severity=severity,
        says=says,
        value=value,
        limit=limit.value if limit else None,
        unit=limit.unit if limit else "",
        source=limit.source if limit else source,
    )


def _judge_baseline(result: FanTestResult) -> Iterator[Finding]:
    baseline = result.baseline
    for name, when, mean, readings in (
        ("before", "Before", baseline.before, result.test.baseline_before),
        ("after", "After", baseline.after, result.test.baseline_after),
    ):
        if mean is None:
            yield _gate(
                "fan-test/baseline-missing",
                f"No baseline was read {name} the test; seal the fan and read the house "
                "pressure for half a minute or more, with its sign.",
                None,
                limits.BASELINE,
            )
            continue
        sides = [
            [r for r in readings if r > 0.0],
            [r for r in readings if r < 0.0],
        ]
        worst = max((abs(math.fsum(s) / len(s)) for s in sides if s), default=0.0)
        if worst > limits.BASELINE.value:
            yield _gate(
                "fan-test/baseline-large",
                f"{when} the test the baseline was {worst:.1f} Pa, more than "
                f"{limits.BASELINE.value:g} Pa; wait for calmer weather, or shelter the outdoor "
                "hose and average for longer.",
                worst,
                limits.BASELINE,
            )
    if baseline.before is None or baseline.after is None:
        return
    drift = abs(baseline.after - baseline.before)
    if drift > limits.DRIFT.value:
        yield _note(
            "fan-test/baseline-drift",
            f"The baseline moved by {drift:.1f} Pa during the test; check that no door, flue "
            "damper or fan changed and that no hose came loose, and repeat if one did.",
            drift,
            limits.DRIFT,
        )


def _judge_points(result: FanTestResult) -> Iterator[Finding]:
    bounds = LIMITS[result.test.standard]
    used = sorted(s.induced_pressure for s in result.stations if s.is_used)
    if result.fit.method is FitMethod.ONE_POINT:
        yield _gate(
            "fan-test/one-point",
            "All readings are at one pressure, so the exponent is assumed and results away from "
            f"it are rough; take {bounds.fewest_points.value:g} stations or more between 10 and "
            "60 Pa.",
            float(len(used)),
            bounds.fewest_points,
        )
        if used[0] < limits.LEAST_ONE_POINT.value:
            yield _gate(
                "fan-test/one-point-low",
                f"The one pressure reached is {used[0]:.0f} Pa, too low to tell the flow at "
                "50 Pa; add a second fan, or close the openings that keep the pressure down.",
                used[0],
                limits.LEAST_ONE_POINT,
            )
        return
    if len(used) < bounds.fewest_points.value:
        yield _gate(
            "fan-test/too-few-points",
            f"Only {len(used)} stations can be used; take at least {bounds.fewest_points.value:g}.",
            float(len(used)),
            bounds.fewest_points,
        )
    step = max(high - low for low, high in pairwise(used))
    if step > bounds.widest_step.value + limits.STATION_TOLERANCE.value:
        yield _note(
            "fan-test/wide-steps",
            f"Two neighboring stations lie {step:.0f} Pa apart; take one between them.",
            step,
            bounds.widest_step,
        )


def _judge_range(result: FanTestResult) -> Iterator[Finding]:
    if result.fit.method is FitMethod.ONE_POINT:
        return
    bounds = LIMITS[result.test.standard]
    used = [s.induced_pressure for s in result.stations if s.is_used]
    yield from _judge_highest(max(used), bounds)
    five = limits.BASELINES_BELOW_LOWEST.value * abs(result.baseline.pressure)
    least = max(bounds.lowest_pressure.value - limits.STATION_TOLERANCE.value, five)
    if min(used) < least:
        too_near = five > bounds.lowest_pressure.value - limits.STATION_TOLERANCE.value
        yield _note(
            "fan-test/lowest-pressure",
            f"The lowest station is {min(used):.1f} Pa, "
            + (
                "less than five times the baseline; leave it out or repeat it in calmer air."
                if too_near
                else "where gusts drown the reading; take the lowest near 10 Pa."
            ),
            min(used),
            limits.Limit(
                least,
                "Pa",
                (limits.BASELINES_BELOW_LOWEST if too_near else bounds.lowest_pressure).source,
            ),
        )
    most = max(bounds.lowest_pressure.value, five) + limits.STATION_TOLERANCE.value
    if min(used) > most:
        yield _note(
            "fan-test/no-low-pressure",
            f"The lowest station is {min(used):.0f} Pa, so leakage at the few pascals of wind "
            f"and weather is guessed; add stations down to {most - 3.0:.0f} Pa.",
            min(used),
            limits.Limit(most, "Pa", bounds.lowest_pressure.source),
        )


def _judge_highest(highest: float, bounds: limits.Limits) -> Iterator[Finding]:
    if highest < bounds.least_highest_pressure.value:
        yield _gate(
            "fan-test/highest-pressure",
            f"The highest pressure reached is {highest:.0f} Pa, too low for any result at 50 Pa; "
            "add a second fan, or look for a large opening left open.",
            highest,
            bounds.least_highest_pressure,
        )
    elif highest < bounds.highest_pressure.value:
        yield _note(
            "fan-test/extrapolated",
            f"The highest pressure reached is {highest:.0f} Pa, so the flow at 50 Pa is "
            "extrapolated and its limits are wider; add a second fan if one is at hand.",
            highest,
            bounds.highest_pressure,
        )
    elif highest < bounds.full_range.value - limits.STATION_TOLERANCE.value:
        yield _note(
            "fan-test/short-range",
            f"The highest station is {highest:.0f} Pa; take one near "
            f"{bounds.full_range.value:.0f} Pa for the full range of the standard.",
            highest,
            bounds.full_range,
        )


def _judge_fit(result: FanTestResult) -> Iterator[Finding]:
    exponent, r_squared = result.fit.curve.exponent, result.fit.r_squared
    if exponent < limits.LEAST_EXPONENT.value:
        yield _gate(
            "fan-test/exponent",
            f"The exponent is {exponent:.3f}, and no hole has one below 0.5; something opened as "
            "the pressure rose or a reading is wrong: find it and repeat the test.",
            exponent,
            limits.LEAST_EXPONENT,
        )
    if exponent > limits.GREATEST_EXPONENT.value:
        yield _gate(
            "fan-test/exponent",
            f"The exponent is {exponent:.3f}, and no hole has one above 1; something was drawn "
            "shut as the pressure rose or a reading is wrong: find it and repeat the test.",
            exponent,
            limits.GREATEST_EXPONENT,
        )
    if r_squared is not None and r_squared < limits.R_SQUARED.value:
        yield _gate(
            "fan-test/scatter",
            f"The stations scatter too far from one line (r² = {r_squared:.3f}); average for "
            "longer at each station, or wait for calmer air, and repeat.",
            r_squared,
            limits.R_SQUARED,
        )


def _judge_weather(result: FanTestResult) -> Iterator[Finding]:
    test = result.test
    bounds = LIMITS[test.standard]
    if test.wind_speed is not None and test.wind_speed > bounds.wind.value:
        yield _note(
            "fan-test/wind",
            "The wind near the house was stronger than the standard allows, and the limits "
            "shown do not hold what gusts do; average for longer, or come back in calm weather.",
            test.wind_speed,
            bounds.wind,
        )
    stack = test.height * abs(test.indoor_temperature - test.outdoor_temperature)
    if stack > bounds.stack.value:
        yield _note(
            "fan-test/stack",
            "Height times the temperature difference is larger than the standard allows, so "
            "pressure differs from floor to floor; test at a milder hour, or read the baseline "
            "at the lowest and the highest floor.",
            stack,
            bounds.stack,
        )


def _judge_size(result: FanTestResult) -> Iterator[Finding]:
    changes = result.sizes.air_changes50.value
    for limit, off in (
        (limits.TIGHTEST, changes < limits.TIGHTEST.value),
        (limits.LEAKIEST, changes > limits.LEAKIEST.value),
    ):
        if off:
            yield _note(
                "fan-test/unit-slip",
                f"{changes:.3g} air changes per hour at 50 Pa would be a very unusual house; "
                "check the unit of the flow, the fan configuration and the volume.",
                changes,
                limit,
            )
