"""Check ground temperatures against the laws of the half-space."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.weather.ground import GroundClimate, fit_ground_climate, ground_temperature

climates = st.builds(
    GroundClimate, st.floats(260.0, 300.0), st.floats(1.0, 20.0), st.floats(0.0, 8759.0)
)


@given(climates)
def test_fit_gives_back_the_wave(climate: GroundClimate) -> None:
    """A year made from a wave at the surface is fitted by that wave."""
    fitted = fit_ground_climate(ground_temperature(climate, 0.0))
    assert fitted.mean == pytest.approx(climate.mean)
    assert fitted.amplitude == pytest.approx(climate.amplitude)
    away = (fitted.coldest_hour - climate.coldest_hour + 4380.0) % 8760.0 - 4380.0
    assert away == pytest.approx(0.0, abs=1e-3)


@given(climates, st.floats(0.0, 45.0), st.floats(1e-7, 1e-6))
def test_deeper_ground_swings_less_about_the_same_mean(
    climate: GroundClimate, depth: float, diffusivity: float
) -> None:
    """Depth damps the wave and leaves the mean of the year."""
    here = ground_temperature(climate, depth, diffusivity=diffusivity)
    deeper = ground_temperature(climate, depth + 1.0, diffusivity=diffusivity)
    assert np.ptp(deeper) < np.ptp(here) or np.ptp(here) < 1e-9
    assert here.mean() == pytest.approx(climate.mean, abs=1e-6)


def test_wave_at_one_damping_depth() -> None:
    """At the damping depth the swing is 1/e and comes 1/(2 pi) of a year late."""
    climate = GroundClimate(283.15, 10.0, 0.0)
    depth = math.sqrt(2.0 * 6e-7 * 8760.0 * 3600.0 / (2.0 * math.pi))
    coldest = 8760.0 / (2.0 * math.pi)
    lowest = ground_temperature(climate, depth, [coldest])
    assert lowest[0] == pytest.approx(283.15 - 10.0 / math.e)


def test_ends_of_the_ranges_are_taken() -> None:
    """Surface and 50 m are within range, and whole numbers are taken."""
    climate = GroundClimate(283, 10, 0)
    assert ground_temperature(climate, 0, [0])[0] == pytest.approx(273.0)
    assert ground_temperature(climate, 50)[0] == pytest.approx(283.0, abs=1e-4)


@pytest.mark.parametrize("depth", [-0.1, 50.1, float("nan")])
def test_depth_out_of_range_is_refused(depth: float) -> None:
    """A depth above ground or past the model is refused by name and range."""
    with pytest.raises(OutOfRangeError, match=r"^depth is .* m; the method covers 0 to 50 m$"):
        ground_temperature(GroundClimate(283.0, 10.0, 0.0), depth)


def test_diffusivity_out_of_range_is_refused() -> None:
    """A diffusivity that no soil has is refused."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^soil diffusivity is 0\.001 m²/s; the method covers 1e-08 to 1e-05 m²/s$",
    ):
        ground_temperature(GroundClimate(283.0, 10.0, 0.0), 1.0, diffusivity=1e-3)
