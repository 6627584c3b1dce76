"""Design loads: what each room needs on a cold and on a hot day, by the same model.

The conditions of the design days come from the year of weather itself. Every living space
gets its own ideal thermostat, so that the loads are those of the rooms and not of the
system that serves them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.arrays import AIR_OUTDOORS, HOURS, SKY
from rooftree.engine.climate import Light, Sun
from rooftree.engine.compile import Compiled, compile_house
from rooftree.engine.plant import ALWAYS_COLD, ALWAYS_HOT, make_plant
from rooftree.engine.simulation import run_compiled

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.house import House
    from rooftree.weather import WeatherYear

COLD_SHARE, HOT_SHARE = 0.01, 0.99
"""Share of the hours of the year that are colder than the heating design temperature, and
than the cooling design temperature [0-1]: the trade's 99 % and 1 % conditions."""

HOT_DAYS = 7
"""Hottest days next to the design temperature whose mean is the cooling design day."""

NEARLY = 0.75
"""Hours this near to the heating design temperature give its wind and sky [K]."""

ROOM_DENSITY = 1.2
"""Of the air that ideal machines give heat to [kg/m³]; nothing depends on it."""


@dataclass(frozen=True, slots=True)
class DesignLoads:
    """Sensible loads of the living spaces on the design days, without loss of ducts.

    Attributes
    ----------
    heating_temperature, cooling_temperature : float
        Outdoors: in the heating design hour, and at the peak of the cooling day [K].
    heating, cooling : float
        Of all living spaces together; for cooling in the worst hour [W].
    heating_by_space, cooling_by_space : mapping from str to float
        Of each living space, by id; for cooling in its own worst hour [W].
    """

    heating_temperature: float
    cooling_temperature: float
    heating: float
    cooling: float
    heating_by_space: Mapping[str, float]
    cooling_by_space: Mapping[str, float]


def design_loads(house: House, year: WeatherYear) -> DesignLoads:
    """Return the loads of each living space on the design days.

    Parameters
    ----------
    house : House
        The house; its own heating and cooling are not used.
    year : WeatherYear
        The weather from which the design days are taken.

    Returns
    -------
    DesignLoads

    Notes
    -----
    Heating: the outdoor temperature that 99 % of the hours exceed, held until nothing
    changes any more, with the mean wind and sky of hours that cold, without sun and
    without people. Cooling: the mean of the `HOT_DAYS` days whose warmest hour is nearest
    to the temperature that 1 % of the hours exceed, shifted to it, repeated, with sun
    and people. The thermostats stand at the highest heating and the lowest cooling setpoint
    of the house's schedule. Infiltration is what wind and stack drive through the leaks
    on those days; exhaust fans run as in the schedule.
    """
    compiled = compile_house(house, year)
    cold, hot = _cold_day(compiled), _hot_day(compiled)
    low, high = max(house.use.heating_setpoint), min(house.use.cooling_setpoint)
    heating = _run(house, _without_gains(compiled), cold, low, ALWAYS_HOT)[0]
    cooling = _run(house, compiled, hot, ALWAYS_COLD, high)[1]
    rooms = [(i, s.id) for i, s in enumerate(house.spaces) if s in house.living_spaces]
    return DesignLoads(
        heating_temperature=float(cold[0, AIR_OUTDOORS]),
        cooling_temperature=float(hot[:, AIR_OUTDOORS].max()),
        heating=float(heating.sum(axis=1).max()),
        cooling=float(cooling.sum(axis=1).max()),
        heating_by_space={name: float(heating[:, i].max()) for i, name in rooms},
        cooling_by_space={name: float(cooling[:, i].max()) for i, name in rooms},
    )


def _run(
    house: House, compiled: Compiled, day: NDArray[np.float64], low: float, high: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return heat and cold of every space in each hour of a day that repeats itself [W]."""
    plant = make_plant(house, ROOM_DENSITY, each_room=True)
    plant = plant._replace(
        heat_setpoint=np.full_like(plant.heat_setpoint, low),
        cool_setpoint=np.full_like(plant.cool_setpoint, high),
    )
    weather = compiled.weather._replace(
        hours=HOURS, table=np.ascontiguousarray(day), month=np.zeros(1, dtype=np.int64)
    )
    ran = run_compiled(replace(compiled, plant=plant, weather=weather), hourly=True)
    return ran.records.heating, ran.records.cooling


def _without_gains(compiled: Compiled) -> Compiled:
    air = compiled.air
    nothing = np.zeros_like(air.convective)
    return replace(compiled, air=air._replace(convective=nothing, radiant=nothing))


def _cold_day(compiled: Compiled) -> NDArray[np.float64]:
    """Return 24 equal hours at the heating design temperature, as rows of the weather."""
    table = compiled.weather.table
    temperature = float(np.quantile(table[:, AIR_OUTDOORS], COLD_SHARE))
    alike = np.abs(table[:, AIR_OUTDOORS] - temperature) <= NEARLY
    day = np.repeat(table[alike].mean(axis=0, keepdims=True), HOURS, axis=0)
    day[:, AIR_OUTDOORS] = temperature
    for key, column in compiled.directions.keys.items():
        if isinstance(key, Sun | Light):
            day[:, column] = 0.0
    return day


def _hot_day(compiled: Compiled) -> NDArray[np.float64]:
    """Return the 24 hours of the cooling design day, as rows of the weather."""
    table = compiled.weather.table
    days = table.reshape(-1, HOURS, table.shape[1])
    temperature = float(np.quantile(table[:, AIR_OUTDOORS], HOT_SHARE))
    warmest = days[:, :, AIR_OUTDOORS].max(axis=1)
    chosen = np.argsort(np.abs(warmest - temperature), kind="stable")[:HOT_DAYS]
    day = days[chosen].mean(axis=0)
    shift = temperature - float(day[:, AIR_OUTDOORS].max())
    day[:, [AIR_OUTDOORS, SKY]] += shift
    return day
