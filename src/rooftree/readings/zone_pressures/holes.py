"""Size of both leaks of a zone from two readings with a known change between them.

Sources
-------
[SERIES] Mass balance of the zone before and after the change, power laws of one exponent.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError


def _require_pressures(before: float, after: float, whole: float) -> None:
    for name, pressure in (("before", before), ("after", after)):
        if not 0.0 < pressure < whole:
            raise OutOfRangeError(name, pressure, 0.0, whole, "Pa")


def _require_change(before: float, after: float, *, falls: bool) -> None:
    if not (after < before if falls else after > before):
        low, high = (0.0, before) if falls else (before, math.inf)
        raise OutOfRangeError("after", after, low, high, "Pa")


def leaks_with_hole_to_house(
    before: float,
    after: float,
    flow_after: float,
    whole: float,
    exponent: float,
    *,
    flow_before: float = 0.0,
) -> tuple[float, float]:
    """Return both leaks of a zone from a measured hole between house and zone.

    Parameters
    ----------
    before, after : float
        Between house and zone, without and with the hole [Pa].
    flow_after : float
        Flow through the hole at the pressure `after` [m³/s].
    whole : float
        Between house and outdoors, both times [Pa].
    exponent : float
        Of both leaks [-].
    flow_before : float
        Flow through a smaller hole that was already open at the pressure `before` [m³/s].

    Returns
    -------
    tuple of float
        Leakage coefficients house to zone and zone to outdoors [m³/(s·Paⁿ)].

    Raises
    ------
    OutOfRangeError
        If a pressure is not strictly between 0 and the whole, or did not fall.

    Notes
    -----
    Both times ``C_zo (T-P)^n = C_hz P^n + q`` [SERIES]_; without a hole before,
    ``C_hz = q / (P1^n ((T-P2)/(T-P1))^n - P2^n)``.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    _require_pressures(before, after, whole)
    _require_change(before, after, falls=True)
    house_1, house_2 = math.pow(before, exponent), math.pow(after, exponent)
    out_1, out_2 = math.pow(whole - before, exponent), math.pow(whole - after, exponent)
    split = house_1 * out_2 - out_1 * house_2
    house = (out_1 * flow_after - out_2 * flow_before) / split
    outdoors = (house_1 * flow_after - house_2 * flow_before) / split
    return house, outdoors


def leaks_with_hole_to_outdoors(
    before: float,
    after: float,
    flow_after: float,
    whole: float,
    exponent: float,
    *,
    flow_before: float = 0.0,
) -> tuple[float, float]:
    """Return both leaks of a zone from a measured hole between zone and outdoors.

    Parameters
    ----------
    before, after : float
        Between house and zone, without and with the hole [Pa].
    flow_after : float
        Flow through the hole at the pressure ``whole - after`` [m³/s].
    whole : float
        Between house and outdoors, both times [Pa].
    exponent : float
        Of both leaks [-].
    flow_before : float
        Flow through a smaller hole that was already open, at ``whole - before`` [m³/s].

    Returns
    -------
    tuple of float
        Leakage coefficients house to zone and zone to outdoors [m³/(s·Paⁿ)].

    Raises
    ------
    OutOfRangeError
        If a pressure is not strictly between 0 and the whole, or did not rise.

    Notes
    -----
    Both times ``C_hz P^n = C_zo (T-P)^n + q`` [SERIES]_; without a hole before,
    ``C_zo = q / ((T-P1)^n (P2/P1)^n - (T-P2)^n)``. It is the other formula seen from
    outdoors.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    _require_pressures(before, after, whole)
    _require_change(before, after, falls=False)
    outdoors, house = leaks_with_hole_to_house(
        whole - before, whole - after, flow_after, whole, exponent, flow_before=flow_before
    )
    return house, outdoors


def leaks_with_opened_hatch(
    before: float, after: float, flow_rise: float, whole: float, exponent: float
) -> tuple[float, float]:
    """Return both leaks of a zone from what the fan gained when a hatch was opened.

    Parameters
    ----------
    before, after : float
        Between house and zone, hatch shut and open [Pa].
    flow_rise : float
        Flow of the fan with the hatch open less that with it shut [m³/s]; the size of
        the hatch is not needed.
    whole : float
        Between house and outdoors, both times [Pa].
    exponent : float
        Of both leaks [-].

    Returns
    -------
    tuple of float
        Leakage coefficients house to zone and zone to outdoors [m³/(s·Paⁿ)].

    Raises
    ------
    OutOfRangeError
        If a pressure is not strictly between 0 and the whole, or did not fall.

    Notes
    -----
    ``C_zo = dQ / ((T-P2)^n - (T-P1)^n)`` [SERIES]_: what enters the house from the zone
    came into the zone from outdoors.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    _require_pressures(before, after, whole)
    _require_change(before, after, falls=True)
    gained = math.pow(whole - after, exponent) - math.pow(whole - before, exponent)
    outdoors = flow_rise / gained
    return outdoors * math.pow((whole - before) / before, exponent), outdoors
