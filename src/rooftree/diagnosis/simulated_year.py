"""A house, its year and its weather side by side: what every part of a diagnosis reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import HouseError, NotEnoughDataError
from rooftree.house import GROUND, OUTDOORS, Surface
from rooftree.physics.moist_series import saturation_pressures, vapor_pressures
from rooftree.weather.hours import month_of_hour

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.engine import Hourly, YearResult
    from rooftree.house import House, Window
    from rooftree.weather import WeatherYear

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Truths = NDArray[np.bool_]

HOUR = 3600.0
"""Length of one step [s]."""

DRY_AIR = 287.042
"""Gas constant of dry air, as the engine has it [J/(kg·K)]."""

MILD = 288.15
"""Mean outdoor temperature of a month below which a house without machines is in its heating
season [K]; ours."""


@dataclass(frozen=True, slots=True, eq=False)
class SimulatedYear:
    """A house with what the engine found of it, and the indices that join the two.

    Attributes
    ----------
    house : House
        The house.
    result : YearResult
        Its year, kept hour by hour.
    hourly : Hourly
        The same, hour by hour.
    weather : WeatherYear
        The weather it was run through.
    elements : tuple of Surface or Window
        In the order of the result's columns.
    inside, beyond : ndarray of int64, shape (elements,)
        Index of the space at the inside face and of what lies beyond; the number of spaces
        stands for outdoors, one more for the ground.
    area : ndarray, shape (elements,)
        Of the elements [m²].
    is_living : ndarray of bool, shape (spaces,)
        Which spaces count as inside.
    thermostat : int
        Index of the space with the thermostat.
    month : ndarray of int64, shape (hours,)
        0 to 11.
    heats, cools : ndarray of bool, shape (hours,)
        Hours in which any living space is heated, and cooled.
    """

    house: House
    result: YearResult
    hourly: Hourly
    weather: WeatherYear
    elements: tuple[Surface | Window, ...]
    inside: Integers
    beyond: Integers
    area: Floats
    is_living: Truths
    thermostat: int
    month: Integers
    heats: Truths
    cools: Truths

    @property
    def hours(self) -> int:
        """Return the number of hours."""
        return int(self.month.size)

    @property
    def hour_of_day(self) -> Integers:
        """Return the hour of the day of each hour, 0 to 23."""
        return np.arange(self.hours) % 24

    def daily(self, by_hour: ArrayLike) -> Floats:
        """Return a profile of 24 hours for every hour of the year."""
        return np.asarray(np.asarray(by_hour, dtype=float)[self.hour_of_day])

    def by_month(self, hourly: Floats) -> Floats:
        """Return the sums over the hours of each month, shape (12, ...)."""
        starts = np.flatnonzero(np.diff(self.month, prepend=-1))
        sums = np.zeros((12, *hourly.shape[1:]))
        np.add.at(sums, self.month[starts], np.add.reduceat(hourly, starts, axis=0))
        return sums

    def name(self, index: int) -> str:
        """Return what a space, outdoors or the ground is called, for a sentence."""
        spaces = self.house.spaces
        if index < len(spaces):
            return spaces[index].name
        return OUTDOORS if index == len(spaces) else "the ground"

    def place(self, index: int) -> str:
        """Return the id of a space, outdoors or the ground."""
        spaces = self.house.spaces
        if index < len(spaces):
            return spaces[index].id
        return OUTDOORS if index == len(spaces) else GROUND

    def density(self) -> Floats:
        """Return the density of the air of each space, last outdoors [kg/m³]."""
        weather, hourly = self.weather, self.hourly
        t = np.column_stack([hourly.temperature, weather.temperature])
        w = np.column_stack([hourly.humidity_ratio, weather.humidity_ratio])
        return np.asarray(weather.pressure[:, None] / (DRY_AIR * t * (1.0 + 0.608 * w)))

    def vapor(self) -> Floats:
        """Return the vapor pressure of each space, last outdoors [Pa]."""
        w = np.column_stack([self.hourly.humidity_ratio, self.weather.humidity_ratio])
        return vapor_pressures(w, self.weather.pressure[:, None])

    def relative_humidity(self) -> Floats:
        """Return the relative humidity of the air of each space [0-1]."""
        return np.asarray(self.vapor()[:, :-1] / saturation_pressures(self.hourly.temperature))

    def heating_months(self) -> Truths:
        """Return which months belong to the heating season, shape (12,).

        Those in which the living spaces get more heat than cold; in a house without
        machines those with a mean below 15 °C outdoors.
        """
        living = self.is_living
        heat = self.by_month(self.hourly.heating[:, living].sum(axis=1))
        cold = self.by_month(self.hourly.cooling[:, living].sum(axis=1))
        if heat.any() or cold.any():
            return np.asarray(heat > cold)
        count = np.maximum(np.bincount(self.month, minlength=12), 1)
        return np.asarray(self.by_month(self.weather.temperature) / count < MILD)

    def duct_flow(self) -> float:
        """Return the mass flow of the air handler while it runs [kg/s]; 0 without one."""
        handler = self.house.air_handler
        if handler is None:
            return 0.0
        return handler.flow * float(np.mean(self.weather.pressure)) / (DRY_AIR * 293.15)


def read_year(house: House, result: YearResult, weather: WeatherYear) -> SimulatedYear:
    """Put a house, its simulated year and its weather side by side.

    Parameters
    ----------
    house : House
        The house that was simulated.
    result : YearResult
        Its year, with `hourly`.
    weather : WeatherYear
        The weather that it was run through.

    Returns
    -------
    SimulatedYear

    Raises
    ------
    NotEnoughDataError
        If the year was simulated without keeping its hours.
    HouseError
        If result, house and weather do not belong together.
    """
    hourly = result.hourly
    if hourly is None:
        message = "the year was simulated without its hours; simulate it with hourly=True"
        raise NotEnoughDataError(message)
    parts: dict[str, Surface | Window] = {surface.id: surface for surface in house.surfaces}
    parts |= {window.id: window for window in house.windows}
    ids = tuple(space.id for space in house.spaces)
    if set(result.element_ids) != set(parts) or result.space_ids != ids:
        message = (
            "the year is that of another house: its surfaces and spaces are not those of "
            f"{house.name}; simulate this house again"
        )
        raise HouseError(message)
    hours = hourly.temperature.shape[0]
    if weather.temperature.size != hours:
        message = (
            f"the year has {hours} hours and the weather {weather.temperature.size}; give the "
            "weather that the house was run through"
        )
        raise HouseError(message)
    elements = tuple(parts[each] for each in result.element_ids)
    index = {each: i for i, each in enumerate((*ids, OUTDOORS, GROUND))}
    living = np.array([space in house.living_spaces for space in house.spaces])
    return SimulatedYear(
        house=house,
        result=result,
        hourly=hourly,
        weather=weather,
        elements=elements,
        inside=np.array([index[_inside(each)] for each in elements], dtype=np.int64),
        beyond=np.array([index[_beyond(each)] for each in elements], dtype=np.int64),
        area=np.array([each.area for each in elements], dtype=float),
        is_living=living,
        thermostat=_thermostat(house, index),
        month=np.resize(month_of_hour(), hours),
        heats=hourly.heating[:, living].sum(axis=1) > 0.0,
        cools=hourly.cooling[:, living].sum(axis=1) > 0.0,
    )


def _inside(part: Surface | Window) -> str:
    return part.inside if isinstance(part, Surface) else part.space


def _beyond(part: Surface | Window) -> str:
    return part.outside if isinstance(part, Surface) else OUTDOORS


def _thermostat(house: House, index: dict[str, int]) -> int:
    if house.use.thermostat in index:
        return index[house.use.thermostat]
    living = house.living_spaces or house.spaces
    return index[max(living, key=lambda space: space.floor_area).id]
