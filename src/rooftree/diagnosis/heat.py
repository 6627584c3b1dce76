"""Where the heat of each space comes from and goes to, cause by cause, hour by hour.

The balance is that of the space's air and of the heat radiation within it: what comes out
of its surfaces, glass and sun, what air brings along, people, equipment. What is left over
warms the air and the furnishings.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from rooftree.diagnosis.simulated_year import HOUR
from rooftree.diagnosis.sunlight import sun_by_window
from rooftree.engine.equipment import RATED_TANK_AIR, REFERENCE_AIR, WARMER_TANK
from rooftree.engine.moist import HEAT_OF_AIR, HEAT_OF_EVAPORATION
from rooftree.house import OUTDOORS, Surface

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from rooftree.diagnosis.simulated_year import SimulatedYear
    from rooftree.house import WaterHeater

    Floats = NDArray[np.float64]

DRYING, WATER = 4, 5
"""Columns of `Hourly.bought` that drying the air and hot water take."""

LEAST_EXCHANGE = 1e-6
"""Air beyond the leaks below which nothing is exchanged through doors [kg/s]."""


class Cause(StrEnum):
    """What brings heat into a space or takes it out."""

    SURFACE = "surface"
    GLASS = "glass"
    SUN = "sun"
    LEAK = "leak"
    OPENING = "open door or window"
    FAN = "fan"
    PEOPLE = "people, lights and appliances"
    WATER_HEATER = "water heater"
    DEHUMIDIFIER = "dehumidifier"
    EQUIPMENT = "heating and cooling"
    BETWEEN = "between rooms"


@dataclass(frozen=True, slots=True)
class HeatPart:
    """One cause of heat in one space.

    Attributes
    ----------
    cause : Cause
        Of which kind.
    id, name : str
        Of the surface, window, leak or fan; empty where there is none.
    space : str
        Id of the space whose heat it is; empty for the living spaces together.
    beyond : str
        Id of what lies on the other side: a space, outdoors or the ground; empty where
        nothing does.
    """

    cause: Cause
    id: str
    name: str
    space: str
    beyond: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class HeatSplit:
    """The heat of one space, or of all living spaces together, by cause.

    Attributes
    ----------
    space : str
        Id of the space; empty for the living spaces together.
    parts : tuple of HeatPart
        The causes.
    heat : ndarray, shape (hours, parts)
        Heat that each brings into the space [W]; negative where it takes heat out.
    stored : ndarray, shape (hours,)
        Heat taken up by the air and the furnishings [W].
    monthly : ndarray, shape (12, parts)
        Sums of `heat` over the months [J].
    """

    space: str
    parts: tuple[HeatPart, ...]
    heat: Floats
    stored: Floats
    monthly: Floats

    @property
    def yearly(self) -> Floats:
        """Return the sums of the year, shape (parts,) [J]."""
        return np.asarray(self.monthly.sum(axis=0))

    @property
    def unaccounted(self) -> Floats:
        """Return what the causes bring and the air does not store, hour by hour [W]."""
        return np.asarray(self.heat.sum(axis=1) - self.stored)

    @property
    def closing_error(self) -> float:
        """Return the sizes of what is unaccounted for over half those of all flows [0-1]."""
        passed = 0.5 * float(np.abs(self.heat).sum() + np.abs(self.stored).sum())
        return float(np.abs(self.unaccounted).sum()) / passed if passed else 0.0

    def of(self, *causes: Cause) -> Floats:
        """Return the heat that some causes bring together, hour by hour [W]."""
        columns = [k for k, part in enumerate(self.parts) if part.cause in causes]
        return np.asarray(self.heat[:, columns].sum(axis=1))


def split_heat(year: SimulatedYear) -> tuple[HeatSplit, ...]:
    """Split the heat of every space by cause.

    Parameters
    ----------
    year : SimulatedYear
        The year.

    Returns
    -------
    tuple of HeatSplit
        In the order of the spaces, buffer spaces included.

    Notes
    -----
    Surfaces and glass: heat that comes out of the layers at the face, and in panes the sun
    that they absorb. Sun: what is let in less what leaves again through the glass. Leaks,
    doors and fans: ``m c (T there - T here)`` for air that enters; air that leaves takes
    the space's own state along and changes nothing. A fan that recovers heat counts with
    what it does not recover. Equipment: heat and cold that reach the space, in a buffer
    space those that ducts lose to it. A surface between two parts of one space, such as a
    partition, is what it stores.
    """
    columns = [*_surfaces(year), *_sun(year), *_air(year), *_machines(year)]
    stored = _stored(year)
    splits = []
    for index, space in enumerate(year.house.spaces):
        own = [(part, heat) for part, heat in columns if part.space == space.id]
        if year.is_living[index] and year.house.use.open_window_area > 0.0:
            own.append(_aired(space.id, year.hourly.aired[:, index]))
        heat = np.stack([each for _, each in own], axis=1)
        parts = tuple(part for part, _ in own)
        splits.append(HeatSplit(space.id, parts, heat, stored[:, index], _sums(year, heat)))
    return tuple(splits)


def split_whole_house(year: SimulatedYear, splits: tuple[HeatSplit, ...]) -> HeatSplit:
    """Split the heat of all living spaces together by cause.

    Parameters
    ----------
    year : SimulatedYear
        The year.
    splits : tuple of HeatSplit
        Of every space.

    Returns
    -------
    HeatSplit
        What passes between living spaces is one part, `Cause.BETWEEN`: what walls between
        them store, and air that moves round and round.
    """
    living = {space.id for space in year.house.living_spaces}
    heat: dict[HeatPart, Floats] = {}
    stored = np.zeros(year.hours)
    for split in splits:
        if split.space not in living:
            continue
        stored = stored + split.stored
        for part, column in zip(split.parts, split.heat.T, strict=True):
            key = _as_one(part, living)
            heat[key] = heat[key] + column if key in heat else column
    table = np.stack(list(heat.values()), axis=1) if heat else np.zeros((year.hours, 0))
    return HeatSplit("", tuple(heat), table, stored, _sums(year, table))


def _as_one(part: HeatPart, living: set[str]) -> HeatPart:
    if part.beyond in living:
        return HeatPart(Cause.BETWEEN, "", "walls and air between the rooms", "")
    if part.cause in (Cause.PEOPLE, Cause.EQUIPMENT, Cause.WATER_HEATER, Cause.DEHUMIDIFIER):
        return HeatPart(part.cause, "", part.name, "", part.beyond)
    return HeatPart(part.cause, part.id, part.name, "", part.beyond)


def _sums(year: SimulatedYear, heat: Floats) -> Floats:
    return np.asarray(year.by_month(heat) * HOUR)


def _stored(year: SimulatedYear) -> Floats:
    """Return the heat that air and furnishings of each space take up [W]."""
    density = float(np.mean(year.weather.pressure)) / (287.042 * 293.15)
    capacity = [
        space.capacity + space.volume * density * HEAT_OF_AIR for space in year.house.spaces
    ]
    t = year.hourly.temperature
    return np.asarray(np.array(capacity) * (t - np.roll(t, 1, axis=0)) / HOUR)


Column = tuple[HeatPart, "Floats"]


def _surfaces(year: SimulatedYear) -> Iterator[Column]:
    hourly, spaces = year.hourly, len(year.house.spaces)
    for e, element in enumerate(year.elements):
        cause = Cause.SURFACE if isinstance(element, Surface) else Cause.GLASS
        here, there = year.place(int(year.inside[e])), year.place(int(year.beyond[e]))
        inward = hourly.conducted_inside[:, e]
        if year.beyond[e] < spaces:
            other = hourly.conducted_outside[:, e]
            if here == there:
                inward = inward + other
            else:
                yield HeatPart(cause, element.id, element.name, there, here), other
        yield HeatPart(cause, element.id, element.name, here, there), inward


def _sun(year: SimulatedYear) -> Iterator[Column]:
    windows, sun = sun_by_window(year)
    for window, heat in zip(windows, sun.T, strict=True):
        yield HeatPart(Cause.SUN, window.id, window.name, window.space, OUTDOORS), heat


def _air(year: SimulatedYear) -> Iterator[Column]:
    """Yield what air brings: through each leak, by fans, and through doors and windows."""
    hourly, weather = year.hourly, year.weather
    index = {space.id: i for i, space in enumerate(year.house.spaces)}
    index[OUTDOORS] = n = len(year.house.spaces)
    t = np.column_stack([hourly.temperature, weather.temperature])
    density = year.density()
    left = hourly.entering.copy()
    for leak, flow in zip(year.house.leaks, hourly.leak_flow.T, strict=True):
        first, second = index[leak.first], index[leak.second]
        for there, here, entering in (
            (first, second, np.maximum(flow, 0.0)),
            (second, first, np.maximum(-flow, 0.0)),
        ):
            if here == n:
                continue
            left[:, here, there] -= entering
            part = HeatPart(Cause.LEAK, leak.id, leak.name, year.place(here), year.place(there))
            yield part, HEAT_OF_AIR * entering * (t[:, there] - t[:, here])
    for fan in year.house.fans:
        here = index[fan.space]
        flow = year.daily(fan.flow * np.array(fan.hours))
        if fan.kind == "supply":
            mass = density[:, n] * flow
            left[:, here, n] -= mass
        elif fan.kind == "balanced":
            mass = density[:, here] * flow * (1.0 - fan.recovery)
        else:
            continue
        part = HeatPart(Cause.FAN, fan.id, fan.name, fan.space, OUTDOORS)
        yield part, HEAT_OF_AIR * mass * (t[:, n] - t[:, here])
    for here in range(n):
        for there in range(n + 1):
            if left[:, here, there].max(initial=0.0) > LEAST_EXCHANGE:
                name = f"air to and fro with {year.name(there)}"
                part = HeatPart(Cause.OPENING, "", name, year.place(here), year.place(there))
                difference = t[:, there] - t[:, here]
                yield part, HEAT_OF_AIR * left[:, here, there] * difference


def _machines(year: SimulatedYear) -> Iterator[Column]:
    """Yield what people, water heater, dehumidifiers and equipment give off."""
    house, hourly = year.house, year.hourly
    floor = house.floor_area
    gain = year.daily(house.use.sensible_gain)
    for index, space in enumerate(house.spaces):
        made = hourly.heating[:, index] - hourly.cooling[:, index]
        part = HeatPart(Cause.EQUIPMENT, "", "heating and cooling", space.id)
        yield part, made
        if space in house.living_spaces:
            part = HeatPart(Cause.PEOPLE, "", "people, lights and appliances", space.id)
            yield part, gain * (space.floor_area / floor)
    if house.water_heater is not None:
        part = HeatPart(Cause.WATER_HEATER, "", "water heater", house.water_heater.space)
        yield part, _of_tank(year, house.water_heater)
    capacity = sum(drier.capacity for drier in house.dehumidifiers)
    for drier in house.dehumidifiers:
        power = hourly.bought[:, DRYING] * drier.capacity / capacity
        heat = power * (1.0 + drier.energy_factor * HEAT_OF_EVAPORATION)
        part = HeatPart(Cause.DEHUMIDIFIER, "", "dehumidifier", drier.space)
        yield part, np.roll(heat, 1)  # the engine gives it back an hour later


def _aired(space: str, heat: Floats) -> Column:
    """Return the heat that comes through windows that people open."""
    return HeatPart(Cause.OPENING, "", "air through open windows", space, OUTDOORS), heat


def _of_tank(year: SimulatedYear, heater: WaterHeater) -> Floats:
    """Return the heat that a water heater gives its space, less what its heat pump takes [W]."""
    around = year.hourly.temperature[:, year.result.space_ids.index(heater.space)]
    loss = heater.standby_loss / max(heater.setpoint - REFERENCE_AIR, 1.0)
    given = loss * (heater.setpoint - around)
    if heater.kind != "heat pump":
        return np.asarray(given)
    before = np.roll(around, 1)  # the engine asks the machine with the air of the hour before
    bought = year.hourly.bought[:, WATER]
    pumped = np.maximum(bought - loss * (REFERENCE_AIR - before) / heater.efficiency, 0.0)
    better = np.maximum(1.0 + WARMER_TANK * (before - RATED_TANK_AIR), 0.4)
    made = pumped * better * heater.efficiency
    return np.asarray(given - np.maximum(made - pumped, 0.0))
