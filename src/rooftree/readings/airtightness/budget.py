"""What makes the flow at a pressure uncertain, term by term."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.uncertainty import (
    Estimate,
    UncertaintyTerm,
    combined_uncertainty,
    coverage_factor,
)
from rooftree.readings.airtightness.curve import FitMethod, LeakageFit, fit_leakage_curve
from rooftree.readings.airtightness.noise import scatter_terms
from rooftree.readings.airtightness.readings import Direction

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.airtightness.readings import FanTest
    from rooftree.readings.airtightness.stations import Baseline, StationResult

CURVATURE = 0.03
"""Standard uncertainty of the exponent outside the pressures reached [-]: a house is many
leaks and no exact power law. Our own allowance: with leaks of exponents 0.5 and 0.8 side by
side it makes the limits at 4 Pa hold the truth as often as they say."""

TEMPERATURE_ERROR = 1.0
"""Standard uncertainty of each air temperature [K]; ASTM E779 (recalled) asks for 1 K."""

BAROMETER_ERROR = 0.01
"""Relative standard uncertainty of the barometric pressure [0-1], were it from altitude."""

SINGLE_STATION = 0.024
"""Relative standard uncertainty that one station alone cannot show [0-1]: the reproducibility
at 50 Pa of ten teams in one building (Delmotte and Laverge 2011, 32nd AIVC conference)."""

FIT, FAN, GAUGE, BASELINE, AIR, BEYOND, ALONE = (
    "scatter of the stations",
    "fan calibration",
    "pressure gauge",
    "baseline",
    "air density",
    "outside the pressures reached",
    "one station alone",
)


def flow_uncertainties(
    pressure: float,
    test: FanTest,
    baseline: Baseline,
    fit: LeakageFit,
    used: Sequence[StationResult],
) -> tuple[UncertaintyTerm, ...]:
    """List what makes the flow at one pressure uncertain.

    Parameters
    ----------
    pressure : float
        At which the flow is wanted [Pa], > 0.
    test : FanTest
        As read.
    baseline : Baseline
        Of the test.
    fit : LeakageFit
        Through the stations used.
    used : sequence of StationResult
        The stations that the fit went through.

    Returns
    -------
    tuple of UncertaintyTerm
        Relative standard uncertainties of the flow at reference conditions [0-1].

    Notes
    -----
    The fan's calibration is taken as wrong by the same share at all stations, gauge and
    baseline by the same pressure at all stations: none of these shows in the scatter.
    Density: ``Q ∝ rho_fan^0.5 rho_leaks^-n``. With one or two stations the readings'
    uncertainties are already in the errors of the fit. Wind shows only in the scatter of
    several stations; for one alone a published reproducibility stands for it.
    """
    terms = [_renamed(fit.error_at(pressure))]
    if fit.method is FitMethod.ORDINARY:
        nearest = min(used, key=lambda s: abs(math.log(s.induced_pressure / pressure)))
        terms += [
            UncertaintyTerm(FAN, nearest.flow_uncertainty / nearest.flow),
            UncertaintyTerm(GAUGE, _shifted(pressure, test.pressure_uncertainty, fit, used)),
            UncertaintyTerm(BASELINE, _shifted(pressure, baseline.uncertainty, fit, used)),
        ]
    terms.append(UncertaintyTerm(AIR, _air_term(test, fit.curve.exponent)))
    if fit.method is FitMethod.ONE_POINT:
        terms.append(UncertaintyTerm(ALONE, SINGLE_STATION))
    else:
        reached = [station.induced_pressure for station in used]
        away = max(math.log(pressure / max(reached)), math.log(min(reached) / pressure), 0.0)
        terms.append(UncertaintyTerm(BEYOND, CURVATURE * away))
    return tuple(terms)


def exponent_estimate(
    test: FanTest, baseline: Baseline, fit: LeakageFit, used: Sequence[StationResult]
) -> Estimate:
    """Return the exponent with every known uncertainty.

    Parameters
    ----------
    test : FanTest
        As read.
    baseline : Baseline
        Of the test.
    fit : LeakageFit
        Through the stations used.
    used : sequence of StationResult
        The stations that the fit went through.

    Returns
    -------
    Estimate
        [-]

    Notes
    -----
    Scatter by :func:`.noise.scatter_terms`; gauge and baseline wrong by the same pressure
    at all stations. A calibration that is wrong by the same share does not turn the line.
    """
    terms = [UncertaintyTerm(FIT, fit.exponent_error, fit.degrees_of_freedom)]
    if fit.method is FitMethod.ORDINARY:
        terms = [scatter_terms(test, fit, used, math.exp(fit.center))[1]]
        for name, shift in (
            (GAUGE, test.pressure_uncertainty),
            (BASELINE, baseline.uncertainty),
        ):
            again = _refitted(shift, used)
            terms.append(UncertaintyTerm(name, abs(again.curve.exponent - fit.curve.exponent)))
    both = combined_uncertainty(terms)
    half = coverage_factor(both.degrees_of_freedom) * both.standard
    n = fit.curve.exponent
    return Estimate(n, n - half, n + half, both.degrees_of_freedom, is_by_factor=False)


def _renamed(term: UncertaintyTerm) -> UncertaintyTerm:
    return UncertaintyTerm(FIT, term.standard, term.degrees_of_freedom)


def _shifted(
    pressure: float, shift: float, fit: LeakageFit, used: Sequence[StationResult]
) -> float:
    """Return how far ln(flow) moves when every pressure is read too high by `shift`."""
    again = _refitted(shift, used)
    return abs(math.log(again.curve.flow(pressure) / fit.curve.flow(pressure)))


def _refitted(shift: float, used: Sequence[StationResult]) -> LeakageFit:
    moved = np.array([station.induced_pressure for station in used]) + shift
    return fit_leakage_curve(moved, [station.flow for station in used])


def _air_term(test: FanTest, exponent: float) -> float:
    at_fan, at_leaks = test.indoor_temperature, test.outdoor_temperature
    if test.direction is Direction.PRESSURIZE:
        at_fan, at_leaks = at_leaks, at_fan
    return math.hypot(
        0.5 * TEMPERATURE_ERROR / at_fan,
        exponent * TEMPERATURE_ERROR / at_leaks,
        (0.5 - exponent) * BAROMETER_ERROR,
    )
