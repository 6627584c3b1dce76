"""How the air handler changes the flow that holds a house at a pressure.

Sources
-------
[DELTAQ] Walker, Sherman and Dickerhoff, delta-Q method (LBNL; ASTM E1554 method A), re-derived
    from the power law of the leaks (recalled).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


def signed_power(pressure: ArrayLike, exponent: float) -> NDArray[np.float64]:
    """Return a power that keeps the sign of its base.

    Parameters
    ----------
    pressure : array_like
        Pressure over a pressure, or a pressure [-] or [Pa].
    exponent : float
        [-].

    Returns
    -------
    ndarray
    """
    p = np.asarray(pressure, dtype=np.float64)
    return np.asarray(np.sign(p) * np.power(np.abs(p), exponent))


def supply_factor(
    house_pressure: ArrayLike, duct_pressure: float, exponent: float
) -> NDArray[np.float64]:
    """Return what a supply leak adds to the fan's flow, over the leak itself.

    Parameters
    ----------
    house_pressure : array_like
        House with reference to outdoors, signed [Pa].
    duct_pressure : float
        Supply ducts above the house while the air handler runs [Pa], > 0.
    exponent : float
        Of the leak [-].

    Returns
    -------
    ndarray
        [-]; 1 at a house pressure of 0.

    Notes
    -----
    ``(1 + P/dPs)^n - (P/dPs)^n`` [DELTAQ]_: with the air handler off the leak is part of the
    enclosure.

    References
    ----------
    .. [DELTAQ] ASTM E1554 method A (recalled).
    """
    p = np.asarray(house_pressure, dtype=np.float64) / duct_pressure
    return signed_power(1.0 + p, exponent) - signed_power(p, exponent)


def return_factor(
    house_pressure: ArrayLike, duct_pressure: float, exponent: float
) -> NDArray[np.float64]:
    """Return what a return leak takes off the fan's flow, over the leak itself.

    Parameters
    ----------
    house_pressure : array_like
        House with reference to outdoors, signed [Pa].
    duct_pressure : float
        Return ducts below the house while the air handler runs [Pa], > 0.
    exponent : float
        Of the leak [-].

    Returns
    -------
    ndarray
        [-]; 1 at a house pressure of 0.

    Notes
    -----
    ``(1 - P/dPr)^n + (P/dPr)^n`` [DELTAQ]_.

    References
    ----------
    .. [DELTAQ] ASTM E1554 method A (recalled).
    """
    p = np.asarray(house_pressure, dtype=np.float64) / duct_pressure
    return signed_power(1.0 - p, exponent) + signed_power(p, exponent)


def delta_q(
    house_pressure: ArrayLike,
    supply_leakage: float,
    return_leakage: float,
    supply_pressure: float,
    return_pressure: float,
    exponent: float = 0.6,
) -> NDArray[np.float64]:
    """Return the fan's flow with the air handler on less that with it off.

    Parameters
    ----------
    house_pressure : array_like
        House with reference to outdoors, signed [Pa].
    supply_leakage, return_leakage : float
        To outdoors while the air handler runs [m³/s].
    supply_pressure, return_pressure : float
        Of the ducts with reference to the house, without sign [Pa], > 0.
    exponent : float
        Of the leaks [-].

    Returns
    -------
    ndarray
        [m³/s]; flow into the house is positive.

    Notes
    -----
    ``Qs [(1+P/dPs)^n - (P/dPs)^n] - Qr [(1-P/dPr)^n + (P/dPr)^n]`` [DELTAQ]_.

    References
    ----------
    .. [DELTAQ] ASTM E1554 method A (recalled).

    Examples
    --------
    >>> float(delta_q(0.0, 120.0, 80.0, 40.0, 60.0))
    40.0
    """
    out = supply_leakage * supply_factor(house_pressure, supply_pressure, exponent)
    back = return_leakage * return_factor(house_pressure, return_pressure, exponent)
    return np.asarray(out - back)
