"""Uncertainty of a result from the uncertainties of what it was made of.

Standard uncertainties are combined by the law of propagation, degrees of freedom by
Welch and Satterthwaite, and limits drawn with Student's t.

Sources
-------
[GUM] JCGM 100:2008, "Guide to the expression of uncertainty in measurement", clauses 5 and
annex G (recalled).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

from scipy.special import stdtrit

from rooftree.errors import NotEnoughDataError, OutOfRangeError

if TYPE_CHECKING:
    from collections.abc import Iterable

WIDEST = 300.0
"""Logarithm of the factor between a value and its limits that is given at most [-]."""


@dataclass(frozen=True, slots=True)
class UncertaintyTerm:
    """One independent contribution to the uncertainty of a result.

    Attributes
    ----------
    name : str
        What contributes, in plain words.
    standard : float
        Standard uncertainty that it gives the result; in the result's unit, or relative [0-1].
    degrees_of_freedom : float
        How well that is known [-]; infinite for a term that is stated rather than observed.
    """

    name: str
    standard: float
    degrees_of_freedom: float = math.inf


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its 95 % limits.

    Attributes
    ----------
    value, low, high : float
        All in the unit of the value.
    degrees_of_freedom : float
        Of the standard uncertainty behind the limits [-].
    is_by_factor : bool
        Whether they are the same factor below and above the value, not the same distance.
    """

    value: float
    low: float
    high: float
    degrees_of_freedom: float = math.inf
    is_by_factor: bool = True

    def limits(self, probability: float) -> tuple[float, float]:
        """Return the limits that hold the true value with another probability.

        Parameters
        ----------
        probability : float
            Two-sided, between 0 and 1 [0-1].

        Returns
        -------
        tuple of float
            Low and high, in the unit of the value.

        Raises
        ------
        OutOfRangeError
            If the probability is not between 0 and 1.
        """
        freedom = self.degrees_of_freedom
        wider = coverage_factor(freedom, probability) / coverage_factor(freedom)
        if self.is_by_factor:
            spread = math.pow(self.high / self.value, wider)
            return self.value / spread, self.value * spread
        half = wider * (self.high - self.value)
        return self.value - half, self.value + half

    def times(self, factor: float) -> Estimate:
        """Return the estimate in another unit, or per size of something known exactly.

        Parameters
        ----------
        factor : float
            What to multiply with [any], > 0.
        """
        return replace(
            self, value=self.value * factor, low=self.low * factor, high=self.high * factor
        )


@cache
def coverage_factor(degrees_of_freedom: float, probability: float = 0.95) -> float:
    """Return how many standard uncertainties lie between a value and its two-sided limits.

    Parameters
    ----------
    degrees_of_freedom : float
        Of the standard uncertainty [-], >= 1; may be infinite.
    probability : float
        Of the true value lying between the limits [0-1].

    Returns
    -------
    float
        Student's t [-].

    Raises
    ------
    OutOfRangeError
        If there is less than one degree of freedom, or the probability is not between 0 and 1.

    Examples
    --------
    >>> round(coverage_factor(4), 3)
    2.776
    >>> round(coverage_factor(float("inf")), 2)
    1.96
    """
    if not degrees_of_freedom >= 1.0:
        raise OutOfRangeError("degrees of freedom", degrees_of_freedom, 1.0, math.inf, "[-]")
    if not 0.0 < probability < 1.0:
        raise OutOfRangeError("probability", probability, 0.0, 1.0, "[0-1]")
    return float(stdtrit(min(degrees_of_freedom, 1e9), 0.5 + 0.5 * probability))


def combined_uncertainty(terms: Iterable[UncertaintyTerm]) -> UncertaintyTerm:
    """Combine independent contributions into one.

    Parameters
    ----------
    terms : iterable of UncertaintyTerm
        All in one unit, or all relative.

    Returns
    -------
    UncertaintyTerm
        The combined standard uncertainty with its effective degrees of freedom.

    Notes
    -----
    Root of the sum of squares, [GUM]_ eq. 10 with the sensitivities already in the terms.
    Effective degrees of freedom by the Welch-Satterthwaite formula, [GUM]_ eq. G.2b:
    ``nu = u_c⁴ / sum(u_i⁴ / nu_i)``.

    Examples
    --------
    >>> both = combined_uncertainty([UncertaintyTerm("a", 3.0), UncertaintyTerm("b", 4.0, 9.0)])
    >>> both.standard, round(both.degrees_of_freedom, 1)
    (5.0, 22.0)
    """
    parts = tuple(terms)
    standard = math.hypot(*(term.standard for term in parts))
    if standard == 0.0:
        return UncertaintyTerm("combined", 0.0)
    # Ratios first: fourth powers of small uncertainties would vanish.
    shares = sum((part.standard / standard) ** 4 / part.degrees_of_freedom for part in parts)
    return UncertaintyTerm("combined", standard, 1.0 / shares if shares > 0.0 else math.inf)


def relative_limits(value: float, relative: UncertaintyTerm) -> Estimate:
    """Draw 95 % limits around a positive value whose uncertainty is a share of it.

    Parameters
    ----------
    value : float
        The value [any], > 0.
    relative : UncertaintyTerm
        Its relative standard uncertainty, that is, that of its logarithm.

    Returns
    -------
    Estimate
        ``value · exp(±t · u)``: never below zero, and the same for a value and its inverse.

    Raises
    ------
    NotEnoughDataError
        If the limits would lie further apart than numbers reach.
    """
    spread = coverage_factor(relative.degrees_of_freedom) * relative.standard
    if spread > WIDEST:
        message = (
            "the readings scatter so much that no limits can be given; look for a wrong unit or "
            "a mistyped reading among them"
        )
        raise NotEnoughDataError(message)
    return Estimate(
        value, value * math.exp(-spread), value * math.exp(spread), relative.degrees_of_freedom
    )
