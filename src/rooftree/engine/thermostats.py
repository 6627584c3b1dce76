"""What the thermostats ask for, and how the spaces answer.

The balance of the air is linear in heat. So it is solved once without equipment and once
for one watt of each machine; then the watts that bring every thermostat to its setpoint
follow exactly, as far as capacities go.
"""

from __future__ import annotations

from typing import Any

from rooftree.engine.air import factorize, gather_air, substitute
from rooftree.engine.arrays import (
    AIR_OUTDOORS,
    BACKUP,
    COLD,
    HOT,
    HUMIDITY,
    MOVING,
    USES,
    WIND,
)
from rooftree.engine.compiled import on_lanes
from rooftree.engine.equipment import CRANKCASE_BELOW, effort_at, rate_cold, rate_heat
from rooftree.engine.lanes import any_of, root, select, spread
from rooftree.engine.moist import HEAT_OF_AIR, HEAT_OF_EVAPORATION

LEAST_RESPONSE = 1e-12
"""Response of a thermostat's space below which its machine cannot reach it [K/W]."""

MOST_ROUNDS, SETTLED = 400, 1e-9
"""Rounds over the thermostats at most, and the change of temperature that ends them [K]."""

NOT_RATED = -1.0
"""Sensible share that marks a coil that was not asked for in this hour."""

DAMP_OUTDOORS = 0.0115
"""Vapor outdoors above which people keep windows shut [kg/kg] (recalled)."""

WORTH_OPENING = 0.5
"""Difference to outdoors from which people open windows [K]."""

OPENING_HEIGHT, DISCHARGE, WIND_EFFECT = 1.2, 0.6, 0.3
"""Height of an open window [m], its discharge coefficient, and the share of the wind speed
that blows through it while it comes slantwise: 0.25 to 0.35 [-] (ASHRAE Handbook -
Fundamentals, chapter 16, recalled)."""


@on_lanes
def rate_machines(plant: Any, state: Any, work: Any, flows: Any) -> None:
    """Set what each machine can do in this hour, at the state of the air an hour ago."""
    nothing = spread(0.0)
    for c in range(plant.thermostats):
        work.heat[c] = nothing
        if c == plant.windows:
            open_windows(plant, c, state, work, flows)
            continue
        rate_heat(plant, c, state.air[plant.thermostat[c]], work)
        work.cold_full[c] = nothing
        work.cold_input[c] = nothing
        work.sensible[c] = spread(NOT_RATED)


@on_lanes
def rate_coil(air: Any, plant: Any, c: int, state: Any, work: Any) -> None:
    """Set what a cooling machine can do, once an hour, when any lane asks for it."""
    if any_of(work.sensible[c] < 0.0):
        indoor, humidity = spread(0.0), spread(0.0)
        for i in range(air.spaces):
            indoor += plant.return_mix[c, i] * work.past[i]
            humidity += plant.return_mix[c, i] * state.humidity[i]
        rate_cold(plant, c, indoor, humidity, work)


@on_lanes
def open_windows(plant: Any, c: int, state: Any, work: Any, flows: Any) -> None:
    """Set the heat that open windows could carry away, as the cold of a machine.

    Buoyancy and wind add by their squares (ASHRAE Handbook - Fundamentals, chapter 16,
    natural ventilation).
    """
    now, t = work.now, state.air[plant.thermostat[c]]
    warmer = max(t - now[AIR_OUTDOORS], 0.0)
    worth_it = (warmer > WORTH_OPENING) & (now[HUMIDITY] < DAMP_OUTDOORS)
    buoyant = DISCHARGE / 3.0 * root(9.80665 * OPENING_HEIGHT * warmer / t)
    blown = WIND_EFFECT * now[WIND]
    flow = plant.window_area[0] * root(buoyant * buoyant + blown * blown)
    can = select(worth_it, flow, spread(0.0))
    work.windows[0] = can
    work.hot_full[c] = spread(0.0)
    work.hot_input[c] = spread(0.0)
    work.cold_full[c] = flows.density[plant.thermostat[c]] * can * HEAT_OF_AIR * warmer
    work.cold_input[c] = spread(0.0)
    work.sensible[c] = spread(1.0)


@on_lanes
def settle(plant: Any, day_hour: int, work: Any) -> None:
    """Find the heat of each machine that its thermostat asks for, as far as it goes.

    The machines are set in turn, each to its own setpoint, until none moves (projected
    Gauss-Seidel); with one thermostat the first round is exact.
    """
    count, free, respond, heat = plant.thermostats, work.free, work.respond, work.heat
    nothing = spread(0.0)
    for _ in range(MOST_ROUNDS):
        moved = nothing
        for c in range(count):
            t = plant.thermostat[c]
            own, gain = free[t], respond[c, t]
            for d in range(count):
                if d != c:
                    own += respond[d, t] * heat[d]
            reach = 1.0 / max(gain, LEAST_RESPONSE)
            hot = (plant.heat_setpoint[day_hour, c] - own) * reach
            cold = (own - plant.cool_setpoint[day_hour, c]) * reach
            most = work.hot_full[c] + plant.backup_capacity[c]
            new = min(max(hot, 0.0), most) - min(max(cold, 0.0), work.may_cool[c])
            new = select(gain > LEAST_RESPONSE, new, nothing)
            moved = max(moved, abs(new - heat[c]) * gain)
            heat[c] = new
        if count == 1 or not any_of(moved > SETTLED):
            break


@on_lanes
def answer_thermostats(
    air: Any, plant: Any, day_hour: int, state: Any, work: Any, running: Any
) -> None:
    """Run each machine for as long as its thermostat asks.

    Fills the temperatures of the spaces, `heat` of the machines, `output` and `aired`.
    """
    n, count = air.spaces, plant.thermostats
    free, respond, shares, heat = work.free, work.respond, work.shares, work.heat
    idle, nothing = 1.0 - running, spread(0.0)
    for c in range(count):
        cooling = free[plant.thermostat[c]] > plant.cool_setpoint[day_hour, c]
        if any_of(cooling):
            rate_coil(air, plant, c, state, work)
        work.may_cool[c] = select(cooling, work.cold_full[c], nothing)
        for i in range(n):
            share = select(cooling, plant.cold_shares[c, i], plant.hot_shares[c, i])
            if c == 0:
                ducted = select(cooling, plant.cold_ducted[0], plant.hot_ducted[0])
                share += idle * ducted * plant.standing_shares[i]
            shares[c, i] = share
            respond[c, i] = share
        solve_row(work.system, respond, c, n)
    settle(plant, day_hour, work)
    for i in range(n):
        t, put, aired = free[i], nothing, nothing
        for c in range(count):
            t += heat[c] * respond[c, i]
            if c == plant.windows:
                aired += heat[c] * shares[c, i]
            else:
                put += heat[c] * shares[c, i]
        state.air[i] = t
        work.output[i] = put
        work.aired[i] = aired


@on_lanes
def solve_row(system: Any, rows: Any, c: int, n: int) -> None:
    """Solve a factorized system in place of one row of right-hand sides."""
    for i in range(1, n):
        total = rows[c, i]
        for j in range(i):
            total -= system[i, j] * rows[c, j]
        rows[c, i] = total
    for i in range(n - 1, -1, -1):
        total = rows[c, i]
        for j in range(i + 1, n):
            total -= system[i, j] * rows[c, j]
        rows[c, i] = total * system[i, i]


@on_lanes
def share_of_hour(work: Any, c: int) -> tuple[Any, Any]:
    """Return the shares of full output at which a machine heats and cools [0-1]."""
    heat = work.heat[c]
    hot = min(max(heat, 0.0) / max(work.hot_full[c], 1e-9), 1.0)
    cold = min(max(0.0 - heat, 0.0) / max(work.cold_full[c], 1e-9), 1.0)
    nothing = spread(0.0)
    return select(work.hot_full[c] > 0.0, hot, nothing), select(heat < 0.0, cold, nothing)


@on_lanes
def heat_air(
    air: Any, plant: Any, day_hour: int, state: Any, work: Any, flows: Any, running: Any
) -> Any:
    """Balance the heat of the air with the flows as they are.

    Returns the share of the hour for which the air handler is asked to run.
    """
    gather_air(air, plant, day_hour, work, flows, running)
    factorize(work.system, air.spaces)
    substitute(work.system, work.free, air.spaces)
    answer_thermostats(air, plant, day_hour, state, work, running)
    hot, cold = share_of_hour(work, 0)
    return hot * plant.hot_ducted[0] + cold * plant.cold_ducted[0]


@on_lanes
def count_machines(plant: Any, work: Any) -> Any:
    """Set what all machines buy [W], and the water from their coils [kg/s].

    Returns the share of the hour for which the central heating burned.
    """
    nothing = spread(0.0)
    cold_out = work.now[AIR_OUTDOORS] < CRANKCASE_BELOW
    burning = nothing
    for c in range(plant.thermostats):
        work.condensate[c] = nothing
        if c == plant.windows:
            can = work.cold_full[c]
            work.exchange[0] = max(0.0 - work.heat[c], 0.0) / max(can, 1e-9) * work.windows[0]
            continue
        hot, cold = share_of_hour(work, c)
        effort = effort_at(hot, plant.heat_cycling[c], plant.heat_turndown[c])
        by_part = plant.part_load[c, 2] + hot * plant.part_load[c, 3]
        by_part = plant.part_load[c, 0] + hot * (plant.part_load[c, 1] + hot * by_part)
        is_burner = plant.hot_burner[c] > 0.5
        effort = select(is_burner, select(hot > 0.0, by_part, nothing), effort)
        backup = max(work.heat[c] - work.hot_full[c], 0.0)
        heat_bought = work.hot_input[c] * effort
        standing = select(cold_out, plant.heat_standing[c] * (1.0 - hot), nothing)
        chilled = effort_at(cold, plant.cool_cycling[c], plant.cool_turndown[c])
        cold_bought = work.cold_input[c] * chilled
        cold_bought += select(cold_out, plant.cool_standing[c] * (1.0 - cold), nothing)
        latent = max(0.0 - work.heat[c], 0.0) + cold * plant.cold_fan[c]
        work.condensate[c] = latent * (1.0 / work.sensible[c] - 1.0) / HEAT_OF_EVAPORATION
        moving = hot * (plant.hot_fan[c] + plant.pump_power[c]) + cold * plant.cold_fan[c]
        work.bought[MOVING] += moving
        work.bought[COLD] += cold_bought
        if c == 0:
            work.bought[HOT] += heat_bought + standing
            work.bought[BACKUP] += backup
            burning = hot
        else:
            work.bought[USES + c - 1] += heat_bought + standing + backup
    return burning
