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
from rooftree.engine.power import exp2

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

MOST_VAPOR = 0.9
"""Pressure of vapor over that of the air at most [-]."""

SATURATION_STEPS = 4
"""Steps of Newton's method to a saturated temperature: from -10 to 40 °C the last one is
below 1e-6 K."""


OVER_ICE = (
    9.256579104809727, 11.879240639288769, -4.391670777109741, 1.5702445951518638,
    -0.564458609762972, 0.20959886956679954, -0.060862680406602726, 0.05157930408552986,
    0.015178263473554615, 0.01623119129779214,
)  # fmt: skip
OVER_WATER = (
    9.256579113112435, 10.479640034029762, -4.306661427955176, 1.636523482292384,
    -0.5923293533470269, 0.21269876855991046, -0.07473009860064879, 0.0237966497986595,
    -0.005786773541452052, 0.000748893225351752,
)  # fmt: skip
"""Binary logarithm of the vapor pressure [Pa] of eq. 5 and 6 by powers of the temperature
over the triple point [100 K], through the Chebyshev nodes of -73 to 0 °C and 0 to 100 °C:
within 5e-10 of the pressure there, and no division."""


@on_lanes
def by_powers(c: Any, x: Any) -> Any:
    """Return a polynomial of degree 9."""
    value = c[9] * x + c[8]
    value = value * x + c[7]
    value = value * x + c[6]
    value = value * x + c[5]
    value = value * x + c[4]
    value = value * x + c[3]
    value = value * x + c[2]
    value = value * x + c[1]
    return value * x + c[0]


@on_lanes
def saturation(t: Any) -> Any:
    """Return the vapor pressure of saturated air [Pa] at a temperature [K]."""
    x = (t - TRIPLE_POINT) * 0.01
    return exp2(select(x > 0.0, by_powers(OVER_WATER, x), by_powers(OVER_ICE, x)))


@on_lanes
def saturated_humidity(t: Any, pressure: Any) -> Any:
    """Return the vapor that saturated air holds, per dry air [kg/kg] (eq. 20).

    Near boiling the vapor's pressure is taken as `MOST_VAPOR` of all: no attic comes there.
    """
    vapor = min(saturation(t), MOST_VAPOR * pressure)
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
