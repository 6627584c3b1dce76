"""Check what a flow means for a house: areas, air changes and words."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.physics.uncertainty import Estimate
from rooftree.readings.airtightness import Enclosure, LeakageCurve
from rooftree.readings.airtightness.sizes import (
    SHARP_EDGED,
    hole_in_words,
    leakage_area,
    leakage_sizes,
    normalized_leakage,
)
from rooftree.units import DisplaySystem

CFM = 0.471947e-3
SQUARE_INCH = 0.0254**2
CUBIC_FOOT = 0.3048**3
MILE_PER_HOUR = 0.44704
INCH_OF_WATER = 249.089

EXPONENTS = (0.50, 0.55, 0.60, 0.65, 0.70, 0.75)


def exactly(value: float) -> Estimate:
    """Return a value without any doubt."""
    return Estimate(value, value, value)


@pytest.mark.parametrize(
    ("pressure", "ratios"),
    [
        (4.0, (0.28284, 0.24929, 0.21971, 0.19365, 0.17067, 0.15042)),
        (10.0, (0.44721, 0.41264, 0.38073, 0.35129, 0.32413, 0.29907)),
        (25.0, (0.70711, 0.68302, 0.65975, 0.63728, 0.61557, 0.59460)),
        (75.0, (1.22474, 1.24983, 1.27542, 1.30155, 1.32820, 1.35540)),
    ],
)
def test_flow_at_another_pressure(pressure: float, ratios: tuple[float, ...]) -> None:
    """Ratios of flow to that at 50 Pa, worked out by hand to five places."""
    for exponent, ratio in zip(EXPONENTS, ratios, strict=True):
        curve = LeakageCurve(0.03, exponent)
        assert curve.flow(pressure) / curve.flow(50.0) == pytest.approx(ratio, abs=1e-5)


@pytest.mark.parametrize(
    ("pressure", "discharge", "areas"),
    [
        (4.0, 1.0, (0.08027, 0.07075, 0.06235, 0.05496, 0.04844, 0.04269)),
        (10.0, SHARP_EDGED, (0.13138, 0.12122, 0.11185, 0.10320, 0.09522, 0.08786)),
    ],
)
def test_leakage_area_of_one_cfm(
    pressure: float, discharge: float, areas: tuple[float, ...]
) -> None:
    """Square inches for each cfm at 50 Pa, worked out by hand; 0.2 %."""
    for exponent, expected in zip(EXPONENTS, areas, strict=True):
        flow = CFM * math.pow(pressure / 50.0, exponent)
        area = leakage_area(flow, pressure, discharge) / SQUARE_INCH
        assert area == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize(
    ("exponent", "expected"),
    list(zip(EXPONENTS, (1.637, 1.713, 1.794, 1.878, 1.966, 2.058), strict=True)),
)
def test_equivalent_over_effective_area(exponent: float, expected: float) -> None:
    """The two areas of one curve keep a ratio that depends on the exponent alone."""
    curve = LeakageCurve(0.03, exponent)
    effective = leakage_area(curve.flow(4.0), 4.0)
    equivalent = leakage_area(curve.flow(10.0), 10.0, SHARP_EDGED)
    assert equivalent / effective == pytest.approx(expected, abs=1e-3)


@pytest.mark.published(
    source="trade rules for leakage area",
    where="square inches of ELA are cfm at 50 Pa over 18, of EqLA over 10",
    read="common practice",
)
@pytest.mark.parametrize(
    ("pressure", "discharge", "divisor"), [(4.0, 1.0, 18.0), (10.0, SHARP_EDGED, 10.0)]
)
def test_rules_of_the_trade_for_leakage_area(
    pressure: float, discharge: float, divisor: float
) -> None:
    """The rules hold for the usual exponent within 4 %, as rules do."""
    flow = 1800.0 * CFM * math.pow(pressure / 50.0, 0.65)
    area = leakage_area(flow, pressure, discharge) / SQUARE_INCH
    assert area == pytest.approx(1800.0 / divisor, rel=0.04)


@pytest.mark.published(
    source="Washington State Energy Code 2009, City of Everett checklist",
    where="502.4.5, leakage area is 0.055 in2 for each cfm at 50 Pa",
    read="source",
)
def test_leakage_area_of_the_washington_checklist() -> None:
    """The checklist prints 0.055; half a unit of its last digit."""
    area = leakage_area(CFM * math.pow(4.0 / 50.0, 0.65), 4.0) / SQUARE_INCH
    assert area == pytest.approx(0.055, abs=5e-4)


@pytest.mark.published(
    source="ANSI/RESNET/ICC 380", where="ELA4 [in2] = 0.2835 C 4^n", read="memory"
)
@pytest.mark.parametrize("exponent", EXPONENTS)
def test_leakage_area_in_the_trades_units(exponent: float) -> None:
    """The printed factor lies between those of densities 1.20 and 1.2041; 0.15 %."""
    flow = 100.0 * CFM * math.pow(4.0, exponent)
    expected = 0.2835 * 100.0 * math.pow(4.0, exponent)
    assert leakage_area(flow, 4.0) / SQUARE_INCH == pytest.approx(expected, rel=1.5e-3)


@pytest.mark.published(
    source="CAN/CGSB-149.10-M86",
    where="A = 0.001157 sqrt(rho) C 10^(n-0.5), C in L/(s Pa^n)",
    read="memory",
)
@pytest.mark.parametrize("exponent", EXPONENTS)
def test_equivalent_area_of_the_canadian_standard(exponent: float) -> None:
    """The printed factor has four digits; half a unit of the last is 0.04 %."""
    flow = 60.0e-3 * math.pow(10.0, exponent)
    expected = 0.001157 * math.sqrt(1.2041) * 60.0 * math.pow(10.0, exponent - 0.5)
    assert leakage_area(flow, 10.0, SHARP_EDGED) == pytest.approx(expected, rel=4e-4)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 16",
    where="eq. 45 in examples 4 to 6: coefficient .051, .078 and .102 of 500, 690 and 1000 cm2",
    read="source",
)
@pytest.mark.parametrize(
    ("coefficient", "exponent", "square_centimetres"),
    [(0.051, 0.67, 500.0), (0.078, 0.6, 690.0), (0.102, 0.67, 1000.0)],
)
def test_area_of_the_handbooks_examples(
    coefficient: float, exponent: float, square_centimetres: float
) -> None:
    """The examples round the coefficient to two or three digits: 1 %."""
    flow = LeakageCurve(coefficient, exponent).flow(4.0)
    area = leakage_area(flow, 4.0, density=1.2)
    assert 1e4 * area == pytest.approx(square_centimetres, rel=1e-2)


@pytest.mark.published(
    source="public HVAC formula notes (2008)",
    where="2 ft2 at 0.05 in. of water passes about 1 800 cfm (discharge coefficient 1)",
    read="source",
)
def test_area_of_a_known_opening() -> None:
    """The notes round to hundreds of cfm: 1 %."""
    area = leakage_area(1800.0 * CFM, 0.05 * INCH_OF_WATER)
    assert area / 0.3048**2 == pytest.approx(2.0, rel=1e-2)


@pytest.mark.published(
    source="trade rule",
    where="50 Pa is about a wind of 20 mph on every side",
    read="common practice",
)
def test_fifty_pascal_is_a_wind_of_twenty_mph() -> None:
    """Stagnation: air leaves a hole of area A at Q/A, the speed of the wind that presses so."""
    speed = 1.0 / leakage_area(1.0, 50.0)
    assert speed / MILE_PER_HOUR == pytest.approx(20.0, abs=0.5)


@pytest.mark.published(
    source="German roofing-trade reference text",
    where="50 Pa described as a wind of about 9 m/s",
    read="source",
)
def test_fifty_pascal_is_a_wind_of_nine_metres_a_second() -> None:
    """The text gives one digit."""
    assert 1.0 / leakage_area(1.0, 50.0) == pytest.approx(9.0, abs=0.5)


@pytest.mark.parametrize(
    ("pressure", "metres", "miles"),
    [(4, 2.58, 5.8), (10, 4.08, 9.1), (25, 6.44, 14.4), (50, 9.11, 20.4), (75, 11.16, 25.0)],
)
def test_wind_that_presses_as_hard(pressure: float, metres: float, miles: float) -> None:
    """Stagnation speeds worked out by hand, to the digits given."""
    speed = 1.0 / leakage_area(1.0, pressure)
    assert speed == pytest.approx(metres, abs=5e-3)
    assert speed / MILE_PER_HOUR == pytest.approx(miles, abs=0.05)


@pytest.mark.published(
    source="trade arithmetic",
    where="9,000 cfm at 50 Pa in 20,000 ft3 is 27 air changes per hour",
    read="common practice",
)
def test_air_changes_of_a_leaky_house() -> None:
    """Flow a minute, times sixty, over volume: exactly 27, to the rounding of the units."""
    house = Enclosure(20_000.0 * CUBIC_FOOT, 230.0, 700.0, 5.0)
    flow = exactly(9_000.0 * CFM)
    sizes = leakage_sizes(flow, flow, flow, house)
    assert sizes.air_changes50.value == pytest.approx(27.0, rel=1e-5)


@pytest.mark.published(
    source="Washington State Energy Code 2015, City of Anacortes test form",
    where="R402.4.1.2: ACH50 = CFM50 x 60 / volume",
    read="source",
)
@given(st.floats(100.0, 10_000.0), st.floats(2_000.0, 60_000.0))
def test_air_changes_of_the_washington_form(cfm: float, cubic_feet: float) -> None:
    """The form's formula in its own units; 1 ppm for the rounded unit of flow."""
    house = Enclosure(cubic_feet * CUBIC_FOOT, 200.0, 500.0, 5.0)
    flow = exactly(cfm * CFM)
    ours = leakage_sizes(flow, flow, flow, house).air_changes50.value
    assert ours == pytest.approx(cfm * 60.0 / cubic_feet, rel=2e-6)


@pytest.mark.published(
    source="Chan, Joh & Sherman, Energy and Buildings 66 (2013) 616",
    where="normalized leakage .55 is about 10 air changes at 50 Pa",
    read="source",
)
def test_normalized_leakage_of_ten_air_changes() -> None:
    """For one floor of 140 m², 2.5 m of air and 3 m of house; two digits are printed."""
    flow4 = 10.0 * 140.0 * 2.5 / 3600.0 * math.pow(4.0 / 50.0, 0.65)
    area = leakage_area(flow4, 4.0, density=1.2)
    assert normalized_leakage(area, 140.0, 3.0) == pytest.approx(0.55, abs=5e-3)


@given(st.floats(0.001, 1.0), st.floats(30.0, 500.0), st.floats(0.3, 0.4))
def test_normalized_leakage_compares_with_one_storey(
    area: float, floor: float, exponent: float
) -> None:
    """At the height of one storey the height has no say; above it leakage counts for more."""
    one = normalized_leakage(area, floor, 2.5, exponent)
    assert one == pytest.approx(1000.0 * area / floor)
    assert normalized_leakage(area, floor, 5.0, exponent) > one


@given(st.floats(0.001, 5.0), st.floats(1.01, 2.0))
def test_sizes_scale_with_flow(flow: float, factor: float) -> None:
    """Twice the flow is twice everything, limits too."""
    house = Enclosure(340.0, 140.0, 300.0, 5.0)

    def sizes(q: float) -> tuple[Estimate, ...]:
        e = Estimate(q, 0.9 * q, 1.2 * q)
        s = leakage_sizes(e, e, e, house)
        return tuple(getattr(s, name) for name in s.__slots__)

    for one, other in zip(sizes(flow), sizes(flow * factor), strict=True):
        assert other.value == pytest.approx(factor * one.value)
        assert other.low == pytest.approx(0.9 * other.value)
        assert other.high == pytest.approx(1.2 * other.value)


@pytest.mark.parametrize(
    ("square_feet", "inches_and_feet"),
    [
        (3.0, "a window left open by 2 ft x 1.5 ft"),
        (1.0, "a window left open by 2 ft x 6 in"),
        (8.0, "a window left open by 2 ft x 4 ft"),
        (10.0, "a door left ajar by 18 in"),
        (25.0, "1.2 doors standing wide open"),
    ],
)
def test_hole_in_feet(square_feet: float, inches_and_feet: str) -> None:
    """A hole is told as a window, a door or several, in feet and inches."""
    assert hole_in_words(square_feet * 0.3048**2, DisplaySystem.IP) == inches_and_feet


@pytest.mark.parametrize(
    ("area", "metric"),
    [
        (0.0020, "a round hole 5 cm across"),
        (0.2760, "a window left open by 60 cm x 46 cm"),
        (0.72, "a window left open by 60 cm x 120 cm"),
        (0.90, "a door left ajar by 45 cm"),
        (3.60, "2.0 doors standing wide open"),
    ],
)
def test_hole_in_centimetres(area: float, metric: str) -> None:
    """The same in centimetres."""
    assert hole_in_words(area, DisplaySystem.SI) == metric


def test_small_hole_in_inches() -> None:
    """A very tight house leaks like a round hole."""
    area = math.pi / 4.0 * (3.0 * 0.0254) ** 2
    assert hole_in_words(area, DisplaySystem.IP) == "a round hole 3.0 in across"
    assert hole_in_words(0, DisplaySystem.IP) == "a round hole 0.0 in across"
