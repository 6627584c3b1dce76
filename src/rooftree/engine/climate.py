"""What a year of weather does to planes, panes and facades, computed once and shared.

Thousands of variants of one house see the same weather on the same orientations. The hour
loop reads the weather as one table; a column is the air outdoors, the sun on a plane, the
light through a kind of glazing, the wind at a facade. Each column is computed once for a
year and kept with it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from threading import RLock
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias

import numpy as np

from rooftree.engine.arrays import FIRST_COLUMN, HOURS, Weather
from rooftree.engine.films import wind_convection
from rooftree.engine.glazing import glass_curve
from rooftree.engine.moist import GAS_CONSTANT
from rooftree.engine.shading import Projections, shade_window
from rooftree.engine.wind import terrain_factor, wind_pressure_factor
from rooftree.house.use.water import hot_water_months, reference_draw
from rooftree.weather import plane_irradiance

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.weather import PlaneIrradiance, WeatherYear

    Column: TypeAlias = NDArray[np.float64]

YEARS_KEPT, TABLES_KEPT, COLUMNS_KEPT = 4, 64, 512
"""Years of weather, and for each the tables and the columns, that are remembered."""

DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Of the year of weather."""

STRIDE = 5
"""Days that a mean day of the slow weather stands for: a 73rd of a year."""

GROUND_REFLECTANCE = 0.2
"""Of the ground around the house for the sun [-]; the usual value without snow."""


class Exposure(NamedTuple):
    """How the wind at the station reaches the house."""

    height: float
    terrain: str
    shelter: float


class Sun(NamedTuple):
    """Sun on an opaque plane [W/m²]."""

    tilt: float
    azimuth: float


class WindFilm(NamedTuple):
    """Convection by wind at glass in a plane [W/(m²·K)]."""

    tilt: float
    azimuth: float
    height: float
    terrain: str


class Glazing(NamedTuple):
    """Panes in a plane, and what stands out beside them."""

    tilt: float
    azimuth: float
    panes: int
    shade: Projections | None = None


class Light(NamedTuple):
    """Light at a glazing: ``"beam"``, ``"diffuse"`` passed, ``"heat"`` absorbed [W/m²]."""

    part: str
    glazing: Glazing


class WindPressure(NamedTuple):
    """Pressure of the wind on a facade [Pa]."""

    azimuth: float
    exposure: Exposure


class HotWater(NamedTuple):
    """Heat of hot water in each month over its mean of the year [-]."""

    months: tuple[float, ...]


class Given(NamedTuple):
    """An imposed value of a space: ``"held"``, ``"wet"``, ``"heat"`` or ``"fan"``."""

    what: str
    space: str


Key: TypeAlias = Sun | WindFilm | Light | WindPressure | HotWater | Given


@dataclass(slots=True)
class Directions:
    """The columns that some houses need, in the order in which they asked.

    Attributes
    ----------
    exposure : Exposure
        Of the walls to the wind.
    keys : dict from Key to int
        Column of each.
    laid_out : dict
        What compile.py has laid out for these columns.
    """

    exposure: Exposure
    keys: dict[Key, int] = field(default_factory=dict)
    laid_out: dict[Any, Any] = field(default_factory=dict)

    def column(self, key: Key) -> int:
        """Return the column of a key, a new one if it has none yet."""
        return self.keys.setdefault(key, FIRST_COLUMN + len(self.keys))


@dataclass(slots=True, eq=False)
class Climate:
    """A year of weather with all that was computed from it so far."""

    year: WeatherYear
    suns: dict[tuple[float, float], PlaneIrradiance] = field(default_factory=dict)
    columns: dict[Key, Column] = field(default_factory=dict)
    tables: dict[object, Weather] = field(default_factory=dict)
    water: dict[int, tuple[float, ...]] = field(default_factory=dict)
    lock: RLock = field(default_factory=RLock)

    def table(self, directions: Directions, given: Mapping[Given, Column] | None = None) -> Weather:
        """Return the year as the hour loop reads it.

        Parameters
        ----------
        directions : Directions
            The columns that are needed.
        given : mapping or None
            Imposed values [mixed units]; a table with them is not remembered.

        Returns
        -------
        Weather
            Whole days; hours after the last whole day are left out.
        """
        key = (tuple(directions.keys), directions.exposure)
        with self.lock:
            if given:
                return self._computed(directions, given)
            if key not in self.tables:
                if len(self.tables) >= TABLES_KEPT:
                    self.tables.pop(next(iter(self.tables)))
                self.tables[key] = self._computed(directions, {})
            return self.tables[key]

    def water_months(self, bedrooms: int) -> tuple[float, ...]:
        """Return the heat of hot water in each month over its mean, by the mains [-]."""
        with self.lock:
            if bedrooms not in self.water:
                months = hot_water_months(reference_draw(bedrooms), self.year)
                self.water[bedrooms] = tuple(float(month) for month in months)
            return self.water[bedrooms]

    def _computed(self, directions: Directions, given: Mapping[Given, Column]) -> Weather:
        year, exposure = self.year, directions.exposure
        hours = year.temperature.size // HOURS * HOURS
        speed = year.wind_speed * exposure.shelter
        base = (
            year.temperature, year.sky_temperature, year.ground_temperature, year.pressure,
            year.humidity_ratio, speed * terrain_factor(exposure.height, exposure.terrain),
            np.ones(year.temperature.size), np.zeros(year.temperature.size),
        )  # fmt: skip
        more = [given[k] if isinstance(k, Given) else self._column(k) for k in directions.keys]
        return Weather(
            hours=hours,
            count=FIRST_COLUMN + len(more),
            table=np.ascontiguousarray(np.stack([*base, *more], axis=1)[:hours]),
            month=np.array(year.month[:hours:HOURS], dtype=np.int64),
        )

    def _column(self, key: Key) -> Column:
        if key not in self.columns:
            if len(self.columns) >= COLUMNS_KEPT:
                self.columns.clear()
                self.suns.clear()
            self.columns[key] = self._filled(key)
        return self.columns[key]

    def _filled(self, key: Key) -> Column:
        year = self.year
        if isinstance(key, Sun):
            sun = self._irradiance(key.tilt, key.azimuth)
            return sun.beam + sun.sky + sun.ground
        if isinstance(key, WindFilm):
            speed = year.wind_speed * terrain_factor(key.height, key.terrain)
            return wind_convection(speed, year.wind_direction, key.tilt, key.azimuth)
        if isinstance(key, WindPressure):
            return self._wind_pressure(key.azimuth, key.exposure)
        if isinstance(key, HotWater):
            return np.array(key.months, dtype=float)[year.month]
        if isinstance(key, Light):
            return self._through(key.glazing)[("beam", "diffuse", "heat").index(key.part)]
        raise TypeError(key)

    def _irradiance(self, tilt: float, azimuth: float) -> PlaneIrradiance:
        key = (tilt, azimuth)
        if key not in self.suns:
            self.suns[key] = plane_irradiance(self.year, tilt, azimuth, GROUND_REFLECTANCE)
        return self.suns[key]

    def _through(self, glazing: Glazing) -> tuple[Column, Column, Column]:
        sun = self._irradiance(glazing.tilt, glazing.azimuth)
        curve = glass_curve(glazing.panes)
        direct, sky, ground = sun.beam + sun.glow, sun.sky - sun.glow, sun.ground
        if glazing.shade is not None:
            left = shade_window(
                self.year.sun_altitude, self.year.sun_azimuth, glazing.tilt, glazing.azimuth,
                glazing.shade,
            )  # fmt: skip
            direct, sky, ground = direct * left.beam, sky * left.sky, ground * left.ground
        diffuse = sky + ground
        return (
            direct * curve.beam_transmitted(sun.cosine),
            diffuse * curve.diffuse_transmitted,
            direct * curve.beam_absorbed(sun.cosine) + diffuse * curve.diffuse_absorbed,
        )

    def _wind_pressure(self, azimuth: float, exposure: Exposure) -> Column:
        year = self.year
        density = year.pressure / (
            GAS_CONSTANT * year.temperature * (1.0 + 0.608 * year.humidity_ratio)
        )
        factor = wind_pressure_factor(azimuth, year.wind_direction, **exposure._asdict())
        return factor * density * year.wind_speed**2


_climates: dict[int, Climate] = {}
_climates_lock = RLock()


def climate_of(year: WeatherYear) -> Climate:
    """Return the shared climate of a year of weather.

    Parameters
    ----------
    year : WeatherYear
        The year; it is remembered by identity, so pass the same object again.

    Returns
    -------
    Climate
    """
    with _climates_lock:
        known = _climates.get(id(year))
        if known is None or known.year is not year:
            if len(_climates) >= YEARS_KEPT:
                _climates.pop(next(iter(_climates)))
            known = _climates[id(year)] = Climate(year)
        return known


_slow_tables: dict[int, tuple[Weather, Weather]] = {}


def slowed(weather: Weather) -> Weather:
    """Return the mean days of every `STRIDE` days of a year.

    Parameters
    ----------
    weather : Weather
        A year of whole days; it is remembered by identity.

    Returns
    -------
    Weather
    """
    with _climates_lock:
        known = _slow_tables.get(id(weather.table))
        if known is None or known[0].table is not weather.table:
            if len(_slow_tables) >= TABLES_KEPT:
                _slow_tables.pop(next(iter(_slow_tables)))
            days = weather.table.reshape(-1, STRIDE, HOURS, weather.count).mean(axis=1)
            slow = weather._replace(
                hours=days.shape[0] * HOURS,
                table=np.ascontiguousarray(days.reshape(-1, weather.count)),
                month=weather.month[::STRIDE].copy(),
            )
            known = _slow_tables[id(weather.table)] = weather, slow
        return known[1]


@lru_cache(maxsize=4096)
def rounded_direction(tilt: float, azimuth: float) -> tuple[float, float]:
    """Return a direction rounded so that equal ones are shared.

    Parameters
    ----------
    tilt, azimuth : float
        Of the outward normal [°].

    Returns
    -------
    tuple of float
        Tilt, and azimuth from 0 to 360; a level plane has azimuth 0 [°].
    """
    slope = round(tilt, 1)
    return slope, 0.0 if slope in (0.0, 180.0) else round(azimuth % 360.0, 1) % 360.0
