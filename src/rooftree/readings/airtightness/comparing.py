"""A later fan test against an earlier one: what changed, and was it the house."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.comparison import Change, compare_results
from rooftree.physics.propagation import COVERAGE, Propagated
from rooftree.physics.uncertainty import UncertaintyTerm, combined_uncertainty
from rooftree.readings.airtightness import limits
from rooftree.readings.airtightness.budget import FAN, GAUGE
from rooftree.readings.airtightness.reduction import flow_at
from rooftree.readings.airtightness.results import FanTestResult

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.readings.airtightness.readings import FanTest
    from rooftree.readings.airtightness.results import AirtightnessResult

DIRECTION_ERROR = 0.05
"""Relative standard uncertainty of a flow as that of the other direction [0-1]: half of the
10 % by which directions commonly differ; ours."""

_NEAR_SLIP = math.log(1.1)

_STATES = (
    ("interior_doors_open", "inside doors"),
    ("air_handler_off", "air handler"),
    ("exhaust_fans_off", "exhaust fans"),
    ("openings_closed", "windows, hatches and dampers"),
)


@dataclass(frozen=True, slots=True)
class TestComparison:
    """Two fan tests of one house.

    Attributes
    ----------
    change : Change
        Of the flow at 50 Pa and reference conditions [m³/s].
    before, after : Propagated
        The two flows [m³/s].
    findings : tuple of Finding
        Where the set-ups differ.
    """

    change: Change
    before: Propagated
    after: Propagated
    findings: tuple[Finding, ...]


# Pytest takes any class of this name for tests.
TestComparison.__test__ = False  # type: ignore[attr-defined]


def compare_tests(
    before: FanTestResult | AirtightnessResult, after: FanTestResult | AirtightnessResult
) -> TestComparison:
    """Compare a test after the work with one before it.

    Parameters
    ----------
    before, after : FanTestResult or AirtightnessResult
        One test, or the mean of several, each.

    Returns
    -------
    TestComparison

    Notes
    -----
    With the same fan in both, its calibration and the gauge are wrong the same way in both,
    and cancel as far as the flows are alike (JCGM 100:2008, eq. 13). Where the directions
    differ a term of 5 % is added, ours. Wind at either test is not among the terms.
    """
    tests = [_tests(result) for result in (before, after)]
    estimates = [flow_at(result, 50.0) for result in (before, after)]
    directions = [{test.direction for test in group} for group in tests]
    extra = (
        [UncertaintyTerm("other direction", DIRECTION_ERROR)]
        if directions[0] != directions[1]
        else []
    )
    flows = [
        _propagated(estimate.flow, combined_uncertainty([*estimate.terms, *extra]))
        for estimate in estimates
    ]
    fans = [{fan.id for test in group for fan in test.fans} for group in tests]
    shared = [
        tuple(
            estimate.flow * math.fsum(t.standard for t in estimate.terms if t.name == name)
            for estimate in estimates
        )
        for name in ((FAN, GAUGE) if fans[0] == fans[1] else ())
    ]
    change = compare_results(flows[0], flows[1], [(one, other) for one, other in shared])
    findings = (*_judge(tests[0], tests[1]), *_judge_ratio(estimates[1].flow / estimates[0].flow))
    return TestComparison(change, flows[0], flows[1], findings)


def _tests(result: FanTestResult | AirtightnessResult) -> tuple[FanTest, ...]:
    parts = (result,) if isinstance(result, FanTestResult) else result.results
    return tuple(part.test for part in parts)


def _propagated(flow: float, relative: UncertaintyTerm) -> Propagated:
    factor = math.exp(COVERAGE * relative.standard)
    return Propagated(
        flow,
        flow * relative.standard,
        flow / factor,
        flow * factor,
        is_by_factor=True,
        degrees_of_freedom=relative.degrees_of_freedom,
    )


def _judge(before: tuple[FanTest, ...], after: tuple[FanTest, ...]) -> Iterator[Finding]:
    for words, one, other in _set_ups(before, after):
        if one is not None and other is not None and one != other:
            yield Finding(
                code="fan-test/set-up-differs",
                severity=Severity.NOTE,
                says=f"The two tests differ in {words}, so part of the change may not be that of "
                "the house: repeat the later one as the earlier one was made.",
                source=limits.COMMON,
                about=words,
            )


def _judge_ratio(ratio: float) -> Iterator[Finding]:
    """Suspect a change as large as a slip of unit."""
    if abs(abs(math.log(ratio)) + math.log(limits.FLOW_SLIP)) < _NEAR_SLIP:
        yield Finding(
            code="fan-test/unit-slip",
            severity=Severity.NOTE,
            says=f"The later flow is {ratio:.2f} times the earlier one, as much as cfm and L/s "
            "differ (possible): check the unit of both before the work is praised or blamed.",
            value=ratio,
            limit=limits.FLOW_SLIP if ratio < 1.0 else 1.0 / limits.FLOW_SLIP,
            unit="-",
            source=limits.COMMON,
        )


def _set_ups(
    before: tuple[FanTest, ...], after: tuple[FanTest, ...]
) -> Iterator[tuple[str, object, object]]:
    def of_all(tests: tuple[FanTest, ...], name: str) -> object:
        """Return what all tests of one visit agree on, or None."""
        noted = {getattr(test, name) for test in tests} - {None}
        return noted.pop() if len(noted) == 1 else None

    yield "direction", {t.direction for t in before}, {t.direction for t in after}
    yield "the standard followed", of_all(before, "standard"), of_all(after, "standard")
    for name, words in _STATES:
        yield words, of_all(before, name), of_all(after, name)
    windy = [
        any((t.wind_speed or 0.0) > limits.LIMITS[t.standard].wind.value for t in tests)
        for tests in (before, after)
    ]
    yield "wind", windy[0], windy[1]
