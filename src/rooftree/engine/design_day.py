"""A design day, repeated until nothing changes, with an ideal thermostat in every room.

All that design loads know of the arrays of the hour loop is in this file.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.arrays import IDEAL, NO_SYSTEM, Weather
from rooftree.engine.compile import make_state
from rooftree.engine.conduction import HOUR
from rooftree.engine.moist import GAS_CONSTANT, HEAT_OF_AIR
from rooftree.engine.simulation import run_compiled
from rooftree.house import OUTDOORS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from rooftree.engine.arrays import Records
    from rooftree.engine.compile import Compiled
    from rooftree.house import House

    Floats = NDArray[np.float64]

COLD_SHARE, HOT_SHARE = 0.01, 0.99
"""Share of the hours of the year that are colder than the heating design temperature, and
than the cooling design temperature [0-1]: the trade's 99 % and 1 % conditions."""

DAYS = 20
"""Times that the design day is repeated, so that the start is forgotten."""

HOT_DAYS = 7
"""Hottest days next to the design temperature whose mean is the cooling design day."""

NEARLY = 0.75
"""Hours this near to the heating design temperature give its wind and sky [K]."""

ALWAYS_COLD, ALWAYS_HOT = 0.0, 1000.0
"""Setpoints that never ask for heat, and never for cold [K]."""


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


def cold_day(weather: Weather, temperature: float | None) -> Weather:
    """Return 24 equal hours at the heating design temperature, without sun.

    Parameters
    ----------
    weather : Weather
        The year as the hour loop reads it.
    temperature : float or None
        Outdoors [K]; None for what 99 % of the hours exceed.

    Returns
    -------
    Weather
        With the mean wind, sky, ground and moisture of the hours nearest to it.
    """
    usual = float(np.quantile(weather.temperature, COLD_SHARE))
    wanted = usual if temperature is None else temperature
    alike = np.abs(weather.temperature - usual) <= NEARLY
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
        temperature=np.full(24, wanted),
        sky=day.sky + wanted - usual,
        month=np.zeros(24, dtype=np.int64),
        **dark,
    )


def hot_day(weather: Weather, temperature: float | None) -> Weather:
    """Return the 24 hours of the cooling design day.

    Parameters
    ----------
    weather : Weather
        The year as the hour loop reads it.
    temperature : float or None
        Highest outdoors [K]; None for what 1 % of the hours exceed.

    Returns
    -------
    Weather
        The mean of the days whose warmest hour is nearest to the 1 % temperature, shifted.
    """
    usual = float(np.quantile(weather.temperature, HOT_SHARE))
    warmest = weather.temperature.reshape(365, 24).max(axis=1)
    chosen = np.argsort(np.abs(warmest - usual), kind="stable")[:HOT_DAYS]
    day = Weather(
        *(column.reshape(365, 24, *column.shape[1:])[chosen].mean(axis=0) for column in weather)
    )
    shift = (usual if temperature is None else temperature) - float(day.temperature.max())
    return day._replace(
        temperature=day.temperature + shift,
        sky=day.sky + shift,
        month=np.zeros(24, dtype=np.int64),
    )


def without_gains(compiled: Compiled) -> Compiled:
    """Return the house without heat of people, lights, appliances and water heater."""
    nothing = np.zeros_like(compiled.air.convective)
    return replace(compiled, air=compiled.air._replace(convective=nothing, radiant=nothing))


def with_steady_fans(compiled: Compiled) -> Compiled:
    """Return the house with every fan at its mean of the day.

    A hood that runs half an hour a day decides over no machine, and a whole-house fan runs on.
    """
    flows = {
        name: np.tile(getattr(compiled.air, name).mean(axis=0), (24, 1))
        for name in ("exhaust", "supplied", "balanced", "unrecovered")
    }
    return replace(compiled, air=compiled.air._replace(**flows))


def run_day(house: House, compiled: Compiled, day: Weather, low: float, high: float) -> DesignDay:
    """Return the last of many equal days, every living space held between two temperatures.

    Parameters
    ----------
    house : House
        The house.
    compiled : Compiled
        The same as arrays.
    day : Weather
        24 hours.
    low, high : float
        Setpoints for heating and cooling [K].

    Returns
    -------
    DesignDay
    """
    spaces = len(house.spaces)
    plant = compiled.plant._replace(
        each_room=True,
        heat_setpoint=np.full(24, low),
        cool_setpoint=np.full(24, high),
        heat_kind=IDEAL,
        cool_kind=NO_SYSTEM,
        air_flow=0.0,
        drier_capacity=np.zeros(spaces),
    )
    days = Weather(*(np.concatenate([column] * DAYS) for column in day))
    held = replace(compiled, plant=plant, weather=days)
    _, records = run_compiled(held, hourly=True, warm_up=0)
    last = slice(-24, None)
    parts = [
        *_through_surfaces(house, held, records),
        *_sun(house, held, day),
        *_air(house, held, records),
        *_fans(house, held, records),
        *_within(house, held, records),
    ]
    living = {i for i, space in enumerate(house.spaces) if space in house.living_spaces}
    return DesignDay(
        outdoors=day.temperature,
        outdoor_humidity=day.humidity,
        pressure=day.pressure,
        temperature=records.temperature[last],
        humidity=records.humidity[last],
        heating=records.heating[last],
        cooling=records.cooling[last],
        parts=tuple(part for part in parts if part.space in living),
    )


def _through_surfaces(house: House, compiled: Compiled, records: Records) -> Iterator[DayPart]:
    """Yield the heat that comes out of the layers at each inside face.

    Follows the modes of the layers from the recorded faces, as conduction.Response has it.
    """
    elements, area = compiled.elements, compiled.elements.area
    faces = list(zip(records.face_inside, records.face_outside, strict=True))
    modes, owner = make_state(compiled).modes, elements.owner
    inner, outer = np.zeros((24, area.size)), np.zeros((24, area.size))
    for hour, (u, v) in enumerate(faces, start=24 - len(faces)):
        if hour >= 0:
            felt = (
                np.bincount(owner, feel * modes, area.size)
                for feel in (elements.feel_inside, elements.feel_outside)
            )
            inner[hour] = area * (elements.across * v - elements.inside * u + next(felt))
            outer[hour] = area * (elements.across * u - elements.outside * v + next(felt))
        pushed = elements.push_inside * u[owner] + elements.push_outside * v[owner]
        modes = elements.fade * modes + pushed
    ids = [space.id for space in house.spaces]
    windows = {window.id for window in house.windows}
    outside = {surface.id: surface.outside for surface in house.surfaces}
    for e, name in enumerate(compiled.element_ids):
        kind = PartKind.GLASS if name in windows else PartKind.SURFACE
        space = int(elements.space[e])
        yield _part(kind, space, inner[:, e], part=name, beyond=outside.get(name, OUTDOORS))
        if e >= elements.first_partition:
            yield _part(kind, int(elements.other[e]), outer[:, e], part=name, beyond=ids[space])


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


def _sun(house: House, compiled: Compiled, day: Weather) -> Iterator[DayPart]:
    """Yield the sun that each window lets in and that does not leave through glass again."""
    elements = compiled.elements
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
    for w, glazing in enumerate(elements.glazing):
        e = elements.first_window + w
        space = int(elements.space[e])
        through = elements.glass_area[w] * (
            beam[space] * day.glass_beam[:, glazing]
            + diffuse[space] * day.glass_diffuse[:, glazing]
        )
        taken = elements.area[e] * elements.glass_taken[w] * day.glass_heat[:, glazing]
        yield _part(
            PartKind.SUN, space, through + taken, part=compiled.element_ids[e], beyond=OUTDOORS
        )


def _air(house: House, compiled: Compiled, records: Records) -> Iterator[DayPart]:
    """Yield what air brings into each space from each other."""
    origins = [*(space.id for space in house.spaces), OUTDOORS]
    entering = records.entering[-24:]
    warmth = np.column_stack([records.temperature, compiled.weather.temperature])[-24:]
    for space in range(len(house.spaces)):
        for origin, name in enumerate(origins):
            flow = entering[:, space, origin]
            if flow.any() and origin != space:
                heat = HEAT_OF_AIR * flow * (warmth[:, origin] - warmth[:, space])
                yield _part(PartKind.AIR, space, heat, beyond=name, flow=flow)


def _fans(house: House, compiled: Compiled, records: Records) -> Iterator[DayPart]:
    """Yield the air that balanced fans exchange, less what they recover."""
    weather = compiled.weather
    for fan in house.fans:
        if fan.kind != "balanced":
            continue
        space = next(i for i, one in enumerate(house.spaces) if one.id == fan.space)
        warmth, moisture = records.temperature[-24:, space], records.humidity[-24:, space]
        density = weather.pressure[-24:] / (GAS_CONSTANT * warmth * (1.0 + 0.608 * moisture))
        flow = density * fan.flow * float(np.mean(fan.hours))
        heat = HEAT_OF_AIR * flow * (weather.temperature[-24:] - warmth) * (1.0 - fan.recovery)
        yield _part(
            PartKind.VENTILATION, space, heat, part=fan.id, beyond=OUTDOORS,
            flow=flow * (1.0 - fan.latent_recovery),
        )  # fmt: skip


def _within(house: House, compiled: Compiled, records: Records) -> Iterator[DayPart]:
    """Yield people and what stands in the space, and the air's own warming."""
    air, warmth = compiled.air, records.temperature[-25:]
    for space in range(len(house.spaces)):
        gains = air.convective[:, space] + air.radiant[:, space]
        yield _part(PartKind.PEOPLE, space, gains, vapor=air.vapor[:, space])
        cooled = warmth[:-1, space] - warmth[1:, space]
        yield _part(PartKind.STORED, space, air.capacity[space] * cooled / HOUR)
