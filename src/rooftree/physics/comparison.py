"""Whether a change between two results is larger than their noise.

Sources
-------
[GUM] JCGM 100:2008, 5.2.2, eq. 13: uncertainty of a difference with correlated inputs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scipy.special import stdtr

from rooftree.errors import OutOfRangeError
from rooftree.physics.uncertainty import UncertaintyTerm, combined_uncertainty, coverage_factor

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.physics.propagation import Propagated

SIGNIFICANT = 0.95
"""Least probability, two-sided, with which a change is called larger than the noise [0-1]."""


@dataclass(frozen=True, slots=True)
class Change:
    """A later result against an earlier one.

    Attributes
    ----------
    difference : float
        Later less earlier, in their unit.
    standard : float
        Standard uncertainty of that, what both have in common taken off, in their unit.
    probability : float
        That noise alone would not have made so large a difference, either way [0-1].
    is_significant : bool
        Whether that is 95 % or more.
    says : str
        The same in one plain sentence.
    """

    difference: float
    standard: float
    probability: float
    is_significant: bool
    says: str

    @property
    def least(self) -> float:
        """Smallest change that would have stood out of the noise [unit of the results]."""
        return coverage_factor(math.inf, SIGNIFICANT) * self.standard


def compare_results(
    before: Propagated, after: Propagated, shared: Sequence[tuple[float, float]] = ()
) -> Change:
    """Compare two results of the same quantity.

    Parameters
    ----------
    before, after : Propagated
        In the same unit.
    shared : sequence of tuple of float
        For each error that was the same in both, such as the calibration of one
        instrument used twice: the part of the standard uncertainty that it gives each,
        in the unit of the results; signed, should it act the opposite way.

    Returns
    -------
    Change

    Raises
    ------
    OutOfRangeError
        If what is shared is more than the whole of a result's uncertainty.

    Notes
    -----
    ``u² = u_1² + u_2² - 2 sum(c_1 c_2)`` [GUM]_ eq. 13, each shared error with correlation
    one. The probability is Student's t with the degrees of freedom of both by Welch and
    Satterthwaite (infinite unless the results say otherwise).

    Examples
    --------
    >>> from rooftree.physics.propagation import Propagated
    >>> one, other = Propagated(1000.0, 50.0, 900.0, 1100.0), Propagated(900.0, 45.0, 810.0, 990.0)
    >>> compare_results(one, other).is_significant
    False
    >>> compare_results(one, other, [(45.0, 40.5)]).is_significant
    True
    """
    own = _own_parts(before, after, shared)
    twice = math.fsum((first - second) ** 2 for first, second in shared)
    standard = math.sqrt(own.standard**2 + twice)
    difference = after.value - before.value
    probability = _probability(difference, standard, own.degrees_of_freedom)
    is_significant = probability >= SIGNIFICANT
    says = _sentence(before.value, difference, standard, is_significant)
    return Change(difference, standard, probability, is_significant, says)


def _own_parts(
    before: Propagated, after: Propagated, shared: Sequence[tuple[float, float]]
) -> UncertaintyTerm:
    parts = []
    for index, result in enumerate((before, after)):
        common = math.fsum(pair[index] ** 2 for pair in shared)
        left = result.standard**2 - common
        if left < -1e-9 * result.standard**2:
            raise OutOfRangeError(
                "shared uncertainty", math.sqrt(common), 0.0, result.standard, "(result's unit)"
            )
        parts.append(UncertaintyTerm("own", math.sqrt(max(left, 0.0)), result.degrees_of_freedom))
    return combined_uncertainty(parts)


def _probability(difference: float, standard: float, degrees_of_freedom: float) -> float:
    if standard == 0.0:
        return 1.0 if difference else 0.0
    away = abs(difference) / standard
    return 1.0 - 2.0 * float(stdtr(min(degrees_of_freedom, 1e9), -away))


def _sentence(before: float, difference: float, standard: float, is_significant: bool) -> str:
    if difference == 0.0:
        return "There is no change."
    way = "less" if difference < 0.0 else "more"
    size = f"{abs(difference / before):.0%} {way}" if before else f"a change to {way}"
    if standard == 0.0:
        return f"{size.capitalize()}, with no noise stated."
    times = abs(difference) / standard
    if is_significant:
        return (
            f"{size.capitalize()}: larger than the noise ({times:.1f} times its standard "
            "uncertainty)."
        )
    return (
        f"{size.capitalize()}: not larger than the noise ({times:.1f} times its standard "
        "uncertainty), so it may be no change at all."
    )
