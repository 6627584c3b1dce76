"""How one pressure divides a path of two leaks: house to zone, zone to outdoors.

Sources
-------
[SERIES] One flow through two leaks in series, each a power law with its own exponent. The
    method in use: M. Fitzgerald, R. Nevitt, M. Blasnik, Home Energy, September 1994.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.physics.openings import opening_area

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

REFERENCE = 50.0
"""House pressure at which leaks are stated as flows [Pa]."""

MOST_STEPS = 40
"""Newton steps after which the balance is given up; seven are the most that were needed."""


def _require_between(pressure: float, whole: float) -> None:
    if not 0.0 < pressure < whole:
        raise OutOfRangeError("pressure", pressure, 0.0, whole, "Pa")


def leakage_ratio(
    pressure: float, whole: float, exponent: float, outdoor_exponent: float | None = None
) -> float:
    """Return the zone's leakage to outdoors over its leakage to the house.

    Parameters
    ----------
    pressure : float
        Between house and zone [Pa], above 0 and below `whole`.
    whole : float
        Between house and outdoors [Pa].
    exponent : float
        Of the leak between house and zone [-], 0.5 to 1.
    outdoor_exponent : float or None
        Of the leak between zone and outdoors [-]; None for the same.

    Returns
    -------
    float
        Ratio of the flows that the two leaks would pass at 50 Pa [-]; of the leakage
        coefficients where the exponents are one.

    Raises
    ------
    OutOfRangeError
        If the pressure is not strictly between 0 and the whole.

    Notes
    -----
    ``(P / 50)^n / ((T - P) / 50)^m`` [SERIES]_, that is ``(P / (T - P))^n`` for one
    exponent: the ratio only; the size of either leak needs a second reading with
    something changed.

    References
    ----------
    .. [SERIES] Mass balance of the zone.

    Examples
    --------
    >>> round(leakage_ratio(40.0, 50.0, 0.65), 2)
    2.46
    >>> round(leakage_ratio(40.0, 50.0, 0.65, 0.5), 2)
    1.93
    """
    _require_between(pressure, whole)
    other = exponent if outdoor_exponent is None else outdoor_exponent
    return math.pow(pressure / REFERENCE, exponent) / math.pow(
        (whole - pressure) / REFERENCE, other
    )


def divide_pressure(
    ratio: ArrayLike,
    whole: ArrayLike,
    exponent: ArrayLike,
    outdoor_exponent: ArrayLike,
) -> NDArray[np.float64]:
    """Return the pressure between house and zone at which the zone's air balances.

    Parameters
    ----------
    ratio : array_like
        Zone to outdoors over house to zone, flows at 50 Pa [-], > 0.
    whole : array_like
        Between house and outdoors [Pa], > 0.
    exponent : array_like
        Of the leak between house and zone [-].
    outdoor_exponent : array_like
        Of the leak between zone and outdoors [-].

    Returns
    -------
    ndarray
        [Pa], above 0 and below `whole`.

    Raises
    ------
    OutOfRangeError
        If a ratio or a pressure is not above zero.

    Notes
    -----
    Inverse of :func:`leakage_ratio`. Newton's method in ``y`` with
    ``P = T / (1 + exp(-y))``: the logarithm of the balance then has a slope between the two
    exponents everywhere, so that it has one answer and each step closes in on it.

    Examples
    --------
    >>> float(divide_pressure(3.0, 50.0, 0.65, 0.65).round(3))
    42.212
    """
    r, t, n, m = np.broadcast_arrays(
        *(np.asarray(a, dtype=np.float64) for a in (ratio, whole, exponent, outdoor_exponent))
    )
    for name, unit, values in (("ratio", "-", r), ("whole", "Pa", t)):
        if not np.all(values > 0.0):
            raise OutOfRangeError(name, float(values.min()), 0.0, math.inf, unit)
    wanted = np.log(r) - (n - m) * np.log(t / REFERENCE)
    y = wanted / n
    for _ in range(MOST_STEPS):
        share = 1.0 / (1.0 + np.exp(-y))
        miss = wanted + n * np.logaddexp(0.0, -y) - m * np.logaddexp(0.0, y)
        step = miss / (n * (1.0 - share) + m * share)
        y = y + step
        if np.max(np.abs(step), initial=0.0) < 1e-12:
            break
    return np.asarray(t / (1.0 + np.exp(-y)), dtype=np.float64)


def path_share(
    pressure: float, whole: float, exponent: float, outdoor_exponent: float | None = None
) -> float:
    """Return the flow through the zone over what its house side alone would pass.

    Parameters
    ----------
    pressure : float
        Between house and zone [Pa], above 0 and below `whole`.
    whole : float
        Between house and outdoors [Pa].
    exponent : float
        Of the leak between house and zone [-], 0.5 to 1.
    outdoor_exponent : float or None
        Of the leak between zone and outdoors [-]; None for the same.

    Returns
    -------
    float
        Share at 50 Pa [0-1]: 1 for a zone as open as outdoors, 0 for one that is as good
        as inside. Sealing the house side can take away that share of its leakage at most.

    Raises
    ------
    OutOfRangeError
        If the pressure is not strictly between 0 and the whole.

    Notes
    -----
    ``(P / T)^n`` [SERIES]_; with two exponents the pressure that the zone would have in a
    house at 50 Pa stands for ``P``.

    References
    ----------
    .. [SERIES] Mass balance of the zone.

    Examples
    --------
    >>> round(path_share(40.0, 50.0, 0.65), 3)
    0.865
    """
    _require_between(pressure, whole)
    other = exponent if outdoor_exponent is None else outdoor_exponent
    if whole == REFERENCE or other == exponent:
        return math.pow(pressure / whole, exponent)
    ratio = leakage_ratio(pressure, whole, exponent, other)
    at_50 = float(divide_pressure(ratio, REFERENCE, exponent, other))
    return math.pow(at_50 / REFERENCE, exponent)


def hole_to_open(
    pressure: float,
    target: float,
    whole: float,
    exponent: float,
    house_side: float,
    outdoor_exponent: float | None = None,
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
        Of the leak between house and zone [-], 0.5 to 1.
    house_side : float
        Guess of the leakage coefficient between house and zone [m³/(s·Paⁿ)].
    outdoor_exponent : float or None
        Of the leak between zone and outdoors [-]; None for the same.

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
    _require_between(pressure, whole)
    _require_between(target, whole)
    other = exponent if outdoor_exponent is None else outdoor_exponent
    flow_now = house_side * math.pow(pressure, exponent)
    to_outdoors = flow_now * math.pow((whole - target) / (whole - pressure), other)
    surplus = to_outdoors - house_side * math.pow(target, exponent)
    across = target if target < pressure else whole - target
    return opening_area(abs(surplus), across)
