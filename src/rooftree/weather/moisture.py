"""Moisture of outdoor air, for whole columns of hours.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, "Psychrometrics".
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq

from rooftree.physics.air import MOLAR_MASS_RATIO, saturation_pressure

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.weather.year import WeatherYear


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

    def surplus(wet_bulb: float) -> float:
        saturated = saturation_pressure(wet_bulb)
        at_wet_bulb = MOLAR_MASS_RATIO * saturated / (pressure - saturated)
        t, w = temperature - 273.15, wet_bulb - 273.15
        if w >= 0.0:
            ratio = ((2501.0 - 2.326 * w) * at_wet_bulb - 1.006 * (t - w)) / (
                2501.0 + 1.86 * t - 4.186 * w
            )
        else:
            ratio = ((2830.0 - 0.24 * w) * at_wet_bulb - 1.006 * (t - w)) / (
                2830.0 + 1.86 * t - 2.1 * w
            )
        return ratio - carried

    if surplus(temperature) <= 0.0:  # saturated: dry bulb, wet bulb and dew point are one
        return temperature
    if surplus(dew_point) >= 0.0:  # driest or saturated air, to rounding
        return dew_point
    return float(brentq(surplus, dew_point, temperature, xtol=1e-6))
