"""How a decay departs from a straight logarithm: a bend, or a break at one moment.

Sources
-------
[GUM] JCGM 100:2008, H.3, for the scatter of fitted lines. The search for the break is the
    likelihood-ratio test of a kink at an unknown time, written out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.tracer_decay.line import MIXING_SCATTER, STATED_WEIGHT, correlation_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.readings.tracer_decay.line import Line

FEWEST = 6
"""Points from which a departure can be told from scatter [-]."""

SHARPER = 0.8
"""Share of the squares that a bend leaves, under which a break explains them better [0-1];
ours."""


@dataclass(frozen=True, slots=True)
class Departure:
    """What speaks against one straight line.

    Attributes
    ----------
    deviations : float
        Standard uncertainties by which scatter alone is exceeded [-].
    degrees_of_freedom : float
        Of that scatter [-].
    moment : float or None
        Time of a break [s]; None where the line rather bends.
    before, after : float
        Fall of the logarithm at the start and at the end [1/s].
    """

    deviations: float
    degrees_of_freedom: float
    moment: float | None
    before: float
    after: float


def find_departure(
    line: Line,
    time: NDArray[np.float64],
    excess: NDArray[np.float64],
    scatter: NDArray[np.float64],
) -> Departure | None:
    """Return how a decay departs most from its line.

    Parameters
    ----------
    line : Line
        Fitted to the same points.
    time : ndarray, shape (n,)
        Rising [s].
    excess : ndarray, shape (n,)
        Concentration above the background, > 0 [ppm].
    scatter : ndarray, shape (n,)
        Standard deviation of each from the sensor [ppm].

    Returns
    -------
    Departure or None
        None for fewer than six points.

    Notes
    -----
    A parabola and a continuous broken line for a break at every time but the two outermost
    on either side are fitted to the logarithm with the weights of the line. The gain over
    the line is held against the scatter that the better of both leaves, widened for the
    correlation of its neighbours.
    """
    if len(time) < FEWEST:
        return None
    fitted = line.at_all(time)
    root = 1.0 / np.sqrt((scatter / fitted) ** 2 + MIXING_SCATTER**2)
    away = time - line.middle
    frame, _ = np.linalg.qr(np.stack([root, away * root], axis=1))
    target = np.log(excess) * root
    residual = target - frame @ (frame.T @ target)

    def beyond(shapes: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return what shapes over time have that no line has."""
        weighted = shapes * root[:, None]
        left: NDArray[np.float64] = weighted - frame @ (frame.T @ weighted)
        return left

    moments = time[2:-2]
    shapes = beyond(
        np.concatenate(
            [(away * away)[:, None], np.maximum(time[:, None] - moments[None, :], 0.0)], axis=1
        )
    )
    size = np.maximum(np.einsum("ij,ij->j", shapes, shapes), np.finfo(np.float64).tiny)
    along = residual @ shapes
    gain = along * along / size
    total = float(residual @ residual)
    best = 1 + int(np.argmax(gain[1:]))
    left_by_bend, left_by_break = total - float(gain[0]), total - float(gain[best])
    is_break = left_by_break < SHARPER * left_by_bend
    chosen = best if is_break else 0
    change = float(along[chosen] / size[chosen])
    left = residual - change * shapes[:, chosen]
    freedom = STATED_WEIGHT + len(time) - 3
    neighbours = correlation_of(left, len(time) - 3)
    inflation = (1.0 + neighbours) / (1.0 - neighbours)
    variance = (STATED_WEIGHT + float(left @ left)) / freedom * inflation
    before, after = _ends(line, time, root, target, change, moments[best - 1] if is_break else None)
    return Departure(
        deviations=math.sqrt(float(gain[chosen]) / variance),
        degrees_of_freedom=STATED_WEIGHT + (len(time) - 3) / inflation,
        moment=float(moments[best - 1]) if is_break else None,
        before=before,
        after=after,
    )


def _ends(
    line: Line,
    time: NDArray[np.float64],
    root: NDArray[np.float64],
    target: NDArray[np.float64],
    change: float,
    moment: float | None,
) -> tuple[float, float]:
    """Return the fall of the logarithm [1/s] at both ends of the chosen shape."""
    away = time - line.middle
    shape = away * away if moment is None else np.maximum(time - moment, 0.0)
    basis = np.stack([root, away * root], axis=1)
    slope = -float(np.linalg.lstsq(basis, target - change * shape * root, rcond=None)[0][1])
    if moment is not None:
        return slope, slope - change
    return slope - 2.0 * change * float(away[0]), slope - 2.0 * change * float(away[-1])
