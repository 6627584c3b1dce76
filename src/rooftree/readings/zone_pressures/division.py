"""How one pressure divides a path of two leaks: house to zone, zone to outdoors.

Sources
-------
[SERIES] One flow through two leaks in series, each a power law of one exponent. The
    method in use: M. Fitzgerald, R. Nevitt, M. Blasnik, Home Energy, September 1994.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError
from rooftree.physics.openings import opening_area


def _require_between(pressure: float, whole: float) -> None:
    if not 0.0 < pressure < whole:
        raise OutOfRangeError("pressure", pressure, 0.0, whole, "Pa")


def leakage_ratio(pressure: float, whole: float, exponent: float) -> float:
    """Return the zone's leakage to outdoors over its leakage to the house.

    Parameters
    ----------
    pressure : float
        Between house and zone [Pa], above 0 and below `whole`.
    whole : float
        Between house and outdoors [Pa].
    exponent : float
        Of both leaks [-], 0.5 to 1.

    Returns
    -------
    float
        Ratio of the leakage coefficients [-].

    Raises
    ------
    OutOfRangeError
        If the pressure is not strictly between 0 and the whole.

    Notes
    -----
    ``(P / (T - P))^n`` [SERIES]_: the ratio only; the size of either leak needs a
    second reading with something changed.

    References
    ----------
    .. [SERIES] Mass balance of the zone.

    Examples
    --------
    >>> round(leakage_ratio(40.0, 50.0, 0.65), 2)
    2.46
    """
    _require_between(pressure, whole)
    return math.pow(pressure / (whole - pressure), exponent)


def path_share(pressure: float, whole: float, exponent: float) -> float:
    """Return the flow through the zone over what its house side alone would pass.

    Parameters
    ----------
    pressure : float
        Between house and zone [Pa], above 0 and below `whole`.
    whole : float
        Between house and outdoors [Pa].
    exponent : float
        Of both leaks [-], 0.5 to 1.

    Returns
    -------
    float
        Share [0-1]: 1 for a zone as open as outdoors, 0 for one that is as good as
        inside. Sealing the house side can take away that share of its leakage at most.

    Raises
    ------
    OutOfRangeError
        If the pressure is not strictly between 0 and the whole.

    Notes
    -----
    ``(P / T)^n`` [SERIES]_.

    References
    ----------
    .. [SERIES] Mass balance of the zone.

    Examples
    --------
    >>> round(path_share(40.0, 50.0, 0.65), 3)
    0.865
    """
    _require_between(pressure, whole)
    return math.pow(pressure / whole, exponent)


def hole_to_open(
    pressure: float, target: float, whole: float, exponent: float, house_side: float
) -> float:
    """Return the hole that would bring a zone's pressure to where it can be read.

    Parameters
    ----------
    pressure : float
        Between house and zone now [Pa], above 0 and below `whole`.
    target : float
        Wanted between house and zone [Pa]: below `pressure` the hole goes between house
        and zone, above it between zone and outdoors.
    whole : float
        Between house and outdoors [Pa].
    exponent : float
        Of both leaks [-], 0.5 to 1.
    house_side : float
        Guess of the leakage coefficient between house and zone [m³/(s·Paⁿ)].

    Returns
    -------
    float
        Area of the hole [m²].

    Raises
    ------
    OutOfRangeError
        If a pressure is not strictly between 0 and the whole.

    Notes
    -----
    Mass balance of the zone with the hole open [SERIES]_.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    _require_between(target, whole)
    outdoor_side = house_side * leakage_ratio(pressure, whole, exponent)
    surplus = outdoor_side * math.pow(whole - target, exponent) - house_side * math.pow(
        target, exponent
    )
    across = target if target < pressure else whole - target
    return opening_area(abs(surplus), across)
