"""Moist air inside the hour loop.

The same equations as :mod:`rooftree.physics.air`, compiled and without checks of range.

Sources
-------
[HOF2017] ASHRAE Handbook - Fundamentals 2017, chapter 1, eq. 5, 6, 20 and 30.
"""

from __future__ import annotations

import math
from typing import Any

from numba import njit

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


@njit(inline="always", error_model="numpy")
def saturation(t: Any) -> Any:
    """Return the vapor pressure of saturated air [Pa] at a temperature [K] (eq. 5 and 6)."""
    if t <= 273.16:
        return math.exp(
            -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t * t
            + 2.0747825e-9 * t * t * t - 9.484024e-13 * t * t * t * t + 4.1635019 * math.log(t)
        )  # fmt: skip
    return math.exp(
        -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t * t
        - 1.4452093e-8 * t * t * t + 6.5459673 * math.log(t)
    )  # fmt: skip


@njit(inline="always", error_model="numpy")
def saturated_humidity(t: Any, pressure: Any) -> Any:
    """Return the vapor that saturated air holds, per dry air [kg/kg] (eq. 20)."""
    vapor = saturation(t)
    return WATER_TO_AIR * vapor / (pressure - vapor)


@njit(inline="always", error_model="numpy")
def enthalpy(t: Any, humidity: Any) -> Any:
    """Return the enthalpy of moist air per dry air [J/kg], zero at 0 °C and dry (eq. 30)."""
    celsius = t - ZERO_CELSIUS
    return HEAT_OF_AIR * celsius + humidity * (HEAT_OF_EVAPORATION + HEAT_OF_VAPOR * celsius)


@njit(error_model="numpy")
def saturated_temperature(heat: Any, pressure: Any) -> Any:
    """Return the temperature [K] at which saturated air has this enthalpy [J/kg].

    Newton's method from the straight line that fits 5 to 25 °C; the slope of the vapor
    pressure is that of Clausius and Clapeyron. After a step below 0.02 K the next would be
    below 1e-5 K. For air that is not saturated this is
    within 0.1 K of its wet-bulb temperature.
    """
    t = ZERO_CELSIUS - 2.0 + heat / 3200.0
    for _ in range(20):
        w = saturated_humidity(t, pressure)
        excess = enthalpy(t, w) - heat
        rise = w * (1.0 + w / WATER_TO_AIR) * HEAT_OF_EVAPORATION / (461.5 * t * t)
        step = excess / (HEAT_OF_AIR + rise * HEAT_OF_EVAPORATION)
        step = min(max(step, -15.0), 15.0)
        t -= step
        if abs(step) < 0.02:
            break
    return t
