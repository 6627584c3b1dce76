"""One flow from several methods, and whether they can all be right.

Sources
-------
[GUM] JCGM 100:2008: weights by the inverse of the variance.
[BIRGE1932] R. T. Birge, Phys. Rev. 40 (1932) 207: results that scatter more than they claim
    widen their mean by the root of chi-square over degrees of freedom (recalled).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scipy.special import chdtrc

from rooftree.errors import NotEnoughDataError
from rooftree.physics.propagation import COVERAGE, Propagated

if TYPE_CHECKING:
    from collections.abc import Sequence

UNLIKELY = 0.01
"""Chance of such a scatter by noise alone below which methods disagree [0-1]; ours."""


@dataclass(frozen=True, slots=True)
class Combined:
    """A weighted mean.

    Attributes
    ----------
    mean : Propagated
        In the unit of the parts; widened where they scatter more than they claim.
    chance : float or None
        Chance of a scatter at least as large if all were right within their
        uncertainties [0-1]; None of a single one.
    """

    mean: Propagated
    chance: float | None

    @property
    def agree(self) -> bool:
        """Whether the parts can all be right."""
        return self.chance is None or self.chance >= UNLIKELY


def combine(parts: Sequence[Propagated]) -> Combined:
    """Return the weighted mean of positive values of one quantity.

    Parameters
    ----------
    parts : sequence of Propagated
        Independent, each above zero with a standard uncertainty above zero.

    Returns
    -------
    Combined

    Raises
    ------
    NotEnoughDataError
        If there are none.

    Notes
    -----
    On logarithms, so that a relative uncertainty weighs the same whichever way the value
    errs: ``ln m = sum(ln q / u²) / sum(1 / u²)``, standard uncertainty
    ``sum(1 / u²) ^ -½`` [GUM]_, times the Birge ratio where that is above 1 and the
    scatter is less likely than `UNLIKELY` [BIRGE1932]_.

    References
    ----------
    .. [GUM] JCGM 100:2008.
    .. [BIRGE1932] Birge, 1932.
    """
    if not parts:
        message = "a mean needs at least one value"
        raise NotEnoughDataError(message)
    weights = [(part.value / part.standard) ** 2 for part in parts]
    logs = [math.log(part.value) for part in parts]
    total = math.fsum(weights)
    middle = math.fsum(w * log for w, log in zip(weights, logs, strict=True)) / total
    relative, chance = 1.0 / math.sqrt(total), None
    if len(parts) > 1:
        scatter = math.fsum(w * (log - middle) ** 2 for w, log in zip(weights, logs, strict=True))
        freedom = len(parts) - 1
        chance = float(chdtrc(freedom, scatter))
        if chance < UNLIKELY:
            relative *= math.sqrt(scatter / freedom)
    value, spread = math.exp(middle), math.exp(COVERAGE * relative)
    mean = Propagated(value, value * relative, value / spread, value * spread, is_by_factor=True)
    return Combined(mean, chance)


def odd_one_out(parts: Sequence[Propagated]) -> int | None:
    """Return which of several values keeps the others from agreeing.

    Parameters
    ----------
    parts : sequence of Propagated
        Values that do not agree.

    Returns
    -------
    int or None
        Its place; None where fewer than three are given, or no single one explains it.
    """
    if len(parts) < 3:
        return None
    without = [combine([*parts[:i], *parts[i + 1 :]]).chance or 0.0 for i in range(len(parts))]
    best = max(range(len(parts)), key=lambda i: without[i])
    return best if without[best] >= UNLIKELY else None
