"""What an hour adds to the totals of the year, and what is kept of it.

Lanes that only warm up count nothing: everything is multiplied by `counted`.
"""

from __future__ import annotations

from typing import Any

from rooftree.engine.air import REFERENCE, carried_across
from rooftree.engine.arrays import (
    AIR_OUTDOORS,
    COLD_DELIVERED,
    COLD_PEAK,
    COLD_UNMET,
    GROUND,
    HEAT_DELIVERED,
    HEAT_PEAK,
    HEAT_UNMET,
    HUMIDITY,
    IMBALANCE,
    INFILTRATION,
    NET_HEAT,
    NET_VAPOR,
    PRESSURE,
    THROUGHPUT,
    VAPOR_THROUGHPUT,
)
from rooftree.engine.compiled import on_lanes
from rooftree.engine.conduction import HOUR
from rooftree.engine.lanes import lane, select, spread, with_lane
from rooftree.engine.moist import HEAT_OF_AIR, saturated_humidity
from rooftree.engine.vapor import aired_out, humidity_of

OFF_SETPOINT = 0.5
"""Difference to the thermostat from which an hour counts as unmet [K]."""

DAMP = 0.8
"""Relative humidity above which an hour counts as damp [0-1]."""


@on_lanes
def gained_in(air: Any, day_hour: int, work: Any) -> Any:
    """Return the heat of people, lamps, machines and what is imposed [W]."""
    total = spread(0.0)
    now = work.now
    for p in range(air.spaces):
        total += air.radiant[day_hour, p] + air.convective[day_hour, p]
        total += work.dried[p] + work.drawn[p]
        if air.heat_column[p] >= 0:
            total += now[air.heat_column[p]]
    return total


@on_lanes
def held_in(air: Any, plant: Any, state: Any, work: Any, held: float) -> Any:
    """Return the heat that imposed temperatures and a warm tank put in [W]."""
    total = spread(0.0)
    for p in range(air.spaces):
        if air.held_column[p] >= 0:
            t = work.now[air.held_column[p]]
            total += held * (t - state.air[p]) + held * (t - state.radiant[p])
        if p == plant.heater_space:
            total += plant.tank_loss[0] * (plant.tank_temperature[0] - state.air[p])
    return total


@on_lanes
def balance_heat(
    air: Any, paths: Any, plant: Any, day_hour: int, state: Any, work: Any, flows: Any,
    net: Any, gross: Any, held: float, totals: Any,
) -> None:  # fmt: skip
    """Add what crossed the outline of the house, to be held against what it stores [J].

    `net` and `gross` are the heat that came through surfaces and windows [W].
    """
    now = work.now
    crossing = HEAT_OF_AIR * carried_across(
        air, paths, day_hour, work, flows, state.air, now[AIR_OUTDOORS], REFERENCE,
        air.unrecovered,
    )  # fmt: skip
    put_in = held_in(air, plant, state, work, held)
    for p in range(air.spaces):
        put_in += work.output[p] + work.aired[p]
    gained = gained_in(air, day_hour, work)
    counted = totals.counted[0] * HOUR
    totals.sums[NET_HEAT] += (net + gained + crossing + put_in) * counted
    passed = gross + abs(gained) + abs(crossing) + abs(put_in)
    totals.sums[THROUGHPUT] += passed * counted


@on_lanes
def balance_water(
    air: Any, paths: Any, plant: Any, day_hour: int, work: Any, flows: Any, held_dry: float,
    totals: Any,
) -> None:  # fmt: skip
    """Add the vapor that came less what went and what the house took up [kg]."""
    now = work.now
    humid = now[HUMIDITY]
    crossing = carried_across(
        air, paths, day_hour, work, flows, work.humid, humid, 0.0, air.undried
    )
    net, gross = crossing, abs(crossing)
    wet_earth = saturated_humidity(now[GROUND], now[PRESSURE])
    for p in range(air.spaces):
        here = work.humid[p]
        source = air.vapor[day_hour, p] + air.evaporation[p] * (wet_earth - here)
        source += aired_out(plant, p, work, flows) * (humid - here)
        if air.wet_column[p] >= 0:
            source += held_dry * (now[air.wet_column[p]] - here)
        for c in range(plant.thermostats):
            source -= work.condensate[c] * plant.latent_shares[c, p]
        held = flows.density[p] * air.volume[p] * air.buffering[p] / HOUR
        net += source - held * (here - work.past_humidity[p])
        gross += abs(source)
    counted = totals.counted[0] * HOUR
    totals.sums[NET_VAPOR] += abs(net) * counted
    totals.sums[VAPOR_THROUGHPUT] += gross * counted


@on_lanes
def count_unmet(plant: Any, day_hour: int, state: Any, work: Any, totals: Any) -> None:
    """Count the hour if a thermostat's space is off although its machine ran flat out."""
    nothing, one = spread(0.0), spread(1.0)
    cold_hour, hot_hour = nothing, nothing
    for c in range(plant.thermostats):
        if c == plant.windows:
            continue
        t, heat = state.air[plant.thermostat[c]], work.heat[c]
        low = plant.heat_setpoint[day_hour, c] - OFF_SETPOINT
        high = plant.cool_setpoint[day_hour, c] + OFF_SETPOINT
        cold_hour = select((heat > 0.0) & (t < low), one, cold_hour)
        hot_hour = select((heat < 0.0) & (t > high), one, hot_hour)
    totals.sums[HEAT_UNMET] += cold_hour * totals.counted[0]
    totals.sums[COLD_UNMET] += hot_hour * totals.counted[0]


@on_lanes
def count_entering(
    air: Any, plant: Any, day_hour: int, ducted: Any, work: Any, flows: Any, totals: Any
) -> Any:
    """Count the air that enters the spaces by origin; return its volume flow [m³/s].

    Into the living spaces through leaks and open doors to buffer spaces, and drawn into
    return ducts from spaces that are not living. What fans blow in is not counted.
    """
    n, counted = air.spaces, totals.counted[0] * HOUR
    sources, density, inflow = totals.sources, flows.density, work.inflow
    entering = spread(0.0)
    for p in range(n):
        for j in range(n + 1):
            totals.entering[p, j] += inflow[p, j] * counted
        if air.living[p] == 0:
            drawn = ducted * plant.return_mix[0, p]
            sources[p] += drawn * counted
            entering += drawn / density[p]
            continue
        came = spread(0.0)
        for j in range(n):
            if air.living[j] == 0:
                sources[j] += inflow[p, j] * counted
                came += inflow[p, j]
        outdoors = inflow[p, n] - density[n] * air.supplied[day_hour, p]
        sources[n] += outdoors * counted
        entering += (came + outdoors) / density[p]
    totals.sums[INFILTRATION] += entering * totals.counted[0]
    return entering


@on_lanes
def delivered_to(
    air: Any, plant: Any, p: int, ducted: Any, running: Any, state: Any, work: Any
) -> Any:
    """Return the heat that reaches a space through equipment and ducts [W]."""
    heat = work.output[p]
    standing = ducted * (1.0 - running)
    for j in range(air.spaces):
        by_ducts = ducted * plant.duct_heat[p, j] + standing * plant.duct_standing[p, j]
        heat += HEAT_OF_AIR * by_ducts * state.air[j]
    return heat


@on_lanes
def count_delivered(
    air: Any, plant: Any, ducted: Any, running: Any, state: Any, work: Any, totals: Any
) -> None:
    """Count the heat and cold that reach each space through air and ducts [W]."""
    nothing = spread(0.0)
    heat, cold = nothing, nothing
    for p in range(air.spaces):
        delivered = delivered_to(air, plant, p, ducted, running, state, work)
        hot = select(work.output[p] > 0.0, max(delivered, nothing), nothing)
        chilled = select(work.output[p] < 0.0, max(0.0 - delivered, nothing), nothing)
        work.hot_delivered[p] = hot
        work.cold_delivered[p] = chilled
        if air.living[p] == 1:
            heat += hot
            cold += chilled
    sums, counted = totals.sums, totals.counted[0]
    sums[HEAT_DELIVERED] += heat * counted * HOUR
    sums[COLD_DELIVERED] += cold * counted * HOUR
    sums[HEAT_PEAK] = max(sums[HEAT_PEAK], heat * counted)
    sums[COLD_PEAK] = max(sums[COLD_PEAK], cold * counted)


@on_lanes
def count_state(air: Any, state: Any, work: Any, left: Any, totals: Any) -> None:
    """Count temperatures and relative humidities of the spaces, and the worst imbalance."""
    counted = totals.counted[0]
    counts = counted > 0.5
    nothing = spread(0.0)
    for p in range(air.spaces):
        wet, t = humidity_of(state, work, p), state.air[p]
        totals.temperature[0, p] += t * counted
        low, high = totals.temperature[1, p], totals.temperature[2, p]
        totals.temperature[1, p] = select(counts, min(low, t), low)
        totals.temperature[2, p] = select(counts, max(high, t), high)
        totals.humidity[0, p] += wet * counted
        totals.humidity[1, p] += select(wet > DAMP, counted, nothing)
    totals.sums[IMBALANCE] = max(totals.sums[IMBALANCE], left * counted)


@on_lanes
def close_day(weather: Any, day: Any, width: int, work: Any, totals: Any) -> None:
    """Add what the day bought to its month in each lane [J]."""
    for u in range(totals.uses):
        bought = work.day[u] * totals.counted[0]
        work.day[u] = spread(0.0)
        for k in range(width):
            month = weather.month[day[k]]
            before = totals.bought[month, u]
            more = lane(before, k) + lane(bought, k)
            totals.bought[month, u] = with_lane(before, k, more)


@on_lanes
def write_down(
    row: int, elements: Any, air: Any, paths: Any, plant: Any, state: Any, work: Any, flows: Any,
    entering: Any, running: Any, totals: Any, records: Any,
) -> None:  # fmt: skip
    """Keep the hour."""
    n, now = air.spaces, work.now
    for p in range(n):
        records.temperature[row, p] = state.air[p]
        records.humidity[row, p] = state.humidity[p]
        records.pressure[row, p] = flows.pressure[p]
        records.heating[row, p] = work.hot_delivered[p]
        records.cooling[row, p] = work.cold_delivered[p]
        records.radiant[row, p] = state.radiant[p]
        records.sun[row, p] = work.sun_beam[p] + work.sun_diffuse[p]
        for j in range(n + 1):
            records.entering[row, p * (n + 1) + j] = work.inflow[p, j]
    for i in range(paths.count):
        records.flow[row, i] = flows.flow[i]
    for e in range(elements.count):
        inner, outer = state.face_inside[e], state.face_outside[e]
        area, across = elements.area[e], elements.across[e]
        out_of = work.past_inside[e] + across * outer - elements.inside[e] * inner
        w = e - elements.first_window
        if w >= 0 and w < elements.windows:
            out_of += elements.glass_taken[w] * now[elements.heat_column[w]]
        records.face_inside[row, e] = inner
        records.face_outside[row, e] = outer
        records.conducted_inside[row, e] = area * out_of
        out_of = work.past_outside[e] + across * inner - elements.outside[e] * outer
        records.conducted_outside[row, e] = area * out_of
    for p in range(n):
        records.aired[row, p] = work.aired[p]
    records.infiltration[row] = entering
    records.runtime[row] = running
    ran = running * plant.air_flow[0] * HEAT_OF_AIR
    mixed, water = spread(0.0), spread(0.0)
    for i in range(n):
        mixed += plant.return_mix[0, i] * state.air[i]
    for c in range(plant.thermostats):
        water += work.condensate[c]
    records.supply_temperature[row] = mixed + work.heat[0] / max(ran, 1e-9)
    records.condensate[row] = water
    for u in range(totals.uses):
        records.bought[row, u] = work.bought[u]
