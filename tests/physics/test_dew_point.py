"""Check dew points and wet bulbs against tables, another library and their own laws."""

from __future__ import annotations

import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import humidity_ratio, saturation_pressure
from rooftree.physics.dew_point import (
    dew_point,
    humidity_ratio_of,
    vapor_density,
    vapor_pressure_at_wet_bulb,
)
from rooftree.weather.moisture import wet_bulb_temperature

ZERO = 273.15
STATES = [
    # °C, RH, Pa, humidity ratio, dew point, wet bulb
    (21, 0.50, 101325, 0.007730, 10.19, 14.61),
    (25, 0.60, 101325, 0.011895, 16.70, 19.47),
    (20, 0.50, 101325, 0.007262, 9.27, 13.78),
    (0, 0.80, 101325, 0.003016, -2.68, -1.16),
    (-10, 0.80, 101325, 0.001279, -12.49, -10.65),
    (35, 0.40, 101325, 0.014132, 19.39, 23.93),
    (30, 0.80, 101325, 0.021573, 26.17, 27.09),
    (24, 0.55, 83437, 0.012484, 14.41, 17.45),
    (12.8, 0.90, 101325, 0.008275, 11.20, 11.87),
    (-20, 0.70, 101325, 0.000444, -23.66, -20.46),
    (27, 0.50, 101325, 0.011144, 15.70, 19.53),
    (15, 1.00, 101325, 0.010647, 15.00, 15.00),
]


@pytest.mark.parametrize(("celsius", "humidity", "pressure", "ratio", "dew", "wet"), STATES)
def test_state_points(
    celsius: float, humidity: float, pressure: float, ratio: float, dew: float, wet: float
) -> None:
    """Two independent libraries agree on these states within 0.6 % of W and 0.05 K."""
    temperature = celsius + ZERO
    vapor = humidity * saturation_pressure(temperature)
    assert humidity_ratio_of(vapor, pressure) == pytest.approx(ratio, rel=6e-3)
    assert dew_point(vapor) - ZERO == pytest.approx(dew, abs=0.05)
    found = wet_bulb_temperature(temperature, dew_point(vapor), pressure)
    assert found - ZERO == pytest.approx(wet, abs=0.05)


@pytest.mark.parametrize(
    ("fahrenheit", "humidity", "grains", "dew"),
    [(70, 0.5, 54.5, 50.5), (75, 0.5, 64.7, 55.1), (75, 0.6, 77.8, 60.2), (90, 0.5, 106.0, 68.9),
     (95, 0.4, 98.9, 66.9), (20, 0.7, 10.5, 12.7), (0, 0.8, 4.4, -4.2), (55, 0.9, 57.8, 52.1)],
)  # fmt: skip
def test_state_points_in_inch_pound(
    fahrenheit: float, humidity: float, grains: float, dew: float
) -> None:
    """The same in grains and °F, as an independent library has them."""
    kelvin = (fahrenheit - 32.0) / 1.8 + ZERO
    vapor = humidity * saturation_pressure(kelvin)
    assert 7000.0 * humidity_ratio_of(vapor) == pytest.approx(grains, rel=6e-3, abs=0.06)
    assert 1.8 * (dew_point(vapor) - ZERO) + 32.0 == pytest.approx(dew, abs=0.1)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2017), ch. 1",
    where="Example 1: 40 °C dry bulb, 20 °C wet bulb, 101.325 kPa",
    read="quoted in the tests of psychrolib 2.5.0, tests/test_psychrolib_si.py",
)
def test_handbook_example() -> None:
    """Read from a chart there: W 0.0065 ±0.0001, dew point 7 ±0.7 °C, 14 ±1 %."""
    vapor = vapor_pressure_at_wet_bulb(313.15, 293.15)
    assert humidity_ratio_of(vapor) == pytest.approx(0.0065, abs=1e-4)
    assert dew_point(vapor) - ZERO == pytest.approx(7.0, abs=0.7)
    assert vapor / saturation_pressure(313.15) == pytest.approx(0.14, abs=0.01)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2017), ch. 1",
    where="Example 1 IP: 100 °F dry bulb, 65 °F wet bulb",
    read="quoted in the tests of psychrolib 2.5.0, tests/test_psychrolib_ip.py",
)
def test_handbook_example_in_inch_pound() -> None:
    """Read from a chart there: W 0.00523 ±0.0001, dew point 40 ±0.7 °F, 13 ±1 %."""
    dry, wet = 68.0 / 1.8 + ZERO, 33.0 / 1.8 + ZERO
    vapor = vapor_pressure_at_wet_bulb(dry, wet)
    assert humidity_ratio_of(vapor) == pytest.approx(0.00523, abs=1e-4)
    assert 1.8 * (dew_point(vapor) - ZERO) + 32.0 == pytest.approx(40.0, abs=0.7)
    assert vapor / saturation_pressure(dry) == pytest.approx(0.13, abs=0.01)


@given(st.floats(173.15, 473.15))
def test_dew_point_is_the_inverse_of_saturation(temperature: float) -> None:
    """Saturated air has its own temperature as dew point, over ice and over water."""
    assert dew_point(saturation_pressure(temperature)) == pytest.approx(temperature, abs=1e-6)


@given(st.floats(5.0, 45.0), st.floats(0.05, 1.0), st.floats(70e3, 105e3))
def test_wet_bulb_there_and_back(celsius: float, humidity: float, pressure: float) -> None:
    """The wet bulb that air has tells its vapor pressure again."""
    vapor = humidity * saturation_pressure(celsius + ZERO)
    wet = wet_bulb_temperature(celsius + ZERO, dew_point(vapor), pressure)
    back = vapor_pressure_at_wet_bulb(celsius + ZERO, wet, pressure)
    assert back == pytest.approx(vapor, rel=1e-3, abs=0.5)


def test_wet_bulb_against_another_library() -> None:
    """A general psychrometric library gives the same humidity ratio, above and below freezing."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    for dry, wet in ((30.0, 20.0), (10.0, 4.0), (1.0, -2.0)):
        mine = humidity_ratio_of(vapor_pressure_at_wet_bulb(dry + ZERO, wet + ZERO))
        theirs = psychrolib.GetHumRatioFromTWetBulb(dry, wet, 101325.0)
        assert mine == pytest.approx(theirs, rel=1e-4)


def test_real_gas_library_agrees() -> None:
    """Real-gas properties give dew points within 0.05 K."""
    for celsius, humidity in ((21.0, 0.5), (30.0, 0.8), (5.0, 0.6)):
        theirs = HAPropsSI("D", "T", celsius + ZERO, "P", 101325.0, "R", humidity)
        mine = dew_point(humidity * saturation_pressure(celsius + ZERO))
        assert mine == pytest.approx(theirs, abs=0.05)


def test_ratio_agrees_with_the_one_from_relative_humidity() -> None:
    """Both ways to the humidity ratio meet."""
    vapor = 0.4 * saturation_pressure(300.0)
    assert humidity_ratio_of(vapor) == pytest.approx(humidity_ratio(300.0, 0.4), rel=1e-12)


def test_moisture_supply_by_hand() -> None:
    """500 g/h into 125 m³/h of outdoor air is 4 g/m³ more vapor."""
    more = 500.0 / 125.0 * 1e-3
    assert vapor_density(more * 461.5 * 293.15, 293.15) == pytest.approx(more, rel=1e-9)


@pytest.mark.parametrize("vapor", [0.0, -1.0, 1e9, float("nan")])
def test_no_dew_point_outside_the_range(vapor: float) -> None:
    """A vapor pressure that no temperature of the range has is refused."""
    with pytest.raises(OutOfRangeError, match=r"^vapor pressure is .* covers .* Pa$"):
        dew_point(vapor)


@pytest.mark.parametrize("temperature", [173.15, 473.15])
def test_ends_are_allowed(temperature: float) -> None:
    """Both ends of the range have a dew point."""
    assert dew_point(saturation_pressure(temperature)) == pytest.approx(temperature, abs=1e-6)
