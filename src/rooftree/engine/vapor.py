"""One hour of vapor in the spaces: moving air, sources, the coil, and what materials hold."""

from __future__ import annotations

from typing import Any

from rooftree.engine.air import exchanged, factorize, substitute
from rooftree.engine.arrays import DRYING, GROUND, HUMIDITY, PRESSURE
from rooftree.engine.compiled import on_lanes
from rooftree.engine.conduction import HOUR
from rooftree.engine.lanes import any_of, spread
from rooftree.engine.moist import HEAT_OF_EVAPORATION, WATER_TO_AIR, saturated_humidity

HELD_DRY = 1e6
"""Flow that holds the air of a space at an imposed humidity [kg/s]."""

DRIEST = 1e-6
"""Least vapor in any air [kg/kg]."""


@on_lanes
def aired_out(plant: Any, i: int, work: Any, flows: Any) -> Any:
    """Return the outdoor air that open windows exchange in a space [kg/s]."""
    if plant.windows < 0:
        return spread(0.0)
    return flows.density[i] * work.exchange[0] * plant.cold_shares[plant.windows, i]


@on_lanes
def balance_vapor(
    air: Any, plant: Any, day_hour: int, state: Any, work: Any, flows: Any, running: Any
) -> None:
    """Step the vapor of every space, with the flows of the hour.

    Damp earth evaporates by the difference between air saturated at the temperature of
    the ground and the air of the space.
    """
    n, now = air.spaces, work.now
    humid = now[HUMIDITY]
    ducted = running * plant.air_flow[0]
    system, right = work.system, work.free
    wet_earth = saturated_humidity(now[GROUND], now[PRESSURE])
    for i in range(n):
        work.past_humidity[i] = state.humidity[i]
        held = flows.density[i] * air.volume[i] * air.buffering[i] / HOUR
        undried = air.undried[day_hour, i]
        from_outdoors = work.inflow[i, n] + exchanged(air, i, work, flows, undried)
        from_outdoors += aired_out(plant, i, work, flows)
        known = held * state.humidity[i] + from_outdoors * humid + air.vapor[day_hour, i]
        known += air.evaporation[i] * wet_earth
        for c in range(plant.thermostats):
            known -= work.condensate[c] * plant.latent_shares[c, i]
        diagonal = held + from_outdoors + air.evaporation[i]
        column = air.wet_column[i]
        if column >= 0:
            diagonal += HELD_DRY
            known += HELD_DRY * now[column]
        for j in range(n):
            entering = work.inflow[i, j]
            diagonal += entering
            system[i, j] = -entering - ducted * plant.duct_vapor[i, j]
        system[i, i] += diagonal
        right[i] = known
        work.drying[i] = system[i, i]
    factorize(system, n)
    substitute(system, right, n)
    for i in range(n):
        state.humidity[i] = right[i]
        work.humid[i] = right[i]


@on_lanes
def run_driers(air: Any, plant: Any, state: Any, work: Any) -> None:
    """Remove what dehumidifiers remove, and what exceeds saturation.

    A dehumidifier gives off the heat of evaporation and its own power; the space gets
    them in the next hour. Water above saturation condenses on the nearest cold surface
    and is taken to drain or to dry outdoors.
    """
    nothing = spread(0.0)
    pressure = work.now[PRESSURE]
    for i in range(air.spaces):
        most = saturated_humidity(state.air[i], pressure)
        work.saturated[i] = most
        before, here, heat = state.humidity[i], state.humidity[i], nothing
        if any_of(plant.drier_capacity[i] > 0.0):
            wanted = plant.drier_setpoint[i]
            limit = WATER_TO_AIR * wanted * most / (WATER_TO_AIR + most * (1.0 - wanted))
            removed = work.drying[i] * (here - limit)
            removed = min(max(removed, nothing), plant.drier_capacity[i])
            here -= removed / work.drying[i]
            power = removed * plant.drier_energy[i]
            work.bought[DRYING] += power
            heat = power + removed * HEAT_OF_EVAPORATION
        state.drying_heat[i] = heat
        here = min(max(here, DRIEST), most)
        work.removed[i] = before - here
        state.humidity[i] = here


@on_lanes
def humidity_of(state: Any, work: Any, p: int) -> Any:
    """Return the relative humidity of a space [0-1] from what saturated air would hold."""
    here, most = state.humidity[p], work.saturated[p]
    return here * (WATER_TO_AIR + most) / (most * (WATER_TO_AIR + here))
