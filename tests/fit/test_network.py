"""Check that an air network is fitted to all tests: what a known house reads gives it back."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.random import default_rng
from scipy.stats import binom, chi2

from demo_house import recorded_house, true_house
from engine.houses import make_house, make_leak, make_space
from fit.random_houses import Gauges, described_house, gauges
from rooftree.engine.duct_paths import Ducts
from rooftree.engine.duct_tests import simulate_duct_leakage
from rooftree.engine.field_tests import (
    fan_test_flow,
    simulate_opened_hatch,
    simulate_zone_pressure,
)
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.fit import FittedNetwork, MeasuredCurve, Read, fit_network
from rooftree.fit.measured import observe
from rooftree.fit.network import LARGEST
from rooftree.fit.trial import Trial
from rooftree.fit.unknowns import Role, unknowns_of
from rooftree.house import House, LeakKind
from rooftree.known import How
from rooftree.readings.airtightness import Direction
from rooftree.readings.zone_pressures import ZonePressureTest

HOUSES = 12
"""Random houses of each kind: with ducts and without."""


@dataclass(frozen=True)
class Case:
    """One random house after its fit."""

    fitted: FittedNetwork
    true: dict[str, float]


def codes(fitted: FittedNetwork) -> list[str]:
    """Return the codes of the findings."""
    return [finding.code for finding in fitted.findings]


def sizes(house: House) -> list[float]:
    """Return the coefficients of the leaks, in the order of the house."""
    return [leak.coefficient for leak in house.leaks]


@pytest.fixture(scope="module", params=[False, True], ids=["no ducts", "ducts"])
def cases(request: pytest.FixtureRequest) -> list[Case]:
    """Return houses drawn from the priors, each fitted to noisy readings of a whole visit."""
    made = []
    for seed in range(HOUSES):
        described, values, instruments = gauges(seed, with_ducts=request.param)
        tests = instruments.everything()
        fitted = fit_network(described, tests, ducts_at_rest=instruments.ducts)
        made.append(Case(fitted, values))
    return made


def test_readings_are_given_back_within_their_noise(cases: list[Case]) -> None:
    """The misfit of all houses is what chance makes of that many readings, or a little less.

    A little less, since some uncertainties hold more than the noise that was drawn: of flows
    that are not corrected to reference conditions.
    """
    misfit = sum(case.fitted.misfit for case in cases)
    freedom = sum(case.fitted.freedom for case in cases)
    assert 0.6 * freedom < misfit < chi2.ppf(0.999, freedom)
    residuals = [one.residual for case in cases for one in case.fitted.readings]
    assert abs(np.mean(residuals)) < 0.2
    assert np.std(residuals) < 1.1


def test_true_values_lie_within_the_limits(cases: list[Case]) -> None:
    """Sizes and exponents lie within the 95 % limits about 95 times in 100.

    Held to 89 times, with the scatter of that many cases: the limits are those of a network
    that is straight within them, which zones near the house or near outdoors are not.
    """
    off = np.array(
        [
            (one.value - case.true[one.unknown.key]) / one.spread
            for case in cases
            for one in case.fitted.unknowns
        ]
    )
    inside = int(np.sum(np.abs(off) < 1.96))
    assert binom.ppf(0.001, off.size, 0.89) < inside
    assert abs(np.mean(off)) < 0.25
    assert np.std(off) > 0.75  # the limits are not wider than they need be


def test_the_readings_tell_much(cases: list[Case]) -> None:
    """Sizes that the readings are about are known several times better than before."""
    for case in cases:
        assert case.fitted.size("walls").told > 0.95
        assert case.fitted.size("ceiling").told > 0.95


def test_sound_readings_are_seldom_said_to_contradict(cases: list[Case]) -> None:
    """Noise alone makes no contradiction."""
    found = [code for case in cases for code in codes(case.fitted)]
    assert found.count("fit/contradiction") <= 1
    assert found.count("fit/impossible") == 0


def exact_tests(house: House, *, ducts: Ducts = Ducts.LEFT_OUT) -> tuple[Read, ...]:
    """Return readings without noise, and said to have hardly any."""
    instruments = Gauges(house, default_rng(0), ducts)
    low, high = (fan_test_flow(house, p, ducts=ducts).flow for p in (10.0, 50.0))
    exponent = float(np.log(high / low) / np.log(5.0))
    curve = MeasuredCurve(high, exponent, 0.01, 0.01, 1e-4)
    zones = [
        replace(simulate_zone_pressure(house, zone, ducts=ducts), pressure_uncertainty=0.01)
        for zone in ("attic", "crawl", "garage")
    ]
    assert instruments.fan > 0.0
    return (Read("fan test", curve), *(Read(zone.space, zone) for zone in zones))


factors = st.floats(0.4, 2.5)


@given(factors, factors, factors)
@settings(max_examples=8)
def test_sharp_readings_give_the_house_back(walls: float, ceiling: float, floor: float) -> None:
    """A house described with wrong cracks comes out with the right ones, its vents known."""
    true = described_house(with_ducts=False)
    wrong = replace(
        true,
        leaks=tuple(
            replace(leak, coefficient=leak.coefficient * factor)
            for leak, factor in zip(
                true.leaks, (walls, ceiling, floor, 1.0, 1.0, 1.0, 1.0), strict=True
            )
        ),
    )
    fitted = fit_network(wrong, exact_tests(true))
    assert all(abs(one.residual) < 0.6 for one in fitted.readings)
    assert sizes(fitted.house)[:3] == pytest.approx(sizes(true)[:3], rel=0.25)
    flow = fan_test_flow(fitted.house, 50.0).flow
    assert flow == pytest.approx(fan_test_flow(true, 50.0).flow, rel=5e-3)


@given(st.floats(0.02, 20.0))
@settings(max_examples=8)
def test_flow_alone_scales_all_cracks_nearly_alike(flow: float) -> None:
    """With only a flow at 50 Pa the proportions of the record stay, within a fifth."""
    house = described_house(with_ducts=False)
    fitted = fit_network(house, (Read("fan test", MeasuredCurve(flow)),))
    assert fan_test_flow(fitted.house, 50.0).flow == pytest.approx(flow, rel=0.05)
    ratio = np.array(sizes(fitted.house))[:4] / np.array(sizes(house))[:4]
    assert np.ptp(np.log(ratio)) <= 0.2 * abs(np.mean(np.log(ratio))) + 0.02


def test_derivatives_are_those_of_the_network() -> None:
    """Exact derivatives of every kind of reading agree with differences."""
    for with_ducts, at_rest in ((True, Ducts.OPEN), (True, Ducts.LEFT_OUT)):
        described, _, instruments = gauges(5, with_ducts=with_ducts)
        instruments.ducts = Ducts.OPEN
        tests = (*instruments.everything(), instruments.delta_q())
        observed = observe(described, tests, at_rest=at_rest)
        unknowns = (*unknowns_of(described), *observed.unknowns)
        trial = Trial(described, observed.observations, unknowns)
        at = default_rng(1).normal(0.0, 0.1, len(unknowns))
        _, slopes = trial.simulate(at)
        for k in range(len(unknowns)):
            step = np.zeros(len(unknowns))
            step[k] = 1e-4
            above, below = trial.simulate(at + step)[0], trial.simulate(at - step)[0]
            numeric = (above - below) / 2e-4
            assert slopes[:, k] == pytest.approx(numeric, rel=2e-3, abs=1e-4), unknowns[k].key


def test_the_demo_house_is_found_by_its_tests() -> None:
    """Readings without noise of the true demo house bring the recorded one near to it."""
    true, recorded = true_house(), recorded_house()
    low, high = (fan_test_flow(true, pressure).flow for pressure in (10.0, 50.0))
    curve = MeasuredCurve(high, float(np.log(high / low) / np.log(5.0)))
    zones = [simulate_zone_pressure(true, zone) for zone in ("attic", "knee", "crawl", "garage")]
    hatch = simulate_opened_hatch(true, "attic", 0.06)
    reads = (Read("fan", curve), Read("hatch", hatch), *(Read(one.space, one) for one in zones))
    fitted = fit_network(recorded, reads)
    assert "fit/contradiction" not in codes(fitted)
    for leak, known in zip(fitted.house.leaks, true.leaks, strict=True):
        if leak.id in ("bypass-ceiling", "floor-holes", "bonus-joists"):
            ours, theirs = (one.coefficient * 50.0**one.exponent for one in (leak, known))
            assert ours == pytest.approx(theirs, rel=0.12), leak.id


def test_two_fan_tests_that_differ_are_named() -> None:
    """Two flows of one fan on one day, 15 % apart, cannot both be right."""
    house = described_house(with_ducts=False)
    flow = fan_test_flow(house, 50.0).flow
    reads = (
        Read("first fan test", MeasuredCurve(flow)),
        Read("second fan test", MeasuredCurve(1.15 * flow)),
        Read("attic", simulate_zone_pressure(house, "attic")),
    )
    (finding,) = (one for one in fit_network(house, reads).findings if "contra" in one.code)
    assert "“first fan test”" in finding.says
    assert "“second fan test”" in finding.says
    assert "attic" not in finding.says


def test_directions_may_differ_a_little() -> None:
    """A house that leaks 6 % more one way is not contradicted by its own tests."""
    house = described_house(with_ducts=False)
    flow = fan_test_flow(house, 50.0).flow
    reads = tuple(
        Read(way.value, MeasuredCurve(factor * flow, direction=way))
        for way, factor in zip(Direction, (1.0, 1.06), strict=True)
    )
    assert "fit/contradiction" not in codes(fit_network(house, reads))


def test_ducts_that_leak_more_to_outdoors_than_in_all_are_named() -> None:
    """A leakage to outdoors above the total names both duct tests."""
    house = described_house()
    out, whole = (simulate_duct_leakage(house, to_outdoors=way) for way in (True, False))
    reads = (
        Read("fan test", MeasuredCurve(fan_test_flow(house, 50.0).flow)),
        Read("ducts to outdoors", replace(out, flow=2.0 * whole.flow)),
        Read("ducts in all", whole),
    )
    (finding,) = (one for one in fit_network(house, reads).findings if "contra" in one.code)
    assert "“ducts to outdoors”" in finding.says
    assert "“ducts in all”" in finding.says


@pytest.mark.parametrize("pressure", [45.0, -53.0])
def test_zone_pressure_that_no_leaks_can_make(pressure: float) -> None:
    """A zone outside the range between house and outdoors is left out, and its test named."""
    house = described_house(with_ducts=False)
    flow = fan_test_flow(house, 50.0).flow
    reads = (
        Read("fan test", MeasuredCurve(flow)),
        Read("odd attic", ZonePressureTest("attic", -50.0, pressure)),
    )
    fitted = fit_network(house, reads)
    (finding,) = (one for one in fitted.findings if one.code == "fit/impossible")
    assert finding.about == "odd attic"
    assert finding.says.startswith("odd attic is not put into the house: the pressure ")
    assert len(fitted.readings) == 1


def test_zone_pressure_that_the_record_forbids() -> None:
    """A zone whose cracks and vents are all known by tape cannot stand where they do not put it."""
    house = described_house(with_ducts=False)
    taped = {"coefficient": house.leaks[4].known["coefficient"]}
    house = replace(
        house,
        leaks=tuple(
            replace(leak, known=taped, kind=LeakKind.HOLE) if leak.id == "floor" else leak
            for leak in house.leaks
        ),
    )
    shown = simulate_zone_pressure(house, "crawl").zone_pressure
    reads = (
        Read("fan test", MeasuredCurve(fan_test_flow(house, 50.0).flow)),
        Read("crawlspace", ZonePressureTest("crawl", -50.0, 0.4 * shown)),
    )
    (finding,) = (one for one in fit_network(house, reads).findings if "contra" in one.code)
    assert finding.about == "crawlspace"
    assert finding.says.startswith("crawlspace cannot be brought together with the other readings")


def test_what_no_reading_tells_is_said_with_the_reading_that_would() -> None:
    """After a fan test alone the split is untold; the proposed reading tells what it promised."""
    house = described_house(with_ducts=False)
    curve = Read("fan test", MeasuredCurve(fan_test_flow(house, 50.0).flow, 0.62))
    before = fit_network(house, (curve,))
    (finding,) = (one for one in before.findings if one.code == "fit/untold")
    assert "cracks from The house to The attic" in finding.says
    best = before.worth[0]
    assert best.says in finding.says
    assert before.worth == tuple(sorted(before.worth, key=lambda one: -one.reduction))
    zone = next(one for one in before.worth if one.says == ATTIC_ALONE)
    after = fit_network(house, (curve, Read("attic", simulate_zone_pressure(house, "attic"))))
    assert ATTIC_ALONE not in [one.says for one in after.worth]
    taken = 1.0 - spread_of_flows(after, house) / spread_of_flows(before, house)
    assert taken == pytest.approx(zone.reduction, abs=0.08)


ATTIC_ALONE = "the pressure of the attic with the house at 50 Pa"


def spread_of_flows(fitted: FittedNetwork, house: House) -> float:
    """Return the variance of the flow at 50 Pa through all cracks, summed over places."""
    flows = {leak.id: leak.coefficient * 50.0**leak.exponent for leak in house.leaks}
    return sum(
        (sum(flows[name] for name in one.unknown.members) * one.spread) ** 2
        for one in fitted.unknowns
        if one.unknown.role is Role.SIZE and one.unknown.key.startswith("crack")
    )


def test_how_each_size_is_known() -> None:
    """A size that the tests tell counts as measured; one that they do not stays what it was."""
    house = described_house(with_ducts=False)
    reads = (
        Read("fan test", MeasuredCurve(fan_test_flow(house, 50.0).flow, 0.62)),
        Read("attic", simulate_zone_pressure(house, "attic")),
    )
    known = {leak.id: leak.known["coefficient"] for leak in fit_network(house, reads).house.leaks}
    assert known["ceiling"].how is How.MEASURED
    assert known["ceiling"].note.startswith("fitted to the tests together, good to ")
    assert known["wall"].how is How.ASSUMED
    assert known["wall"].note.startswith("fitted as far as the tests tell; still unsure by ")


def test_fitting_twice_changes_little() -> None:
    """A fitted house fits its readings already."""
    described, _, instruments = gauges(2, with_ducts=False)
    tests = instruments.everything()
    once = fit_network(described, tests)
    again = fit_network(once.house, tests)
    assert sizes(again.house) == pytest.approx(sizes(once.house), rel=0.15)


def test_pressurization_reads_like_depressurization() -> None:
    """Signs of the other direction give the same fit."""
    house = described_house(with_ducts=False)
    flow = Read("fan test", MeasuredCurve(0.9 * fan_test_flow(house, 50.0).flow))
    one, other = (
        fit_network(house, (flow, Read("attic", ZonePressureTest("attic", way * 50.0, way * 41.0))))
        for way in (-1.0, 1.0)
    )
    assert sizes(one.house) == pytest.approx(sizes(other.house), rel=1e-6)


def test_no_tests_leave_the_house_as_described() -> None:
    """Without a reading nothing is fitted, and the house is the same object."""
    house = described_house()
    fitted = fit_network(house, ())
    assert fitted.house is house
    assert fitted.readings == ()
    worth = {one.says: one.reduction for one in fitted.worth}
    assert worth["a fan test of the house at several pressures"] > 0.5


def test_a_test_of_something_else_is_not_used() -> None:
    """Readings that tell nothing of air are listed as not used, without a finding."""
    house = described_house()
    fitted = fit_network(house, (Read("a thermometer", 21.5),))
    assert [one.test for one in fitted.not_used] == ["a thermometer"]
    assert "test/not-in-house" not in codes(fitted)


@pytest.mark.parametrize("flow", [0.0, -0.5, float("nan"), float("inf")])
def test_flow_without_meaning(flow: float) -> None:
    """A measured flow that is not above zero is refused by name."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^measured flow at 50 Pa is .* m³/s; the method covers 0 to inf m³/s$",
    ):
        fit_network(described_house(), (Read("fan test", MeasuredCurve(flow)),))


def test_a_house_that_cannot_be_tested() -> None:
    """A space without path for air is refused by name."""
    house = make_house(
        make_space("house"), make_space("attic", kind="attic"), leaks=(make_leak("a", "house"),)
    )
    with pytest.raises(HouseError, match=r"^no air can get from outdoors to The attic, "):
        fit_network(house, (Read("fan test", MeasuredCurve(0.5)),))


@pytest.mark.parametrize("factor", [1e-2, 1e2])
def test_houses_far_from_the_guess(factor: float) -> None:
    """A hundred times tighter or leakier than guessed is found, and said to be odd."""
    house = described_house(with_ducts=False)
    flow = factor * fan_test_flow(house, 50.0).flow
    wide = replace(
        house,
        leaks=tuple(
            replace(leak, coefficient=100.0) if leak.kind is LeakKind.VENT else leak
            for leak in house.leaks
        ),
    )
    fitted = fit_network(wide, (Read("fan test", MeasuredCurve(flow)),))
    assert fan_test_flow(fitted.house, 50.0).flow == pytest.approx(flow, rel=0.05)
    assert max(abs(one.value) for one in fitted.unknowns) < LARGEST
