"""Moist air inside the hour loop.

The same equations as :mod:`rooftree.physics.air`, compiled and without checks of range.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals 2017, chapter 1, eq. 5, 6, 20 and 30.
"""

from __future__ import annotations

from typing import Any

from rooftree.engine.compiled import on_lanes
from rooftree.engine.lanes import select
from rooftree.engine.power import exponential, logarithm

HEAT_OF_AIR = 1006.0
"""Specific heat of dry air [J/(kg·K)]; that of its vapor, up to 2 %, is left out."""

HEAT_OF_EVAPORATION = 2.501e6
"""Of water at 0 °C [J/kg]."""

HEAT_OF_VAPOR = 1860.0
"""Specific heat of water vapor [J/(kg·K)]."""

GAS_CONSTANT = 287.042
"""Of dry air [J/(kg·K)]."""

WATER_TO_AIR = 0.621945
"""Molar mass of water over that of dry air [-]."""

ZERO_CELSIUS = 273.15
"""[K]."""

TRIPLE_POINT = 273.16
"""Of water [K]."""

SATURATION_STEPS = 4
"""Steps of Newton's method to a saturated temperature: from -10 to 40 °C the last one is
below 1e-6 K."""


@on_lanes
def saturation(t: Any) -> Any:
    """Return the vapor pressure of saturated air [Pa] at a temperature [K] (eq. 5 and 6)."""
    inverse, log = 1.0 / t, logarithm(t)
    t2 = t * t
    over_ice = (
        -5.6745359e3 * inverse + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t2
        + 2.0747825e-9 * t * t2 - 9.484024e-13 * t2 * t2 + 4.1635019 * log
    )  # fmt: skip
    over_water = (
        -5.8002206e3 * inverse + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t2
        - 1.4452093e-8 * t * t2 + 6.5459673 * log
    )  # fmt: skip
    return exponential(select(t > TRIPLE_POINT, over_water, over_ice))


@on_lanes
def saturated_humidity(t: Any, pressure: Any) -> Any:
    """Return the vapor that saturated air holds, per dry air [kg/kg] (eq. 20)."""
    vapor = saturation(t)
    return WATER_TO_AIR * vapor / (pressure - vapor)


@on_lanes
def enthalpy(t: Any, humidity: Any) -> Any:
    """Return the enthalpy of moist air per dry air [J/kg], zero at 0 °C and dry (eq. 30)."""
    celsius = t - ZERO_CELSIUS
    return HEAT_OF_AIR * celsius + humidity * (HEAT_OF_EVAPORATION + HEAT_OF_VAPOR * celsius)


@on_lanes
def saturated_temperature(heat: Any, pressure: Any) -> Any:
    """Return the temperature [K] at which saturated air has this enthalpy [J/kg].

    Newton's method from the straight line that fits 5 to 25 °C; the slope of the vapor
    pressure is that of Clausius and Clapeyron. For air that is not saturated this is
    within 0.1 K of its wet-bulb temperature.
    """
    t = (ZERO_CELSIUS - 2.0) + heat / 3200.0
    for _ in range(SATURATION_STEPS):
        w = saturated_humidity(t, pressure)
        excess = enthalpy(t, w) - heat
        rise = w * (1.0 + w / WATER_TO_AIR) * HEAT_OF_EVAPORATION / (461.5 * t * t)
        step = excess / (HEAT_OF_AIR + rise * HEAT_OF_EVAPORATION)
        t -= min(max(step, -15.0), 15.0)
    return t
