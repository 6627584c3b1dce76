"""Whether a surface is below the dew point of the air at it, and how sure that is."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated


def below_probability(low: Propagated, high: Propagated) -> float:
    """Return how probable it is that one uncertain value lies below another.

    Parameters
    ----------
    low : Propagated
        Suspected to be the lower, such as the temperature of a surface.
    high : Propagated
        Suspected to be the higher, such as the dew point of the air, in the same unit and
        read independently.

    Returns
    -------
    float
        Probability that `low` is below `high` [0-1].

    Notes
    -----
    Both taken as normal: the share of a normal spread below ``(high - low) / √(u1² + u2²)``.
    Without any uncertainty it is 0, 1, or 0.5 where they are equal.

    Examples
    --------
    >>> from rooftree.physics.propagation import Propagated
    >>> surface, dew = Propagated(285.0, 0.6, 0.0, 0.0), Propagated(286.0, 0.8, 0.0, 0.0)
    >>> round(below_probability(surface, dew), 3)
    0.841
    """
    margin, spread = high.value - low.value, math.hypot(high.standard, low.standard)
    if spread == 0.0:
        return 0.5 if margin == 0.0 else float(margin > 0.0)
    return 0.5 * math.erfc(-margin / spread / math.sqrt(2.0))
