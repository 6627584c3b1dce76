"""AIM-2, the Alberta infiltration model: stack, flue and wind through the leaks of one zone.

Sources
-------
[WALKER1998] I. Walker, D. Wilson, "Field validation of algebraic equations for stack and
    wind driven air infiltration calculations", HVAC&R Research 4(2), 1998. Stack, flue,
    slab wind factor and superposition as quoted in documents that cite it; crawlspace
    wind factor, shelter mix and eave wind recalled.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.physics.infiltration import GRAVITY, HANDBOOK_DENSITY, Infiltration

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.physics.infiltration import Foundation

WIND_STACK_INTERACTION = -1.0 / 3.0
"""Coefficient of the cross term when wind and stack are added [-]."""


@dataclass(frozen=True, slots=True)
class LeakDistribution:
    """Where the leaks of a house are.

    Attributes
    ----------
    exponent : float
        Pressure exponent [-], 0.5 to 1.
    ceiling_and_floor : float
        Share of the leakage coefficient in ceiling and floor together [0-1]; R.
    ceiling_less_floor : float
        Share in the ceiling less share in the floor [-]; X, at most R in size.
    flue : float
        Share of an open flue in the whole [0-1]; Y.
    flue_height_ratio : float
        Height of the flue's top over the height of the ceiling [-], >= 1.
    foundation : {"slab", "crawlspace"}
        Slab stands for basements too.
    """

    exponent: float
    ceiling_and_floor: float
    ceiling_less_floor: float = 0.0
    flue: float = 0.0
    flue_height_ratio: float = 1.5
    foundation: Foundation = "slab"

    def __post_init__(self) -> None:
        """Refuse shares that cannot be.

        Raises
        ------
        OutOfRangeError
            If a share, the exponent or the flue's height is out of range.
        """
        both = self.ceiling_and_floor
        for name, value, low, high in (
            ("exponent", self.exponent, 0.5, 1.0),
            ("ceiling_and_floor", both, 0.0, 1.0),
            ("ceiling_less_floor", self.ceiling_less_floor, -both, both),
            ("flue", self.flue, 0.0, 1.0 - both),
            ("flue_height_ratio", self.flue_height_ratio, 1.0, math.inf),
        ):
            if not low <= value <= high:
                raise OutOfRangeError(name, value, low, high, "-")


def aim2_stack_factor(leaks: LeakDistribution) -> float:
    """Return the stack factor of AIM-2.

    Parameters
    ----------
    leaks : LeakDistribution
        Where the leaks are.

    Returns
    -------
    float
        Share of the leakage coefficient that the stack drives [-].

    Notes
    -----
    ``(1+nR)/(n+1) (1/2 - 1/2 M^(5/4))^(n+1) + F`` [WALKER1998]_ with
    ``M = min(1, (X + (2n+1) Y)² / (2-R))`` and, for the flue,
    ``F = n Y (B-1)^(n-1/3) (1 - 3 (Xc-X)² R^(1-n) / (2 (B+1)))``.

    References
    ----------
    .. [WALKER1998] I. Walker, D. Wilson, HVAC&R Research 4(2), 1998.

    Examples
    --------
    >>> round(aim2_stack_factor(LeakDistribution(0.67, 0.5)), 4)
    0.2512
    """
    n, r, x, y = leaks.exponent, leaks.ceiling_and_floor, leaks.ceiling_less_floor, leaks.flue
    m = min(1.0, (x + (2.0 * n + 1.0) * y) ** 2 / (2.0 - r))
    body = (1.0 + n * r) / (n + 1.0) * math.pow(0.5 - 0.5 * math.pow(m, 1.25), n + 1.0)
    return body + _flue_factor(leaks)


def _flue_factor(leaks: LeakDistribution) -> float:
    n, r, x, y = leaks.exponent, leaks.ceiling_and_floor, leaks.ceiling_less_floor, leaks.flue
    above = leaks.flue_height_ratio - 1.0
    if y == 0.0 or above == 0.0:
        return 0.0
    critical = r + 2.0 * (1.0 - r - y) / (n + 1.0) - 2.0 * y * math.pow(above, n)
    loss = 3.0 * (critical - x) ** 2 * math.pow(r, 1.0 - n) / (2.0 * (above + 2.0))
    return n * y * math.pow(above, n - 1.0 / 3.0) * (1.0 - loss)


def aim2_wind_factor(leaks: LeakDistribution) -> float:
    """Return the wind factor of AIM-2.

    Parameters
    ----------
    leaks : LeakDistribution
        Where the leaks are.

    Returns
    -------
    float
        Share of the leakage coefficient that the wind drives [-].

    Notes
    -----
    Slab or basement: ``0.19 (2-n) (1 - ((X+R)/2)^(3/2-Y)) - Y/4 (J - 2 Y J⁴)`` with
    ``J = (X + R + 2Y)/2`` [WALKER1998]_. Crawlspace (recalled): ``0.19 (2-n) X* R* Y*``.

    References
    ----------
    .. [WALKER1998] I. Walker, D. Wilson, HVAC&R Research 4(2), 1998.

    Examples
    --------
    >>> round(aim2_wind_factor(LeakDistribution(0.67, 0.5)), 4)
    0.2211
    """
    n, r, x, y = leaks.exponent, leaks.ceiling_and_floor, leaks.ceiling_less_floor, leaks.flue
    if leaks.foundation == "slab":
        j = 0.5 * (x + r + 2.0 * y)
        ceiling = math.pow(0.5 * (x + r), 1.5 - y)
        return 0.19 * (2.0 - n) * (1.0 - ceiling) - 0.25 * y * (j - 2.0 * y * math.pow(j, 4))
    shift = (1.0 - r) / 5.0 - 1.5 * y
    across = 1.0 - math.pow(((x - shift) / (2.0 - r)) ** 2, 0.75)
    return 0.19 * (2.0 - n) * across * (1.0 - r * (0.5 * n + 0.2)) * (1.0 - 0.25 * y)


def aim2_shelter(walls: float, flue_share: float, flue_top: float = 1.0) -> float:
    """Return the shelter factor of a house with a flue.

    Parameters
    ----------
    walls : float
        Share of the wind that reaches the walls [0-1].
    flue_share : float
        Share of the flue in the whole leakage [0-1].
    flue_top : float
        Share of the wind that reaches the flue's top [0-1].

    Returns
    -------
    float
        Factor on the wind at the eaves [-].

    Notes
    -----
    ``S (1-Y) + 1.5 Y S_flue`` [WALKER1998]_, recalled; 1.5 for the wind above the roof.

    References
    ----------
    .. [WALKER1998] I. Walker, D. Wilson, HVAC&R Research 4(2), 1998.

    Examples
    --------
    >>> round(aim2_shelter(0.7, 0.2), 2)
    0.86
    """
    return walls * (1.0 - flue_share) + 1.5 * flue_share * flue_top


def aim2_eave_wind(station_wind: ArrayLike, height: float) -> NDArray[np.float64]:
    """Return the wind at the eaves of a suburban house.

    Parameters
    ----------
    station_wind : array_like
        At an open station, 10 m above the ground [m/s].
    height : float
        Of the eaves [m], > 0.

    Returns
    -------
    ndarray
        Wind speed before any shelter [m/s].

    Notes
    -----
    ``U (80/10)^0.15 (H/80)^0.3`` [WALKER1998]_, recalled; it gives the handbook's 0.48,
    0.59 and 0.67 for 2.5, 5 and 7.5 m.

    References
    ----------
    .. [WALKER1998] I. Walker, D. Wilson, HVAC&R Research 4(2), 1998.

    Examples
    --------
    >>> round(float(aim2_eave_wind(4.0, 2.5)), 3)
    1.932
    """
    ratio = math.pow(80.0 / 10.0, 0.15) * math.pow(height / 80.0, 0.3)
    return np.asarray(station_wind, dtype=np.float64) * ratio


def aim2_superposition(stack: ArrayLike, wind: ArrayLike, exponent: float) -> NDArray[np.float64]:
    """Return the flow that wind and stack drive together.

    Parameters
    ----------
    stack, wind : array_like
        Flow that each would drive alone [m³/s], >= 0.
    exponent : float
        Pressure exponent [-].

    Returns
    -------
    ndarray
        Flow [m³/s].

    Notes
    -----
    ``(Qs^(1/n) + Qw^(1/n) - 1/3 (Qs Qw)^(1/(2n)))^n`` [WALKER1998]_.

    References
    ----------
    .. [WALKER1998] I. Walker, D. Wilson, HVAC&R Research 4(2), 1998.
    """
    one = np.asarray(stack, dtype=np.float64)
    other = np.asarray(wind, dtype=np.float64)
    cross = WIND_STACK_INTERACTION * (one * other) ** (0.5 / exponent)
    return np.asarray((one ** (1.0 / exponent) + other ** (1.0 / exponent) + cross) ** exponent)


def aim2_infiltration(
    coefficient: float,
    leaks: LeakDistribution,
    height: float,
    indoor_temperature: ArrayLike,
    outdoor_temperature: ArrayLike,
    eave_wind: ArrayLike,
    *,
    shelter: float,
    density: ArrayLike = HANDBOOK_DENSITY,
) -> Infiltration:
    """Return the infiltration of a house by AIM-2.

    Parameters
    ----------
    coefficient : float
        Leakage coefficient of the house, flue included [m³/(s·Paⁿ)], >= 0.
    leaks : LeakDistribution
        Where the leaks are, and their exponent.
    height : float
        Of the ceiling above the floor [m], > 0.
    indoor_temperature, outdoor_temperature : array_like
        Temperatures [K].
    eave_wind : array_like
        Wind at the eaves before any shelter [m/s].
    shelter : float
        Share of that wind that reaches the house [-].
    density : array_like
        Density of outdoor air [kg/m³].

    Returns
    -------
    Infiltration

    Raises
    ------
    OutOfRangeError
        If the coefficient is negative or the height not positive.

    Notes
    -----
    ``Qs = C f_s (rho g H |Ti-To|/Ti)^n``, ``Qw = C f_w (rho (S U)²/2)^n`` [WALKER1998]_.
    Measured against more than 3400 hours: within 15 % where wind dominates, 7 % where
    the stack does.

    References
    ----------
    .. [WALKER1998] I. Walker, D. Wilson, HVAC&R Research 4(2), 1998.
    """
    if not 0.0 <= coefficient < math.inf:
        raise OutOfRangeError("coefficient", coefficient, 0.0, math.inf, "m³/(s·Paⁿ)")
    if not 0.0 < height < math.inf:
        raise OutOfRangeError("height", height, 0.0, math.inf, "m")
    inside = np.asarray(indoor_temperature, dtype=np.float64)
    outside = np.asarray(outdoor_temperature, dtype=np.float64)
    weight = np.asarray(density, dtype=np.float64)
    lift = weight * GRAVITY * height * np.abs(inside - outside) / inside
    push = 0.5 * weight * (shelter * np.asarray(eave_wind, dtype=np.float64)) ** 2
    stack = coefficient * aim2_stack_factor(leaks) * lift**leaks.exponent
    wind = coefficient * aim2_wind_factor(leaks) * push**leaks.exponent
    both = aim2_superposition(stack, wind, leaks.exponent)
    return Infiltration(np.asarray(stack), np.asarray(wind), both)
