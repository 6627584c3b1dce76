"""What heats and cools: capacity, power and water removed in one hour.

Sources
-------
[CUTLER2013] Cutler, D., Winkler, J., Kruis, N., Christensen, C., Brandemuehl, M.,
    NREL/TP-5500-56354, 2013: capacity and energy input of single-speed machines by
    temperature and air flow, and their degradation by cycling. Coefficients as quoted in
    secondary sources; each curve is divided by its own value at the rating point.
[DEFROST] Timed defrost of a heat pump in outdoor air below 4.4 °C (recalled).
"""

from __future__ import annotations

from typing import Any

from numba import njit

from rooftree.engine.arrays import BURNER, HEAT_PUMP, IDEAL, NO_SYSTEM
from rooftree.engine.moist import (
    HEAT_OF_AIR,
    ZERO_CELSIUS,
    enthalpy,
    saturated_humidity,
    saturated_temperature,
)

UNLIMITED = 1e12
"""Capacity of an ideal system [W]."""

# Cooling: entering wet bulb [°F], then outdoor dry bulb [°F]; heating: indoor dry bulb.
COOLER_CAPACITY = (
    3.670270705, -0.098652414, 0.000955906, 0.006552414, -0.0000156, -0.000131877,
)  # fmt: skip
COOLER_INPUT = (
    -3.302695861, 0.137871531, -0.001056996, -0.012573945, 0.000214638, -0.000145054,
)  # fmt: skip
COLD_PUMP_CAPACITY = (
    3.68637657, -0.098352478, 0.000956357, 0.005838141, -0.0000127, -0.000131702,
)  # fmt: skip
COLD_PUMP_INPUT = (
    -3.437356399, 0.136656369, -0.001049231, -0.0079378, 0.000185435, -0.0001441,
)  # fmt: skip
HOT_PUMP_CAPACITY = (
    0.566333415, -0.000744164, -0.0000103, 0.009414634, 0.0000506, -0.00000675,
)  # fmt: skip
HOT_PUMP_INPUT = (
    0.718398423, 0.003498178, 0.000142202, -0.005724331, 0.00014085, -0.000215321,
)  # fmt: skip

DEFROST_BELOW = ZERO_CELSIUS + 4.44
"""Outdoor temperature below which a heat pump defrosts [K] [DEFROST]_."""


@njit(inline="always", error_model="numpy")
def surface_of(c: Any, inner: Any, outer: Any) -> Any:
    """Return ``a + b w + c w² + d o + e o² + f w o`` [CUTLER2013]_."""
    return (
        c[0] + c[1] * inner + c[2] * inner * inner
        + c[3] * outer + c[4] * outer * outer + c[5] * inner * outer
    )  # fmt: skip


@njit(inline="always", error_model="numpy")
def curve(c: Any, inner: Any, outer: Any, rated_inner: float, rated_outer: float) -> Any:
    """Return the curve at two temperatures [K] over its value at the rating point [°F]."""
    value = surface_of(c, 1.8 * inner - 459.67, 1.8 * outer - 459.67)
    return value / surface_of(c, rated_inner, rated_outer)


@njit(inline="always", error_model="numpy")
def defrosting(outdoor: Any, humidity: Any, pressure: Any) -> tuple[Any, Any]:
    """Return factors on capacity and input of a heat pump [DEFROST]_."""
    if outdoor >= DEFROST_BELOW:
        return 1.0, 1.0
    coil = ZERO_CELSIUS + 0.82 * (outdoor - ZERO_CELSIUS) - 8.589
    frost = max(1e-6, humidity - saturated_humidity(coil, pressure))
    return 0.909 - 107.33 * frost, 0.90 - 36.45 * frost


@njit(error_model="numpy")
def heat_at_full_run(
    plant: Any, indoor: Any, outdoor: Any, humidity: Any, pressure: Any
) -> tuple[Any, Any]:
    """Return output and input of the heating system, fan apart, when it runs [W]."""
    if plant.heat_kind == NO_SYSTEM:
        return 0.0, 0.0
    if plant.heat_kind == IDEAL:
        return UNLIMITED, UNLIMITED / plant.heat_efficiency
    if plant.heat_kind == BURNER:
        return plant.heat_capacity, plant.heat_capacity / plant.heat_efficiency
    more, dearer = defrosting(outdoor, humidity, pressure)
    rated = plant.heat_capacity * plant.flow_capacity[0]
    warmth = curve(HOT_PUMP_CAPACITY, indoor, outdoor, 70.0, 47.0)
    effort = curve(HOT_PUMP_INPUT, indoor, outdoor, 70.0, 47.0) * plant.flow_power[0]
    steady = max(rated * warmth, 0.0)
    return steady * more, steady * effort * dearer / plant.heat_efficiency


@njit(error_model="numpy")
def cold_at_full_run(
    plant: Any, indoor: Any, humidity: Any, outdoor: Any, pressure: Any
) -> tuple[Any, Any, Any]:
    """Return sensible output, input, fan apart [W], and sensible share when it runs.

    The coil is a surface at one temperature that the share `bypass` of the air misses.
    That temperature is where saturated air has the enthalpy to which the rest is cooled.
    """
    if plant.cool_kind == NO_SYSTEM:
        return 0.0, 0.0, 1.0
    if plant.cool_kind == IDEAL:
        return UNLIMITED, UNLIMITED / plant.cop, 1.0
    entering = enthalpy(indoor, humidity)
    wet_bulb = saturated_temperature(entering, pressure)
    if plant.cool_kind == HEAT_PUMP:
        cold = curve(COLD_PUMP_CAPACITY, wet_bulb, outdoor, 67.0, 95.0)
        effort = curve(COLD_PUMP_INPUT, wet_bulb, outdoor, 67.0, 95.0)
    else:
        cold = curve(COOLER_CAPACITY, wet_bulb, outdoor, 67.0, 95.0)
        effort = curve(COOLER_INPUT, wet_bulb, outdoor, 67.0, 95.0)
    total = max(plant.cool_capacity * plant.flow_capacity[1] * cold, 0.0)
    drop = total / plant.air_flow / (1.0 - plant.bypass)
    coil = saturated_temperature(entering - drop, pressure)
    sensible = min(max(HEAT_OF_AIR * (indoor - coil) / drop, 0.0), 1.0)
    return total * sensible, total * effort * plant.flow_power[1] / plant.cop, sensible


@njit(inline="always", error_model="numpy")
def cycling_loss(run: Any, degradation: float) -> Any:
    """Return the factor on input at part load: ``1 / (1 - Cd (1 - run))``."""
    return 1.0 / (1.0 - degradation * (1.0 - run))
