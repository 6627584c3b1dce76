"""Reduce every test of a job."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import RooftreeError
from rooftree.finding import Finding, Severity
from rooftree.job.instruments import judge_instruments
from rooftree.job.kinds import Circumstances, Result, reduce_reading
from rooftree.readings.airtightness import (
    AirtightnessResult,
    FanTest,
    FanTestResult,
    reduce_both_directions,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.job.leakage_outlook import LeakageOutlook
    from rooftree.job.model import Job, Test
    from rooftree.weather import WeatherYear

TEST_OUT = "test-out"
"""Purpose of a visit whose tests show the house after work, not as found."""


@dataclass(frozen=True, slots=True)
class ReducedTest:
    """One test with what it tells.

    Attributes
    ----------
    test : Test
        As read.
    result : Result or None
        Of the kind of test; None where the readings could not be reduced: a finding then
        says why.
    findings : tuple of Finding
        Doubts and limits.
    """

    test: Test
    result: Result | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Reductions:
    """Every test of a job, reduced.

    Attributes
    ----------
    tests : tuple of ReducedTest
        In the order of the job.
    airtightness : AirtightnessResult or None
        Mean of the fan tests of the house as found; None without one that could be reduced.
    """

    tests: tuple[ReducedTest, ...]
    airtightness: AirtightnessResult | None

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return the findings of all tests."""
        both = self.airtightness.findings if self.airtightness else ()
        return (*(f for reduced in self.tests for f in reduced.findings), *both)


def reduce_job(
    job: Job,
    year: Callable[[], WeatherYear] | None = None,
    outlook: Callable[[], LeakageOutlook] | None = None,
) -> Reductions:
    """Reduce every test of a job by its published method.

    Parameters
    ----------
    job : Job
        With any number of tests.
    year : callable or None
        Gives the job's typical year when a test asks for it; without it such a test says
        what it could not compute.
    outlook : callable or None
        Gives what leakage means in the job's house, likewise.

    Returns
    -------
    Reductions
        A test that cannot be reduced has no result and a finding that says why, so that
        one bad test does not hide the others.
    """
    alone = circumstances_of(job, None, year, outlook=outlook)
    fan_tests = {
        test.id: _reduced(job, test, alone)
        for test in job.tests
        if isinstance(test.reading, FanTest)
    }
    found = [fan_tests[test.id].result for test in as_found(job) if test.id in fan_tests]
    results = [result for result in found if isinstance(result, FanTestResult)]
    mean = reduce_both_directions(results, job.enclosure) if results else None
    together = {
        visit: circumstances_of(job, mean, year, visit=visit, outlook=outlook)
        for visit in {test.visit for test in job.tests}
    }
    tests = tuple(
        fan_tests.get(test.id) or _reduced(job, test, together[test.visit]) for test in job.tests
    )
    return Reductions(tests, mean)


def circumstances_of(
    job: Job,
    airtightness: AirtightnessResult | None,
    year: Callable[[], WeatherYear] | None = None,
    *,
    visit: str = "",
    outlook: Callable[[], LeakageOutlook] | None = None,
) -> Circumstances:
    """Return what the rest of a job tells a test.

    Parameters
    ----------
    job : Job
        The job.
    airtightness : AirtightnessResult or None
        Mean of its fan tests as found, where there is one.
    year : callable or None
        Gives the job's typical year.
    visit : str
        Id of the visit of the test: readings after work do not go with those before it.
    outlook : callable or None
        Gives what leakage means in the job's house.

    Returns
    -------
    Circumstances
    """
    after = _after_work(job)
    readings = tuple(
        test.reading for test in job.tests if (test.visit in after) == (visit in after)
    )
    return Circumstances(job.enclosure, job.house, readings, airtightness, year, outlook)


def _after_work(job: Job) -> set[str]:
    return {visit.id for visit in job.visits if visit.purpose == TEST_OUT}


def as_found(job: Job) -> list[Test]:
    """Return the tests that show the house before any work.

    Parameters
    ----------
    job : Job
        With tests of any visit.
    """
    after = _after_work(job)
    return [test for test in job.tests if test.visit not in after]


def _reduced(job: Job, test: Test, circumstances: Circumstances) -> ReducedTest:
    doubts = judge_instruments(job, test.instruments, test.visit)
    try:
        result = reduce_reading(test.reading, circumstances)
    except RooftreeError as error:
        says = f"{test.name} cannot be reduced: {error}."
        refused = Finding("test/not-reduced", Severity.NOTE, says, about=test.id)
        return ReducedTest(test, None, (refused, *doubts))
    return ReducedTest(test, result, (*result.findings, *doubts))
