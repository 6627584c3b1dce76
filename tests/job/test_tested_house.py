"""Check that what the tests of a job found is put into its house."""

from __future__ import annotations

from dataclasses import replace

import pytest

from job.jobs import make_fan_test, make_job, make_tests, one_test, small_house
from rooftree.engine.conduction import interrupted_layers
from rooftree.engine.duct_tests import simulate_duct_leakage, simulate_duct_subtraction
from rooftree.engine.field_tests import fan_test_flow, simulate_added_hole
from rooftree.fit.ducts import duct_leakage
from rooftree.job.reduction import reduce_job
from rooftree.job.tested_house import house_with_tests
from rooftree.known import How
from rooftree.readings.air_handler import AirHandlerTest, RegisterFlow, RegisterSide
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.readings.insulation import (
    DepthPoint,
    InsulationPatch,
    InsulationResult,
    InsulationSurvey,
    Material,
    Position,
)
from rooftree.readings.ventilation import FanPurpose, FanReading, VentilationTest
from rooftree.readings.zone_pressures import Boundary, ZonePressureTest


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
    """Simulating the fan test on the tested house gives back the flow, within its noise."""
    job = make_job()
    reductions = reduce_job(job)
    house = house_with_tests(job, reductions).house
    assert reductions.airtightness is not None
    measured = reductions.airtightness.flow50.value
    assert fan_test_flow(house, 50.0).flow == pytest.approx(measured, rel=0.01)


def test_the_ducts_leak_as_they_were_measured() -> None:
    """The duct test on the tested house gives back the measured flow."""
    job = make_job()
    house = house_with_tests(job, reduce_job(job)).house
    assert simulate_duct_leakage(house, to_outdoors=True).flow == pytest.approx(0.06, rel=0.03)
    assert duct_leakage(house) > 0.06  # the crawlspace is pressed up during the test


def test_total_duct_leakage_bounds_leakage_to_outdoors() -> None:
    """A total duct test leaves open how much of it goes to outdoors, but not more than all."""
    total = one_test("total", DuctLeakageTest(False, 25.0, 0.03, 0.5))
    job = make_job(tests=(total,))
    house = house_with_tests(job, reduce_job(job)).house
    assert 0.005 < duct_leakage(house) < 0.03
    assert house.leaks[0].coefficient == pytest.approx(job.house.leaks[0].coefficient, rel=0.01)


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
    """A zone pressure of an unknown space does not keep the fan test out of the house."""
    stray = one_test("stray", ZonePressureTest("cellar", -50.0, -30.0))
    job = make_job(tests=(make_tests()[0], stray))
    tested = house_with_tests(job, reduce_job(job))
    (finding,) = (one for one in tested.findings if one.code == "test/not-in-house")
    assert finding.says == (
        "stray is not put into the house: it is of cellar, which is not a space of the house; "
        "use the id of one."
    )
    assert tested.house != job.house


def test_an_added_hole_sizes_both_sides_of_a_zone() -> None:
    """With a known hole both leaks of a zone are told, not only their ratio."""
    house = small_house()
    true = replace(
        house,
        leaks=tuple(
            replace(leak, coefficient=0.012 if leak.id == "holes" else leak.coefficient)
            for leak in house.leaks
        ),
    )
    hole = simulate_added_hole(true, "crawl", Boundary.HOUSE, 0.05)
    flow = fan_test_flow(true, 50.0).flow
    fan = make_fan_test(flow / 50.0**0.65)
    job = make_job(tests=(one_test("fan", fan), one_test("hole", hole)))
    tested = house_with_tests(job, reduce_job(job)).house
    found = {leak.id: leak for leak in tested.leaks}
    assert found["holes"].coefficient < 0.016
    assert found["holes"].known["coefficient"].how is How.MEASURED


def test_subtraction_reaches_the_ducts() -> None:
    """Two fan tests, with registers open and sealed, move the duct leakage of the house."""
    house = small_house()
    leaky = replace(house, ducts=tuple(replace(run, leakage=0.25) for run in house.ducts))
    job = make_job(tests=(one_test("sealed", simulate_duct_subtraction(leaky)),))
    tested = house_with_tests(job, reduce_job(job)).house
    assert duct_leakage(tested) > 1.4 * duct_leakage(house)


def survey(where: str, depth: float, area: float = 100.0) -> InsulationSurvey:
    """Return loose fill of even depth on an attic floor."""
    patch = InsulationPatch("all", area, Material.LOOSE_CELLULOSE, void_share=0.05)
    points = tuple(DepthPoint("all", depth + off) for off in (-0.01, 0.0, 0.01))
    return InsulationSurvey(where, Position.ATTIC_FLOOR, (patch,), points)


@pytest.mark.parametrize("where", ["ceiling", "the attic floor"])
@pytest.mark.parametrize("depth", [0.05, 0.30])
def test_surveyed_insulation_reaches_its_surface(where: str, depth: float) -> None:
    """Found by name or by place and area, the surface works as the survey says.

    The survey is between parallel paths and parallel planes, the engine by parallel paths;
    here they are 1.3 % apart. Loose fill settles below its depth.
    """
    job = make_job(tests=(one_test("survey", survey(where, depth)),))
    reductions = reduce_job(job)
    tested = house_with_tests(job, reductions)
    result = reductions.tests[0].result
    assert isinstance(result, InsulationResult)
    assert result.resistance is not None
    surface = next(one for one in tested.house.surfaces if one.id == "ceiling")
    mixed = interrupted_layers(
        surface.layers, surface.framing_fraction, surface.void_fraction, surface.washed_fraction
    )
    works = sum(layer.resistance for layer in mixed if layer.role == "insulation")
    assert works == pytest.approx(result.resistance.value, rel=0.02)
    insulation = next(layer for layer in surface.layers if layer.role == "insulation")
    assert 0.75 * depth < insulation.thickness <= depth
    assert surface.known["layers"].how is How.MEASURED
    assert tested.findings == ()
    others = [one for one in tested.house.surfaces if one.id != "ceiling"]
    assert others == [one for one in job.house.surfaces if one.id != "ceiling"]


def test_a_survey_of_no_clear_surface_is_told() -> None:
    """A survey whose area fits no surface there stays out, and that is said."""
    job = make_job(tests=(one_test("survey", survey("over the porch", 0.2, 30.0)),))
    tested = house_with_tests(job, reduce_job(job))
    assert tested.house == job.house
    assert [finding.code for finding in tested.findings] == ["test/not-in-house"]
