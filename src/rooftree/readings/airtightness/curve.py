"""The leakage curve of an enclosure, ``flow = coefficient * pressure ** exponent``, and its fits.

Sources
-------
[ISO9972] ISO 9972:2015, annex C; [E779] ASTM E779, annex A1: least squares on the logarithms.
Both are recalled; they are ordinary least squares, and reproduce a published data set.
[YORK2004] D. York et al., "Unified equations for the slope, intercept, and standard errors
of the best straight line", Am. J. Phys. 72 (2004) 367, eq. 13.
[ROULET] C.-A. Roulet, "Ventilation and Airflow in Buildings", 2008, p. 64.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.uncertainty import Estimate, UncertaintyTerm, coverage_factor, relative_limits

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

ASSUMED_EXPONENT = 0.65
"""Exponent taken where the readings cannot tell it [-] (ASTM E1827 and ANSI/RESNET/ICC 380,
recalled)."""

ASSUMED_EXPONENT_ERROR = 0.057
"""Standard uncertainty of that exponent [-]: the spread among 7 000 tests with a mean of 0.646
(Chan, Joh & Sherman, Energy and Buildings 66 (2013) 616)."""

NARROWEST_SPREAD = 1.25
"""Highest over lowest pressure below which readings count as one point [-]; our own choice."""

STEEPEST = 20.0
"""Exponent beyond which readings are no line at all [-]; leaks have 0.5 to 1."""

_LEAST_UNCERTAINTY = 1e-9
"""No flow is known better than this share of it [0-1]: keeps weights finite."""


class FitMethod(StrEnum):
    """How a curve was drawn through the readings."""

    ORDINARY = "ordinary least squares"
    WEIGHTED = "weighted least squares"
    TWO_POINTS = "through two points"
    ONE_POINT = "one point with an assumed exponent"


@dataclass(frozen=True, slots=True)
class LeakageCurve:
    """A power law.

    Attributes
    ----------
    coefficient : float
        Leakage coefficient [m³/(s·Paⁿ)].
    exponent : float
        Pressure exponent [-]; 0.5 for an orifice, 1.0 for laminar flow.
    """

    coefficient: float
    exponent: float

    def flow(self, pressure: float) -> float:
        """Return the leakage flow [m³/s] at an induced pressure [Pa] above zero."""
        return self.coefficient * math.pow(pressure, self.exponent)


@dataclass(frozen=True, slots=True)
class LeakageFit:
    """A leakage curve drawn through readings, with its standard errors.

    Attributes
    ----------
    curve : LeakageCurve
        The curve itself.
    method : FitMethod
        How it was drawn.
    center : float
        Logarithm of the pressure at which the error of level and that of slope are
        independent [ln Pa].
    level_error : float
        Standard error of ln(flow) at the center [0-1], relative.
    exponent_error : float
        Standard error of the exponent [-].
    degrees_of_freedom : float
        Of both errors [-]; infinite where they come from stated uncertainties.
    r_squared : float or None
        Share of the spread of ln(flow) that the curve explains [0-1]; None where the
        curve has no freedom to miss the readings.
    residuals : tuple of float
        ln(flow read / flow of the curve) of each reading [0-1], relative.
    """

    curve: LeakageCurve
    method: FitMethod
    center: float
    level_error: float
    exponent_error: float
    degrees_of_freedom: float
    r_squared: float | None
    residuals: tuple[float, ...]

    @property
    def coefficient_error(self) -> float:
        """Standard error of ln(coefficient) [0-1], relative; eq. E8 of the annexes."""
        return math.hypot(self.level_error, self.center * self.exponent_error)

    @property
    def exponent_limits(self) -> Estimate:
        """The exponent with its 95 % limits [-]."""
        half = self.exponent_error * coverage_factor(self.degrees_of_freedom)
        n = self.curve.exponent
        return Estimate(n, n - half, n + half, self.degrees_of_freedom, is_by_factor=False)

    @property
    def coefficient_limits(self) -> Estimate:
        """The coefficient with its 95 % limits [m³/(s·Paⁿ)]."""
        error = UncertaintyTerm("fit", self.coefficient_error, self.degrees_of_freedom)
        return relative_limits(self.curve.coefficient, error)

    def error_at(self, pressure: float) -> UncertaintyTerm:
        """Return the relative standard error of the flow at an induced pressure.

        Parameters
        ----------
        pressure : float
            Induced pressure [Pa], > 0.

        Notes
        -----
        ``s_n sqrt((N-1)/N s_x² + (x - x̄)²)``, which is ``s_e sqrt(1/N + (x - x̄)²/S_xx)``.
        """
        away = math.log(pressure) - self.center
        error = math.hypot(self.level_error, away * self.exponent_error)
        return UncertaintyTerm("fit", error, self.degrees_of_freedom)

    def flow_limits(self, pressure: float) -> Estimate:
        """Return the flow [m³/s] with its 95 % limits at an induced pressure [Pa] above zero."""
        return relative_limits(self.curve.flow(pressure), self.error_at(pressure))


def fit_leakage_curve(pressure: ArrayLike, flow: ArrayLike) -> LeakageFit:
    """Fit a leakage curve to readings by ordinary least squares on the logarithms.

    Parameters
    ----------
    pressure : array_like, shape (n,)
        Induced pressures, baseline already taken off [Pa], > 0.
    flow : array_like, shape (n,)
        Air flows through the enclosure, density already corrected [m³/s], > 0.

    Returns
    -------
    LeakageFit
        With ``n - 2`` degrees of freedom.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than three readings or fewer than two distinct pressures.
    OutOfRangeError
        If a pressure or a flow is not above zero.

    Notes
    -----
    With ``x = ln(pressure)``, ``y = ln(flow)``: ``n = s_xy/s_x²``, ``ln C = ȳ - n x̄``,
    ``s_n = (1/s_x) sqrt((s_y² - n s_xy)/(N-2))``, ``s_lnC = s_n sqrt(sum(x²)/N)``
    [ISO9972]_ [E779]_.

    Examples
    --------
    >>> fit = fit_leakage_curve([10, 20, 30, 40, 50, 60], [237, 364, 444, 625, 688, 704])
    >>> round(fit.curve.exponent, 4), round(fit.exponent_error, 4), round(fit.r_squared, 4)
    (0.6434, 0.0442, 0.9815)
    """
    x, y = _logarithms(pressure, flow)
    if x.size < 3 or not np.ptp(x) > 1e-9:
        raise NotEnoughDataError(
            "a fitted leakage curve needs three readings at two or more distinct pressures; "
            "take readings at more pressures"
        )
    center, level = float(x.mean()), float(y.mean())
    dx, dy = x - center, y - level
    spread = float(dx @ dx)
    exponent = float(dx @ dy) / spread
    _refuse_walls(exponent)
    residuals = dy - exponent * dx
    scatter = math.sqrt(float(residuals @ residuals) / (x.size - 2))
    return LeakageFit(
        curve=LeakageCurve(math.exp(level - exponent * center), exponent),
        method=FitMethod.ORDINARY,
        center=center,
        level_error=scatter / math.sqrt(x.size),
        exponent_error=scatter / math.sqrt(spread),
        degrees_of_freedom=float(x.size - 2),
        r_squared=_explained(dy, residuals),
        residuals=tuple(residuals.tolist()),
    )


def fit_weighted_curve(
    pressure: ArrayLike,
    flow: ArrayLike,
    pressure_uncertainty: ArrayLike,
    flow_uncertainty: ArrayLike,
) -> LeakageFit:
    """Fit a leakage curve that trusts each reading by its own uncertainty.

    Parameters
    ----------
    pressure : array_like, shape (n,)
        Induced pressures, baseline already taken off [Pa], > 0.
    flow : array_like, shape (n,)
        Air flows through the enclosure, density already corrected [m³/s], > 0.
    pressure_uncertainty : array_like, shape (n,)
        Standard uncertainty of each pressure [Pa], >= 0.
    flow_uncertainty : array_like, shape (n,)
        Standard uncertainty of each flow [m³/s], >= 0.

    Returns
    -------
    LeakageFit
        With ``n - 2`` degrees of freedom; infinite for two readings, whose errors then
        come from the stated uncertainties alone.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two distinct pressures.
    OutOfRangeError
        If a pressure or a flow is not above zero.

    Notes
    -----
    The best straight line through points uncertain in both coordinates, uncorrelated
    [YORK2004]_, with ``u(x) = u(pressure)/pressure`` and ``u(y) = u(flow)/flow``. Readings
    at low pressure, where the same fraction of a pascal is a larger share, count for less.
    The proposed revision of ISO 9972 uses a weighted line of organic correlation instead;
    its weights are not published in a document that we have read, so York's maximum
    likelihood line is used and named.

    Where the readings scatter more than their uncertainties allow, the errors are
    enlarged by the square root of the reduced chi-square; they are never made smaller.

    Examples
    --------
    >>> fit = fit_weighted_curve([12.5, 50.0], [0.2, 0.5], [0.5, 0.5], [0.01, 0.02])
    >>> round(fit.curve.exponent, 3)
    0.661
    """
    x, y = _logarithms(pressure, flow)
    ux = np.asarray(pressure_uncertainty, dtype=float) / np.exp(x)
    uy = np.asarray(flow_uncertainty, dtype=float) / np.exp(y)
    if x.size < 2 or not np.ptp(x) > 1e-9:
        raise NotEnoughDataError(
            "a weighted leakage curve needs readings at two or more distinct pressures; "
            "take readings at more pressures"
        )
    line = _best_line(x, y, ux, np.maximum(uy, _LEAST_UNCERTAINTY))
    _refuse_walls(line.slope)
    excess = max(1.0, line.chi_square / (x.size - 2)) if x.size > 2 else 1.0
    residuals = y - line.level - line.slope * (x - line.center)
    return LeakageFit(
        curve=LeakageCurve(math.exp(line.level - line.slope * line.center), line.slope),
        method=FitMethod.WEIGHTED if x.size > 2 else FitMethod.TWO_POINTS,
        center=line.center,
        level_error=line.level_error * math.sqrt(excess),
        exponent_error=line.slope_error * math.sqrt(excess),
        degrees_of_freedom=float(x.size - 2) if x.size > 2 else math.inf,
        r_squared=_explained(y - y.mean(), residuals) if x.size > 2 else None,
        residuals=tuple(residuals.tolist()),
    )


def assume_leakage_curve(
    pressure: ArrayLike,
    flow: ArrayLike,
    pressure_uncertainty: ArrayLike,
    flow_uncertainty: ArrayLike,
    *,
    exponent: float = ASSUMED_EXPONENT,
    exponent_error: float = ASSUMED_EXPONENT_ERROR,
) -> LeakageFit:
    """Draw a curve of assumed exponent through readings at one pressure.

    Parameters
    ----------
    pressure : array_like, shape (n,)
        Induced pressures, all nearly the same [Pa], > 0; one is enough.
    flow : array_like, shape (n,)
        Air flows through the enclosure, density already corrected [m³/s], > 0.
    pressure_uncertainty : array_like, shape (n,)
        Standard uncertainty of each pressure [Pa], >= 0.
    flow_uncertainty : array_like, shape (n,)
        Standard uncertainty of each flow [m³/s], >= 0.
    exponent : float
        Exponent to assume [-].
    exponent_error : float
        Its standard uncertainty [-].

    Returns
    -------
    LeakageFit
        With endless degrees of freedom, since every error in it is a stated one.

    Raises
    ------
    NotEnoughDataError
        If there is no reading.
    OutOfRangeError
        If a pressure or a flow is not above zero.

    Notes
    -----
    ``Q(p) = Q_m (p/p_m)^n`` (ASTM E1827, recalled). At ``p`` the assumed exponent adds
    ``|ln(p/p_m)| u(n)`` to the relative uncertainty: 14 % from 50 to 4 Pa. Several readings
    are averaged, yet their uncertainty is taken as common to all.
    """
    x, y = _logarithms(pressure, flow)
    if x.size == 0:
        raise NotEnoughDataError("a leakage curve needs a reading; take one near 50 Pa")
    ux = np.asarray(pressure_uncertainty, dtype=float) / np.exp(x)
    uy = np.asarray(flow_uncertainty, dtype=float) / np.exp(y)
    center, level = float(x.mean()), float(y.mean())
    residuals = y - level - exponent * (x - center)
    return LeakageFit(
        curve=LeakageCurve(math.exp(level - exponent * center), exponent),
        method=FitMethod.ONE_POINT,
        center=center,
        level_error=math.sqrt(float(np.mean(uy**2 + (exponent * ux) ** 2))),
        exponent_error=exponent_error,
        degrees_of_freedom=math.inf,
        r_squared=None,
        residuals=tuple(residuals.tolist()),
    )


def _refuse_walls(exponent: float) -> None:
    if abs(exponent) > STEEPEST:
        message = (
            f"the flows go with the pressure to the power {exponent:.3g}, as those of no leak do; "
            "look for a wrong unit or a mistyped reading"
        )
        raise NotEnoughDataError(message)


@dataclass(frozen=True, slots=True)
class _Line:
    slope: float
    level: float
    center: float
    slope_error: float
    level_error: float
    chi_square: float


def _best_line(
    x: NDArray[np.float64], y: NDArray[np.float64], ux: NDArray[np.float64], uy: NDArray[np.float64]
) -> _Line:
    """Iterate eq. 13 of [YORK2004], correlation zero, from the ordinary slope."""
    dx = x - x.mean()
    slope = float(dx @ (y - y.mean()) / (dx @ dx))
    for _ in range(50):
        weight = 1.0 / (uy**2 + (slope * ux) ** 2)
        total = float(weight.sum())
        center, level = float(weight @ x) / total, float(weight @ y) / total
        u, v = x - center, y - level
        adjustment = weight * (u * uy**2 + slope * v * ux**2)
        before, slope = slope, float((weight * adjustment) @ v / ((weight * adjustment) @ u))
        if abs(slope - before) < 1e-12:
            break
    at = float(weight @ adjustment) / total
    spread = float(weight @ (adjustment - at) ** 2)
    misfit = v - slope * u
    return _Line(
        slope=slope,
        level=level + slope * at,
        center=center + at,
        slope_error=1.0 / math.sqrt(spread),
        level_error=1.0 / math.sqrt(total),
        chi_square=float(weight @ misfit**2),
    )


def _explained(dy: NDArray[np.float64], residuals: NDArray[np.float64]) -> float:
    total = float(dy @ dy)
    return 1.0 - float(residuals @ residuals) / total if total > 0.0 else 1.0


def _logarithms(
    pressure: ArrayLike, flow: ArrayLike
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    p, q = np.asarray(pressure, dtype=float), np.asarray(flow, dtype=float)
    if p.shape != q.shape or p.ndim != 1:
        raise NotEnoughDataError("every pressure needs its flow; give as many of one as the other")
    for name, values, unit in (("pressure", p, "Pa"), ("flow", q, "m³/s")):
        if values.size and not np.all((values > 0.0) & (values < np.inf)):
            bad = float(values[~((values > 0.0) & (values < np.inf))][0])
            raise OutOfRangeError(f"induced {name}", bad, 0.0, math.inf, unit)
    return np.log(p), np.log(q)
