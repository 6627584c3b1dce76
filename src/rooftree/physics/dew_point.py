"""From what a hygrometer shows to vapor pressure, and from vapor pressure to dew point.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, "Psychrometrics".
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import MOLAR_MASS_RATIO, STANDARD_PRESSURE, saturation_pressure

WATER_GAS_CONSTANT = 461.5
"""Specific gas constant of water vapor [J/(kg·K)]."""

_ZERO = 273.15
_LOWEST, _HIGHEST = 173.15, 473.15


def dew_point(vapor_pressure: float) -> float:
    """Return the temperature at which air with this vapor pressure is saturated.

    Parameters
    ----------
    vapor_pressure : float
        Vapor pressure [Pa], that of saturation between 173.15 and 473.15 K.

    Returns
    -------
    float
        Dew point; below the triple point the frost point, over ice [K].

    Raises
    ------
    OutOfRangeError
        If no temperature of that range has this vapor pressure at saturation.

    Notes
    -----
    The inverse of :func:`rooftree.physics.air.saturation_pressure` by Newton's method on
    the logarithm, with the slope of Clausius and Clapeyron: to 1e-9 K in a few steps.

    References
    ----------
    [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, eq. 5 and 6.

    Examples
    --------
    >>> round(dew_point(1168.5) - 273.15, 2)
    9.26
    """
    low, high = saturation_pressure(_LOWEST), saturation_pressure(_HIGHEST)
    slack = 1e-9  # the equations wobble by their rounding at the ends
    if not low * (1.0 - slack) <= vapor_pressure <= high * (1.0 + slack):
        raise OutOfRangeError("vapor pressure", vapor_pressure, low, high, "Pa")
    wanted = math.log(vapor_pressure)
    t = _ZERO + _magnus(math.log(vapor_pressure / 610.94))
    for _ in range(60):
        t = min(max(t, _LOWEST), _HIGHEST)
        surplus = wanted - math.log(saturation_pressure(t))
        step = surplus * WATER_GAS_CONSTANT * t * t / (2.834e6 if t < _ZERO else 2.45e6)
        t += step
        if abs(step) < 1e-9:
            break
    return min(max(t, _LOWEST), _HIGHEST)


def _magnus(logarithm: float) -> float:
    """Return a first guess of the dew point [°C] from ``ln(p / 610.94 Pa)``."""
    return 243.04 * logarithm / (17.625 - logarithm) if logarithm < 17.0 else 200.0


def vapor_pressure_at_wet_bulb(
    temperature: float, wet_bulb: float, pressure: float = STANDARD_PRESSURE
) -> float:
    """Return the vapor pressure that a dry and a wet thermometer tell.

    Parameters
    ----------
    temperature : float
        Dry bulb [K].
    wet_bulb : float
        Thermodynamic wet bulb, at most the dry bulb; over ice below freezing [K].
    pressure : float
        Barometric pressure [Pa].

    Returns
    -------
    float
        Vapor pressure [Pa]; negative where no air can have that pair.

    Notes
    -----
    Humidity ratio by equations 33 (water) and 35 (ice) of [HOF2017]_, vapor pressure by
    its equation 20.

    References
    ----------
    [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1.

    Examples
    --------
    >>> round(vapor_pressure_at_wet_bulb(313.15, 293.15))
    1032
    """
    t, w = temperature - _ZERO, wet_bulb - _ZERO
    saturated = saturation_pressure(wet_bulb)
    full = MOLAR_MASS_RATIO * saturated / (pressure - saturated)
    if w >= 0.0:  # eq. 33
        ratio = ((2501.0 - 2.326 * w) * full - 1.006 * (t - w)) / (2501.0 + 1.86 * t - 4.186 * w)
    else:  # eq. 35
        ratio = ((2830.0 - 0.24 * w) * full - 1.006 * (t - w)) / (2830.0 + 1.86 * t - 2.1 * w)
    return pressure * ratio / (MOLAR_MASS_RATIO + ratio)


def humidity_ratio_of(vapor_pressure: float, pressure: float = STANDARD_PRESSURE) -> float:
    """Return the water vapor carried by each kilogram of dry air.

    Parameters
    ----------
    vapor_pressure : float
        Vapor pressure [Pa], below the barometric.
    pressure : float
        Barometric pressure [Pa].

    Returns
    -------
    float
        Humidity ratio [kg/kg].

    Notes
    -----
    Equation 20 of [HOF2017]_.

    References
    ----------
    [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1.

    Examples
    --------
    >>> round(humidity_ratio_of(1168.5), 5)
    0.00726
    """
    return MOLAR_MASS_RATIO * vapor_pressure / (pressure - vapor_pressure)


def vapor_density(vapor_pressure: float, temperature: float) -> float:
    """Return the mass of vapor in a volume of air.

    Parameters
    ----------
    vapor_pressure : float
        Vapor pressure [Pa].
    temperature : float
        Of the air [K].

    Returns
    -------
    float
        Absolute humidity [kg/m³].

    Notes
    -----
    Perfect gas, ``p = rho R_v T``.

    Examples
    --------
    >>> round(1000.0 * vapor_density(1168.5, 293.15), 2)
    8.64
    """
    return vapor_pressure / (WATER_GAS_CONSTANT * temperature)
