"""Heat that air carries through an air handler: flow from it, and heat from flow.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1, eq. 30 (enthalpy of moist air)
    and 33 (humidity ratio from wet and dry bulb).
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import humidity_ratio

FREEZING = 273.15
"""0 °C [K]."""

DRY_AIR, VAPOR = 1006.0, 1860.0
"""Specific heat of dry air and of water vapor [J/(kg·K)], [HOF2017]_ eq. 30."""

HEAT_OF_VAPOR = 2.501e6
"""Heat that water vapor holds more than water of 0 °C [J/kg], [HOF2017]_ eq. 30."""


def humidity_from_wet_bulb(temperature: float, wet_bulb: float, pressure: float) -> float:
    """Return the water vapor in air from its two thermometers.

    Parameters
    ----------
    temperature : float
        Dry bulb [K].
    wet_bulb : float
        Wet bulb, above freezing and at most the dry bulb [K].
    pressure : float
        Barometric [Pa].

    Returns
    -------
    float
        Humidity ratio [kg/kg], >= 0.

    Raises
    ------
    OutOfRangeError
        If the wet bulb is above the dry bulb, below freezing, or lower than in dry air.

    Notes
    -----
    Equation 33 [HOF2017]_.

    References
    ----------
    .. [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1.

    Examples
    --------
    >>> round(humidity_from_wet_bulb(299.82, 292.59, 101325.0), 4)
    0.0112
    """
    if not FREEZING <= wet_bulb <= temperature:
        raise OutOfRangeError("wet_bulb", wet_bulb, FREEZING, temperature, "K")
    t, w = temperature - FREEZING, wet_bulb - FREEZING
    most = humidity_ratio(wet_bulb, 1.0, pressure)
    carried = ((2501.0 - 2.326 * w) * most - 1.006 * (t - w)) / (2501.0 + 1.86 * t - 4.186 * w)
    if carried < 0.0:
        raise OutOfRangeError("humidity_ratio", carried, 0.0, most, "kg/kg")
    return carried


def enthalpy(temperature: float, humidity: float) -> float:
    """Return the heat content of moist air.

    Parameters
    ----------
    temperature : float
        Dry bulb [K].
    humidity : float
        Humidity ratio [kg/kg].

    Returns
    -------
    float
        For each kilogram of dry air, zero for dry air of 0 °C [J/kg].

    Notes
    -----
    Equation 30 [HOF2017]_: ``1.006 t + W (2501 + 1.86 t)`` in kJ/kg and °C.

    References
    ----------
    .. [HOF2017] ASHRAE Handbook - Fundamentals, 2017, chapter 1.
    """
    t = temperature - FREEZING
    return DRY_AIR * t + humidity * (HEAT_OF_VAPOR + VAPOR * t)


def sensible_heat(flow: float, density: float, difference: float, humidity: float = 0.0) -> float:
    """Return the heat that a flow of air carries by its temperature alone.

    Parameters
    ----------
    flow : float
        Of air [m³/s].
    density : float
        Of dry air in it [kg/m³].
    difference : float
        Of its temperature [K].
    humidity : float
        Humidity ratio [kg/kg].

    Returns
    -------
    float
        [W].

    Notes
    -----
    ``rho Q (1006 + 1860 W) dT``.

    Examples
    --------
    >>> round(sensible_heat(0.4, 1.2041, 10.0))
    4845
    """
    return flow * density * (DRY_AIR + VAPOR * humidity) * difference


def flow_from_rise(heat: float, density: float, rise: float, humidity: float = 0.0) -> float:
    """Return the flow of air that a known heat warms by a measured rise.

    Parameters
    ----------
    heat : float
        That reaches the air [W], > 0.
    density : float
        Of dry air where the flow is wanted [kg/m³].
    rise : float
        Supply less return temperature [K], > 0.
    humidity : float
        Humidity ratio [kg/kg].

    Returns
    -------
    float
        [m³/s].

    Raises
    ------
    OutOfRangeError
        If the heat or the rise is not above zero.

    Notes
    -----
    Inverse of :func:`sensible_heat`.

    Examples
    --------
    >>> round(flow_from_rise(4845.3, 1.2041, 10.0), 3)
    0.4
    """
    least = math.nextafter(0.0, 1.0)
    for name, value, unit in (("heat", heat, "W"), ("rise", rise, "K")):
        if not value > 0.0:
            raise OutOfRangeError(name, value, least, math.inf, unit)
    return heat / (density * (DRY_AIR + VAPOR * humidity) * rise)
