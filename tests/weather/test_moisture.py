"""Check moisture of outdoor air against a real-gas library and laws."""

from __future__ import annotations

import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from rooftree.weather.moisture import humidity_ratio, vapor_pressure, wet_bulb_temperature

celsius = st.floats(-40.0, 45.0)
pressures = st.floats(70e3, 105e3)


@pytest.mark.parametrize("pressure", [75e3, 101_325.0])
@pytest.mark.parametrize("dew_point", [-35.0, -10.0, -0.5, 0.5, 12.0, 24.0])
def test_humidity_ratio_agrees_with_a_real_gas(dew_point: float, pressure: float) -> None:
    """A real-gas library carries up to 0.6 % more vapor, its enhancement factor."""
    expected = HAPropsSI("W", "D", dew_point + 273.15, "T", 308.15, "P", pressure)
    got = float(humidity_ratio([dew_point + 273.15], [pressure])[0])
    assert 0.994 * expected < got < 1.0005 * expected


@pytest.mark.parametrize("pressure", [75e3, 101_325.0])
@pytest.mark.parametrize(
    ("dry_bulb", "dew_point"),
    [(35.0, 24.0), (35.0, 2.0), (20.0, 19.0), (8.0, -12.0), (-5.0, -9.0), (-20.0, -25.0)],
)
def test_wet_bulb_agrees_with_a_real_gas(
    dry_bulb: float, dew_point: float, pressure: float
) -> None:
    """Wet bulbs lie within 0.1 K of a real-gas library, over water and over ice."""
    dry, dew = dry_bulb + 273.15, dew_point + 273.15
    expected = HAPropsSI("B", "D", dew, "T", dry, "P", pressure)
    assert wet_bulb_temperature(dry, dew, pressure) == pytest.approx(expected, abs=0.1)


def test_water_is_tried_before_ice() -> None:
    """Between the two equations, which do not meet, a wet bulb over water is preferred."""
    dew_point = 273.15 - 7.36  # 5 °C, 37.5 % relative humidity: wet bulb 0.34 °C over water
    assert wet_bulb_temperature(278.15, dew_point, 99_804.0) == pytest.approx(273.49, abs=0.02)


@given(celsius, st.floats(0.0, 30.0), pressures)
def test_wet_bulb_lies_between_dew_point_and_dry_bulb(
    dry_bulb: float, depression: float, pressure: float
) -> None:
    """Air is never cooled by water below its dew point."""
    dry, dew = dry_bulb + 273.15, dry_bulb + 273.15 - depression
    assert dew - 1e-6 <= wet_bulb_temperature(dry, dew, pressure) <= dry + 1e-6


def test_vapor_pressure_takes_any_shape_of_list() -> None:
    """A single value and repeated values come back in their order."""
    pressure = vapor_pressure([273.16, 300, 273.16])
    assert pressure[0] == pressure[2] == pytest.approx(611.7, abs=0.1)
    assert pressure[1] > pressure[0]
