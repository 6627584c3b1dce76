"""Moist air for whole years at once: the equations of :mod:`.air` and :mod:`.dew_point`.

The scalar functions refuse what is out of range; these are for results of a simulation,
whose range is known, and take arrays of any shape.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, eq. 5, 6, 20 and 22.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.air import MOLAR_MASS_RATIO, TRIPLE_POINT

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)

DRIEST = 1.0
"""Vapor pressure that stands for air without any vapor, so that it has a dew point [Pa]."""


def saturation_pressures(temperature: ArrayLike) -> NDArray[np.float64]:
    """Return the vapor pressure of saturated air over ice or water.

    Parameters
    ----------
    temperature : array_like
        Dry bulb, 173.15 to 473.15 [K].

    Returns
    -------
    ndarray
        Saturation vapor pressure [Pa], of the same shape.

    Notes
    -----
    Equations 5 and 6 of [HOF2017]_, as in :func:`rooftree.physics.air.saturation_pressure`.

    References
    ----------
    [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, eq. 5 and 6.

    Examples
    --------
    >>> saturation_pressures([263.15, 298.15]).round(1).tolist()
    [259.9, 3169.2]
    """
    t = np.asarray(temperature, dtype=float)
    logarithm = np.atleast_1d(_logarithm(t, _WATER))
    frozen = np.atleast_1d(t <= TRIPLE_POINT)
    logarithm[frozen] = _logarithm(np.atleast_1d(t)[frozen], _ICE)
    return np.asarray(np.exp(logarithm).reshape(t.shape))


def _logarithm(t: NDArray[np.float64], terms: tuple[float, ...]) -> NDArray[np.float64]:
    over, constant, first, second, third, fourth, logarithm = terms
    powers = constant + t * (first + t * (second + t * (third + t * fourth)))
    return np.asarray(over / t + powers + logarithm * np.log(t))


def vapor_pressures(humidity_ratio: ArrayLike, pressure: ArrayLike) -> NDArray[np.float64]:
    """Return the vapor pressure of air by the vapor that it carries.

    Parameters
    ----------
    humidity_ratio : array_like
        Vapor per dry air [kg/kg], >= 0.
    pressure : array_like
        Barometric pressure [Pa].

    Returns
    -------
    ndarray
        Vapor pressure [Pa].

    Notes
    -----
    Equation 20 of [HOF2017]_, solved for the vapor pressure.

    References
    ----------
    [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, eq. 20.

    Examples
    --------
    >>> round(float(vapor_pressures(0.00726, 101325.0)))
    1169
    """
    ratio = np.asarray(humidity_ratio, dtype=float)
    return np.asarray(np.asarray(pressure, dtype=float) * ratio / (MOLAR_MASS_RATIO + ratio))


def dew_points(vapor_pressure: ArrayLike) -> NDArray[np.float64]:
    """Return the temperature at which air with this vapor pressure is saturated.

    Parameters
    ----------
    vapor_pressure : array_like
        Vapor pressure, up to 100 000 [Pa]; below 1 Pa as at 1 Pa.

    Returns
    -------
    ndarray
        Dew point; below the triple point the frost point [K].

    Notes
    -----
    Read off :func:`saturation_pressures` at steps of 0.05 K, straight in the logarithm
    between them: within 1e-4 K of the exact inverse.

    Examples
    --------
    >>> dew_points([1168.5, 259.9]).round(2).tolist()
    [282.41, 263.15]
    """
    return np.asarray(np.interp(np.log(np.maximum(vapor_pressure, DRIEST)), _LOGARITHMS, _GRID))


_GRID = np.arange(205.0, 373.0, 0.05)
_LOGARITHMS = np.log(saturation_pressures(_GRID))
