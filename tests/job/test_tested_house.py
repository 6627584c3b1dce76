"""Check that what the tests of a job found is put into its house."""

from __future__ import annotations

from dataclasses import replace

import pytest

from job.jobs import make_job, make_tests, one_test, small_house
from rooftree.engine.field_tests import fan_test_flow
from rooftree.fit.ducts import duct_leakage
from rooftree.job.reduction import reduce_job
from rooftree.job.tested_house import house_with_tests
from rooftree.known import How
from rooftree.readings.air_handler import AirHandlerTest, RegisterFlow, RegisterSide
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.readings.ventilation import FanPurpose, FanReading, VentilationTest
from rooftree.readings.zone_pressures import ZonePressureTest


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


def test_fans_move_what_was_measured_and_not_what_was_described() -> None:
    """A fan is known by its id or its name; one that ends in the attic moves nothing out."""
    fan = small_house().fans[0]
    for reading, flow in (
        (FanReading(fan.name.upper(), FanPurpose.BATH, 0.0123), 0.0123),
        (FanReading(fan.id, FanPurpose.BATH, 0.0123, goes_outdoors=False), 0.0),
    ):
        job = make_job(tests=(one_test("fans", VentilationTest((reading,))),))
        tested = house_with_tests(job, reduce_job(job))
        assert tested.house.fans[0].flow == pytest.approx(flow)
        assert tested.house.fans[0].known["flow"].how is How.MEASURED
        assert tested.findings == ()


def test_a_measured_fan_that_the_house_does_not_have_is_told() -> None:
    """It is not dropped in silence."""
    stray = FanReading("sauna", FanPurpose.BATH, 0.02)
    job = make_job(tests=(one_test("fans", VentilationTest((stray,))),))
    (finding,) = house_with_tests(job, reduce_job(job)).findings
    assert finding.code == "test/not-in-house"
    assert "sauna" in finding.says


def test_the_air_handler_moves_what_was_measured() -> None:
    """Its flow by the test replaces the one described."""
    registers = tuple(
        RegisterFlow(side.value, side, flow)
        for side, flow in ((RegisterSide.SUPPLY, 0.48), (RegisterSide.RETURN, 0.47))
    )
    job = make_job(tests=(one_test("blower", AirHandlerTest(registers=registers)),))
    reductions = reduce_job(job)
    house = house_with_tests(job, reductions).house
    assert house.air_handler is not None
    measured = reductions.tests[0].result.flow  # type: ignore[union-attr]
    assert house.air_handler.flow == measured.value
    assert house.air_handler.flow == pytest.approx(0.48, rel=0.2)


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
