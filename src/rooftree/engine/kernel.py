"""The hour loop: a year of air, heat and moisture, hour by hour.

This is the only function that is compiled on its own; heat.py, air.py and equipment.py
hold its parts. In each hour

1. the layers give back what they remember, the sun comes in, the outside faces balance;
2. each space has a balance of radiant point and air, from which the radiant points and
   all faces are eliminated;
3. the air's balance is solved without equipment and with one watt of it; the thermostat
   decides how many watts, within capacity; so the temperatures at the setpoint are exact.
   First with the flows of the last hour, as a guess; then air moves at these temperatures
   and this run time, and the balance is solved again; once more if the guess was poor;
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
    gather_inflow,
    heat_of_air_crossing,
    hold_each_room,
    humidity_of,
    move_air,
    run_driers,
    substitute,
)
from rooftree.engine.arrays import (
    BACKUP,
    BACKUP_HEAT,
    COLD,
    COLD_DELIVERED,
    COLD_HEAT,
    COLD_INPUT,
    COLD_PEAK,
    COLD_UNMET,
    CONDENSATE,
    HEAT,
    HEAT_DELIVERED,
    HEAT_INPUT,
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
"""Times at most that air is moved in an hour."""

NEAR_TEMPERATURE, NEAR_RUN = 0.5, 0.1
"""Change of any space [K] and of the run time [-] against the guess with which air was moved,
below which it is not moved again. Against moving it until nothing changes, a ranch house is
within 0.02 % in heat, cold, infiltration and energy of the year."""

OFF_SETPOINT = 0.5
"""Difference to the thermostat from which an hour counts as unmet [K]."""

LEAST_RESPONSE = 1e-12
"""Response of the thermostat's space below which the system cannot reach it [K/W]."""


@njit(inline="always", error_model="numpy")
def respond(work: Any, shares: Any, thermostat: int, n: int) -> float:
    """Find how all spaces answer one watt in these shares; return the thermostat's answer."""
    for i in range(n):
        work.unit[i] = shares[i]
    substitute(work.system, work.unit, n)
    return float(work.unit[thermostat])


@njit(inline="always", error_model="numpy")
def make_heat(plant: Any, weather: Any, hour: int, state: Any, work: Any, made: Any) -> float:
    """Heat for as long as the thermostat asks; return the share of the hour."""
    n, t = state.air.shape[0], plant.thermostat
    response = respond(work, plant.heat_shares, t, n)
    capacity, power = heat_at_full_run(
        plant,
        state.air[t],
        weather.temperature[hour],
        weather.humidity[hour],
        weather.pressure[hour],
    )
    full = capacity + (plant.fan_power if plant.heat_ducted else 0.0)
    if response < LEAST_RESPONSE or full + plant.backup_capacity == 0.0:
        return 0.0
    wanted = (plant.heat_setpoint[hour % 24] - work.free[t]) / response
    run = min(wanted / full, 1.0) if full > 0.0 else 0.0
    made[HEAT] = run * full
    made[BACKUP_HEAT] = min(max(wanted - made[HEAT], 0.0), plant.backup_capacity)
    made[HEAT_INPUT] = run * power * cycling_loss(run, plant.heat_cycling)
    heat = made[HEAT] + made[BACKUP_HEAT]
    for i in range(n):
        work.output[i] = heat * plant.heat_shares[i]
        state.air[i] = work.free[i] + heat * work.unit[i]
    return run if plant.heat_ducted else 0.0


@njit(inline="always", error_model="numpy")
def make_cold(plant: Any, weather: Any, hour: int, state: Any, work: Any, made: Any) -> float:
    """Cool for as long as the thermostat asks; return the share of the hour."""
    n, t = state.air.shape[0], plant.thermostat
    indoor, humidity = 0.0, 0.0
    for i in range(n):
        indoor += plant.return_mix[i] * state.air[i]
        humidity += plant.return_mix[i] * state.humidity[i]
    response = respond(work, plant.cool_shares, t, n)
    capacity, power, sensible = cold_at_full_run(
        plant, indoor, humidity, weather.temperature[hour], weather.pressure[hour]
    )
    full = capacity - (plant.fan_power if plant.cool_ducted else 0.0)
    if response < LEAST_RESPONSE or full <= 0.0:
        return 0.0
    wanted = (work.free[t] - plant.cool_setpoint[hour % 24]) / response
    run = min(wanted / full, 1.0)
    made[COLD_HEAT] = run * full
    made[CONDENSATE] = run * capacity * (1.0 / sensible - 1.0) / HEAT_OF_EVAPORATION
    made[COLD_INPUT] = run * power * cycling_loss(run, plant.cool_cycling)
    for i in range(n):
        work.output[i] = -made[COLD_HEAT] * plant.cool_shares[i]
        state.air[i] = work.free[i] - made[COLD_HEAT] * work.unit[i]
    return run if plant.cool_ducted else 0.0


@njit(inline="always", error_model="numpy")
def answer_thermostat(
    plant: Any, weather: Any, hour: int, state: Any, work: Any, made: Any
) -> float:
    """Run heating or cooling for as long as the thermostat asks.

    Fills `state.air`, `work.output` and `made`; returns the share of the hour for which
    the air handler moves air.
    """
    made[:] = 0.0
    work.output[:] = 0.0
    free = work.free[plant.thermostat]
    run = 0.0
    if free < plant.heat_setpoint[hour % 24]:
        run = make_heat(plant, weather, hour, state, work, made)
    elif free > plant.cool_setpoint[hour % 24]:
        run = make_cold(plant, weather, hour, state, work, made)
    if made[HEAT] + made[BACKUP_HEAT] + made[COLD_HEAT] == 0.0:
        for i in range(state.air.shape[0]):
            state.air[i] = work.free[i]
    return run


@njit(inline="always", error_model="numpy")
def count_unmet(plant: Any, hour: int, state: Any, made: Any, totals: Any) -> None:
    """Count the hour if the thermostat's space is off although the equipment ran flat out."""
    t = state.air[plant.thermostat]
    low, high = plant.heat_setpoint[hour % 24], plant.cool_setpoint[hour % 24]
    if made[HEAT] + made[BACKUP_HEAT] > 0.0 and t < low - OFF_SETPOINT:
        totals.sums[HEAT_UNMET] += 1.0
    if made[COLD_HEAT] > 0.0 and t > high + OFF_SETPOINT:
        totals.sums[COLD_UNMET] += 1.0


@njit(inline="always", error_model="numpy")
def count_entering(
    air: Any, plant: Any, day_hour: int, ducted: Any, work: Any, totals: Any, n: int
) -> float:
    """Count the air that enters the living spaces by origin; return its volume flow [m³/s].

    Through leaks and open doors to buffer spaces, and drawn into return ducts from spaces
    that are not living. What fans blow in is not counted.
    """
    entering = 0.0
    for p in range(n):
        for j in range(n + 1):
            totals.entering[p, j] += work.inflow[p, j] * HOUR
        if air.living[p] == 0:
            drawn = ducted * plant.return_mix[p]
            totals.sources[p] += drawn * HOUR
            entering += drawn / work.density[p]
            continue
        for j in range(n):
            if air.living[j] == 0:
                totals.sources[j] += work.inflow[p, j] * HOUR
                entering += work.inflow[p, j] / work.density[p]
        outdoors = work.inflow[p, n] - work.density[n] * air.supplied[day_hour, p]
        totals.sources[n] += outdoors * HOUR
        entering += outdoors / work.density[p]
    return entering


@njit(inline="always", error_model="numpy")
def count_delivered(
    air: Any, plant: Any, hour: int, ducted: Any, state: Any, work: Any, totals: Any, records: Any
) -> None:
    """Count the heat and cold that reach each space through air and ducts [W]."""
    n = state.air.shape[0]
    heat, cold = 0.0, 0.0
    for p in range(n):
        delivered = work.output[p]
        for j in range(n):
            delivered += ducted * HEAT_OF_AIR * plant.duct_heat[p, j] * state.air[j]
        hot = max(delivered, 0.0) if work.output[p] > 0.0 else 0.0
        chilled = max(-delivered, 0.0) if work.output[p] < 0.0 else 0.0
        if air.living[p] == 1:
            heat += hot
            cold += chilled
        if records.heating.shape[0] > 0:
            records.heating[hour, p] = hot
            records.cooling[hour, p] = chilled
    sums = totals.sums
    sums[HEAT_DELIVERED] += heat * HOUR
    sums[COLD_DELIVERED] += cold * HOUR
    sums[HEAT_PEAK] = max(sums[HEAT_PEAK], heat)
    sums[COLD_PEAK] = max(sums[COLD_PEAK], cold)


@njit(inline="always", error_model="numpy")
def count_state(state: Any, work: Any, totals: Any) -> None:
    """Count temperatures and relative humidities of the spaces."""
    for p in range(state.air.shape[0]):
        wet = humidity_of(state, work, p)
        totals.temperature[0, p] += state.air[p]
        totals.temperature[1, p] = min(totals.temperature[1, p], state.air[p])
        totals.temperature[2, p] = max(totals.temperature[2, p], state.air[p])
        totals.humidity[0, p] += wet
        if wet > 0.8:
            totals.humidity[1, p] += 1.0


@njit(inline="always", error_model="numpy")
def count_bought(plant: Any, month: int, run: Any, made: Any, totals: Any) -> None:
    """Count what the equipment draws [J]."""
    bought = totals.bought
    bought[month, HOT] += made[HEAT_INPUT] * HOUR
    bought[month, BACKUP] += made[BACKUP_HEAT] * HOUR
    bought[month, COLD] += made[COLD_INPUT] * HOUR
    bought[month, MOVING] += run * plant.fan_power * HOUR


@njit(inline="always", error_model="numpy")
def write_down(hour: int, state: Any, work: Any, entering: Any, run: Any, records: Any) -> None:
    """Keep the hour."""
    for p in range(state.air.shape[0]):
        records.temperature[hour, p] = state.air[p]
        records.humidity[hour, p] = state.humidity[p]
        records.pressure[hour, p] = state.pressure[p]
    for i in range(work.flow.shape[0]):
        records.flow[hour, i] = work.flow[i]
    records.infiltration[hour] = entering
    records.runtime[hour] = run
    for p in range(state.air.shape[0]):
        records.radiant[hour, p] = state.radiant[p]
        records.sun[hour, p] = work.sun_beam[p] + work.sun_diffuse[p]
        for j in range(state.air.shape[0] + 1):
            records.entering[hour, p, j] = work.inflow[p, j]
    for e in range(state.face_inside.shape[0]):
        records.face_inside[hour, e] = state.face_inside[e]
        records.face_outside[hour, e] = state.face_outside[e]


@njit(inline="always", error_model="numpy")
def heat_air(
    run: float, air: Any, plant: Any, weather: Any, hour: int, state: Any, work: Any
) -> float:
    """Balance the heat of the air with the flows as they are; return the run time asked for."""
    n = state.air.shape[0]
    gather_air(air, plant, weather, hour, work.past, work, run)
    if plant.each_room:
        hold_each_room(air, plant, hour, state, work)
        return 0.0
    factorize(work.system, n)
    substitute(work.system, work.free, n)
    return answer_thermostat(plant, weather, hour, state, work, work.made)


@njit(inline="always", error_model="numpy")
def has_settled(state: Any, work: Any, change_of_run: float) -> bool:
    """Return whether air was moved at nearly the temperatures and run time that resulted."""
    change = 0.0
    for p in range(state.air.shape[0]):
        change = max(change, abs(state.air[p] - work.used[p]))
    return change < NEAR_TEMPERATURE and abs(change_of_run) < NEAR_RUN


@njit(inline="always", error_model="numpy")
def settle_air(
    passes: int, run: float, air: Any, plant: Any, weather: Any, hour: int, state: Any, work: Any
) -> tuple[float, float, float]:
    """Balance heat with the flows of the last hour, then move air and balance heat in turn.

    At most `passes` times. Returns the imbalance of air [kg/s], the run time at which air
    was moved last, and the run time that the thermostat asks for [-].
    """
    left, moving, used = 0.0, run, work.used
    for p in range(state.air.shape[0]):
        work.past[p] = state.air[p]
    run = heat_air(moving, air, plant, weather, hour, state, work)
    for _ in range(passes):
        moving = run
        for p in range(state.air.shape[0]):
            used[p] = state.air[p]
        left = move_air(air, plant, weather, hour, state, work, moving)
        gather_inflow(air, hour % 24, state, work)
        run = heat_air(moving, air, plant, weather, hour, state, work)
        if has_settled(state, work, run - moving):
            break
    return left, moving, run


@compile_hour_loop
def run_hours(
    first: int, last: int, warm_up: int, passes: int, elements: Any, air: Any, plant: Any,
    weather: Any, state: Any, work: Any, totals: Any, records: Any,
) -> None:  # fmt: skip
    """Run the house from one hour of the weather up to another, after `warm_up` hours before.

    The end of the weather stands before its beginning. Air and heat are solved `passes`
    times in each hour.
    """
    n = state.air.shape[0]
    hours = weather.temperature.shape[0]
    made = work.made
    run = 0.0
    stored = stored_heat(elements, air, state)
    for k in range(first - warm_up, last):
        if k == first:
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
            gained += air.radiant[hour % 24, p] + air.convective[hour % 24, p]
            gained += state.drying_heat[p]
        left, moving, run = settle_air(passes, run, air, plant, weather, hour, state, work)
        balance_vapor(air, plant, weather, hour, state, work, moving, made[CONDENSATE])
        run_driers(plant, weather, hour, state, work, totals.bought)
        restore_radiant(work, state, n)
        restore_faces(elements, weather, hour, state, work)
        if k >= first:
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
            ducted = moving * plant.air_flow
            entering = count_entering(air, plant, hour % 24, ducted, work, totals, n)
            totals.sums[INFILTRATION] += entering
            count_delivered(air, plant, hour, ducted, state, work, totals, records)
            count_state(state, work, totals)
            count_bought(plant, weather.month[hour], run, made, totals)
            count_unmet(plant, hour, state, made, totals)
            if records.runtime.shape[0] > 0:
                write_down(hour, state, work, entering, run, records)
    totals.sums[NET_HEAT] -= stored_heat(elements, air, state) - stored
