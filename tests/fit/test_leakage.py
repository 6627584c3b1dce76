"""Check that leaks are fitted to tests: what a known house reads gives that house back."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.houses import make_house, make_leak, make_space
from rooftree.engine.field_tests import fan_test_flow
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.fit import FittedLeaks, fit_leaks
from rooftree.house import OUTDOORS, House, LeakKind
from rooftree.known import How
from rooftree.readings.zone_pressures.readings import ZonePressureTest


@dataclass(frozen=True)
class Curve:
    """A measured leakage curve."""

    coefficient: float
    exponent: float


def make_known_house(
    walls: float = 0.03, ceiling: float = 0.02, floor: float = 0.015, exponent: float = 0.65
) -> House:
    """Return a house with an attic and a crawlspace, both with vents of known size."""
    return make_house(
        make_space("house"),
        make_space("attic", kind="attic", floor_level=3.0),
        make_space("crawl", kind="crawlspace", floor_level=0.0, height=0.6),
        leaks=(
            make_leak("walls low", "house", coefficient=0.6 * walls, exponent=exponent),
            make_leak("walls high", "house", coefficient=0.4 * walls, exponent=exponent),
            make_leak("ceiling", "house", "attic", coefficient=ceiling, exponent=exponent, level=3),
            make_leak("floor", "house", "crawl", coefficient=floor, exponent=exponent, level=0.5),
            make_leak(
                "attic vents", "attic", coefficient=0.1, exponent=0.5, level=3, kind=LeakKind.VENT
            ),
            make_leak(
                "crawl vents", "crawl", coefficient=0.04, exponent=0.5, level=0, kind=LeakKind.VENT
            ),
        ),
    )


def read_zones(
    house: House, uncertainty: float = 0.01, noise: tuple[float, float] = (0.0, 0.0)
) -> tuple[ZonePressureTest, ...]:
    """Return the zone pressures that a house would show at 50 Pa."""
    point = fan_test_flow(house, 50.0)
    return tuple(
        ZonePressureTest(zone, -50.0, point.zone_pressures[zone] + error, 0.65, uncertainty)
        for zone, error in zip(("attic", "crawl"), noise, strict=True)
    )


def read_curve(house: House) -> Curve:
    """Return the curve of a house between 10 and 50 Pa."""
    low, high = fan_test_flow(house, 10.0).flow, fan_test_flow(house, 50.0).flow
    exponent = float(np.log(high / low) / np.log(5.0))
    return Curve(high / 50.0**exponent, exponent)


def sizes(house: House) -> list[float]:
    """Return the coefficients of the leaks, in the order of the house."""
    return [leak.coefficient for leak in house.leaks]


def codes(fitted: FittedLeaks) -> list[str]:
    """Return the codes of the findings."""
    return [finding.code for finding in fitted.findings]


factors = st.floats(0.4, 2.5)


@given(factors, factors, factors)
@settings(max_examples=15)
def test_readings_of_a_known_house_give_it_back(walls: float, ceiling: float, floor: float) -> None:
    """A house described with wrong cracks comes out with the right ones."""
    true = make_known_house()
    wrong = make_known_house(0.03 * walls, 0.02 * ceiling, 0.015 * floor)
    fitted = fit_leaks(wrong, read_curve(true), read_zones(true), prior_spread=10.0)
    assert fitted.flow_residual == pytest.approx(0.0, abs=1e-6)
    for residual in fitted.zone_residuals.values():
        assert residual == pytest.approx(0.0, abs=0.02)
    assert sizes(fitted.house) == pytest.approx(sizes(true), rel=0.01)
    assert fitted.scale["attic"] == pytest.approx(1.0 / ceiling, rel=0.01)
    assert fitted.scale[OUTDOORS] == pytest.approx(1.0 / walls, rel=0.01)
    assert fan_test_flow(fitted.house, 50.0).flow == pytest.approx(
        fan_test_flow(true, 50.0).flow, rel=1e-6
    )


@given(st.floats(0.02, 2.0))
@settings(max_examples=15)
def test_flow_alone_scales_all_cracks_alike(flow: float) -> None:
    """With only a flow at 50 Pa, proportions and exponents stay as described."""
    house = make_known_house()
    fitted = fit_leaks(house, flow)
    assert fan_test_flow(fitted.house, 50.0).flow == pytest.approx(flow, rel=1e-6)
    ratio = np.array(sizes(fitted.house))[:4] / np.array(sizes(house))[:4]
    assert ratio == pytest.approx(ratio[0], rel=1e-12)
    assert sizes(fitted.house)[4:] == sizes(house)[4:]
    assert fitted.exponent_shift == 0.0


def test_fitting_twice_changes_nothing() -> None:
    """A fitted house fits its readings already."""
    true, wrong = make_known_house(), make_known_house(0.06, 0.01, 0.02)
    curve, zones = read_curve(true), read_zones(true)
    once = fit_leaks(wrong, curve, zones)
    again = fit_leaks(once.house, curve, zones)
    assert sizes(again.house) == pytest.approx(sizes(once.house), rel=2e-3)


def test_noise_in_the_readings_stays_within_its_spread() -> None:
    """Coefficients from noisy readings lie within three of the stated deviations."""
    true = make_known_house()
    random = np.random.default_rng(3)
    for _ in range(5):
        noise = random.normal(0.0, 0.5, 2)
        zones = read_zones(true, 0.5, (noise[0], noise[1]))
        fitted = fit_leaks(make_known_house(0.05, 0.012, 0.02), read_curve(true), zones)
        for zone, leak in (("attic", 2), ("crawl", 3)):
            walls = sizes(fitted.house)[0] / sizes(true)[0]
            error = np.log(sizes(fitted.house)[leak] / sizes(true)[leak] / walls)
            assert abs(error) < 3.0 * fitted.spread[zone] + 0.1
        assert fitted.flow_residual == pytest.approx(0.0, abs=1e-6)


def test_exponent_of_the_curve_is_given_back() -> None:
    """The simulated curve follows the measured one below 50 Pa as well."""
    curve = Curve(0.07, 0.6)
    fitted = fit_leaks(make_known_house(), curve)
    for pressure in (10.0, 25.0, 50.0):
        flow = fan_test_flow(fitted.house, pressure).flow
        assert flow == pytest.approx(0.07 * pressure**0.6, rel=3e-3)
    assert fitted.exponent_shift < 0.0
    assert fitted.findings == ()


def test_a_reading_settles_only_its_own_zone() -> None:
    """Without a reading, cracks into a zone go with the walls."""
    true, wrong = make_known_house(), make_known_house(0.06, 0.01, 0.03)
    attic = read_zones(true)[:1]
    fitted = fit_leaks(wrong, read_curve(true), attic)
    assert fitted.scale["crawl"] == fitted.scale[OUTDOORS]
    assert fitted.scale["attic"] != fitted.scale[OUTDOORS]
    assert list(fitted.spread) == ["attic"]


def test_how_each_size_is_known() -> None:
    """Fitted cracks say what fitted them; vents keep what they had."""
    true = make_known_house()
    fitted = fit_leaks(true, read_curve(true), read_zones(true)[:1])
    known = {leak.id: leak.known.get("coefficient") for leak in fitted.house.leaks}
    assert known["ceiling"] is not None
    assert known["ceiling"].how is How.MEASURED
    assert known["floor"] is not None
    assert known["floor"].how is How.ASSUMED
    assert known["attic vents"] is None


def test_a_vague_reading_leaves_the_proportion() -> None:
    """A reading with a large uncertainty moves the cracks hardly at all, and says so."""
    true, wrong = make_known_house(), make_known_house(ceiling=0.04)
    fitted = fit_leaks(wrong, fan_test_flow(true, 50.0).flow, read_zones(true, 500.0))
    assert fitted.scale["attic"] == pytest.approx(fitted.scale[OUTDOORS], rel=1e-3)
    assert codes(fitted) == ["fit/zone-weak", "fit/zone-weak"]


def test_more_leaks_than_measured() -> None:
    """Holes of the record that alone leak more than was measured are a finding."""
    house = make_known_house()
    hole = make_leak("hole", "house", coefficient=0.1, exponent=0.5, kind=LeakKind.HOLE)
    fitted = fit_leaks(replace(house, leaks=(*house.leaks, hole)), 0.3)
    assert codes(fitted)[0] == "fit/flow"
    assert fitted.flow_residual > 0.5
    finding = fitted.findings[0]
    assert finding.limit == pytest.approx(0.3)
    assert finding.value == pytest.approx(0.1 * 50.0**0.5, rel=0.01)


def test_no_way_to_outdoors_for_the_flow() -> None:
    """A house whose only vents are small cannot leak as much as was measured."""
    house = make_house(
        make_space("house"),
        make_space("attic", kind="attic"),
        leaks=(
            make_leak("ceiling", "house", "attic"),
            make_leak("vents", "attic", coefficient=0.01, exponent=0.5, kind=LeakKind.VENT),
        ),
    )
    fitted = fit_leaks(house, 0.5)
    assert codes(fitted)[0] == "fit/flow"
    assert fitted.flow_residual == pytest.approx(0.01 * 50.0**0.5 / 0.5 - 1.0, rel=0.01)


def test_zone_pressure_that_cannot_be_met() -> None:
    """A zone that stands as good as outdoors although its vents are small is a finding."""
    house = make_known_house()
    reading = ZonePressureTest("crawl", -50.0, -49.9, 0.65, 0.01)
    fitted = fit_leaks(house, read_curve(house), (reading,), prior_spread=0.1)
    assert "fit/zone-pressure" in codes(fitted)


@pytest.mark.parametrize("pressure", [45.0, -51.0, 0.0])
def test_zone_pressure_with_the_wrong_sign(pressure: float) -> None:
    """A zone outside the range between house and outdoors is not used, and said so."""
    house = make_known_house()
    reading = ZonePressureTest("attic", -50.0, pressure)
    fitted = fit_leaks(house, read_curve(house), (reading,))
    assert codes(fitted) == ["fit/zone-sign"]
    assert fitted.findings[0].about == "attic"


def test_pressurization_reads_like_depressurization() -> None:
    """Signs of the other direction give the same fit."""
    true, wrong = make_known_house(), make_known_house(ceiling=0.04)
    zones = read_zones(true)
    turned = tuple(
        replace(each, house_pressure=-each.house_pressure, zone_pressure=-each.zone_pressure)
        for each in zones
    )
    one, other = (fit_leaks(wrong, read_curve(true), each) for each in (zones, turned))
    assert sizes(one.house) == pytest.approx(sizes(other.house), rel=1e-9)


def test_zone_read_at_another_pressure() -> None:
    """A reading taken with the house at 30 Pa tells the same."""
    true, wrong = make_known_house(), make_known_house(ceiling=0.04)
    point = fan_test_flow(true, 30.0)
    reading = ZonePressureTest("attic", -30.0, point.zone_pressures["attic"], 0.65, 0.01)
    fitted = fit_leaks(wrong, read_curve(true), (reading,), prior_spread=10.0)
    assert sizes(fitted.house)[2] == pytest.approx(sizes(true)[2], rel=0.01)


def test_two_readings_of_one_zone() -> None:
    """Only the first of two readings of a zone is used."""
    house = make_known_house()
    attic = read_zones(house)[0]
    fitted = fit_leaks(house, read_curve(house), (attic, attic))
    assert codes(fitted) == ["fit/zone-twice"]


def test_zone_without_cracks() -> None:
    """A zone that shares no crack with the house has nothing to scale."""
    house = make_known_house()
    leaks = tuple(leak for leak in house.leaks if leak.id != "ceiling")
    reading = ZonePressureTest("attic", -50.0, -49.0)
    fitted = fit_leaks(replace(house, leaks=leaks), 0.5, (reading,))
    assert codes(fitted) == ["fit/zone-without-cracks"]


def test_cracks_far_from_what_was_described() -> None:
    """A factor beyond four is worth a second look."""
    fitted = fit_leaks(make_known_house(0.001, 0.001, 0.001), 0.5)
    assert codes(fitted) == ["fit/scale"] * 3


def test_exponent_that_cracks_cannot_have() -> None:
    """A measured exponent below 0.5 is met as far as cracks go, and said so."""
    fitted = fit_leaks(make_known_house(), Curve(0.1, 0.45))
    assert "fit/exponent" in codes(fitted)
    assert fitted.flow_residual == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("flow", [0.0, -0.5, float("nan"), float("inf")])
def test_flow_without_meaning(flow: float) -> None:
    """A measured flow that is not above zero is refused by name."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^measured flow at 50 Pa is .* m³/s; the method covers 0 to inf m³/s$",
    ):
        fit_leaks(make_known_house(), flow)


def test_whole_number_as_flow() -> None:
    """A flow typed without a decimal point is taken."""
    fitted = fit_leaks(make_known_house(), 1)
    assert fan_test_flow(fitted.house, 50.0).flow == pytest.approx(1.0, rel=1e-6)


def test_nothing_to_scale() -> None:
    """A house without cracks cannot be fitted, and the message says what to add."""
    vent = make_leak("vent", "house", kind=LeakKind.VENT)
    with pytest.raises(
        HouseError,
        match=r"^no leak of kind crack joins a living space to outdoors or to a buffer space, so "
        r"nothing can be scaled to the fan test; add the cracks of walls and ceilings$",
    ):
        fit_leaks(make_house(make_space("house"), leaks=(vent,)), 0.5)


def test_reading_of_a_space_that_is_not_there() -> None:
    """A zone pressure must be of a buffer space of the house."""
    with pytest.raises(
        HouseError,
        match=r"^a zone pressure is of shed, which is not a buffer space of the house; use the "
        r"id of one$",
    ):
        fit_leaks(make_known_house(), 0.5, (ZonePressureTest("shed", -50.0, -40.0),))
