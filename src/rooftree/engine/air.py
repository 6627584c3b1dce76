"""One hour of moving air: flows, and the heat that they carry.

All functions are compiled; they take the groups of arrays that arrays.py describes. The
balance of a space counts air that enters, ``flow * (there - here)``; what leaves takes
along the space's own state and changes nothing.
"""

from __future__ import annotations

from typing import Any

from rooftree.engine.arrays import (
    AIR_OUTDOORS,
    HUMIDITY,
    NOT_DRAWN,
    NOT_HEATING,
    PRESSURE,
    WHILE_DRAWN,
    WHILE_HEATING,
)
from rooftree.engine.compiled import on_lanes
from rooftree.engine.conduction import HOUR
from rooftree.engine.heat import HELD
from rooftree.engine.lanes import root, select, spread
from rooftree.engine.moist import GAS_CONSTANT, HEAT_OF_AIR
from rooftree.engine.network import GRAVITY, solve_network

REFERENCE = 293.15
"""Temperature from which the heat of air that crosses the enclosure is counted [K]."""

COLDEST_GUESS, HOTTEST_GUESS = 150.0, 700.0
"""Temperatures between which the density of air is taken [K]. Before air moves, a tiny space
that ducts blow into may be guessed to be far beyond them; its answer never is."""

WATER_BURNER = 11000.0
"""Heat that a tank's burner puts into the water while it burns, for the share of the hour
in which its flue is hot [W]: 40,000 to 50,000 Btu/h of input (common practice)."""


@on_lanes
def open_flues(air: Any, plant: Any, day_hour: int, work: Any, flows: Any, burning: Any) -> None:
    """Open each flue for the share of the hour in which its appliance burns, or does not.

    While it burns, the gas in the chimney is lighter than the air of the space, which
    lifts it: ``(rho - rho_gas) g h``. The hour is the sum of its two parts, each with the
    law of its own pressure.
    """
    now = work.now
    drawn = plant.hot_water[day_hour] * now[plant.water_column] / WATER_BURNER
    drawn = min(drawn, 1.0)
    for k in range(air.fired_paths):
        p, when = air.fired[k], air.when[k]
        open_share = burning
        if when == NOT_HEATING:
            open_share = 1.0 - burning
        elif when == WHILE_DRAWN:
            open_share = drawn
        elif when == NOT_DRAWN:
            open_share = 1.0 - drawn
        flows.coefficient[p] = air.coefficient[p] * open_share
        if when in (WHILE_HEATING, WHILE_DRAWN):
            gas = now[PRESSURE] / (GAS_CONSTANT * air.gas_temperature[k])
            inside = now[PRESSURE] / (GAS_CONSTANT * REFERENCE)
            flows.wind[p] -= (inside - gas) * (GRAVITY * air.chimney[k])


@on_lanes
def move_air(
    air: Any, paths: Any, plant: Any, day_hour: int, state: Any, work: Any, flows: Any,
    running: Any, burning: Any, sweeps: int,
) -> Any:  # fmt: skip
    """Solve the air network at the present temperatures; return what is left unbalanced.

    `running` is the share of the hour for which the air handler moves air, `burning` that
    for which the heating burns, `sweeps` is as for `solve_network`.
    """
    n, now, density = air.spaces, work.now, flows.density
    pressure = now[PRESSURE] / GAS_CONSTANT
    for p in range(n):
        t = min(max(state.air[p], COLDEST_GUESS), HOTTEST_GUESS)
        density[p] = pressure / (t * (1.0 + 0.608 * state.humidity[p]))
    outdoors = pressure / (now[AIR_OUTDOORS] * (1.0 + 0.608 * now[HUMIDITY]))
    density[n] = outdoors
    ducted = running * plant.air_flow[0]
    for p in range(n):
        flows.supply[p] = (
            outdoors * air.supplied[day_hour, p]
            - density[p] * air.exhaust[day_hour, p]
            + ducted * plant.duct_supply[p]
        )
    for i in range(paths.count):
        flows.wind[i] = now[air.wind_column[i]]
    open_flues(air, plant, day_hour, work, flows, burning)
    return solve_network(paths, flows, sweeps)


@on_lanes
def gather_inflow(air: Any, paths: Any, day_hour: int, state: Any, work: Any, flows: Any) -> None:
    """Sum the mass that enters each space from each other and from outdoors [kg/s].

    Through paths; through doors between living spaces, both ways at once; by fans that
    blow in.
    """
    n, inflow = air.spaces, work.inflow
    nothing = spread(0.0)
    for p in range(n):
        for j in range(n + 1):
            inflow[p, j] = nothing
    i = 0
    while i < paths.count:
        one, other = paths.first[i], paths.second[i]
        forth, back = nothing, nothing
        while i < paths.count and paths.first[i] == one and paths.second[i] == other:
            flow = flows.flow[i]
            forth += max(flow, nothing)
            back -= min(flow, nothing)
            i += 1
        if other < n:
            inflow[other, one] += forth
        if one < n:
            inflow[one, other] += back
    for d in range(air.doors):
        p, s = air.door_first[d], air.door_second[d]
        warmth = max(state.air[p], COLDEST_GUESS)
        difference = abs(state.air[p] - state.air[s]) / warmth
        both_ways = flows.density[p] * air.door_size[d] * root(difference)
        inflow[p, s] += both_ways
        inflow[s, p] += both_ways
    for p in range(n):
        inflow[p, n] += flows.density[n] * air.supplied[day_hour, p]


@on_lanes
def exchanged(air: Any, p: int, work: Any, flows: Any, through: Any) -> Any:
    """Return the mass of outdoor air that balanced fans exchange in a space [kg/s].

    `through` is the flow of them whose heat, or vapor, is not recovered [m³/s].
    """
    flow = through
    column = air.fan_column[p]
    if column >= 0:
        flow += work.now[column]
    return flows.density[p] * flow


@on_lanes
def gather_air(air: Any, plant: Any, day_hour: int, work: Any, flows: Any, running: Any) -> None:
    """Set up the balance of the air: surfaces, storage, gains, moving air and ducts.

    Ducts that stand between two runs take on the temperature of the space around them;
    the idle share of the hour stands for the number of starts.
    """
    n, now = air.spaces, work.now
    outdoor = now[AIR_OUTDOORS]
    ducted = running * plant.air_flow[0] * HEAT_OF_AIR
    standing = ducted * (1.0 - running)
    system, free = work.system, work.free
    for i in range(n):
        storage = air.capacity[i] / HOUR
        unrecovered = air.unrecovered[day_hour, i]
        by_fans = HEAT_OF_AIR * exchanged(air, i, work, flows, unrecovered)
        from_outdoors = by_fans + HEAT_OF_AIR * work.inflow[i, n]
        diagonal = storage + from_outdoors
        known = work.right[n + i] + storage * work.past[i] + from_outdoors * outdoor
        column = air.held_column[i]
        if column >= 0:
            diagonal += HELD
            known += HELD * now[column]
        if i == plant.heater_space:
            diagonal += plant.tank_loss[0]
            known += plant.tank_loss[0] * plant.tank_temperature[0]
        for j in range(n):
            entering = HEAT_OF_AIR * work.inflow[i, j]
            diagonal += entering
            by_ducts = ducted * plant.duct_heat[i, j] + standing * plant.duct_standing[i, j]
            system[i, j] = work.matrix[n + i, n + j] - entering - by_ducts
        system[i, i] += diagonal
        free[i] = known


@on_lanes
def factorize(system: Any, n: int) -> None:
    """Factorize a diagonally dominant system in place."""
    for k in range(n):
        pivot = 1.0 / system[k, k]
        system[k, k] = pivot
        for i in range(k + 1, n):
            factor = system[i, k] * pivot
            system[i, k] = factor
            for j in range(k + 1, n):
                system[i, j] -= factor * system[k, j]


@on_lanes
def substitute(system: Any, right: Any, n: int) -> None:
    """Solve a factorized system in place of its right-hand side."""
    for i in range(1, n):
        total = right[i]
        for j in range(i):
            total -= system[i, j] * right[j]
        right[i] = total
    for i in range(n - 1, -1, -1):
        total = right[i]
        for j in range(i + 1, n):
            total -= system[i, j] * right[j]
        right[i] = total * system[i, i]


@on_lanes
def carried_across(
    air: Any, paths: Any, day_hour: int, work: Any, flows: Any, inside: Any, outside: Any,
    zero: float, through: Any,
) -> Any:  # fmt: skip
    """Return what air brings into the house less what it takes along, counted from `zero`.

    `inside` are the temperatures or humidities of the spaces, `outside` that of the
    outdoor air, `through` the flow of balanced fans that recover nothing [m³/s].
    """
    n = air.spaces
    total = spread(0.0)
    for i in range(paths.count):
        p, s, flow = paths.first[i], paths.second[i], flows.flow[i]
        if s == n and p < n:
            origin = select(flow > 0.0, inside[p], outside)
            total -= flow * (origin - zero)
        elif p == n and s < n:
            origin = select(flow > 0.0, outside, inside[s])
            total += flow * (origin - zero)
    outdoors = flows.density[n]
    for p in range(n):
        total += outdoors * air.supplied[day_hour, p] * (outside - zero)
        total -= flows.density[p] * air.exhaust[day_hour, p] * (inside[p] - zero)
        by_fans = exchanged(air, p, work, flows, through[day_hour, p])
        total += by_fans * (outside - inside[p])
    return total
