"""Carry standard uncertainties through a formula by drawing its inputs many times.

Where a formula bends within the doubt of its inputs, stepping each of them in turn
(:mod:`rooftree.physics.propagation`) draws the limits too even; drawing them does not.

Sources
-------
[GUM1] JCGM 101:2008, "Propagation of distributions using a Monte Carlo method", clause 7
    (recalled).
"""

from __future__ import annotations

import math
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.propagation import QUANTILES, Propagated

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import ArrayLike, NDArray

DRAWS = 10_000
"""Draws of each input [-]: the 95 % limits then scatter by 2 % of their width."""

_SEED = 101
_LOW, _HIGH = 0.025, 0.975
_ONE_BELOW, _ONE_ABOVE = 0.158655, 0.841345


@cache
def _deviates(inputs: int, count: int) -> NDArray[np.float64]:
    # The same each time, so that a result does not flicker while somebody types.
    drawn = np.random.default_rng(_SEED).standard_normal((inputs, count // 2))
    both = np.concatenate([drawn, -drawn], axis=1)
    both.setflags(write=False)
    return both


def draw_inputs(
    values: Sequence[float], uncertainties: Sequence[float], count: int = DRAWS
) -> NDArray[np.float64]:
    """Return normal draws of independent inputs, the same each time.

    Parameters
    ----------
    values : sequence of float
        Readings, each in its own unit.
    uncertainties : sequence of float
        Standard uncertainty of each, >= 0.
    count : int
        Draws of each input [-], even.

    Returns
    -------
    ndarray, shape (inputs, count)
        One row for each input, in its own unit; each draw has its mirror image about the
        reading, so that the mean of a row is the reading.

    Raises
    ------
    OutOfRangeError
        If an uncertainty is negative.

    Examples
    --------
    >>> draws = draw_inputs([3.0, 4.0], [0.1, 0.2])
    >>> [round(float(row.mean()), 6) for row in draws]
    [3.0, 4.0]
    """
    for uncertainty in uncertainties:
        if not uncertainty >= 0.0:
            raise OutOfRangeError("uncertainty", uncertainty, 0.0, math.inf, "(input's unit)")
    spread = np.asarray(uncertainties, dtype=np.float64)[:, None]
    return np.asarray(values, dtype=np.float64)[:, None] + spread * _deviates(len(values), count)


def propagate_draws(value: float, draws: ArrayLike) -> Propagated:
    """Return a value with the limits that the draws of it leave.

    Parameters
    ----------
    value : float
        The formula at the readings [any].
    draws : array_like
        The formula at drawn inputs [the same]; infinite where a draw leaves no
        bound, never NaN.

    Returns
    -------
    Propagated
        With limits between which 95 % of the draws lie, and a standard uncertainty of half
        the range of the middle 68 %, which the tails do not feel.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than 1000 draws, or one is NaN.

    Notes
    -----
    Probabilistically symmetric limits [GUM1]_, 7.7.

    References
    ----------
    .. [GUM1] JCGM 101:2008.

    Examples
    --------
    >>> doubled = 2.0 * draw_inputs([5.0], [1.0])[0]
    >>> [round(limit) for limit in propagate_draws(10.0, doubled).limits(0.90)]
    [7, 13]
    """
    sample = np.sort(np.asarray(draws, dtype=np.float64).ravel())
    if sample.size < 1000 or np.isnan(sample[-1]):
        message = f"{sample.size} draws, or one without a value; limits need 1000 numbers or more"
        raise NotEnoughDataError(message)
    places = np.array([*QUANTILES, _LOW, _HIGH, _ONE_BELOW, _ONE_ABOVE])
    # No interpolation: between a number and infinity there is nothing.
    found = sample[np.rint(places * (sample.size - 1)).astype(int)]
    *quantiles, low, high, below, above = (float(each) for each in found)
    standard = 0.5 * (above - below) if math.isfinite(above) else math.inf
    return Propagated(value, standard, low, high, quantiles=tuple(quantiles))


def propagate_by_drawing(
    formula: Callable[..., NDArray[np.float64]],
    values: Sequence[float],
    uncertainties: Sequence[float],
    count: int = DRAWS,
) -> Propagated:
    """Return a formula's value with limits from normal draws of its inputs.

    Parameters
    ----------
    formula : callable
        Takes the inputs in order, as arrays, and returns one array.
    values : sequence of float
        Readings, each in its own unit.
    uncertainties : sequence of float
        Standard uncertainty of each, >= 0; the inputs are taken as independent.
    count : int
        Draws of each input [-], even.

    Returns
    -------
    Propagated

    Raises
    ------
    OutOfRangeError
        If an uncertainty is negative.

    Notes
    -----
    :func:`draw_inputs`, the formula, :func:`propagate_draws` [GUM1]_.

    References
    ----------
    .. [GUM1] JCGM 101:2008.

    Examples
    --------
    >>> area = propagate_by_drawing(lambda a, b: a * b, [3.0, 4.0], [0.1, 0.1])
    >>> round(area.standard, 1)
    0.5
    """
    value = float(np.asarray(formula(*(np.array([each]) for each in values)))[0])
    return propagate_draws(value, formula(*draw_inputs(values, uncertainties, count)))
