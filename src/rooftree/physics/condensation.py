"""Whether a surface is below the dew point of the air at it, and how sure that is."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.physics.propagation import Propagated

JACKET_FILM = 0.12
"""Resistance of the film at the outside of a duct, R-0.68 [m²·K/W]; R-1.35 to R-1.7 at a
jacket of bare foil (ASHRAE Handbook - Fundamentals 2021, chapter 26, table 10; foil recalled)."""


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


def jacket_temperature(
    space: ArrayLike, inside: ArrayLike, resistance: ArrayLike, *, film: float = JACKET_FILM
) -> NDArray[np.float64]:
    """Return the temperature of the outside of a duct.

    Parameters
    ----------
    space : array_like
        Temperature of the air around the duct [K].
    inside : array_like
        Temperature of the air in it [K].
    resistance : array_like
        From air to air: wrap and both films [m²·K/W], > 0.
    film : float
        Resistance of the film at its outside [m²·K/W].

    Returns
    -------
    ndarray
        [K].

    Notes
    -----
    In series, ``T = space - (space - inside) film / resistance``; a film that would be more
    than all of the resistance counts as all of it. The wrap is taken as even: where it is
    squeezed, at seams and at boots, the jacket is colder.

    Examples
    --------
    Air of 55 °F in a duct with R-6 and a film of R-0.68, in a space of 90 °F.

    >>> R = 0.17611
    >>> jacket = jacket_temperature(305.37, 285.93, 6.68 * R, film=0.68 * R)
    >>> round(float(jacket) * 1.8 - 459.67, 1)
    86.4
    """
    share = np.minimum(film / np.asarray(resistance, dtype=float), 1.0)
    warm = np.asarray(space, dtype=float)
    return np.asarray(warm - (warm - inside) * share)
