"""Moisture of outdoor air, for whole columns of hours.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, "Psychrometrics".
[WMO8] World Meteorological Organization, "Guide to Meteorological Instruments and Methods
    of Observation", WMO-No. 8, 2008, annex 4.B.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import MOLAR_MASS_RATIO, saturation_pressure
from rooftree.physics.dew_point import dew_point

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.weather.year import WeatherYear

_FREEZING = 273.15


def vapor_pressure(dew_point: ArrayLike) -> NDArray[np.float64]:
    """Return the pressure of the water vapor in air with this dew point.

    Parameters
    ----------
    dew_point : array_like
        Dew-point temperature, over ice below the triple point, 173.15 to 473.15 [K].

    Returns
    -------
    ndarray
        Vapor pressure [Pa].
    """
    # Files give tenths of a degree: a year holds a few hundred distinct values.
    distinct, place = np.unique(np.asarray(dew_point, dtype=float), return_inverse=True)
    return np.array([saturation_pressure(float(t)) for t in distinct])[place]


def saturation_over_water(temperature: ArrayLike) -> NDArray[np.float64]:
    """Return the vapor pressure at saturation over water, below freezing too.

    Parameters
    ----------
    temperature : array_like
        Temperature, 228.15 to 333.15 [K].

    Returns
    -------
    ndarray
        Vapor pressure [Pa].

    Raises
    ------
    OutOfRangeError
        If a temperature lies outside the range that the equation covers.

    Notes
    -----
    ``611.2 exp(17.62 t / (243.12 + t))`` in °C [WMO8]_ (recalled). Weather services report
    relative humidity over water at every temperature, and hygrometers are calibrated so: air
    that is saturated over ice shows 82 % at -20 °C. Above freezing it is within 0.2 % of
    :func:`rooftree.physics.air.saturation_pressure`.

    References
    ----------
    [WMO8] World Meteorological Organization, WMO-No. 8, 2008, annex 4.B.

    Examples
    --------
    >>> saturation_over_water([253.15, 293.15]).round(1).tolist()
    [126.0, 2332.6]
    """
    celsius = np.asarray(temperature, dtype=np.float64) - 273.15
    odd = ~((celsius >= -45.0) & (celsius <= 60.0))
    if odd.any():
        raise OutOfRangeError("temperature", float(celsius[odd].flat[0]), -45.0, 60.0, "°C")
    return np.asarray(611.2 * np.exp(17.62 * celsius / (243.12 + celsius)), dtype=np.float64)


def dew_points(vapor_pressures: ArrayLike) -> NDArray[np.float64]:
    """Return the dew points of many vapor pressures.

    Parameters
    ----------
    vapor_pressures : array_like, shape (n,)
        Vapor pressure, above 0 [Pa].

    Returns
    -------
    ndarray, shape (n,)
        Dew point; below the triple point the frost point, over ice [K].
    """
    vapor = np.asarray(vapor_pressures, dtype=np.float64)
    return np.array([dew_point(float(pressure)) for pressure in vapor])


def humidity_ratio(dew_point: ArrayLike, pressure: ArrayLike) -> NDArray[np.float64]:
    """Return the water vapor that air with this dew point carries.

    Parameters
    ----------
    dew_point : array_like
        Dew-point temperature, over ice below the triple point, 173.15 to 473.15 [K].
    pressure : array_like
        Total pressure [Pa].

    Returns
    -------
    ndarray
        Water vapor per dry air [kg/kg].

    Notes
    -----
    Equation 20 of [HOF2017]_.

    References
    ----------
    [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1.
    """
    vapor = vapor_pressure(dew_point)
    ratio = MOLAR_MASS_RATIO * vapor / (np.asarray(pressure, dtype=float) - vapor)
    return np.asarray(ratio, dtype=np.float64)


def relative_humidity(year: WeatherYear) -> NDArray[np.float64]:
    """Return the relative humidity of every hour.

    Parameters
    ----------
    year : WeatherYear
        Weather.

    Returns
    -------
    ndarray, shape (8760,)
        Vapor pressure over that of saturation at the dry bulb, over ice below the triple
        point [0-1].
    """
    return vapor_pressure(year.dew_point) / vapor_pressure(year.temperature)


def wet_bulb_temperature(temperature: float, dew_point: float, pressure: float) -> float:
    """Return the thermodynamic wet-bulb temperature.

    Parameters
    ----------
    temperature : float
        Dry bulb [K].
    dew_point : float
        Dew point, at most the dry bulb, over ice below the triple point [K].
    pressure : float
        Total pressure [Pa].

    Returns
    -------
    float
        Wet bulb, between dew point and dry bulb [K].

    Notes
    -----
    Equations 33 (water) and 35 (ice) of [HOF2017]_, solved for the wet bulb.

    References
    ----------
    [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1.
    """
    vapor = saturation_pressure(dew_point)
    carried = MOLAR_MASS_RATIO * vapor / (pressure - vapor)

    def surplus_over_water(wet_bulb: float) -> float:  # eq. 33
        return _saturated(wet_bulb, pressure, temperature, 2501.0, 2.326, 4.186) - carried

    def surplus_over_ice(wet_bulb: float) -> float:  # eq. 35
        return _saturated(wet_bulb, pressure, temperature, 2830.0, 0.24, 2.1) - carried

    # The two do not meet at 0 °C: water is tried first, ice only if its wet bulb is frozen.
    surplus, low, high = surplus_over_water, max(dew_point, _FREEZING), temperature
    if temperature <= _FREEZING or (dew_point < _FREEZING and surplus_over_water(_FREEZING) > 0.0):
        surplus, low, high = surplus_over_ice, dew_point, min(temperature, _FREEZING)
    if surplus(high) <= 0.0:  # saturated: dry bulb, wet bulb and dew point are one
        return high
    if surplus(low) >= 0.0:  # the same, to rounding
        return low
    return float(brentq(surplus, low, high, xtol=1e-6))


def _saturated(
    wet_bulb: float, pressure: float, dry_bulb: float, latent: float, slope: float, heat: float
) -> float:
    """Return the humidity ratio of air that is cooled adiabatically to this wet bulb."""
    vapor = saturation_pressure(wet_bulb)
    ratio = MOLAR_MASS_RATIO * vapor / (pressure - vapor)
    t, w = dry_bulb - _FREEZING, wet_bulb - _FREEZING
    return ((latent - slope * w) * ratio - 1.006 * (t - w)) / (latent + 1.86 * t - heat * w)
