"""Carry inputs of any distribution through a formula by drawing from them.

:mod:`rooftree.physics.draws` does the same for inputs that are all normal and independent.

Sources
-------
[SUP1] JCGM 101:2008, "Supplement 1 to the GUM - Propagation of distributions using a Monte
    Carlo method": 6.4 (distributions), 7 (draws and their summary), 8 (check of the first
    order); clauses recalled, its worked examples are checked.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Any

import numpy as np

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.draws import DRAWS
from rooftree.physics.propagation import QUANTILES, Propagated

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.random import Generator
    from numpy.typing import ArrayLike, NDArray

SEED = 20
"""Of the draws, so that the same readings give the same limits."""


class Shape(StrEnum):
    """Distribution of an input."""

    NORMAL = "normal"
    RECTANGULAR = "rectangular"
    TRIANGULAR = "triangular"
    ARCSINE = "arcsine"
    LOGNORMAL = "lognormal"


@dataclass(frozen=True, slots=True)
class Drawn:
    """One input of a formula, as a distribution.

    Attributes
    ----------
    value : float
        Its mean [any unit].
    standard : float
        Its standard deviation, >= 0 [the same unit]. With finite degrees of freedom it is
        the scale of a t-distribution, whose spread is wider.
    shape : Shape
        Normal where readings scatter, rectangular between limits, arcsine for what swings
        between limits; log-normal for what is above zero, with `value` its median and
        ``standard / value`` the standard deviation of its logarithm.
    degrees_of_freedom : float
        Of a normal input [-]; infinite where `standard` is stated rather than observed.
    """

    value: float
    standard: float
    shape: Shape = Shape.NORMAL
    degrees_of_freedom: float = math.inf

    def __post_init__(self) -> None:
        if not 0.0 <= self.standard < math.inf:
            raise OutOfRangeError("uncertainty", self.standard, 0.0, math.inf, "(input's unit)")
        if self.shape is Shape.LOGNORMAL and not self.value > 0.0:
            raise OutOfRangeError("log-normal input", self.value, 0.0, math.inf, "(its unit)")
        if not self.degrees_of_freedom >= 1.0:
            raise OutOfRangeError(
                "degrees of freedom", self.degrees_of_freedom, 1.0, math.inf, "[-]"
            )

    def draw(self, random: Generator, count: int) -> NDArray[np.float64]:
        """Return values drawn from the distribution.

        Parameters
        ----------
        random : Generator
            Where the chance comes from.
        count : int
            How many.

        Returns
        -------
        ndarray, shape (count,)
            In the unit of the value.

        Notes
        -----
        [SUP1]_ 6.4.2 rectangular, 6.4.5 triangular, 6.4.6 arcsine, 6.4.7 normal, 6.4.9 t.
        """
        if self.shape is Shape.LOGNORMAL:
            logarithms = random.standard_normal(count) * (self.standard / self.value)
            return self.value * np.exp(logarithms)
        return self.value + self.standard * self._unit(random, count)

    def _unit(self, random: Generator, count: int) -> NDArray[np.float64]:
        if self.shape is Shape.RECTANGULAR:
            return math.sqrt(3.0) * random.uniform(-1.0, 1.0, count)
        if self.shape is Shape.TRIANGULAR:
            return math.sqrt(6.0) * random.triangular(-1.0, 0.0, 1.0, count)
        if self.shape is Shape.ARCSINE:
            return math.sqrt(2.0) * np.sin(random.uniform(0.0, 2.0 * math.pi, count))
        if math.isfinite(self.degrees_of_freedom):
            return random.standard_t(self.degrees_of_freedom, count)
        return random.standard_normal(count)


def propagate_by_draws(
    formula: Callable[..., Any],
    inputs: Sequence[Drawn],
    *,
    draws: int = DRAWS,
    seed: int = SEED,
    correlation: ArrayLike | None = None,
) -> Propagated:
    """Return a formula's value with limits from drawing its inputs.

    Parameters
    ----------
    formula : callable
        Takes one array per input, in order, and returns an array: all draws at once.
    inputs : sequence of Drawn
        The inputs.
    draws : int
        How many, 200 to 10 million.
    seed : int
        Of the chance; the same seed gives the same result.
    correlation : array_like, shape (n, n), or None
        Correlation of the inputs [-], all of which must then be normal; None for none.

    Returns
    -------
    Propagated
        Mean and standard deviation of the drawn values, and the limits that leave 2.5 % of
        them on either side; :meth:`Propagated.limits` gives those of other probabilities.

    Raises
    ------
    OutOfRangeError
        If there are too few or too many draws, or the matrix is no correlation.
    NotEnoughDataError
        If the formula gives no number for some of the draws.

    Notes
    -----
    [SUP1]_ 7.2 to 7.7, with the interval that leaves the same share on both sides.

    References
    ----------
    .. [SUP1] JCGM 101:2008.

    Examples
    --------
    >>> total = propagate_by_draws(lambda a, b: a + b, [Drawn(3.0, 0.3), Drawn(4.0, 0.4)])
    >>> round(total.value, 1), round(total.standard, 1)
    (7.0, 0.5)
    """
    if not 200 <= draws <= 10_000_000:
        raise OutOfRangeError("number of draws", draws, 200, 10_000_000, "[-]")
    columns = _columns(inputs, draws, np.random.default_rng(seed), correlation)
    return _summarized(np.broadcast_to(np.asarray(formula(*columns), dtype=float), draws))


def does_first_order_hold(first: Propagated, drawn: Propagated, *, digits: int = 2) -> bool:
    """Tell whether limits of the first order agree with those from draws.

    Parameters
    ----------
    first : Propagated
        By :func:`rooftree.physics.propagation.propagate` or the like.
    drawn : Propagated
        The same result by draws.
    digits : int
        Digits of the standard uncertainty that matter, 1 or 2.

    Returns
    -------
    bool
        Whether both 95 % limits agree to within half a unit of the last of these digits.

    Notes
    -----
    [SUP1]_ 8.1.3 with the numerical tolerance of 7.9.2: write ``u = c · 10^l`` with `digits`
    digits in ``c``; the tolerance is ``10^l / 2``.
    """
    if first.standard == 0.0:
        return drawn.standard == 0.0
    last = math.floor(math.log10(first.standard)) - (digits - 1)
    tolerance = 0.5 * 10.0**last
    pairs = zip(first.limits(0.95), drawn.limits(0.95), strict=True)
    return all(abs(one - other) <= tolerance for one, other in pairs)


def _summarized(drawn: NDArray[np.float64]) -> Propagated:
    lost = int(drawn.size - np.count_nonzero(np.isfinite(drawn)))
    if lost:
        raise NotEnoughDataError(
            f"the formula has no value at {lost} of {drawn.size} draws of its inputs; their "
            "uncertainty reaches where it does not hold, so measure them more closely"
        )
    quantiles = tuple(np.quantile(drawn, QUANTILES).tolist())
    low, high = (quantiles[QUANTILES.index(q)] for q in (0.025, 0.975))
    return Propagated(float(drawn.mean()), float(drawn.std(ddof=1)), low, high, quantiles=quantiles)


def _columns(
    inputs: Sequence[Drawn], draws: int, random: Generator, correlation: ArrayLike | None
) -> list[NDArray[np.float64]]:
    if correlation is None:
        return [entry.draw(random, draws) for entry in inputs]
    matrix = np.asarray(correlation, dtype=float)
    lowest = float(np.linalg.eigvalsh(matrix)[0])
    if lowest < -1e-9:
        raise OutOfRangeError("lowest eigenvalue of the correlation", lowest, 0.0, 1.0, "[-]")
    standard = np.array([entry.standard for entry in inputs])
    covariance = matrix * np.outer(standard, standard)
    means = [entry.value for entry in inputs]
    return list(random.multivariate_normal(means, covariance, draws, check_valid="ignore").T)
