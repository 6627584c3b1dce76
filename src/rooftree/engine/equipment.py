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

from rooftree.engine.arrays import AIR_OUTDOORS, HUMIDITY, PRESSURE, WATER
from rooftree.engine.compiled import on_lanes
from rooftree.engine.lanes import any_of, select, spread
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


CRANKCASE_BELOW = ZERO_CELSIUS + 12.8
"""Outdoor temperature below which a standing machine warms its crankcase [K] (55 °F,
common practice)."""

TURNED_DOWN = 0.3
"""Saving of input per output of a machine that can turn itself down, at its least output
against full output [-]: its exchangers are then larger than it needs (recalled size)."""

WARMER_TANK = 0.02
"""Rise of the COP of a heat pump water heater by kelvin of its air over 19.7 °C [1/K]
(recalled size; its rated efficiency is at that temperature)."""

REFERENCE_AIR = 293.15
"""Temperature of the space at which the standby loss of a tank is stated [K]."""

RATED_TANK_AIR = 292.85
"""Temperature of the air at which heat pump water heaters are rated [K] (67.5 °F)."""


@on_lanes
def surface_of(c: Any, inner: Any, outer: Any) -> Any:
    """Return ``a + b w + c w² + d o + e o² + f w o`` [CUTLER2013]_."""
    return (
        c[0] + c[1] * inner + c[2] * inner * inner
        + c[3] * outer + c[4] * outer * outer + c[5] * inner * outer
    )  # fmt: skip


@on_lanes
def curve(c: Any, inner: Any, outer: Any, rated_inner: float, rated_outer: float) -> Any:
    """Return the curve at two temperatures [K] over its value at the rating point [°F]."""
    value = surface_of(c, 1.8 * inner - 459.67, 1.8 * outer - 459.67)
    return value / surface_of(c, rated_inner, rated_outer)


@on_lanes
def defrosting(outdoor: Any, humidity: Any, pressure: Any) -> tuple[Any, Any]:
    """Return factors on capacity and input of a heat pump [DEFROST]_."""
    coil = ZERO_CELSIUS + 0.82 * (outdoor - ZERO_CELSIUS) - 8.589
    frost = max(1e-6, humidity - saturated_humidity(coil, pressure))
    cold = outdoor < DEFROST_BELOW
    whole = spread(1.0)
    return select(cold, 0.909 - 107.33 * frost, whole), select(cold, 0.90 - 36.45 * frost, whole)


@on_lanes
def rate_heat(plant: Any, c: int, indoor: Any, work: Any) -> None:
    """Set output, with the fan's heat, and input of a heating machine that runs [W]."""
    now = work.now
    capacity, efficiency = plant.heat_capacity[c], plant.heat_efficiency[c]
    full, power = capacity, capacity / efficiency
    if any_of(plant.hot_pump[c] > 0.5):
        outdoor = now[AIR_OUTDOORS]
        more, dearer = defrosting(outdoor, now[HUMIDITY], now[PRESSURE])
        warmth = curve(HOT_PUMP_CAPACITY, indoor, outdoor, 70.0, 47.0)
        effort = curve(HOT_PUMP_INPUT, indoor, outdoor, 70.0, 47.0) * plant.hot_flow_power[c]
        steady = max(capacity * plant.hot_flow_capacity[c] * warmth, 0.0)
        is_pump = plant.hot_pump[c] > 0.5
        full = select(is_pump, steady * more, full)
        power = select(is_pump, steady * effort * dearer / efficiency, power)
    is_ideal = plant.hot_ideal[c] > 0.5
    full = select(is_ideal, spread(UNLIMITED), full)
    power = select(is_ideal, UNLIMITED / efficiency, power)
    work.hot_full[c] = full + select(full > 0.0, plant.hot_fan[c], spread(0.0))
    work.hot_input[c] = power


@on_lanes
def rate_cold(plant: Any, c: int, indoor: Any, humidity: Any, work: Any) -> None:
    """Set sensible output, less the fan's heat, input [W] and sensible share of a cooler.

    The coil is a surface at one temperature that the share `bypass` of the air misses.
    That temperature is where saturated air has the enthalpy to which the rest is cooled.
    """
    now = work.now
    outdoor, pressure = now[AIR_OUTDOORS], now[PRESSURE]
    entering = enthalpy(indoor, humidity)
    wet_bulb = saturated_temperature(entering, pressure)
    is_pump = plant.cold_pump[c] > 0.5
    cold = select(
        is_pump,
        curve(COLD_PUMP_CAPACITY, wet_bulb, outdoor, 67.0, 95.0),
        curve(COOLER_CAPACITY, wet_bulb, outdoor, 67.0, 95.0),
    )
    effort = select(
        is_pump,
        curve(COLD_PUMP_INPUT, wet_bulb, outdoor, 67.0, 95.0),
        curve(COOLER_INPUT, wet_bulb, outdoor, 67.0, 95.0),
    )
    total = max(plant.cool_capacity[c] * plant.cold_flow_capacity[c] * cold, 0.0)
    drop = max(total / plant.coil_flow[c] / (1.0 - plant.bypass[c]), 1.0)
    coil = saturated_temperature(entering - drop, pressure)
    sensible = min(max(HEAT_OF_AIR * (indoor - coil) / drop, 0.0), 1.0)
    full = max(total * sensible - plant.cold_fan[c], 0.0)
    power = total * effort * plant.cold_flow_power[c] / plant.cop[c]
    is_ideal, is_there = plant.cold_ideal[c] > 0.5, plant.cold_kind[c] > 0.5
    nothing = spread(0.0)
    work.cold_full[c] = select(is_ideal, spread(UNLIMITED), select(is_there, full, nothing))
    work.cold_input[c] = select(is_ideal, UNLIMITED / plant.cop[c], power)
    work.sensible[c] = select(is_ideal, spread(1.0), max(sensible, 0.05))


@on_lanes
def effort_at(run: Any, degradation: Any, turndown: Any) -> Any:
    """Return input over full input, by the share of full output.

    A machine of one speed cycles: ``run / (1 - Cd (1 - run))``. One that turns itself down
    cycles only below its least output, and needs less input per output the less it gives.
    """
    varies = turndown < 1.0
    saving = TURNED_DOWN * (1.0 - run) / max(1.0 - turndown, 0.05)
    slow = 1.0 - min(saving, TURNED_DOWN)
    on = select(varies, min(run / turndown, 1.0), run)
    return run * select(varies, slow, spread(1.0)) / (1.0 - degradation * (1.0 - on))


@on_lanes
def heat_water(air: Any, plant: Any, day_hour: int, state: Any, work: Any) -> None:
    """Heat the water that is drawn, and hold the tank warm against its space.

    A heat pump takes from its space what it does not buy.
    """
    s = plant.heater_space
    if s < 0:
        return
    drawn = plant.hot_water[day_hour] * work.now[plant.water_column]
    is_pump = plant.water_pump[0] > 0.5
    warmth = max(1.0 + WARMER_TANK * (state.air[s] - RATED_TANK_AIR), 0.4)
    input_ = drawn * plant.water_input[0] / select(is_pump, warmth, spread(1.0))
    more = plant.tank_loss[0] * (REFERENCE_AIR - state.air[s]) * plant.water_input[0]
    work.bought[WATER] += max(input_ + more, 0.0)
    taken = select(is_pump, max(drawn - input_, 0.0), spread(0.0))
    work.drawn[s] = 0.0 - taken
    work.right[air.spaces + s] -= taken
