"""Design loads: what each room needs on a cold and on a hot day, by the same model.

The conditions of the design days come from the year of weather itself, unless a code sets
them. Every living space gets its own ideal thermostat, so that the loads are those of the
rooms and not of the system that serves them.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17: what counts in a heating load
    (neither sun nor people) and in a cooling load.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.engine.compile import compile_house
from rooftree.engine.design_day import (
    ALWAYS_COLD,
    ALWAYS_HOT,
    PartKind,
    cold_day,
    hot_day,
    run_day,
    with_heat,
    with_steady_fans,
    without_gains,
)
from rooftree.engine.moist import HEAT_OF_EVAPORATION
from rooftree.errors import OutOfRangeError
from rooftree.house import OUTDOORS
from rooftree.physics.air import humidity_ratio

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    import numpy as np
    from numpy.typing import NDArray

    from rooftree.engine.design_day import DayPart, DesignDay
    from rooftree.house import Fan, House, Surface, Window
    from rooftree.weather import WeatherYear

INDOOR_HUMIDITY = 0.5
"""Relative humidity indoors for which the latent load is computed [0-1]; usual in the trade
(recalled)."""

COLDEST, HOTTEST = 200.0, 330.0
"""Outdoor temperatures that a design day may be asked for [K]."""


@dataclass(frozen=True, slots=True)
class LoadPart:
    """What one thing adds to the load of one space; negative where it spares load.

    Attributes
    ----------
    kind : PartKind
        What it comes from.
    id, name : str
        Of the surface, window or fan; empty for others.
    space : str
        Id of the living space.
    beyond : str
        Id of the space on the other side, ``"outdoors"`` or ``"ground"``; empty for others.
    sensible, latent : float
        Share in the load [W]; latent for cooling only.
    """

    kind: PartKind
    id: str
    name: str
    space: str
    beyond: str
    sensible: float
    latent: float


@dataclass(frozen=True, slots=True)
class DesignLoads:
    """Loads of the living spaces on the design days, without loss of ducts.

    Attributes
    ----------
    heating_temperature, cooling_temperature : float
        Outdoors: in the heating design hour, and at the peak of the cooling day [K].
    heating, cooling : float
        Sensible, of all living spaces together, in the worst hour of the day [W].
    heating_by_space, cooling_by_space : mapping from str to float
        Of each living space, by id; for cooling in its own worst hour [W].
    cooling_latent : float
        Of all living spaces in the worst hour [W]; negative where outdoor air dries.
    latent_by_space : mapping from str to float
        Of each living space in that hour [W].
    cooling_hour : int
        Worst hour of the day, 0 for the first after midnight.
    heating_indoors, cooling_indoors : float
        Thermostat on the two days [K].
    heating_humidity : float
        Vapor per dry air outdoors on the heating day [kg/kg].
    indoor_humidity, outdoor_humidity : float
        Vapor per dry air in the worst hour of the cooling day [kg/kg].
    pressure : float
        Of the air in that hour [Pa].
    heating_spaces, cooling_spaces : mapping from str to float
        Temperature of every space, buffers too, in the two hours [K].
    humid_spaces : mapping from str to float
        Vapor per dry air of every space in the worst hour of the cooling day [kg/kg].
    heating_parts, cooling_parts : tuple of LoadPart
        What the two loads come from, largest first; their sensible parts sum to the load.
    """

    heating_temperature: float
    cooling_temperature: float
    heating: float
    cooling: float
    heating_by_space: Mapping[str, float]
    cooling_by_space: Mapping[str, float]
    cooling_latent: float
    latent_by_space: Mapping[str, float]
    cooling_hour: int
    heating_indoors: float
    cooling_indoors: float
    heating_humidity: float
    indoor_humidity: float
    outdoor_humidity: float
    pressure: float
    heating_spaces: Mapping[str, float]
    cooling_spaces: Mapping[str, float]
    humid_spaces: Mapping[str, float]
    heating_parts: tuple[LoadPart, ...]
    cooling_parts: tuple[LoadPart, ...]


def design_loads(
    house: House,
    year: WeatherYear,
    *,
    heating_temperature: float | None = None,
    cooling_temperature: float | None = None,
) -> DesignLoads:
    """Return the loads of each living space on the design days.

    Parameters
    ----------
    house : House
        The house; its own heating and cooling are not used.
    year : WeatherYear
        The weather from which the design days are taken.
    heating_temperature, cooling_temperature : float or None
        Outdoors on the two days, where a code sets them [K]; None for what 99 % and what 1 %
        of the hours of the year exceed.

    Returns
    -------
    DesignLoads

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    WeatherError
        If it is a record of other length than a year.
    OutOfRangeError
        If a temperature is none of this earth.

    Notes
    -----
    Heating: the design temperature, held until nothing changes any more, with the mean wind
    and sky of hours that cold, without sun and without people [HOF2021]_. Cooling: the mean of
    the `HOT_DAYS` days whose warmest hour is nearest to the temperature that 1 % of the hours
    exceed, shifted to it, repeated, with sun and people. The thermostats stand at the highest
    heating and the lowest cooling setpoint of the house's schedule. Infiltration is what wind
    and stack drive through the leaks on those days, with every fan at its mean of the day: a hood
    that runs half an hour decides over no machine. Dehumidifiers stand.

    Latent: air that comes in against indoor air of 50 % relative humidity, people and what else
    releases vapor. Air from buffer spaces has the moisture that the model gives it while the
    moisture of the rooms floats.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17.
    """
    year.require_whole_year("design loads")
    for name, asked in (
        ("heating_temperature", heating_temperature),
        ("cooling_temperature", cooling_temperature),
    ):
        if asked is not None and not COLDEST <= asked <= HOTTEST:
            raise OutOfRangeError(name, asked, COLDEST, HOTTEST, "K")
    winter = cold_design_day(house, year, heating_temperature)
    summer = hot_design_day(house, year, cooling_temperature)
    low, high = max(house.use.heating_setpoint), min(house.use.cooling_setpoint)
    coldest = int(winter.heating.sum(axis=1).argmax())
    hour = int(summer.cooling.sum(axis=1).argmax())
    moisture = humidity_ratio(high, INDOOR_HUMIDITY, float(summer.pressure[hour]))
    latent = {space.id: 0.0 for space in house.living_spaces}
    parts = _cooling_parts(house, summer, hour, moisture)
    for part in parts:
        latent[part.space] += part.latent
    names = [space.id for space in house.spaces]
    rooms = [(i, space.id) for i, space in enumerate(house.spaces) if space.id in latent]
    return DesignLoads(
        heating_temperature=float(winter.outdoors[0]),
        cooling_temperature=float(summer.outdoors.max()),
        heating=float(winter.heating.sum(axis=1).max()),
        cooling=float(summer.cooling.sum(axis=1).max()),
        heating_by_space={name: float(winter.heating[:, i].max()) for i, name in rooms},
        cooling_by_space={name: float(summer.cooling[:, i].max()) for i, name in rooms},
        cooling_latent=sum(latent.values()),
        latent_by_space=latent,
        cooling_hour=hour,
        heating_indoors=low,
        cooling_indoors=high,
        heating_humidity=float(winter.outdoor_humidity[coldest]),
        indoor_humidity=moisture,
        outdoor_humidity=float(summer.outdoor_humidity[hour]),
        pressure=float(summer.pressure[hour]),
        heating_spaces=dict(zip(names, winter.temperature[coldest].tolist(), strict=True)),
        cooling_spaces=dict(zip(names, summer.temperature[hour].tolist(), strict=True)),
        humid_spaces=dict(zip(names, summer.humidity[hour].tolist(), strict=True)),
        heating_parts=_heating_parts(house, winter, coldest),
        cooling_parts=parts,
    )


def cold_design_day(
    house: House,
    year: WeatherYear,
    temperature: float | None = None,
    heat: NDArray[np.float64] | None = None,
) -> DesignDay:
    """Return the heating design day of a house, without people and appliances.

    Parameters
    ----------
    house : House
        The house.
    year : WeatherYear
        The weather.
    temperature : float or None
        Outdoors [K]; None for what 99 % of the hours exceed.
    heat : ndarray, shape (24, spaces), or None
        Heat put into its spaces besides, such as that of ducts [W].

    Returns
    -------
    DesignDay
        Held at the highest heating setpoint of the schedule.

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    """
    compiled = without_gains(with_steady_fans(compile_house(house, year)))
    held = compiled if heat is None else with_heat(compiled, heat)
    day = cold_day(compiled, temperature)
    return run_day(house, held, day, max(house.use.heating_setpoint), ALWAYS_HOT)


def hot_design_day(
    house: House,
    year: WeatherYear,
    temperature: float | None = None,
    heat: NDArray[np.float64] | None = None,
) -> DesignDay:
    """Return the cooling design day of a house, with people and appliances.

    Parameters
    ----------
    house : House
        The house.
    year : WeatherYear
        The weather.
    temperature : float or None
        Highest outdoors [K]; None for what 1 % of the hours exceed.
    heat : ndarray, shape (24, spaces), or None
        Heat put into its spaces besides, such as that of ducts [W].

    Returns
    -------
    DesignDay
        Held at the lowest cooling setpoint of the schedule.

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    """
    compiled = with_steady_fans(compile_house(house, year))
    held = compiled if heat is None else with_heat(compiled, heat)
    day = hot_day(compiled, temperature)
    return run_day(house, held, day, ALWAYS_COLD, min(house.use.cooling_setpoint))


def parts_of_house(parts: Iterable[LoadPart]) -> tuple[LoadPart, ...]:
    """Return the parts of a load for all living spaces together, largest first.

    Parameters
    ----------
    parts : iterable of LoadPart
        Of the spaces.

    Returns
    -------
    tuple of LoadPart
        One for each surface, window, fan, or origin of air; the space is empty. What passes
        between two living spaces is left with its sum, which is what it stores.
    """
    together: dict[tuple[PartKind, str, str], LoadPart] = {}
    for part in parts:
        key = (part.kind, part.id, "" if part.id else part.beyond)
        other = together.get(key)
        sensible = part.sensible + (other.sensible if other else 0.0)
        latent = part.latent + (other.latent if other else 0.0)
        beyond = other.beyond if other else part.beyond
        together[key] = LoadPart(part.kind, part.id, part.name, "", beyond, sensible, latent)
    return _sorted(together.values())


def loads_by_kind(parts: Iterable[LoadPart]) -> dict[PartKind, tuple[float, float]]:
    """Return sensible and latent load by what it comes from [W].

    Parameters
    ----------
    parts : iterable of LoadPart
        Of the spaces.

    Returns
    -------
    dict from PartKind to tuple of float
        In the order of `PartKind`; kinds that add nothing are left out.
    """
    sums = dict.fromkeys(PartKind, (0.0, 0.0))
    for part in parts:
        sensible, latent = sums[part.kind]
        sums[part.kind] = (sensible + part.sensible, latent + part.latent)
    return {kind: sum_of for kind, sum_of in sums.items() if any(sum_of)}


def _heating_parts(house: House, day: DesignDay, hour: int) -> tuple[LoadPart, ...]:
    return _sorted(
        _named(house, part, -float(part.sensible[hour]), 0.0)
        for part in day.parts
        if part.kind not in (PartKind.SUN, PartKind.PEOPLE)
    )


def _cooling_parts(
    house: House, day: DesignDay, hour: int, moisture: float
) -> tuple[LoadPart, ...]:
    """Return the parts in one hour, with the vapor that they bring into air of this moisture."""
    beyond = {
        space.id: moisture if space in house.living_spaces else float(day.humidity[hour, i])
        for i, space in enumerate(house.spaces)
    }
    beyond[OUTDOORS] = float(day.outdoor_humidity[hour])
    return _sorted(
        _named(
            house,
            part,
            float(part.sensible[hour]),
            HEAT_OF_EVAPORATION
            * float(
                part.flow[hour] * (beyond.get(part.beyond, moisture) - moisture) + part.vapor[hour]
            ),
        )
        for part in day.parts
    )


def _named(house: House, part: DayPart, sensible: float, latent: float) -> LoadPart:
    named: list[Surface | Window | Fan] = [*house.surfaces, *house.windows, *house.fans]
    name = next((each.name for each in named if each.id == part.id), "")
    space = house.spaces[part.space].id
    return LoadPart(part.kind, part.id, name, space, part.beyond, sensible, latent)


def _sorted(parts: Iterable[LoadPart]) -> tuple[LoadPart, ...]:
    return tuple(sorted(parts, key=lambda part: -abs(part.sensible) - abs(part.latent)))
