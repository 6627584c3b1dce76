"""Fit enclosure and duct leaks to the fan's flows with the air handler off and on.

Sources
-------
[DELTAQ] ASTM E1554 method A (recalled): the leaks that explain the change of flow best.
[GUM] JCGM 100:2008, 5.1: the doubts of what is assumed, by stepping each.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.duct_leakage_from_house.model import (
    return_factor,
    signed_power,
    supply_factor,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.readings.duct_leakage_from_house.readings import DeltaQTest

USUAL_EXPONENT, EXPONENT_SPREAD = 0.65, 0.06
"""Of the enclosure, where its readings alone hardly tell [-]; Chan, Joh & Sherman 2013."""

STEPS = 30
"""Gauss-Newton steps at most; five are usual."""


@dataclass(frozen=True, slots=True)
class Readings:
    """All readings as arrays.

    Attributes
    ----------
    pressure : ndarray
        House with reference to outdoors, baseline taken off [Pa].
    flow : ndarray
        Into the house [m³/s], signed.
    running : ndarray
        Whether the air handler ran: 1 or 0 [-].
    """

    pressure: NDArray[np.float64]
    flow: NDArray[np.float64]
    running: NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fitted:
    """What explains the readings best.

    Attributes
    ----------
    above, below : float
        Leakage coefficient of the enclosure while the house is above and below outdoors
        [m³/(s·Paⁿ)].
    exponent : float
        Of the enclosure [-].
    supply, return_ : float
        Leakage to outdoors while the air handler runs [m³/s].
    supply_standard, return_standard : float
        Standard uncertainties [m³/s].
    misfit : float
        Sum of the squared residuals over their uncertainties [-].
    freedom : int
        Readings beyond the unknowns [-].
    """

    above: float
    below: float
    exponent: float
    supply: float
    return_: float
    supply_standard: float
    return_standard: float
    misfit: float
    freedom: int


def readings_of(test: DeltaQTest) -> Readings:
    """Return the readings with baseline taken off and flows signed.

    Parameters
    ----------
    test : DeltaQTest
        Readings.

    Returns
    -------
    Readings
    """
    pressure = np.array([row.house_pressure - test.baseline for row in test.flows], dtype=float)
    flow = np.array([row.flow for row in test.flows], dtype=float)
    running = np.array([float(row.air_handler) for row in test.flows])
    if not np.any(flow < 0.0):
        flow = np.where(pressure < 0.0, -flow, flow)
    return Readings(pressure, flow, running)


def fit_leaks(test: DeltaQTest, readings: Readings) -> Fitted:
    """Fit enclosure and duct leaks.

    Parameters
    ----------
    test : DeltaQTest
        Duct pressures, exponent and uncertainties.
    readings : Readings
        Of that test.

    Returns
    -------
    Fitted
        The uncertainties include those of duct pressures, duct exponent and calibration.

    Notes
    -----
    Least squares of ``C |P|^n + running dQ(P)`` [DELTAQ]_, with its own ``C`` for each direction,
    weighted by repeatability and by the doubt of the pressure times the slope; the usual
    exponent of enclosures counts as one observation. Where the residuals are larger than
    their uncertainties, these are widened. The other doubts are added by [GUM]_ 5.1.

    References
    ----------
    .. [DELTAQ] ASTM E1554 method A (recalled).
    .. [GUM] JCGM 100:2008.
    """
    best = _solve(test, readings)
    squares = np.zeros(2)
    for change in _assumptions(test):
        one, other = (_solve(each, readings) for each in change)
        squares += 0.25 * np.array([one.supply - other.supply, one.return_ - other.return_]) ** 2
    squares += (test.flow_uncertainty * np.array([best.supply, best.return_])) ** 2
    own = _widening(best) * np.array([best.supply_standard, best.return_standard])
    supply, back = np.sqrt(own**2 + squares)
    return replace(best, supply_standard=float(supply), return_standard=float(back))


def _widening(fitted: Fitted) -> float:
    """Return by how much residuals exceed what chance makes of their uncertainties [-]."""
    free = fitted.freedom
    if free < 1 or fitted.misfit <= free + 2.0 * math.sqrt(2.0 * free):
        return 1.0
    return math.sqrt(fitted.misfit / free)


def _assumptions(test: DeltaQTest) -> tuple[tuple[DeltaQTest, DeltaQTest], ...]:
    factor = math.exp(test.duct_pressure_uncertainty)
    u = test.exponent_uncertainty
    return (
        (
            replace(test, supply_pressure=test.supply_pressure * factor),
            replace(test, supply_pressure=test.supply_pressure / factor),
        ),
        (
            replace(test, return_pressure=test.return_pressure * factor),
            replace(test, return_pressure=test.return_pressure / factor),
        ),
        (
            replace(test, exponent=min(test.exponent + u, 1.0)),
            replace(test, exponent=max(test.exponent - u, 0.4)),
        ),
    )


def _solve(test: DeltaQTest, readings: Readings) -> Fitted:
    p, on = readings.pressure, readings.running
    supply = on * supply_factor(p, abs(test.supply_pressure), test.exponent)
    back = on * return_factor(p, abs(test.return_pressure), test.exponent)
    both = bool(np.any(p > 0.0)) and bool(np.any(p < 0.0))
    n = USUAL_EXPONENT
    unknown = np.zeros(4)
    for step_number in range(STEPS):
        through = signed_power(p, n)
        sides = (np.where(p > 0.0, through, 0.0), np.where(p > 0.0, 0.0, through))
        columns = [*sides, supply, -back] if both else [through, supply, -back]
        enclosure = through * np.where(p > 0.0, unknown[0], unknown[1 if both else 0])
        standard = _standard(test, readings, enclosure, n)
        bend = enclosure * np.log(np.maximum(np.abs(p), 1e-6))
        design = np.column_stack([*columns, bend]) / standard[:, None]
        prior = np.zeros(design.shape[1])
        prior[-1] = 1.0 / EXPONENT_SPREAD
        matrix = np.vstack([design, prior])
        right = np.append(readings.flow / standard, (USUAL_EXPONENT - n) / EXPONENT_SPREAD)
        found, *_ = np.linalg.lstsq(matrix, right, rcond=None)
        unknown, step = found[:-1], float(found[-1])
        n = min(max(n + step, 0.4), 1.1)
        if step_number and abs(step) < 1e-9:  # the first step does not know the leaks yet
            break
    covariance = np.linalg.pinv(matrix.T @ matrix)
    residual = right - matrix @ np.append(unknown, 0.0)
    above, below = float(unknown[0]), float(unknown[1 if both else 0])
    return Fitted(
        above,
        below,
        n,
        float(unknown[-2]),
        float(unknown[-1]),
        math.sqrt(float(covariance[-3, -3])),
        math.sqrt(float(covariance[-2, -2])),
        float(residual @ residual),
        len(readings.flow) + 1 - design.shape[1],
    )


def _standard(
    test: DeltaQTest, readings: Readings, enclosure: NDArray[np.float64], exponent: float
) -> NDArray[np.float64]:
    u = test.pressure_uncertainty
    across = np.maximum(np.abs(readings.pressure), 2.0 * u)
    through = np.where(enclosure == 0.0, readings.flow, enclosure)
    gauge = exponent * np.abs(through) / across * u
    least = 1e-3 * float(np.max(np.abs(readings.flow), initial=0.0)) + 1e-9
    return np.sqrt((test.repeatability * readings.flow) ** 2 + gauge**2 + least**2)
