"""What temperature split a cooling coil should make, by the air that enters it.

Derived, not a published table: the coil is a surface at one temperature which a share of
the air misses; rated values fix that share, and the capacity fixes the temperature.

Sources
-------
[BYPASS] Apparatus dew point and bypass factor; the factor goes with flow as
    ``BF2 = BF1 ^ (m1 / m2)`` (textbook form, recalled).
[CUTLER2013] NREL/TP-5500-56354, 2013, as quoted in secondary sources: capacity of a
    single-speed air conditioner. Here its surface is replaced by a parabola in the wet bulb
    and a line in the outdoor temperature through its values at 63, 67, 71 °F and 82, 95,
    105 °F, which is within 1 % of it there.
[RATING] Rating point of cooling, 80/67 °F indoors and 95 °F outdoors, with a sensible share
    of 0.70 to 0.80 (recalled) at 400 cfm a ton [CUTLER2013]_.
"""

from __future__ import annotations

import math

from scipy.optimize import brentq

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import REFERENCE_DENSITY, STANDARD_PRESSURE, humidity_ratio
from rooftree.readings.air_handler.heat import (
    DRY_AIR,
    HEAT_OF_VAPOR,
    VAPOR,
    enthalpy,
    humidity_from_wet_bulb,
)

RATED_TEMPERATURE, RATED_WET_BULB, RATED_OUTDOORS = 299.82, 292.59, 308.15
"""Rating point [K]: 80 and 67 °F indoors, 95 °F outdoors."""

RATED_FLOW = 400.0 * 4.719474e-4 / 3516.853
"""Flow at which machines are rated, per capacity [m³/(s·W)] [CUTLER2013]_."""

SENSIBLE_SHARE, SENSIBLE_SHARE_UNCERTAINTY = 0.75, 0.03
"""Sensible over total capacity at the rating point [-]: 0.70 to 0.80, recalled."""

PER_WET_BULB, PER_WET_BULB_SQUARED, PER_OUTDOORS = 0.0306, 0.0031, -0.0094
"""Change of capacity by wet bulb [1/K], [1/K²] and by outdoor temperature [1/K]."""

PER_FLOW = 0.15
"""Change of capacity over that of the flow [-], near the rated flow [CUTLER2013]_."""

LEAST_BULB, MOST_BULB = 283.15, 300.15
"""Wet bulb of the return air for which the split is derived [K]."""


def capacity_factor(wet_bulb: float, outdoors: float) -> float:
    """Return cooling capacity over its rated value.

    Parameters
    ----------
    wet_bulb : float
        Of the air that enters the coil [K].
    outdoors : float
        Temperature at the outdoor unit [K].

    Returns
    -------
    float
        [-].

    Notes
    -----
    Through check values of [CUTLER2013]_.

    References
    ----------
    .. [CUTLER2013] NREL/TP-5500-56354, 2013.

    Examples
    --------
    >>> capacity_factor(292.59, 308.15)
    1.0
    """
    warmer = wet_bulb - RATED_WET_BULB
    return (
        1.0
        + PER_WET_BULB * warmer
        + PER_WET_BULB_SQUARED * warmer**2
        + PER_OUTDOORS * (outdoors - RATED_OUTDOORS)
    )


def bypass_factor(flow_per_capacity: float, sensible_share: float = SENSIBLE_SHARE) -> float:
    """Return the share of the air that misses the coil's surface.

    Parameters
    ----------
    flow_per_capacity : float
        Standard flow over rated capacity [m³/(s·W)], > 0.
    sensible_share : float
        Sensible over total capacity at the rating point [-].

    Returns
    -------
    float
        [0-1].

    Notes
    -----
    At the rating point air moves on a straight line towards saturated air at the coil's
    temperature; the factor is what is left of the way. ``BF1 ^ (m1 / m2)`` elsewhere
    [BYPASS]_.

    References
    ----------
    .. [BYPASS] Apparatus dew point and bypass factor.
    """
    humidity = humidity_from_wet_bulb(RATED_TEMPERATURE, RATED_WET_BULB, STANDARD_PRESSURE)
    mass = RATED_FLOW * REFERENCE_DENSITY
    colder = sensible_share / (mass * (DRY_AIR + VAPOR * humidity))
    dryer = (1.0 - sensible_share) / (mass * HEAT_OF_VAPOR)

    def surplus(way: float) -> float:
        most = humidity_ratio(RATED_TEMPERATURE - way * colder, 1.0, STANDARD_PRESSURE)
        return (humidity - way * dryer) - most

    rated = 1.0 - 1.0 / float(brentq(surplus, 1.0, 2.0))
    return math.pow(rated, RATED_FLOW / flow_per_capacity)


def expected_split(
    temperature: float,
    humidity: float,
    flow_per_capacity: float,
    *,
    outdoors: float = RATED_OUTDOORS,
    pressure: float = STANDARD_PRESSURE,
    sensible_share: float = SENSIBLE_SHARE,
    capacity: float = 1.0,
) -> float:
    """Return the temperature split that a sound machine makes of the air that enters it.

    Parameters
    ----------
    temperature : float
        Dry bulb of the return air [K].
    humidity : float
        Its humidity ratio [kg/kg].
    flow_per_capacity : float
        Flow in standard air over rated capacity [m³/(s·W)], > 0.
    outdoors : float
        Temperature at the outdoor unit [K].
    pressure : float
        Barometric [Pa].
    sensible_share : float
        Sensible over total capacity at the rating point [-].
    capacity : float
        Capacity over what the machine is rated for [-].

    Returns
    -------
    float
        Return less supply temperature [K].

    Raises
    ------
    OutOfRangeError
        If the wet bulb of the return air is outside 10 to 27 °C.

    Notes
    -----
    The air that does not bypass the coil leaves saturated at the coil's temperature
    [BYPASS]_; where that is above the dew point of the return air the coil stays dry and
    all capacity is sensible. The heat of the fan is in the net rated capacity.

    References
    ----------
    .. [BYPASS] Apparatus dew point and bypass factor.

    Examples
    --------
    >>> round(expected_split(299.82, 0.0112, RATED_FLOW), 1)
    11.2
    """
    heat = enthalpy(temperature, humidity)
    wet_bulb = _saturated_at(heat, pressure)
    if not LEAST_BULB <= wet_bulb <= MOST_BULB:
        raise OutOfRangeError("wet_bulb", wet_bulb, LEAST_BULB, MOST_BULB, "K")
    share = flow_per_capacity / RATED_FLOW
    total = capacity * capacity_factor(wet_bulb, outdoors) * (1.0 + PER_FLOW * (share - 1.0))
    mass = flow_per_capacity * REFERENCE_DENSITY
    touched = 1.0 - bypass_factor(flow_per_capacity, sensible_share)
    surface = _saturated_at(heat - total / (mass * touched), pressure)
    if humidity_ratio(surface, 1.0, pressure) >= humidity:
        return total / (mass * (DRY_AIR + VAPOR * humidity))
    return touched * (temperature - surface)


def _saturated_at(heat: float, pressure: float) -> float:
    """Return the temperature at which saturated air has this enthalpy [K].

    Within 0.1 K it is the wet bulb of air with that enthalpy.
    """

    def surplus(t: float) -> float:
        return enthalpy(t, humidity_ratio(t, 1.0, pressure)) - heat

    return float(brentq(surplus, 243.15, 323.15))
