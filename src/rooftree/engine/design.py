"""Design loads: what each room needs on a cold and on a hot day, by the same model.

The conditions of the design days come from the year of weather itself. Every living space
gets its own ideal thermostat, so that the loads are those of the rooms and not of the
system that serves them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.arrays import IDEAL, NO_SYSTEM, Weather
from rooftree.engine.compile import Compiled, compile_house
from rooftree.engine.simulation import run_compiled

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.house import House
    from rooftree.weather import WeatherYear

COLD_SHARE, HOT_SHARE = 0.01, 0.99
"""Share of the hours of the year that are colder than the heating design temperature, and
than the cooling design temperature [0-1]: the trade's 99 % and 1 % conditions."""

DAYS = 20
"""Times that the design day is repeated, so that the start is forgotten."""

HOT_DAYS = 7
"""Hottest days next to the design temperature whose mean is the cooling design day."""

NEARLY = 0.75
"""Hours this near to the heating design temperature give its wind and sky [K]."""

_ALWAYS_COLD, _ALWAYS_HOT = 0.0, 1000.0


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
    cold, hot = _cold_day(compiled.weather), _hot_day(compiled.weather)
    low, high = max(house.use.heating_setpoint), min(house.use.cooling_setpoint)
    heating = _run(_without_gains(compiled), cold, low, _ALWAYS_HOT)[0]
    cooling = _run(compiled, hot, _ALWAYS_COLD, high)[1]
    rooms = [(i, s.id) for i, s in enumerate(house.spaces) if s in house.living_spaces]
    return DesignLoads(
        heating_temperature=float(cold.temperature[0]),
        cooling_temperature=float(hot.temperature.max()),
        heating=float(heating.sum(axis=1).max()),
        cooling=float(cooling.sum(axis=1).max()),
        heating_by_space={name: float(heating[:, i].max()) for i, name in rooms},
        cooling_by_space={name: float(cooling[:, i].max()) for i, name in rooms},
    )


def _run(
    compiled: Compiled, weather: Weather, low: float, high: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return heat and cold of every space in each hour of the last of many equal days [W]."""
    plant = compiled.plant._replace(
        each_room=True,
        heat_setpoint=np.full(24, low),
        cool_setpoint=np.full(24, high),
        heat_kind=IDEAL,
        cool_kind=NO_SYSTEM,
        air_flow=0.0,
    )
    days = Weather(*(np.concatenate([column] * DAYS) for column in weather))
    _, records = run_compiled(replace(compiled, plant=plant, weather=days), hourly=True, warm_up=0)
    return records.heating[-24:], records.cooling[-24:]


def _without_gains(compiled: Compiled) -> Compiled:
    air = compiled.air
    nothing = np.zeros_like(air.convective)
    return replace(compiled, air=air._replace(convective=nothing, radiant=nothing))


def _cold_day(weather: Weather) -> Weather:
    """Return 24 equal hours at the heating design temperature."""
    temperature = float(np.quantile(weather.temperature, COLD_SHARE))
    alike = np.abs(weather.temperature - temperature) <= NEARLY
    day = Weather(
        *(
            np.repeat(np.mean(column[alike], axis=0, keepdims=True), 24, axis=0)
            for column in weather
        )
    )
    dark = {
        name: np.zeros_like(getattr(day, name))
        for name in ("sun", "glass_beam", "glass_diffuse", "glass_heat")
    }
    return day._replace(
        temperature=np.full(24, temperature), month=np.zeros(24, dtype=np.int64), **dark
    )


def _hot_day(weather: Weather) -> Weather:
    """Return the 24 hours of the cooling design day."""
    temperature = float(np.quantile(weather.temperature, HOT_SHARE))
    warmest = weather.temperature.reshape(365, 24).max(axis=1)
    chosen = np.argsort(np.abs(warmest - temperature), kind="stable")[:HOT_DAYS]
    day = Weather(
        *(column.reshape(365, 24, *column.shape[1:])[chosen].mean(axis=0) for column in weather)
    )
    shift = temperature - float(day.temperature.max())
    return day._replace(
        temperature=day.temperature + shift,
        sky=day.sky + shift,
        month=np.zeros(24, dtype=np.int64),
    )
