"""Check moist air for whole years against the scalar functions, which are held to tables."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.physics.air import saturation_pressure
from rooftree.physics.dew_point import dew_point, humidity_ratio_of
from rooftree.physics.moist_series import dew_points, saturation_pressures, vapor_pressures


@given(st.lists(st.floats(210.0, 370.0), min_size=1, max_size=8))
def test_saturation_is_that_of_the_scalar_function(temperature: list[float]) -> None:
    """Both write down the same equations, over ice and over water, mixed as they come."""
    expected = [saturation_pressure(each) for each in temperature]
    assert saturation_pressures(temperature) == pytest.approx(expected, rel=1e-12)


@given(st.floats(2.0, 90000.0))
def test_dew_point_is_that_of_the_scalar_function(pressure: float) -> None:
    """The table is within a ten-thousandth of a kelvin of Newton's method."""
    assert float(dew_points(pressure)) == pytest.approx(dew_point(pressure), abs=2e-4)


def test_air_without_vapor_has_a_dew_point() -> None:
    """No vapor at all is as dry as 1 Pa, and the shape is kept."""
    assert dew_points(np.zeros((2, 3))).shape == (2, 3)
    assert float(dew_points(0.0)) == pytest.approx(dew_point(1.0), abs=1e-3)


@given(st.floats(1.0, 5000.0), st.floats(70000.0, 105000.0))
def test_vapor_pressure_undoes_humidity_ratio(vapor: float, pressure: float) -> None:
    """To the vapor per dry air and back is no change."""
    ratio = humidity_ratio_of(vapor, pressure)
    assert float(vapor_pressures(ratio, pressure)) == pytest.approx(vapor, rel=1e-9)
