"""Check that a job's tests are all reduced and that what they found is put into its house."""

from __future__ import annotations

from dataclasses import replace

import pytest

from job.jobs import make_fan_test, make_job, make_tests, one_test, small_house
from rooftree.engine.field_tests import fan_test_flow
from rooftree.fit.ducts import duct_leakage
from rooftree.job import Visit
from rooftree.job.reduction import house_with_tests, reduce_job
from rooftree.readings.airtightness import FanTestResult
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureTest


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


def test_no_tests_leave_the_house_as_described() -> None:
    """A job without tests has no airtightness, and its house is not touched."""
    job = make_job(tests=())
    reductions = reduce_job(job)
    assert reductions.airtightness is None
    assert reductions.findings == ()
    tested = house_with_tests(job, reductions)
    assert tested.house is job.house
    assert tested.findings == ()


def test_the_tested_house_leaks_as_it_was_measured() -> None:
    """Simulating the fan test on the tested house gives back the measured flow."""
    job = make_job()
    reductions = reduce_job(job)
    house = house_with_tests(job, reductions).house
    assert reductions.airtightness is not None
    measured = reductions.airtightness.flow50.value
    assert fan_test_flow(house, 50.0).flow == pytest.approx(measured, rel=1e-4)


def test_the_ducts_leak_as_they_were_measured() -> None:
    """The duct test to outdoors sets the leakage of the ducts, at 25 Pa."""
    job = make_job()
    house = house_with_tests(job, reduce_job(job)).house
    assert duct_leakage(house) == pytest.approx(0.06, rel=1e-6)


def test_total_duct_leakage_is_not_taken_for_leakage_to_outdoors() -> None:
    """A total duct test leaves the ducts of the house as described."""
    total = one_test("total", DuctLeakageTest(False, 25.0, 0.09, 0.5))
    job = make_job(tests=(total,))
    assert house_with_tests(job, reduce_job(job)).house.ducts == job.house.ducts


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


def test_a_duct_test_of_a_house_without_ducts_is_a_finding() -> None:
    """What cannot be put into the house is said, and the house stays as described."""
    bare = replace(small_house(), ducts=(), air_handler=None)
    job = make_job(house=bare, tests=(make_tests()[3],))
    tested = house_with_tests(job, reduce_job(job))
    assert tested.house is bare
    assert [finding.code for finding in tested.findings] == ["test/not-in-house"]


def test_a_zone_that_the_house_does_not_have_is_a_finding() -> None:
    """A zone pressure of an unknown space does not stop the job."""
    stray = one_test("stray", ZonePressureTest("cellar", -50.0, -30.0))
    job = make_job(tests=(make_tests()[0], stray))
    tested = house_with_tests(job, reduce_job(job))
    assert tested.house is job.house
    assert [finding.code for finding in tested.findings] == ["test/not-in-house"]
