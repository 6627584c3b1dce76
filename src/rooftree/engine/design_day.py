"""A design day, repeated until nothing changes, with an ideal thermostat in every room.

All that design loads know of the arrays of the hour loop is in this file.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING, Any

import numpy as np

from rooftree.engine.arrays import AIR_OUTDOORS, HOURS, HUMIDITY, PRESSURE, SKY
from rooftree.engine.climate import Light, Sun
from rooftree.engine.conduction import HOUR
from rooftree.engine.moist import GAS_CONSTANT, HEAT_OF_AIR
from rooftree.engine.plant import ALWAYS_COLD, ALWAYS_HOT, make_plant
from rooftree.engine.simulation import run_compiled
from rooftree.house import OUTDOORS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from rooftree.engine.arrays import Plant, Records
    from rooftree.engine.compile import Compiled
    from rooftree.house import House

    Floats = NDArray[np.float64]

COLD_SHARE, HOT_SHARE = 0.01, 0.99
"""Share of the hours of the year that are colder than the heating design temperature, and
than the cooling design temperature [0-1]: the trade's 99 % and 1 % conditions."""

HOT_DAYS = 7
"""Hottest days next to the design temperature whose mean is the cooling design day."""

NEARLY = 0.75
"""Hours this near to the heating design temperature give its wind and sky [K]."""

ROOM_DENSITY = 1.2
"""Of the air that ideal machines give heat to [kg/m³]; nothing depends on it."""

__all__ = [
    "ALWAYS_COLD", "ALWAYS_HOT", "DayPart", "DesignDay", "PartKind", "cold_day", "hot_day",
    "run_day", "with_heat", "with_steady_fans", "without_gains",
]  # fmt: skip


class PartKind(StrEnum):
    """What a part of a load comes from."""

    SURFACE = "surface"
    GLASS = "glass"
    SUN = "sun through glass"
    AIR = "air"
    VENTILATION = "balanced ventilation"
    PEOPLE = "people, lights and appliances"
    STORED = "warming and cooling of the air"


@dataclass(frozen=True, slots=True, eq=False)
class DayPart:
    """Heat that one thing brings into one space in each hour of the day.

    Attributes
    ----------
    kind : PartKind
        What it comes from.
    id : str
        Of the surface or window; empty for others.
    space : int
        Index of the space.
    beyond : str
        Id of the space that it comes from, ``"outdoors"`` or ``"ground"``; empty for others.
    sensible : ndarray, shape (24,)
        Heat brought in [W].
    flow : ndarray, shape (24,)
        Air brought in from beyond, whose moisture comes along [kg/s].
    vapor : ndarray, shape (24,)
        Vapor released in the space [kg/s].
    """

    kind: PartKind
    id: str
    space: int
    beyond: str
    sensible: Floats
    flow: Floats
    vapor: Floats


@dataclass(frozen=True, slots=True, eq=False)
class DesignDay:
    """The last of many equal days.

    Attributes
    ----------
    outdoors, outdoor_humidity, pressure : ndarray, shape (24,)
        Temperature [K], vapor per dry air [kg/kg] and pressure outdoors [Pa].
    temperature, humidity : ndarray, shape (24, spaces)
        Of the air of the spaces [K], [kg/kg].
    heating, cooling : ndarray, shape (24, spaces)
        What holds the living spaces at the thermostat [W].
    parts : tuple of DayPart
        What the living spaces' heat comes from; sums to what the thermostat takes out.
    """

    outdoors: Floats
    outdoor_humidity: Floats
    pressure: Floats
    temperature: Floats
    humidity: Floats
    heating: Floats
    cooling: Floats
    parts: tuple[DayPart, ...]


def cold_day(compiled: Compiled, temperature: float | None) -> Floats:
    """Return 24 equal hours at the heating design temperature, without sun.

    Parameters
    ----------
    compiled : Compiled
        A house and its year as arrays.
    temperature : float or None
        Outdoors [K]; None for what 99 % of the hours exceed.

    Returns
    -------
    ndarray, shape (24, columns)
        Rows of the weather, with the mean wind, sky, ground and moisture of the hours nearest
        to it.
    """
    table = compiled.weather.table
    usual = float(np.quantile(table[:, AIR_OUTDOORS], COLD_SHARE))
    wanted = usual if temperature is None else temperature
    alike = np.abs(table[:, AIR_OUTDOORS] - usual) <= NEARLY
    day = np.repeat(table[alike].mean(axis=0, keepdims=True), HOURS, axis=0)
    day[:, AIR_OUTDOORS] = wanted
    day[:, SKY] += wanted - usual
    for key, column in compiled.directions.keys.items():
        if isinstance(key, Sun | Light):
            day[:, column] = 0.0
    return day


def hot_day(compiled: Compiled, temperature: float | None) -> Floats:
    """Return the 24 hours of the cooling design day.

    Parameters
    ----------
    compiled : Compiled
        A house and its year as arrays.
    temperature : float or None
        Highest outdoors [K]; None for what 1 % of the hours exceed.

    Returns
    -------
    ndarray, shape (24, columns)
        The mean of the days whose warmest hour is nearest to the 1 % temperature, shifted.
    """
    table = compiled.weather.table
    days = table.reshape(-1, HOURS, table.shape[1])
    usual = float(np.quantile(table[:, AIR_OUTDOORS], HOT_SHARE))
    warmest = days[:, :, AIR_OUTDOORS].max(axis=1)
    chosen = np.argsort(np.abs(warmest - usual), kind="stable")[:HOT_DAYS]
    day: Floats = days[chosen].mean(axis=0)
    wanted = usual if temperature is None else temperature
    day[:, [AIR_OUTDOORS, SKY]] += wanted - float(day[:, AIR_OUTDOORS].max())
    return day


def without_gains(compiled: Compiled) -> Compiled:
    """Return the house without heat of people, lights, appliances and water heater.

    Parameters
    ----------
    compiled : Compiled
        The house as arrays.

    Returns
    -------
    Compiled
    """
    nothing = np.zeros_like(compiled.air.convective)
    air = compiled.air._replace(convective=nothing, radiant=nothing)
    plant = compiled.plant._replace(tank_loss=np.zeros(1), hot_water=np.zeros(HOURS))
    return replace(compiled, air=air, plant=plant)


def with_steady_fans(compiled: Compiled) -> Compiled:
    """Return the house with every fan at its mean of the day.

    A hood that runs half an hour a day decides over no machine, and a whole-house fan runs on.

    Parameters
    ----------
    compiled : Compiled
        The house as arrays.

    Returns
    -------
    Compiled
    """
    flows: dict[str, Any] = {
        name: np.tile(getattr(compiled.air, name).mean(axis=0), (HOURS, 1))
        for name in ("exhaust", "supplied", "unrecovered", "undried")
    }
    return replace(compiled, air=compiled.air._replace(**flows))


def with_heat(compiled: Compiled, heat: Floats) -> Compiled:
    """Return the house with more heat in its spaces, such as what ducts lose there.

    Parameters
    ----------
    compiled : Compiled
        The house as arrays.
    heat : ndarray, shape (24, spaces)
        Heat put in, hour by hour [W].

    Returns
    -------
    Compiled
    """
    return replace(compiled, air=compiled.air._replace(convective=compiled.air.convective + heat))


def run_day(house: House, compiled: Compiled, day: Floats, low: float, high: float) -> DesignDay:
    """Return one of many equal days, every living space held between two temperatures.

    Parameters
    ----------
    house : House
        The house.
    compiled : Compiled
        The same as arrays.
    day : ndarray, shape (24, columns)
        Rows of the weather, each column in its own unit [-].
    low, high : float
        Setpoints for heating and cooling [K].

    Returns
    -------
    DesignDay
    """
    weather = compiled.weather._replace(
        hours=HOURS, table=np.ascontiguousarray(day), month=np.zeros(1, dtype=np.int64)
    )
    held = replace(compiled, plant=_ideal_plant(house, compiled, low, high), weather=weather)
    records = run_compiled(held, hourly=True).records
    parts = [
        *_through_surfaces(house, held, records),
        *_sun(house, held),
        *_air(house, held, records),
        *_fans(house, held, records),
        *_within(house, held, records),
    ]
    living = {i for i, space in enumerate(house.spaces) if space in house.living_spaces}
    return DesignDay(
        outdoors=day[:, AIR_OUTDOORS],
        outdoor_humidity=day[:, HUMIDITY],
        pressure=day[:, PRESSURE],
        temperature=records.temperature,
        humidity=records.humidity,
        heating=records.heating,
        cooling=records.cooling,
        parts=tuple(part for part in parts if part.space in living),
    )


def _ideal_plant(house: House, compiled: Compiled, low: float, high: float) -> Plant:
    """Return a plant with an ideal thermostat in every room, the water heater as it is."""
    plant = make_plant(house, ROOM_DENSITY, each_room=True)
    return plant._replace(
        heat_setpoint=np.full_like(plant.heat_setpoint, low),
        cool_setpoint=np.full_like(plant.cool_setpoint, high),
        hot_water=compiled.plant.hot_water,
        tank_loss=compiled.plant.tank_loss,
        drier_capacity=np.zeros(len(house.spaces)),
    )


def _through_surfaces(house: House, compiled: Compiled, records: Records) -> Iterator[DayPart]:
    """Yield the heat that comes out of the layers at each inside face."""
    elements = compiled.elements
    inner, outer = records.conducted_inside.copy(), records.conducted_outside
    inner[:, elements.first_window : elements.first_ground] -= _absorbed(compiled)
    ids = [space.id for space in house.spaces]
    windows = {window.id for window in house.windows}
    outside = {surface.id: surface.outside for surface in house.surfaces}
    for e, name in enumerate(compiled.element_ids):
        kind = PartKind.GLASS if name in windows else PartKind.SURFACE
        space = int(elements.space[e])
        yield _part(kind, space, inner[:, e], part=name, beyond=outside.get(name, OUTDOORS))
        if e >= elements.first_partition:
            yield _part(kind, int(elements.other[e]), outer[:, e], part=name, beyond=ids[space])


def _absorbed(compiled: Compiled) -> Floats:
    """Return the sun that the panes of each window pass on inward, hour by hour [W]."""
    elements, day = compiled.elements, compiled.weather.table
    area = elements.area[elements.first_window : elements.first_ground]
    return np.asarray(area * elements.glass_taken * day[:, elements.heat_column])


def _part(
    kind: PartKind,
    space: int,
    sensible: Floats,
    *,
    part: str = "",
    beyond: str = "",
    flow: Floats | None = None,
    vapor: Floats | None = None,
) -> DayPart:
    none = np.zeros(24)
    return DayPart(
        kind, part, space, beyond, sensible, none if flow is None else flow,
        none if vapor is None else vapor,
    )  # fmt: skip


def _sun(house: House, compiled: Compiled) -> Iterator[DayPart]:
    """Yield the sun that each window lets in and that does not leave through glass again."""
    elements, day = compiled.elements, compiled.weather.table
    absorbed = _absorbed(compiled)
    spaces = len(house.spaces)
    beam, diffuse = (
        np.bincount(elements.space, elements.area * inside, spaces)
        + np.bincount(
            elements.other[elements.first_partition :],
            (elements.area * outside)[elements.first_partition :],
            spaces,
        )
        for inside, outside in (
            (elements.beam_inside, elements.beam_outside),
            (elements.diffuse_inside, elements.diffuse_outside),
        )
    )
    for w in range(elements.windows):
        e = elements.first_window + w
        space = int(elements.space[e])
        through = elements.glass_area[w] * (
            beam[space] * day[:, elements.beam_column[w]]
            + diffuse[space] * day[:, elements.diffuse_column[w]]
        )
        taken = absorbed[:, w]
        yield _part(
            PartKind.SUN, space, through + taken, part=compiled.element_ids[e], beyond=OUTDOORS
        )


def _air(house: House, compiled: Compiled, records: Records) -> Iterator[DayPart]:
    """Yield what air brings into each space from each other."""
    origins = [*(space.id for space in house.spaces), OUTDOORS]
    entering = records.entering.reshape(HOURS, len(house.spaces), -1)
    outdoors = compiled.weather.table[:, AIR_OUTDOORS]
    warmth = np.column_stack([records.temperature, outdoors])
    for space in range(len(house.spaces)):
        for origin, name in enumerate(origins):
            flow = entering[:, space, origin]
            if flow.any() and origin != space:
                heat = HEAT_OF_AIR * flow * (warmth[:, origin] - warmth[:, space])
                yield _part(PartKind.AIR, space, heat, beyond=name, flow=flow)


def _fans(house: House, compiled: Compiled, records: Records) -> Iterator[DayPart]:
    """Yield the air that balanced fans exchange, less what they recover."""
    day = compiled.weather.table
    for fan in house.fans:
        if fan.kind != "balanced":
            continue
        space = next(i for i, one in enumerate(house.spaces) if one.id == fan.space)
        warmth, moisture = records.temperature[:, space], records.humidity[:, space]
        density = day[:, PRESSURE] / (GAS_CONSTANT * warmth * (1.0 + 0.608 * moisture))
        flow = density * fan.flow * float(np.mean(fan.hours))
        heat = HEAT_OF_AIR * flow * (day[:, AIR_OUTDOORS] - warmth) * (1.0 - fan.recovery)
        yield _part(
            PartKind.VENTILATION, space, heat, part=fan.id, beyond=OUTDOORS,
            flow=flow * (1.0 - fan.latent_recovery),
        )  # fmt: skip


def _within(house: House, compiled: Compiled, records: Records) -> Iterator[DayPart]:
    """Yield people and what stands in the space, and the air's own warming."""
    air, plant, warmth = compiled.air, compiled.plant, records.temperature
    for space in range(len(house.spaces)):
        gains = air.convective[:, space] + air.radiant[:, space]
        if space == plant.heater_space:
            gains = gains + plant.tank_loss * (plant.tank_temperature - warmth[:, space])
        yield _part(PartKind.PEOPLE, space, gains, vapor=air.vapor[:, space])
        cooled = np.roll(warmth[:, space], 1) - warmth[:, space]
        yield _part(PartKind.STORED, space, air.capacity[space] * cooled / HOUR)
