"""Carry standard uncertainties through any formula, by stepping each input in turn.

Sources
-------
[GUM] JCGM 100:2008, "Evaluation of measurement data - Guide to the expression of
    uncertainty in measurement", eq. 10 and 5.1.3, note 2.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.special import ndtri

from rooftree.errors import OutOfRangeError
from rooftree.physics.uncertainty import coverage_factor

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

COVERAGE = 2.0
"""Standard uncertainties between a value and its limits [-]; about 95 % for a normal spread."""


@dataclass(frozen=True, slots=True)
class Propagated:
    """A computed value with what its inputs leave unsure.

    Attributes
    ----------
    value : float
        The formula at the readings, in its own unit.
    standard : float
        Standard uncertainty in the same unit, >= 0.
    low, high : float
        Limits that hold the true value about 19 times in 20.
    is_by_factor : bool
        Whether the limits are the same factor below and above the value, as those of a
        positive value are, rather than the same distance.
    degrees_of_freedom : float
        How well `standard` is known [-]; infinite where it is stated rather than observed.
    quantiles : tuple of float
        Of the drawn values at the probabilities :data:`QUANTILES`, where the limits come
        from draws; else empty.
    """

    value: float
    standard: float
    low: float
    high: float
    is_by_factor: bool = False
    degrees_of_freedom: float = math.inf
    quantiles: tuple[float, ...] = ()

    def limits(self, probability: float) -> tuple[float, float]:
        """Return the limits that hold the true value with a probability.

        Parameters
        ----------
        probability : float
            Two-sided, between 0 and 1 [0-1]; for limits from draws at most 0.99.

        Returns
        -------
        tuple of float
            Low and high, in the unit of the value.

        Raises
        ------
        OutOfRangeError
            If the probability is not between 0 and 1, or too near to 1 for the draws.

        Notes
        -----
        Student's t of the degrees of freedom times the standard uncertainty [GUM]_, G.3;
        of the logarithm where the limits go by a factor. Between quantiles of draws the
        limit is interpolated on the scale of the normal distribution.

        Examples
        --------
        >>> [round(limit, 2) for limit in Propagated(10.0, 1.0, 8.0, 12.0).limits(0.90)]
        [8.36, 11.64]
        """
        if self.quantiles:
            return self._drawn_limits(probability)
        factor = coverage_factor(self.degrees_of_freedom, probability)
        if self.is_by_factor:
            spread = math.exp(factor * self.standard / self.value)
            return self.value / spread, self.value * spread
        return self.value - factor * self.standard, self.value + factor * self.standard

    def _drawn_limits(self, probability: float) -> tuple[float, float]:
        widest = QUANTILES[-1] - QUANTILES[0]
        if not 0.0 < probability <= widest:
            raise OutOfRangeError("probability", probability, 0.0, widest, "[0-1]")
        wanted = ndtri([0.5 - 0.5 * probability, 0.5 + 0.5 * probability])
        low, high = np.interp(wanted, ndtri(QUANTILES), self.quantiles)
        return float(low), float(high)


QUANTILES = (
    0.005, 0.01, 0.025, 0.05, 0.1, 0.15, 0.25, 0.35, 0.5, 0.65, 0.75, 0.85, 0.9, 0.95, 0.975,
    0.99, 0.995,
)  # fmt: skip
"""Probabilities at which the values of draws are kept [0-1]."""


def _steps(
    formula: Callable[..., float], values: Sequence[float], uncertainties: Sequence[float]
) -> float:
    return math.sqrt(
        math.fsum(
            (0.5 * (formula(*above) - formula(*below))) ** 2
            for above, below in _moved(values, uncertainties)
        )
    )


def _moved(
    values: Sequence[float], uncertainties: Sequence[float]
) -> Iterator[tuple[list[float], list[float]]]:
    """Yield the inputs with each in turn moved up and down by its uncertainty."""
    for index, uncertainty in enumerate(uncertainties):
        if not uncertainty >= 0.0:
            raise OutOfRangeError("uncertainty", uncertainty, 0.0, math.inf, "(input's unit)")
        above, below = list(values), list(values)
        above[index] += uncertainty
        below[index] -= uncertainty
        yield above, below


def propagate(
    formula: Callable[..., float], values: Sequence[float], uncertainties: Sequence[float]
) -> Propagated:
    """Return a formula's value with limits that lie evenly round it.

    Parameters
    ----------
    formula : callable
        Takes the inputs in order and returns one number.
    values : sequence of float
        Readings, each in its own unit.
    uncertainties : sequence of float
        Standard uncertainty of each, >= 0; the inputs are taken as independent.

    Returns
    -------
    Propagated

    Raises
    ------
    OutOfRangeError
        If an uncertainty is negative.

    Notes
    -----
    Each input is moved by its standard uncertainty up and down; half the change of the
    formula is that input's share, and shares add in quadrature [GUM]_, eq. 10 and
    5.1.3 note 2.

    References
    ----------
    .. [GUM] JCGM 100:2008.

    Examples
    --------
    >>> round(propagate(lambda a, b: a * b, [3.0, 4.0], [0.1, 0.1]).standard, 3)
    0.5
    """
    value, standard = formula(*values), _steps(formula, values, uncertainties)
    return Propagated(value, standard, value - COVERAGE * standard, value + COVERAGE * standard)


def propagate_positive(
    formula: Callable[..., float], values: Sequence[float], uncertainties: Sequence[float]
) -> Propagated:
    """Return a positive formula's value with limits that stay positive.

    Parameters
    ----------
    formula : callable
        Takes the inputs in order and returns one number above zero.
    values : sequence of float
        Readings, each in its own unit.
    uncertainties : sequence of float
        Standard uncertainty of each, >= 0; the inputs are taken as independent.

    Returns
    -------
    Propagated
        The limits are the same factor below and above the value.

    Raises
    ------
    OutOfRangeError
        If an uncertainty is negative, or the formula not above zero at the readings.

    Notes
    -----
    As :func:`propagate`, of the formula's logarithm: a ratio and its inverse get the
    same relative limits. Where an input is so unsure that one of its two steps leaves no
    positive value, the other step alone counts; limits by :func:`factor_limits`.

    References
    ----------
    .. [GUM] JCGM 100:2008.

    Examples
    --------
    >>> ratio = propagate_positive(lambda a, b: a / b, [10.0, 2.0], [0.5, 0.1])
    >>> round(ratio.low, 2), round(ratio.high, 2)
    (4.34, 5.76)
    """
    value = formula(*values)
    if not value > 0.0:
        raise OutOfRangeError("computed value", value, 0.0, math.inf, "(its own unit)")
    steps = [
        _step_of_logarithm(value, formula(*above), formula(*below))
        for above, below in _moved(values, uncertainties)
    ]
    return factor_limits(value, math.hypot(*steps))


def _step_of_logarithm(value: float, above: float, below: float) -> float:
    sides = ((above, value), (value, below))
    steps = [math.log(one / other) for one, other in sides if one > 0.0 and other > 0.0]
    return math.fsum(steps) / len(steps) if steps else 1.0


def factor_limits(value: float, relative: float) -> Propagated:
    """Return a positive value with limits that go by a factor.

    Parameters
    ----------
    value : float
        The value [any unit], >= 0.
    relative : float
        Its relative standard uncertainty [-], >= 0.

    Returns
    -------
    Propagated
        The limits are the same factor below and above the value; a value of zero has none.

    Notes
    -----
    The limits lie two standard uncertainties from the value on a logarithmic scale. What is
    more unsure than its own size, as a small reading of a coarse gauge is, may be many times
    larger, but its logarithm is not so far off: from there on the distance is 1 and the
    logarithm of the relative uncertainty, which goes on without a step or a bend.

    Examples
    --------
    >>> one = factor_limits(100.0, 0.05)
    >>> round(one.low, 1), round(one.high, 1)
    (90.5, 110.5)
    """
    if value == 0.0:
        return Propagated(0.0, 0.0, 0.0, 0.0)
    distance = relative if relative <= 1.0 else 1.0 + math.log(relative)
    spread = math.exp(COVERAGE * distance)
    return Propagated(value, value * relative, value / spread, value * spread, is_by_factor=True)
