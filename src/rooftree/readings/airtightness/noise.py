"""How far one station scatters about the curve, before the stations are looked at."""

from __future__ import annotations

import math
from statistics import fmean
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.uncertainty import UncertaintyTerm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from rooftree.readings.airtightness.curve import LeakageFit
    from rooftree.readings.airtightness.readings import FanTest
    from rooftree.readings.airtightness.stations import StationResult

NOISE_FREEDOM = 6.0
"""How well that noise is known beforehand, counted in readings [-]; ours."""

FLOW_NOISE = 0.01
"""Scatter of the flow of one station in calm air [0-1]; common practice."""

LEAST_PRESSURE_NOISE = 0.2
"""Of one averaged pressure in calm air [Pa]; common practice."""

_EXPONENT = 0.65


def pressure_noise(test: FanTest) -> float:
    """Return how far one pressure reading scatters.

    Parameters
    ----------
    test : FanTest
        Its baseline readings and the uncertainty of its gauge are used.

    Returns
    -------
    float
        Standard deviation [Pa]: that of the baseline readings where there are several, as
        they show the wind; the uncertainty of the gauge where there are not.
    """
    groups = [g for g in (test.baseline_before, test.baseline_after) if len(g) > 1]
    if not groups:
        return max(test.pressure_uncertainty, LEAST_PRESSURE_NOISE)
    squares = math.fsum((b - fmean(g)) ** 2 for g in groups for b in g)
    freedom = sum(len(g) - 1 for g in groups)
    return max(math.sqrt(squares / freedom), LEAST_PRESSURE_NOISE)


def station_noise(test: FanTest, pressure: ArrayLike) -> NDArray[np.float64]:
    """Return the standard deviation of ln(flow) of stations about the curve.

    Parameters
    ----------
    test : FanTest
        Its baseline readings and the uncertainty of its gauge are used.
    pressure : array_like, shape (n,)
        Induced pressures [Pa], > 0.

    Returns
    -------
    ndarray, shape (n,)
        Relative [0-1]: the same gust is a larger share of a lower pressure.
    """
    shares = _EXPONENT * pressure_noise(test) / np.asarray(pressure, dtype=float)
    return np.hypot(FLOW_NOISE, shares)


def scatter_terms(
    test: FanTest, fit: LeakageFit, used: Sequence[StationResult], at: float
) -> tuple[UncertaintyTerm, UncertaintyTerm]:
    """Return what scatter gives the flow at a pressure, and the exponent.

    Parameters
    ----------
    test : FanTest
        As read.
    fit : LeakageFit
        Ordinary least squares through the stations.
    used : sequence of StationResult
        The stations.
    at : float
        Induced pressure [Pa], > 0.

    Returns
    -------
    tuple of UncertaintyTerm
        Relative, of the flow [0-1], and of the exponent [-].

    Notes
    -----
    The ordinary line weighs all stations alike, so the low ones, which scatter most, turn
    it most; the textbook errors take all to scatter alike, and make that of the exponent
    too small and that near the highest station too large. Here each station's noise goes
    through the weights of the line, ``sum(w_i² s_i²)``, times the factor by which all of
    them scatter more than expected, ``(nu_0 + chi²) / (nu_0 + N - 2)``: our own step.
    """
    pressure = np.array([station.induced_pressure for station in used])
    noise = station_noise(test, pressure)
    away = np.log(pressure) - fit.center
    slope = away / float(away @ away)
    level = 1.0 / len(used) + (math.log(at) - fit.center) * slope
    chi_square = float(np.sum((np.array(fit.residuals) / noise) ** 2))
    freedom = NOISE_FREEDOM + fit.degrees_of_freedom
    factor = math.sqrt((NOISE_FREEDOM + chi_square) / freedom)
    return (
        UncertaintyTerm("scatter", factor * float(np.linalg.norm(level * noise)), freedom),
        UncertaintyTerm("scatter", factor * float(np.linalg.norm(slope * noise)), freedom),
    )
