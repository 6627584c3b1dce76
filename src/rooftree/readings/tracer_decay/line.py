"""A straight line through the logarithm of the excess, and what speaks against it.

Sources
-------
[E741] ASTM E741 (recalled): regression of ``ln(C - C_out)`` on time.
[GUM] JCGM 100:2008, 4.2 and H.3 (scatter of a fitted line), 5.1.3 note 2.
[BARTLETT1946] M. Bartlett, "On the theoretical specification and sampling properties of
    autocorrelated time-series", 1946 (recalled): a mean of values with correlation r from
    one to the next is as good as that of ``n (1 - r) / (1 + r)`` independent ones.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

MIXING_SCATTER = 0.01
"""Relative scatter of the excess that no stirring removes [-]; ours."""

STATED_WEIGHT = 4.0
"""Degrees of freedom that the stated scatter counts for beside the observed [-]; ours."""

ROUNDS = 2
"""Fits [-]: weights from the readings themselves would favour those that scatter upwards, so
the second fit takes them from the first line."""

MOST_CORRELATED = 0.9
"""Correlation of neighbouring residuals beyond which it is not followed [-]; ours."""


@dataclass(frozen=True, slots=True)
class Line:
    """A fitted decay.

    Attributes
    ----------
    slope : float
        Fall of the logarithm with time [1/s], positive for a decay.
    standard : float
        Standard uncertainty of it from scatter [1/s].
    degrees_of_freedom : float
        Of that [-].
    middle : float
        Weighted mean of the times [s].
    level : float
        Logarithm of the excess there [ln ppm].
    bend : float
        Second derivative of the logarithm [1/s²]; positive where the decay slows.
    correlation : float
        Of residuals with their neighbours [-].
    scatter : float
        Of the residuals over what the sensor's scatter explains [-].
    """

    slope: float
    standard: float
    degrees_of_freedom: float
    middle: float
    level: float
    bend: float
    correlation: float
    scatter: float

    def at(self, time: float) -> float:
        """Return the excess on the line [ppm] at a time [s]."""
        return math.exp(self.level - self.slope * (time - self.middle))

    def at_all(self, time: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the excess on the line [ppm] at many times [s]."""
        return np.exp(self.level - self.slope * (time - self.middle))


def fit_line(
    time: NDArray[np.float64], excess: NDArray[np.float64], scatter: NDArray[np.float64]
) -> Line:
    """Fit a decay to the excess over the background.

    Parameters
    ----------
    time : ndarray, shape (n,)
        At least two different ones [s].
    excess : ndarray, shape (n,)
        Concentration above the background, > 0 [ppm].
    scatter : ndarray, shape (n,)
        Standard deviation of each from the sensor [ppm].

    Returns
    -------
    Line

    Notes
    -----
    Weighted least squares on the logarithm [E741]_; the variance of a logarithm is the
    square of the scatter over the excess, and of one hundredth for imperfect mixing. The
    scatter round the line replaces what is stated as readings become many: the stated one
    counts for four degrees of freedom. Correlation of neighbours widens it by
    ``(1 + r) / (1 - r)`` [BARTLETT1946]_, with ``r`` raised by ``(1 + 4 r) / n`` for what
    fitting the line took away.

    References
    ----------
    .. [E741] ASTM E741, recalled.
    .. [BARTLETT1946] M. Bartlett, 1946, recalled.
    """
    logarithm = np.log(excess)
    fitted = excess
    for _ in range(ROUNDS):
        weight = 1.0 / ((scatter / fitted) ** 2 + MIXING_SCATTER**2)
        middle, level, slope, spread = _straight(time, logarithm, weight)
        fitted = np.exp(level - slope * (time - middle))
    away = time - middle
    residual = logarithm - level + slope * away
    count = len(time)
    correlation = correlation_of(residual * np.sqrt(weight), count - 2)
    inflation = (1.0 + correlation) / (1.0 - correlation)
    squares = float(weight @ (residual * residual))
    known = STATED_WEIGHT + count - 2
    variance = (STATED_WEIGHT + squares) / known
    freedom = STATED_WEIGHT + max(count - 2, 0) / inflation
    return Line(
        slope=slope,
        standard=math.sqrt(variance * inflation / spread),
        degrees_of_freedom=freedom,
        middle=middle,
        level=level,
        bend=_bend(away, residual, weight),
        correlation=correlation,
        scatter=math.sqrt(squares / (count - 2)) if count > 2 else 1.0,
    )


def _straight(
    time: NDArray[np.float64], logarithm: NDArray[np.float64], weight: NDArray[np.float64]
) -> tuple[float, float, float, float]:
    """Return weighted middle, level there, fall and weighted spread of the times."""
    whole = float(weight.sum())
    middle, level = float(weight @ time) / whole, float(weight @ logarithm) / whole
    away = time - middle
    spread = float(weight @ (away * away))
    return middle, level, -float(weight @ (away * (logarithm - level))) / spread, spread


def correlation_of(residual: NDArray[np.float64], freedom: int) -> float:
    """Return the correlation of residuals with their neighbours.

    Parameters
    ----------
    residual : ndarray, shape (n,)
        In order of time, each over its standard deviation [-].
    freedom : int
        Degrees of freedom left by the fit; under six nothing is concluded.

    Returns
    -------
    float
        Between 0 and `MOST_CORRELATED` [-].
    """
    if freedom < 6:
        return 0.0
    total = float(residual @ residual)
    # What rounding leaves of exact readings has a pattern, but tells nothing.
    if total < 1e-9 * len(residual):
        return 0.0
    plain = float(residual[1:] @ residual[:-1]) / total
    return min(max(plain + (1.0 + 4.0 * plain) / len(residual), 0.0), MOST_CORRELATED)


def _bend(
    away: NDArray[np.float64], residual: NDArray[np.float64], weight: NDArray[np.float64]
) -> float:
    """Return the second derivative that the residuals show; 0 for three points or fewer."""
    if len(away) < 4:
        return 0.0
    square = away * away
    square = square - float(weight @ square) / float(weight.sum())
    square = square - away * float(weight @ (away * square)) / float(weight @ (away * away))
    spread = float(weight @ (square * square))
    return 2.0 * float(weight @ (square * residual)) / spread if spread > 0.0 else 0.0
