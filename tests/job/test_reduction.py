"""Check that a job's tests are all reduced."""

from __future__ import annotations

import pytest

from job.jobs import make_fan_test, make_job, make_tests, one_test
from rooftree.job import Visit
from rooftree.job.reduction import reduce_job
from rooftree.readings.airtightness import FanTestResult


def test_every_test_is_reduced_in_the_order_of_the_job() -> None:
    """Each test of the job comes back once, in its order, with its own kind of result."""
    job = make_job()
    reduced = reduce_job(job).tests
    assert [one.test for one in reduced] == list(job.tests)
    assert [type(one.result).__name__ for one in reduced] == [
        "FanTestResult",
        "FanTestResult",
        "ZonePressureResult",
        "DuctLeakageResult",
        "CombustionResult",
    ]


def test_airtightness_is_the_mean_of_both_directions() -> None:
    """Readings on two curves give the mean of their flows at 50 Pa."""
    tests = (
        one_test("a", make_fan_test(0.05)),
        one_test("b", make_fan_test(0.07)),
    )
    reductions = reduce_job(make_job(tests=tests))
    flows = [one.result.flow50.value for one in reductions.tests
             if isinstance(one.result, FanTestResult)]  # fmt: skip
    assert reductions.airtightness is not None
    assert reductions.airtightness.flow50.value == pytest.approx(sum(flows) / 2.0)


def test_one_bad_test_does_not_hide_the_others() -> None:
    """A fan test with one station has no result and a finding; the others are reduced."""
    hasty = one_test("hasty", make_fan_test(pressures=()))
    reductions = reduce_job(make_job(tests=(hasty, *make_tests())))
    first = reductions.tests[0]
    assert first.result is None
    assert [finding.code for finding in first.findings] == ["test/not-reduced"]
    assert first.findings[0].says.startswith("hasty cannot be reduced: ")
    assert reductions.airtightness is not None
    assert first.findings[0] in reductions.findings


def test_findings_are_those_of_all_tests_and_of_the_mean() -> None:
    """No finding of a test or of the mean is lost."""
    reductions = reduce_job(make_job())
    each = [finding for one in reductions.tests for finding in one.findings]
    assert reductions.airtightness is not None
    assert list(reductions.findings) == each + list(reductions.airtightness.findings)


def test_tests_after_work_do_not_change_the_house_as_found() -> None:
    """A fan test of a later visit, after work, is reduced and left out of the mean."""
    visits = (*make_job().visits, Visit("visit-2", "2026-06-01", "D. Arden", "test-out"))
    after = one_test("after", make_fan_test(0.02), "visit-2")
    found = reduce_job(make_job())
    both = reduce_job(make_job(visits=visits, tests=(*make_tests(), after)))
    assert both.airtightness is not None
    assert found.airtightness is not None
    assert both.airtightness.flow50 == found.airtightness.flow50
    assert isinstance(both.tests[-1].result, FanTestResult)
