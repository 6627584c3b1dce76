"""Size of both leaks of a zone from two readings with a known change between them.

Sources
-------
[SERIES] Mass balance of the zone before and after the change, power laws with an exponent
    for each side. For given exponents it is linear in the two leaks.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from rooftree.errors import OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import NDArray

Numbers: TypeAlias = "float | NDArray[np.float64]"
"""One number, or as many as were drawn."""


@dataclass(frozen=True, slots=True)
class Change:
    """What stood on both sides of a zone before and after something was opened.

    Attributes
    ----------
    house_before, house_after : float or ndarray
        Between house and zone [Pa].
    outdoors_before, outdoors_after : float or ndarray
        Between zone and outdoors [Pa].
    exponent, outdoor_exponent : float or ndarray
        Of the leak to the house and of that to outdoors [-].
    """

    house_before: Numbers
    house_after: Numbers
    outdoors_before: Numbers
    outdoors_after: Numbers
    exponent: Numbers
    outdoor_exponent: Numbers

    def turned(self) -> Change:
        """Return the same as it looks from outdoors."""
        return Change(
            self.outdoors_before,
            self.outdoors_after,
            self.house_before,
            self.house_after,
            self.outdoor_exponent,
            self.exponent,
        )


def leaks_by_hole(
    change: Change, flow_after: Numbers, flow_before: Numbers = 0.0
) -> tuple[Numbers, Numbers]:
    """Return both leaks of a zone from a measured hole between house and zone.

    Parameters
    ----------
    change : Change
        Pressures without and with the hole.
    flow_after : float or ndarray
        Flow through the hole, once open [m³/s].
    flow_before : float or ndarray
        Flow through a smaller hole that was already open [m³/s].

    Returns
    -------
    tuple
        Leakage coefficients house to zone and zone to outdoors [m³/(s·Paⁿ)].

    Notes
    -----
    Both times ``C_zo (T-P)^m = C_hz P^n + q`` [SERIES]_: two equations, linear in both.
    For a hole between zone and outdoors turn the change round.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    n, m = change.exponent, change.outdoor_exponent
    house_1, house_2 = np.power(change.house_before, n), np.power(change.house_after, n)
    out_1, out_2 = np.power(change.outdoors_before, m), np.power(change.outdoors_after, m)
    split = house_1 * out_2 - out_1 * house_2
    return (
        (out_1 * flow_after - out_2 * flow_before) / split,
        (house_1 * flow_after - house_2 * flow_before) / split,
    )


def leaks_by_flow(change: Change, flow_rise: Numbers) -> tuple[Numbers, Numbers]:
    """Return both leaks of a zone from what the fan gained when a hatch was opened.

    Parameters
    ----------
    change : Change
        Pressures with the hatch to the house shut and open.
    flow_rise : float or ndarray
        Flow of the fan with it open less that with it shut, at one house pressure [m³/s].

    Returns
    -------
    tuple
        Leakage coefficients house to zone and zone to outdoors [m³/(s·Paⁿ)].

    Notes
    -----
    ``C_zo = dQ / ((T-P2)^m - (T-P1)^m)`` [SERIES]_: what enters the house from the zone
    came into the zone from outdoors; ``C_hz`` then from the balance before. For a door
    between zone and outdoors turn the change round.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    m = change.outdoor_exponent
    before = np.power(change.outdoors_before, m)
    outdoors = flow_rise / (np.power(change.outdoors_after, m) - before)
    return outdoors * before / np.power(change.house_before, change.exponent), outdoors


def _require_pressures(before: float, after: float, whole: float) -> None:
    for name, pressure in (("before", before), ("after", after)):
        if not 0.0 < pressure < whole:
            raise OutOfRangeError(name, pressure, 0.0, whole, "Pa")


def _require_fall(before: float, after: float) -> None:
    if not after < before:
        raise OutOfRangeError("after", after, 0.0, before, "Pa")


def _require_rise(before: float, after: float) -> None:
    if not after > before:
        raise OutOfRangeError("after", after, before, math.inf, "Pa")


def _change(before: float, after: float, whole: float, n: float, m: float | None) -> Change:
    return Change(before, after, whole - before, whole - after, n, n if m is None else m)


def leaks_with_hole_to_house(
    before: float,
    after: float,
    flow_after: float,
    whole: float,
    exponent: float,
    *,
    flow_before: float = 0.0,
    outdoor_exponent: float | None = None,
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
        Of the leak between house and zone [-].
    flow_before : float
        Flow through a smaller hole that was already open at the pressure `before` [m³/s].
    outdoor_exponent : float or None
        Of the leak between zone and outdoors [-]; None for the same.

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
    :func:`leaks_by_hole`; without a hole before and with one exponent
    ``C_hz = q / (P1^n ((T-P2)/(T-P1))^n - P2^n)`` [SERIES]_.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    _require_pressures(before, after, whole)
    _require_fall(before, after)
    change = _change(before, after, whole, exponent, outdoor_exponent)
    house, outdoors = leaks_by_hole(change, flow_after, flow_before)
    return float(house), float(outdoors)


def leaks_with_hole_to_outdoors(
    before: float,
    after: float,
    flow_after: float,
    whole: float,
    exponent: float,
    *,
    flow_before: float = 0.0,
    outdoor_exponent: float | None = None,
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
        Of the leak between house and zone [-].
    flow_before : float
        Flow through a smaller hole that was already open, at ``whole - before`` [m³/s].
    outdoor_exponent : float or None
        Of the leak between zone and outdoors [-]; None for the same.

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
    :func:`leaks_by_hole` seen from outdoors; without a hole before and with one exponent
    ``C_zo = q / ((T-P1)^n (P2/P1)^n - (T-P2)^n)`` [SERIES]_.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    _require_pressures(before, after, whole)
    _require_rise(before, after)
    change = _change(before, after, whole, exponent, outdoor_exponent).turned()
    outdoors, house = leaks_by_hole(change, flow_after, flow_before)
    return float(house), float(outdoors)


def leaks_with_opened_hatch(
    before: float,
    after: float,
    flow_rise: float,
    whole: float,
    exponent: float,
    *,
    outdoor_exponent: float | None = None,
) -> tuple[float, float]:
    """Return both leaks of a zone from what the fan gained when a hatch was opened.

    Parameters
    ----------
    before, after : float
        Between house and zone, hatch shut and open [Pa]; `after` may be 0, as with a door
        wide open.
    flow_rise : float
        Flow of the fan with the hatch open less that with it shut [m³/s]; the size of
        the hatch is not needed.
    whole : float
        Between house and outdoors, both times [Pa].
    exponent : float
        Of the leak between house and zone [-].
    outdoor_exponent : float or None
        Of the leak between zone and outdoors [-]; None for the same.

    Returns
    -------
    tuple of float
        Leakage coefficients house to zone and zone to outdoors [m³/(s·Paⁿ)].

    Raises
    ------
    OutOfRangeError
        If a pressure is not between 0 and the whole, or did not fall.

    Notes
    -----
    :func:`leaks_by_flow` [SERIES]_.

    References
    ----------
    .. [SERIES] Mass balance of the zone.
    """
    if not 0.0 < before < whole:
        raise OutOfRangeError("before", before, 0.0, whole, "Pa")
    if not 0.0 <= after < before:
        raise OutOfRangeError("after", after, 0.0, before, "Pa")
    change = _change(before, after, whole, exponent, outdoor_exponent)
    house, outdoors = leaks_by_flow(change, flow_rise)
    return float(house), float(outdoors)
