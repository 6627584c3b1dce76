"""Check moist air against the handbook's tables, two independent codes and its own laws."""

from __future__ import annotations

import math

import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import (
    REFERENCE_DENSITY,
    TRIPLE_POINT,
    density_at_altitude,
    dynamic_viscosity,
    humidity_ratio,
    moist_air_density,
    pressure_at_altitude,
    relative_humidity,
    saturation_pressure,
)

psychrolib.SetUnitSystem(psychrolib.SI)

PSI = 6894.757
"""One pound on a square inch [Pa]."""

temperatures = st.floats(233.15, 323.15)
humidities = st.floats(0.0, 1.0)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2017), ch. 1",
    where="Table 3, saturation pressure of water vapor",
    read="quoted in the tests of psychrolib 2.5.0, tests/test_psychrolib_si.py",
)
@pytest.mark.parametrize(
    ("celsius", "pascal"),
    [(-20, 103.24), (-5, 401.74), (5, 872.6), (25, 3169.7), (50, 12351.3), (100, 101418.0)],
)
def test_saturation_pressure_matches_table(celsius: float, pascal: float) -> None:
    """The equations are stated to hold the table within 300 ppm."""
    assert saturation_pressure(celsius + 273.15) == pytest.approx(pascal, rel=3e-4)


@pytest.mark.published(
    source="ATTMA Technical Standard L2 (the vapor pressure formula of ISO 9972)",
    where="App. A.1.2",
    read="source",
)
@pytest.mark.parametrize("celsius", [0.0, 10.0, 20.0, 30.0])
def test_saturation_pressure_is_near_the_test_standards_formula(celsius: float) -> None:
    """The short formula of the fan-test standards lies within 0.2 % of the handbook's."""
    t = celsius + 273.15
    short = math.exp(59.484085 - 6790.4985 / t - 5.02802 * math.log(t))
    assert saturation_pressure(t) == pytest.approx(short, rel=2e-3)


@given(temperatures)
def test_saturation_pressure_rises_with_temperature(temperature: float) -> None:
    """Warmer air always holds more vapor, across the triple point too."""
    assert saturation_pressure(temperature + 0.1) > saturation_pressure(temperature)


def test_no_step_at_triple_point() -> None:
    """Ice and water equations meet at the triple point."""
    below, above = saturation_pressure(TRIPLE_POINT), saturation_pressure(TRIPLE_POINT + 1e-9)
    assert above == pytest.approx(below, rel=1e-4)


@given(temperatures, humidities, st.floats(60e3, 105e3))
def test_humidity_ratio_matches_an_independent_code(
    temperature: float, humidity: float, pressure: float
) -> None:
    """The same handbook equations coded by others give the same humidity ratio."""
    other = psychrolib.GetHumRatioFromRelHum(temperature - 273.15, humidity, pressure)
    ours = humidity_ratio(temperature, humidity, pressure)
    assert ours == pytest.approx(other, rel=1e-6, abs=1e-7)  # 1e-7 is their lower bound


@given(temperatures, humidities, st.floats(60e3, 105e3))
def test_relative_humidity_undoes_humidity_ratio(
    temperature: float, humidity: float, pressure: float
) -> None:
    """Going to a humidity ratio and back gives the relative humidity again."""
    ratio = humidity_ratio(temperature, humidity, pressure)
    assert relative_humidity(temperature, ratio, pressure) == pytest.approx(humidity, abs=1e-12)


def test_air_that_carries_too_much_is_above_one() -> None:
    """Over-full air is told as such, not clamped."""
    assert relative_humidity(283.15, 0.012) > 1.0


@pytest.mark.parametrize("celsius", [-20.0, 0.0, 20.0, 40.0])
def test_humidity_ratio_is_near_the_real_gas(celsius: float) -> None:
    """Real-gas moist air holds about 0.5 % more vapor at saturation: the enhancement factor."""
    real = HAPropsSI("W", "T", celsius + 273.15, "P", 101_325.0, "R", 1.0)
    assert humidity_ratio(celsius + 273.15, 1.0) == pytest.approx(real, rel=6e-3)


@given(temperatures, humidities, st.floats(60e3, 105e3))
def test_density_matches_an_independent_code(
    temperature: float, humidity: float, pressure: float
) -> None:
    """Density agrees with the handbook's volume to the 45 ppm between their gas constants."""
    celsius = temperature - 273.15
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
    other = psychrolib.GetMoistAirDensity(celsius, ratio, pressure)
    assert moist_air_density(temperature, pressure, humidity) == pytest.approx(other, rel=6e-5)


@pytest.mark.parametrize("humidity", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("celsius", [-20.0, 0.0, 20.0, 40.0])
def test_density_is_near_the_real_gas(celsius: float, humidity: float) -> None:
    """A perfect gas is within 0.1 % of real moist air between -20 and 40 °C."""
    args = ("T", celsius + 273.15, "P", 101_325.0, "R", humidity)
    real = (1.0 + HAPropsSI("W", *args)) / HAPropsSI("V", *args)
    ours = moist_air_density(celsius + 273.15, 101_325.0, humidity)
    assert ours == pytest.approx(real, rel=1e-3)


@pytest.mark.parametrize(
    ("celsius", "humidity", "expected"),
    [(20.0, 0.5, 1.19884), (20.0, 0.0, 1.20410), (0.0, 0.0, 1.29226), (-20.0, 0.0, 1.39436)],
)
def test_density_spot_values(celsius: float, humidity: float, expected: float) -> None:
    """Densities worked out by hand from the equation of ISO 9972 come back."""
    ours = moist_air_density(celsius + 273.15, 101_325.0, humidity)
    assert ours == pytest.approx(expected, abs=1e-5)


@given(temperatures, st.floats(60e3, 105e3), st.floats(0.0, 0.99))
def test_damp_air_is_lighter(temperature: float, pressure: float, humidity: float) -> None:
    """Water vapor is lighter than the air it replaces."""
    damp = moist_air_density(temperature, pressure, humidity + 0.01)
    assert damp < moist_air_density(temperature, pressure, humidity)


@pytest.mark.parametrize(
    ("celsius", "expected"), [(20.0, 1.81269e-5), (0.0, 1.71534e-5), (-10.0, 1.66539e-5)]
)
def test_viscosity_spot_values(celsius: float, expected: float) -> None:
    """Viscosities worked out by hand from the formula, with T = theta + 273, come back."""
    assert dynamic_viscosity(celsius + 273.0) == pytest.approx(expected, rel=5e-6)


@pytest.mark.published(
    source="C.-A. Roulet, Ventilation and Airflow in Buildings",
    where="p. 66, eq. 4.18, straight-line form between 10 and 40 °C",
    read="source",
)
@pytest.mark.parametrize("celsius", [10.0, 20.0, 30.0, 40.0])
def test_viscosity_ratio_matches_the_straight_line(celsius: float) -> None:
    """The book's straight line approximates its own formula; 0.2 % over its range."""
    line = (17.1 + 0.047 * celsius) / (17.1 + 0.047 * 20.0)
    ratio = dynamic_viscosity(celsius + 273.15) / dynamic_viscosity(293.15)
    assert ratio == pytest.approx(line, rel=2e-3)


@pytest.mark.parametrize("celsius", [-40.0, 0.0, 20.0, 50.0])
def test_viscosity_is_near_the_reference_correlation(celsius: float) -> None:
    """Sutherland's formula is within 1 % of the reference correlation for air."""
    real = PropsSI("V", "T", celsius + 273.15, "P", 101_325.0, "Air")
    assert dynamic_viscosity(celsius + 273.15) == pytest.approx(real, rel=1e-2)


@given(st.floats(-500.0, 11_000.0))
def test_altitude_pressure_matches_an_independent_code(altitude: float) -> None:
    """The standard atmosphere coded by others gives the same pressure."""
    other = float(psychrolib.GetStandardAtmPressure(altitude))
    assert pressure_at_altitude(altitude) == pytest.approx(other, rel=1e-9)


@pytest.mark.parametrize(
    ("altitude", "celsius", "expected"),
    [(0.0, 20.0, 1.2041), (1500.0, 20.0, 1.00791), (1600.0, -10.0, 1.10940)],
)
def test_density_at_altitude_spot_values(altitude: float, celsius: float, expected: float) -> None:
    """Densities worked out by hand from the equation of ASTM E779 come back."""
    assert density_at_altitude(altitude, celsius + 273.15) == pytest.approx(expected, abs=1e-5)


@given(st.floats(0.0, 3000.0), st.floats(253.15, 313.15))
def test_two_ways_to_density_at_altitude_agree(altitude: float, temperature: float) -> None:
    """The annex of E779 and the standard atmosphere differ by less than 0.8 % up to 3000 m."""
    through_pressure = moist_air_density(temperature, pressure_at_altitude(altitude))
    assert density_at_altitude(altitude, temperature) == pytest.approx(through_pressure, rel=8e-3)


def test_reference_density_is_dry_air_at_twenty_degrees() -> None:
    """The reference density of the standards is dry air at 20 °C and sea level."""
    assert moist_air_density(293.15, 101_325.0) == pytest.approx(REFERENCE_DENSITY, abs=5e-5)


@pytest.mark.parametrize("temperature", [173.15, 473.15])
def test_ends_of_the_range_are_allowed(temperature: float) -> None:
    """The range that the equations cover includes its two ends."""
    assert saturation_pressure(temperature) > 0.0


@pytest.mark.parametrize("temperature", [173.0, 474.0, float("nan")])
def test_temperature_out_of_range_is_refused(temperature: float) -> None:
    """A temperature outside the equations' range is refused by name and range."""
    with pytest.raises(OutOfRangeError, match=r"^temperature is .* covers 173\.15 to 473\.15 K$"):
        saturation_pressure(temperature)


@pytest.mark.parametrize("humidity", [-0.01, 1.01, 50])
def test_humidity_out_of_range_is_refused(humidity: float) -> None:
    """A humidity typed in percent is refused, not clamped."""
    with pytest.raises(OutOfRangeError, match=r"^relative humidity is .* covers 0 to 1 \[0-1\]$"):
        moist_air_density(293.15, 101_325.0, humidity)


def test_boiling_air_is_refused() -> None:
    """Vapor cannot press harder than the air that holds it."""
    with pytest.raises(OutOfRangeError, match=r"^vapor pressure is .* Pa$"):
        humidity_ratio(380.0, 1.0)


def test_other_ranges_are_refused() -> None:
    """Pressure, altitude and viscosity name their own range."""
    with pytest.raises(OutOfRangeError, match=r"^barometric pressure is 29\.92 Pa; .*$"):
        moist_air_density(293.15, 29.92)
    with pytest.raises(OutOfRangeError, match=r"^altitude is 12000 m; .*$"):
        pressure_at_altitude(12_000)
    with pytest.raises(OutOfRangeError, match=r"^altitude is -501 m; .*$"):
        density_at_altitude(-501, 293.15)
    with pytest.raises(OutOfRangeError, match=r"^temperature is 20 K; .*$"):
        dynamic_viscosity(20)


def test_whole_numbers_are_taken() -> None:
    """Arguments typed without a decimal point work like any others."""
    assert moist_air_density(300, 100_000, 1) == moist_air_density(300.0, 100_000.0, 1.0)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2017), ch. 1",
    where="Table 3, saturation pressure of water vapor in psia",
    read="quoted in the tests of psychrolib 2.5.0, tests/test_psychrolib_ip.py",
)
@pytest.mark.parametrize(
    ("fahrenheit", "psia"),
    [(-4, 0.014974), (23, 0.058268), (41, 0.12656), (77, 0.45973), (122, 1.79140), (212, 14.7094)],
)
def test_saturation_pressure_in_the_trades_units(fahrenheit: float, psia: float) -> None:
    """The same within 300 ppm."""
    kelvin = (fahrenheit + 459.67) / 1.8
    assert saturation_pressure(kelvin) / PSI == pytest.approx(psia, rel=3e-4)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2017), ch. 1",
    where="Table 2, humidity ratio at saturation",
    read="quoted in the tests of psychrolib 2.5.0, tests/test_psychrolib_si.py",
)
@pytest.mark.parametrize(
    ("celsius", "ratio"),
    [(-50, 2.43e-5), (-20, 6.373e-4), (-5, 2.4863e-3), (5, 5.425e-3), (25, 0.020173),
     (50, 0.086863)],
)  # fmt: skip
def test_humidity_ratio_of_saturated_air(celsius: float, ratio: float) -> None:
    """The table is of the real gas; a perfect one holds it within 1 %."""
    assert humidity_ratio(celsius + 273.15, 1.0) == pytest.approx(ratio, rel=0.01)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2017), ch. 1",
    where="Table 1, standard pressure",
    read="quoted in the tests of psychrolib 2.5.0",
)
@pytest.mark.parametrize(
    ("metres", "pascal"),
    [(-500, 107_478), (0, 101_325), (500, 95_461), (1000, 89_875), (4000, 61_640),
     (10_000, 26_436)],
)  # fmt: skip
def test_standard_pressure(metres: float, pascal: float) -> None:
    """To 1 Pa."""
    assert pressure_at_altitude(metres) == pytest.approx(pascal, abs=1.0)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2017), ch. 1",
    where="Table 1, standard pressure in psia",
    read="quoted in the tests of psychrolib 2.5.0",
)
@pytest.mark.parametrize(
    ("feet", "psia"),
    [(-1000, 15.236), (0, 14.696), (1000, 14.175), (3000, 13.173), (10_000, 10.108)],
)
def test_standard_pressure_in_the_trades_units(feet: float, psia: float) -> None:
    """To 0.003 psia."""
    assert pressure_at_altitude(0.3048 * feet) / PSI == pytest.approx(psia, abs=3e-3)


@pytest.mark.published(
    source="Official typical year of Poznan, monthly means",
    where="vapor pressure outdoors from temperature and humidity",
    read="quoted in a calculation note for an example house",
)
@pytest.mark.parametrize(
    ("celsius", "humidity", "pascal"),
    [(0.2, 0.86, 534), (2.7, 0.79, 585), (8.3, 0.68, 748), (18.4, 0.72, 1530)],
)
def test_vapor_pressure_outdoors(celsius: float, humidity: float, pascal: float) -> None:
    """The temperatures are rounded: 1 %."""
    vapor = humidity * saturation_pressure(celsius + 273.15)
    assert vapor == pytest.approx(pascal, rel=0.01)
