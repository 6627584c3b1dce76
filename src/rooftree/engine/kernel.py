"""The hour loop: a year of air, heat and moisture, hour by hour.

This is the only function that is compiled on its own; heat.py, air.py and equipment.py
hold its parts. In each hour

1. the layers give back what they remember, the sun comes in, the outside faces balance;
2. each space has a balance of radiant point and air, from which the radiant points and
   all faces are eliminated;
3. twice: air moves at the latest temperatures and run time of the air handler; the air's
   balance is solved without equipment and with one watt of it; the thermostat decides how
   many watts, within capacity; so the temperatures at the setpoint are exact;
4. vapor is balanced with the same flows;
5. faces and layers follow, and the hour is written down.
"""

from __future__ import annotations

from typing import Any

from numba import njit

from rooftree.engine.air import (
    balance_vapor,
    factorize,
    gather_air,
    heat_of_air_crossing,
    hold_each_room,
    humidity_of,
    move_air,
    run_driers,
    substitute,
)
from rooftree.engine.arrays import (
    BACKUP,
    COLD,
    COLD_DELIVERED,
    COLD_PEAK,
    COLD_UNMET,
    HEAT_DELIVERED,
    HEAT_PEAK,
    HEAT_UNMET,
    HOT,
    IMBALANCE,
    INFILTRATION,
    MOVING,
    NET_HEAT,
    THROUGHPUT,
)
from rooftree.engine.compiled import compile_hour_loop
from rooftree.engine.conduction import HOUR
from rooftree.engine.equipment import cold_at_full_run, cycling_loss, heat_at_full_run
from rooftree.engine.heat import (
    eliminate_radiant,
    face_outdoors,
    film_rooms,
    gather_partitions,
    gather_rooms,
    heat_through_envelope,
    let_sun_in,
    recall_past,
    restore_faces,
    restore_radiant,
    stored_heat,
)
from rooftree.engine.moist import HEAT_OF_AIR, HEAT_OF_EVAPORATION

PASSES = 2
"""Times that air and heat are solved in an hour; a third would change the year by 0.02 %."""

OFF_SETPOINT = 0.5
"""Difference to the thermostat from which an hour counts as unmet [K]."""

LEAST_RESPONSE = 1e-12
"""Response of the thermostat's space below which the system cannot reach it [K/W]."""


@njit(inline="always", error_model="numpy")
def answer_thermostat(
    plant: Any, weather: Any, hour: int, state: Any, work: Any, made: Any
) -> float:
    """Run heating or cooling for as long as the thermostat asks; return the run time.

    Fills `state.air` and `work.output`, and in `made` the heat [W], backup heat [W], cold
    [W], condensate [kg/s], input for heat and for cold [W]. The run time is the share of
    the hour for which the air handler moves air.
    """
    n = state.air.shape[0]
    free, unit, output = work.free, work.unit, work.output
    made[:] = 0.0
    output[:] = 0.0
    low, high = plant.heat_setpoint[hour % 24], plant.cool_setpoint[hour % 24]
    outdoor, pressure = weather.temperature[hour], weather.pressure[hour]
    t = plant.thermostat
    run = 0.0
    if free[t] < low:
        capacity, power = heat_at_full_run(
            plant, state.air[t], outdoor, weather.humidity[hour], pressure
        )
        fan = plant.fan_power if plant.heat_ducted else 0.0
        for i in range(n):
            unit[i] = plant.heat_shares[i]
        substitute(work.system, unit, n)
        if unit[t] > LEAST_RESPONSE and capacity + plant.backup_capacity > 0.0:
            wanted = (low - free[t]) / unit[t]
            run = min(wanted / (capacity + fan), 1.0) if capacity + fan > 0.0 else 0.0
            made[0] = run * (capacity + fan)
            made[1] = min(max(wanted - made[0], 0.0), plant.backup_capacity)
            made[4] = run * power * cycling_loss(run, plant.heat_cycling)
            heat = made[0] + made[1]
            if not plant.heat_ducted:
                run = 0.0
            for i in range(n):
                output[i] = heat * plant.heat_shares[i]
    elif free[t] > high:
        indoor, humidity = 0.0, 0.0
        for i in range(n):
            indoor += plant.return_mix[i] * state.air[i]
            humidity += plant.return_mix[i] * state.humidity[i]
        capacity, power, sensible = cold_at_full_run(plant, indoor, humidity, outdoor, pressure)
        fan = plant.fan_power if plant.cool_ducted else 0.0
        for i in range(n):
            unit[i] = plant.cool_shares[i]
        substitute(work.system, unit, n)
        if unit[t] > LEAST_RESPONSE and capacity > fan:
            wanted = (free[t] - high) / unit[t]
            run = min(wanted / (capacity - fan), 1.0)
            made[2] = run * (capacity - fan)
            made[5] = run * power * cycling_loss(run, plant.cool_cycling)
            made[3] = run * capacity * (1.0 / sensible - 1.0) / HEAT_OF_EVAPORATION
            for i in range(n):
                output[i] = -made[2] * plant.cool_shares[i]
            if not plant.cool_ducted:
                run = 0.0
    change = made[0] + made[1] - made[2]
    for i in range(n):
        state.air[i] = free[i] if change == 0.0 else free[i] + change * unit[i]
    return run


@njit(inline="always", error_model="numpy")
def count_unmet(plant: Any, hour: int, state: Any, made: Any, totals: Any) -> None:
    """Count the hour if the thermostat's space is off although the equipment ran flat out."""
    t = state.air[plant.thermostat]
    low, high = plant.heat_setpoint[hour % 24], plant.cool_setpoint[hour % 24]
    if made[0] + made[1] > 0.0 and t < low - OFF_SETPOINT:
        totals.sums[HEAT_UNMET] += 1.0
    if made[2] > 0.0 and t > high + OFF_SETPOINT:
        totals.sums[COLD_UNMET] += 1.0


@njit(inline="always", error_model="numpy")
def write_down(
    air: Any, plant: Any, weather: Any, hour: int, state: Any, work: Any, moving: Any, run: Any,
    made: Any, totals: Any, records: Any,
) -> None:  # fmt: skip
    """Add the hour to the totals of the year and, if wanted, to its records.

    `moving` is the run time by which the air moved, `run` that which the thermostat then
    asked for.
    """
    n = state.air.shape[0]
    month, sums = weather.month[hour], totals.sums
    is_recorded = records.temperature.shape[0] > 0
    ducted = moving * plant.air_flow
    heat, cold, entering = 0.0, 0.0, 0.0
    for p in range(n):
        delivered = work.output[p]
        for j in range(n):
            delivered += ducted * HEAT_OF_AIR * plant.duct_heat[p, j] * state.air[j]
        hot = delivered if work.output[p] > 0.0 else 0.0
        chilled = -delivered if work.output[p] < 0.0 else 0.0
        wet = humidity_of(weather, hour, state, p)
        totals.temperature[0, p] += state.air[p]
        totals.temperature[1, p] = min(totals.temperature[1, p], state.air[p])
        totals.temperature[2, p] = max(totals.temperature[2, p], state.air[p])
        totals.humidity[0, p] += wet
        if wet > 0.8:
            totals.humidity[1, p] += 1.0
        if air.living[p] == 1:
            heat += hot
            cold += chilled
            for j in range(n + 1):
                if j == n or air.living[j] == 0:
                    from_there = work.inflow[p, j]
                    if j == n:
                        from_there -= work.density[n] * air.supplied[hour % 24, p]
                    totals.sources[j] += from_there * HOUR
                    entering += from_there / work.density[p]
        else:
            drawn = ducted * plant.return_mix[p]
            totals.sources[p] += drawn * HOUR
            entering += drawn / work.density[p]
        if is_recorded:
            records.temperature[hour, p] = state.air[p]
            records.humidity[hour, p] = state.humidity[p]
            records.pressure[hour, p] = state.pressure[p]
            records.heating[hour, p] = max(hot, 0.0)
            records.cooling[hour, p] = max(chilled, 0.0)
    if is_recorded:
        for i in range(work.flow.shape[0]):
            records.flow[hour, i] = work.flow[i]
        records.infiltration[hour] = entering
        records.runtime[hour] = run
    sums[HEAT_DELIVERED] += heat * HOUR
    sums[COLD_DELIVERED] += cold * HOUR
    sums[HEAT_PEAK] = max(sums[HEAT_PEAK], heat)
    sums[COLD_PEAK] = max(sums[COLD_PEAK], cold)
    sums[INFILTRATION] += entering
    bought = totals.bought
    bought[month, HOT] += made[4] * HOUR
    bought[month, BACKUP] += made[1] * HOUR
    bought[month, COLD] += made[5] * HOUR
    bought[month, MOVING] += run * plant.fan_power * HOUR


@compile_hour_loop
def run_hours(
    warm_up: int, passes: int, elements: Any, air: Any, plant: Any, weather: Any, state: Any, work: Any,
    totals: Any, records: Any,
) -> None:  # fmt: skip
    """Run the house through all hours of the weather, after `warm_up` hours of its end.

    Air and heat are solved `passes` times in each hour.
    """
    n = state.air.shape[0]
    hours = weather.temperature.shape[0]
    made = work.made
    past = work.past
    run = 0.0
    stored = stored_heat(elements, air, state)
    for k in range(-warm_up, hours):
        if k == 0:
            stored = stored_heat(elements, air, state)
            totals.bought[:] = 0.0
        hour = k if k >= 0 else hours + k
        recall_past(elements, state, work)
        sun = let_sun_in(elements, weather, hour, work)
        face_outdoors(elements, weather, hour, state, work)
        film_rooms(elements, state, work)
        gather_rooms(elements, weather, hour, air, state, work)
        gather_partitions(elements, state, work)
        eliminate_radiant(work, n)
        gained = 0.0
        for p in range(n):
            past[p] = state.air[p]
            gained += air.radiant[hour % 24, p] + air.convective[hour % 24, p]
            gained += state.drying_heat[p]
        left, moving = 0.0, run
        for _ in range(passes):
            moving = run
            left = move_air(air, plant, weather, hour, state, work, moving)
            gather_air(air, plant, weather, hour, past, work, moving)
            if plant.each_room:
                hold_each_room(air, plant, hour, state, work)
            else:
                factorize(work.system, n)
                substitute(work.system, work.free, n)
                run = answer_thermostat(plant, weather, hour, state, work, made)
        balance_vapor(air, plant, weather, hour, state, work, moving, made[3])
        run_driers(plant, weather, hour, state, work, totals.bought)
        restore_radiant(work, state, n)
        restore_faces(elements, weather, hour, state, work)
        if k >= 0:
            outside, gross = heat_through_envelope(elements, state, work)
            crossing = heat_of_air_crossing(air, weather, hour, state, work)
            put_in = 0.0
            for p in range(n):
                put_in += work.output[p]
            totals.sums[NET_HEAT] += (outside + sun + gained + crossing + put_in) * HOUR
            totals.sums[THROUGHPUT] += (
                gross + sun + abs(gained) + abs(crossing) + abs(put_in)
            ) * HOUR
            totals.sums[IMBALANCE] = max(totals.sums[IMBALANCE], left)
            count_unmet(plant, hour, state, made, totals)
            write_down(air, plant, weather, hour, state, work, moving, run, made, totals, records)
    totals.sums[NET_HEAT] -= stored_heat(elements, air, state) - stored
