"""Resistance of building parts whose layers are bridged: framing, voids, bare patches.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 27: parallel-path method (heat flows
    straight through) and isothermal-planes method (heat spreads freely sideways).
[ISO6946] ISO 6946, combined method and correction for air voids (recalled; that a correction
    below 3 % is left out is quoted in a trade magazine).
"""

from __future__ import annotations

import math
from enum import IntEnum
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError

if TYPE_CHECKING:
    from collections.abc import Sequence

MOST_SPREAD = 1.5
"""Upper over lower limit beyond which the combined method does not apply [-] [ISO6946]_."""

WORTH_CORRECTING = 0.03
"""Share of the transmittance below which a correction is left out [0-1] [ISO6946]_."""


class VoidLevel(IntEnum):
    """How far air voids defeat a layer of insulation [ISO6946]_."""

    NONE = 0
    """No voids, or small ones of no effect."""
    BRIDGING = 1
    """Voids from the warm to the cold side; air does not move to the warm side."""
    CIRCULATING = 2
    """Such voids, and air that moves between the insulation and the warm side."""


_VOID_TRANSMITTANCE = (0.00, 0.01, 0.04)


def parallel_paths(shares: Sequence[float], resistances: Sequence[float]) -> float:
    """Return the resistance of paths side by side that trade no heat with each other.

    Parameters
    ----------
    shares : sequence of float
        Share of the area of each path [0-1]; they sum to 1.
    resistances : sequence of float
        Resistance of each path, from air to air [m²·K/W], > 0.

    Returns
    -------
    float
        Resistance of them all [m²·K/W]: the upper limit of the true one.

    Raises
    ------
    OutOfRangeError
        If a resistance is not above zero.

    Notes
    -----
    ``1 / R = sum(f_i / R_i)`` [HOF2021]_.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 27.

    Examples
    --------
    An attic of which half has R-10 and half R-50 does not have R-30.

    >>> round(parallel_paths([0.5, 0.5], [10.0, 50.0]), 1)
    16.7
    """
    for resistance in resistances:
        if not resistance > 0.0:
            raise OutOfRangeError("resistance", resistance, 0.0, math.inf, "m²·K/W")
    return 1.0 / sum(
        share / resistance for share, resistance in zip(shares, resistances, strict=True)
    )


def isothermal_planes(
    whole: float, bridged: Sequence[tuple[Sequence[float], Sequence[float]]]
) -> float:
    """Return the resistance of layers in which heat spreads freely sideways.

    Parameters
    ----------
    whole : float
        Resistance of the layers without bridges and of the films [m²·K/W].
    bridged : sequence of (sequence of float, sequence of float)
        For each bridged layer the shares of its parts [0-1] and their resistances
        [m²·K/W].

    Returns
    -------
    float
        Resistance [m²·K/W]: the lower limit of the true one.

    Raises
    ------
    OutOfRangeError
        If a part of a bridged layer has no resistance above zero.

    Notes
    -----
    ``R = whole + sum over layers of 1 / sum(f_i / R_i)`` [HOF2021]_.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 27.

    Examples
    --------
    >>> round(isothermal_planes(6.11, [([0.75, 0.25], [13.0, 4.38])]), 2)
    14.82
    """
    return whole + sum(parallel_paths(shares, parts) for shares, parts in bridged)


def combined_resistance(upper: float, lower: float) -> float:
    """Return the mean of the upper and the lower limit of a resistance.

    Parameters
    ----------
    upper : float
        By parallel paths [m²·K/W].
    lower : float
        By isothermal planes [m²·K/W], above 0 and not above `upper`.

    Returns
    -------
    float
        Resistance [m²·K/W]; the true one is not further away than half their difference.

    Raises
    ------
    OutOfRangeError
        If the upper limit is more than 1.5 times the lower one: the method does not apply,
        compute the part with its sideways flow.

    Notes
    -----
    ``R = (R' + R'') / 2`` [ISO6946]_.

    References
    ----------
    .. [ISO6946] ISO 6946, combined method (recalled).

    Examples
    --------
    >>> round(combined_resistance(15.85, 14.82), 2)
    15.34
    """
    if not lower <= upper <= MOST_SPREAD * lower:
        raise OutOfRangeError("upper limit of the resistance", upper, lower, MOST_SPREAD * lower,
                              "m²·K/W")  # fmt: skip
    return 0.5 * (upper + lower)


def void_correction(level: VoidLevel, layer: float, total: float) -> float:
    """Return what air voids add to a transmittance.

    Parameters
    ----------
    level : VoidLevel
        How far the voids defeat the layer.
    layer : float
        Resistance of the layer that has the voids [m²·K/W], >= 0.
    total : float
        Resistance of the whole part from air to air, bridges left out [m²·K/W], > 0.

    Returns
    -------
    float
        To be added [W/(m²·K)].

    Raises
    ------
    OutOfRangeError
        If the layer resists more than the whole.

    Notes
    -----
    ``dU_g = dU'' (R_1 / R_T)²`` with 0, 0.01 and 0.04 W/(m²·K) for the three levels
    [ISO6946]_.

    References
    ----------
    .. [ISO6946] ISO 6946, correction for air voids (recalled).

    Examples
    --------
    >>> round(void_correction(VoidLevel.CIRCULATING, 2.5, 3.0), 5)
    0.02778
    """
    if not 0.0 <= layer <= total or total == 0.0:
        raise OutOfRangeError("resistance of the layer", layer, 0.0, total, "m²·K/W")
    return _VOID_TRANSMITTANCE[level] * (layer / total) ** 2


def corrected_transmittance(transmittance: float, correction: float) -> float:
    """Return a transmittance with its corrections, where they are worth it.

    Parameters
    ----------
    transmittance : float
        Without corrections [W/(m²·K)].
    correction : float
        Sum of all corrections [W/(m²·K)].

    Returns
    -------
    float
        [W/(m²·K)].

    Notes
    -----
    A correction below 3 % of the transmittance is left out [ISO6946]_.

    References
    ----------
    .. [ISO6946] ISO 6946 (the 3 % as quoted in a trade magazine).
    """
    if correction < WORTH_CORRECTING * transmittance:
        return transmittance
    return transmittance + correction
