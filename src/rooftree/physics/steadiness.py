"""Whether a reading that is taken again and again has settled, and what it is meanwhile.

A gauge that is watched gives a mean, a scatter and a slope. The slope is held against
the noise: a trend that the scatter alone could have made is no trend. Gusts make
readings that follow each other alike, so that many of them tell no more than a few
independent ones; both uncertainties allow for that.

Sources
-------
[BOX2016] Box, Jenkins, Reinsel, Ljung, "Time Series Analysis", 5th edition, 2016, chapter 2:
    variance of the mean of a first-order autoregressive series (recalled).
[GUM] JCGM 100:2008, "Guide to the expression of uncertainty in measurement", 4.2 and H.3
    (recalled).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import NotEnoughDataError
from rooftree.physics.uncertainty import coverage_factor

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

FEWEST = 5
"""Readings below which no slope can be told from noise [-]."""

SURE = 0.99
"""How sure a slope must be before it counts [0-1]."""

PLAIN = 4.0
"""Drift over scatter at which a trend is plain whatever the noise is like [-]."""

STEPS = 2.0
"""Steps of the display that a drift must exceed before it counts [-]."""

_MOST_ALIKE = 0.95
"""Largest correlation of neighbours that a window can show [-]."""


class Settling(StrEnum):
    """What a window of readings says about the reading."""

    SETTLED = "settled"
    """No slope beyond the noise."""
    DRIFTING = "still drifting"
    """A slope that the noise does not explain, larger than the noise itself."""
    TOO_SHORT = "too few readings yet"
    """Too few readings, or over too short a time."""


@dataclass(frozen=True, slots=True)
class Steadiness:
    """What a window of readings gives.

    Attributes
    ----------
    count : int
        Readings in the window [-].
    span : float
        From the first to the last [s].
    mean : float
        Of the readings, in their unit.
    scatter : float
        Standard deviation of one reading about the trend and its bend, in their unit.
    standard : float
        Standard uncertainty of the mean from the scatter, in the unit of the readings.
    slope : float
        Trend, in the unit of the readings for each second.
    drift : float
        What the trend adds from the first to the last reading, in their unit.
    drift_standard : float
        Standard uncertainty of `drift`, in the unit of the readings.
    settling : Settling
        Whether the reading can be taken.
    """

    count: int
    span: float
    mean: float
    scatter: float
    standard: float
    slope: float
    drift: float
    drift_standard: float
    settling: Settling


def judge_steadiness(
    time: ArrayLike, value: ArrayLike, *, window: float = 0.0, resolution: float = 0.0
) -> Steadiness:
    """Return mean, scatter and trend of a window of readings, and whether they have settled.

    Parameters
    ----------
    time : array_like, shape (n,)
        Times of the readings, rising or equal [s].
    value : array_like, shape (n,)
        Readings [any].
    window : float
        Time over which the readings were asked for [s]; where less than 8 tenths of it is
        covered, the window is too short to judge.
    resolution : float
        Step of the display [any], >= 0, in the unit of the readings.

    Returns
    -------
    Steadiness

    Raises
    ------
    NotEnoughDataError
        If there is no reading, or not one time for each.

    Notes
    -----
    The trend is a least-squares line; the noise is what a parabola leaves, so that the bend
    of a reading that is on its way does not pass for noise. With ``r`` the correlation of
    neighbouring residuals, corrected for the short window, ``n`` readings count as
    ``n (1 - r) / (1 + r)`` [BOX2016]_. A drift counts when it is larger than the scatter of
    one reading and two steps of the display, and either larger than Student's t at 99 % times
    its own uncertainty or four times the scatter. These limits are a choice of ours: a long
    window of quiet readings is not refused for a drift that no result would feel.

    On generated readings: still ones with independent noise are called drifting in 1 % of
    windows; with gusts that last longer than a quarter of the window in 5 to 22 %, where
    waiting longer is right. A drift of 8 times the scatter is noticed in 99 % or more.

    Examples
    --------
    >>> still = judge_steadiness([0, 1, 2, 3, 4, 5], [50.1, 49.9, 50.0, 50.2, 49.9, 50.0])
    >>> round(still.mean, 2), str(still.settling)
    (50.02, 'settled')
    >>> str(judge_steadiness([0, 1, 2, 3, 4, 5], [40, 42, 44, 46, 48, 50]).settling)
    'still drifting'
    """
    t, y = np.asarray(time, dtype=float), np.asarray(value, dtype=float)
    if t.shape != y.shape or t.ndim != 1 or not t.size:
        message = f"{t.size} times and {y.size} readings; a window needs one time for each reading"
        raise NotEnoughDataError(message)
    count, span, mean = int(t.size), float(t[-1] - t[0]), float(y.mean())
    moment = t - t.mean()
    spread = float(moment @ moment)
    if count < FEWEST or spread <= 0.0:
        scatter = float(y.std(ddof=1)) if count > 1 else 0.0
        standard = scatter / math.sqrt(count)
        return Steadiness(count, span, mean, scatter, standard, 0.0, 0.0, 0.0, Settling.TOO_SHORT)
    slope = float(moment @ y) / spread
    residual = _about_a_bend(moment, y - mean - slope * moment)
    scatter = math.sqrt(float(residual @ residual) / (count - 3))
    independent = max(count * _thinning(residual), 2.0)
    drift = slope * span
    drift_standard = scatter / math.sqrt(spread) * span * math.sqrt(count / independent)
    return Steadiness(
        count=count,
        span=span,
        mean=mean,
        scatter=scatter,
        standard=scatter / math.sqrt(independent),
        slope=slope,
        drift=drift,
        drift_standard=drift_standard,
        settling=_settling(
            too_short=span < 0.8 * window,
            drift=abs(drift),
            doubt=coverage_factor(max(independent - 2.0, 1.0), SURE) * drift_standard,
            least=max(scatter, STEPS * resolution, 1e-9 * abs(mean)),
        ),
    )


def _settling(*, too_short: bool, drift: float, doubt: float, least: float) -> Settling:
    if too_short:
        return Settling.TOO_SHORT
    is_trend = drift > min(doubt, PLAIN * least)
    return Settling.DRIFTING if is_trend and drift > least else Settling.SETTLED


def _about_a_bend(
    moment: NDArray[np.float64], residual: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return what is left of the residuals without a bend: a reading on its way is no noise."""
    square = moment * moment
    bend = square - square.mean()
    bend -= float(bend @ moment) / float(moment @ moment) * moment
    power = float(bend @ bend)
    if power <= 1e-12 * float(square @ square):
        return residual
    straightened: NDArray[np.float64] = residual - float(bend @ residual) / power * bend
    return straightened


def _thinning(residual: NDArray[np.float64]) -> float:
    """Return the share of readings that count as independent [0-1]."""
    power = float(residual @ residual)
    if power <= 0.0:
        return 1.0
    alike = float(residual[1:] @ residual[:-1]) / power
    # A short window shows too little of it, more so for each coefficient that was fitted.
    alike = min(max(alike + (2.0 + 4.0 * alike) / residual.size, 0.0), _MOST_ALIKE)
    return (1.0 - alike) / (1.0 + alike)
