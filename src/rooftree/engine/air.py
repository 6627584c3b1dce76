"""One hour of moving air: flows, and the heat and vapor that they carry.

All functions are compiled; they take the groups of arrays that arrays.py describes. The
balance of a space counts air that enters, ``flow * (there - here)``; what leaves takes
along the space's own state and changes nothing.
"""

from __future__ import annotations

import math
from typing import Any

from numba import njit

from rooftree.engine.arrays import DRYING
from rooftree.engine.conduction import HOUR
from rooftree.engine.moist import (
    GAS_CONSTANT,
    HEAT_OF_AIR,
    HEAT_OF_EVAPORATION,
    WATER_TO_AIR,
    saturated_humidity,
)
from rooftree.engine.network import solve_network

REFERENCE = 293.15
"""Temperature from which the heat of air that crosses the enclosure is counted [K]."""


@njit(inline="always", error_model="numpy")
def move_air(
    air: Any, plant: Any, weather: Any, hour: int, state: Any, work: Any, run: Any
) -> float:
    """Solve the air network at the present temperatures; return what is left unbalanced.

    `run` is the share of the hour for which the air handler runs.
    """
    n = state.air.shape[0]
    day_hour = hour % 24
    pressure = weather.pressure[hour]
    density = work.density
    for p in range(n):
        density[p] = pressure / (GAS_CONSTANT * state.air[p] * (1.0 + 0.608 * state.humidity[p]))
    outdoors = pressure / (
        GAS_CONSTANT * weather.temperature[hour] * (1.0 + 0.608 * weather.humidity[hour])
    )
    density[n] = outdoors
    for p in range(n):
        work.supply[p] = (
            outdoors * air.supplied[day_hour, p]
            - density[p] * air.exhaust[day_hour, p]
            + run * plant.air_flow * plant.duct_supply[p]
        )
    for i in range(air.first.shape[0]):
        work.wind[i] = weather.wind_pressure[hour, air.facade[i]]
    left = 0.0
    if air.first.shape[0] > 0:
        left = solve_network(
            state.pressure, density, air.first, air.second, air.level, air.coefficient,
            air.exponent, work.wind, work.supply, work.flow, work.net_paths, work.net_spaces,
        )  # fmt: skip
    return left


@njit(inline="always", error_model="numpy")
def gather_inflow(air: Any, day_hour: int, state: Any, work: Any) -> None:
    """Sum the mass that enters each space from each other and from outdoors [kg/s].

    Through paths; through doors between living spaces, both ways at once; by fans that
    blow in.
    """
    n = state.air.shape[0]
    inflow, flow, first, second = work.inflow, work.flow, air.first, air.second
    inflow[:] = 0.0
    for i in range(first.shape[0]):
        if flow[i] > 0.0:
            if second[i] < n:
                inflow[second[i], first[i]] += flow[i]
        elif first[i] < n:
            inflow[first[i], second[i]] -= flow[i]
    for d in range(air.door_first.shape[0]):
        p, s = air.door_first[d], air.door_second[d]
        difference = abs(state.air[p] - state.air[s]) / state.air[p]
        both_ways = work.density[p] * air.door_size[d] * math.sqrt(difference)
        inflow[p, s] += both_ways
        inflow[s, p] += both_ways
    for p in range(n):
        inflow[p, n] += work.density[n] * air.supplied[day_hour, p]


@njit(inline="always", error_model="numpy")
def gather_air(
    air: Any, plant: Any, weather: Any, hour: int, past: Any, work: Any, run: Any
) -> None:
    """Set up the balance of the air: surfaces, storage, gains, moving air and ducts.

    `past` is the temperature of the air an hour ago [K].
    """
    n = past.shape[0]
    day_hour = hour % 24
    outdoor = weather.temperature[hour]
    ducted = run * plant.air_flow * HEAT_OF_AIR
    system, free = work.system, work.free
    for i in range(n):
        storage = air.capacity[i] / HOUR
        exchanged = HEAT_OF_AIR * work.density[i] * air.unrecovered[day_hour, i]
        diagonal = storage + exchanged
        free[i] = work.right[n + i] + storage * past[i]
        free[i] += (exchanged + HEAT_OF_AIR * work.inflow[i, n]) * outdoor
        for j in range(n):
            entering = HEAT_OF_AIR * work.inflow[i, j]
            diagonal += entering
            system[i, j] = work.matrix[n + i, n + j] - entering - ducted * plant.duct_heat[i, j]
        system[i, i] += diagonal + HEAT_OF_AIR * work.inflow[i, n]


@njit(inline="always", error_model="numpy")
def factorize(system: Any, n: int) -> None:
    """Factorize a diagonally dominant system in place."""
    for k in range(n):
        system[k, k] = 1.0 / system[k, k]
        for i in range(k + 1, n):
            factor = system[i, k]
            if factor != 0.0:
                factor *= system[k, k]
                system[i, k] = factor
                for j in range(k + 1, n):
                    system[i, j] -= factor * system[k, j]


@njit(inline="always", error_model="numpy")
def substitute(system: Any, right: Any, n: int) -> None:
    """Solve a factorized system in place of its right-hand side."""
    for i in range(n):
        total = right[i]
        for j in range(i):
            total -= system[i, j] * right[j]
        right[i] = total
    for i in range(n - 1, -1, -1):
        total = right[i]
        for j in range(i + 1, n):
            total -= system[i, j] * right[j]
        right[i] = total * system[i, i]


@njit(inline="always", error_model="numpy")
def hold_each_room(air: Any, plant: Any, hour: int, state: Any, work: Any) -> None:
    """Keep every living space between its setpoints with whatever heat that takes.

    Projected Gauss-Seidel on the balance of the air, which converges because the matrix
    is that of heat flowing between neighbours. Fills `state.air` and `work.output`.
    """
    n = state.air.shape[0]
    low, high = plant.heat_setpoint[hour % 24], plant.cool_setpoint[hour % 24]
    system, right, output = work.system, work.free, work.output
    for _ in range(500):
        moved = 0.0
        for i in range(n):
            total = right[i]
            for j in range(n):
                if j != i:
                    total -= system[i, j] * state.air[j]
            t = total / system[i, i]
            if air.living[i] == 1:
                t = min(max(t, low), high)
            output[i] = system[i, i] * t - total
            moved = max(moved, abs(t - state.air[i]))
            state.air[i] = t
        if moved < 1e-9:
            break
    for i in range(n):
        if air.living[i] == 0:
            output[i] = 0.0


@njit(inline="always", error_model="numpy")
def heat_of_air_crossing(air: Any, weather: Any, hour: int, state: Any, work: Any) -> float:
    """Return the heat that air brings into the house less what it takes along [W]."""
    n = state.air.shape[0]
    day_hour = hour % 24
    outdoor, outdoors = weather.temperature[hour], work.density[n]
    total = 0.0
    for i in range(air.first.shape[0]):
        p, s, flow = air.first[i], air.second[i], work.flow[i]
        if s == n:
            origin = state.air[p] if flow > 0.0 else outdoor
            total -= flow * (origin - REFERENCE)
        elif p == n:
            origin = outdoor if flow > 0.0 else state.air[s]
            total += flow * (origin - REFERENCE)
    for p in range(n):
        total += outdoors * air.supplied[day_hour, p] * (outdoor - REFERENCE)
        total -= work.density[p] * air.exhaust[day_hour, p] * (state.air[p] - REFERENCE)
        total += work.density[p] * air.unrecovered[day_hour, p] * (outdoor - state.air[p])
    return total * HEAT_OF_AIR


@njit(inline="always", error_model="numpy")
def balance_vapor(
    air: Any, plant: Any, weather: Any, hour: int, state: Any, work: Any, run: Any,
    condensate: Any,
) -> None:  # fmt: skip
    """Step the vapor of every space: moving air, sources, coil, and what materials hold.

    `condensate` is what the cooling coil removes [kg/s].
    """
    n = state.air.shape[0]
    day_hour = hour % 24
    humid = weather.humidity[hour]
    ducted = run * plant.air_flow
    system, right = work.system, work.free
    for i in range(n):
        held = work.density[i] * air.volume[i] * air.buffering[i] / HOUR
        exchanged = work.density[i] * air.balanced[day_hour, i] + work.inflow[i, n]
        right[i] = (
            held * state.humidity[i]
            + exchanged * humid
            + air.vapor[day_hour, i]
            - condensate * plant.latent_shares[i]
        )
        diagonal = held + exchanged
        for j in range(n):
            diagonal += work.inflow[i, j]
            system[i, j] = -work.inflow[i, j] - ducted * plant.duct_vapor[i, j]
        system[i, i] += diagonal
        work.drying[i] = system[i, i]
    factorize(system, n)
    substitute(system, right, n)
    for i in range(n):
        state.humidity[i] = right[i]


@njit(inline="always", error_model="numpy")
def run_driers(plant: Any, weather: Any, hour: int, state: Any, work: Any, bought: Any) -> None:
    """Remove what dehumidifiers remove, and what exceeds saturation.

    A dehumidifier gives off the heat of evaporation and its own power; the space gets
    them in the next hour. Water above saturation condenses on the nearest cold surface
    and is taken to drain or to dry outdoors.
    """
    pressure, month = weather.pressure[hour], weather.month[hour]
    for i in range(state.air.shape[0]):
        most = saturated_humidity(state.air[i], pressure)
        work.saturated[i] = most
        state.drying_heat[i] = 0.0
        if plant.drier_capacity[i] > 0.0:
            wanted = plant.drier_setpoint[i]
            limit = WATER_TO_AIR * wanted * most / (WATER_TO_AIR + most * (1.0 - wanted))
            removed = work.drying[i] * (state.humidity[i] - limit)
            removed = min(max(removed, 0.0), plant.drier_capacity[i])
            state.humidity[i] -= removed / work.drying[i]
            power = removed * plant.drier_energy[i]
            bought[month, DRYING] += power * HOUR
            state.drying_heat[i] = power + removed * HEAT_OF_EVAPORATION
        state.humidity[i] = min(max(state.humidity[i], 1e-6), most)


@njit(inline="always", error_model="numpy")
def humidity_of(state: Any, work: Any, p: int) -> Any:
    """Return the relative humidity of a space [0-1] from what saturated air would hold."""
    here, most = state.humidity[p], work.saturated[p]
    return here * (WATER_TO_AIR + most) / (most * (WATER_TO_AIR + here))
