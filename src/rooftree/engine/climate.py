"""What a year of weather does to planes, panes and facades, computed once and shared.

Thousands of variants of one house see the same weather on the same orientations. What
depends on these alone is kept with the year: sun and wind on every plane, sun through
every kind of glazing, wind pressure on every facade.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from threading import Lock
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from rooftree.engine.arrays import Weather
from rooftree.engine.films import wind_convection
from rooftree.engine.glazing import glass_curve
from rooftree.engine.moist import GAS_CONSTANT
from rooftree.engine.wind import terrain_factor, wind_pressure_factor
from rooftree.weather import plane_irradiance

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from rooftree.weather import PlaneIrradiance, WeatherYear

YEARS_KEPT, SETS_KEPT = 4, 64
"""Years of weather, and sets of orientations for each, that are remembered."""

DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Of the year of weather."""

GROUND_REFLECTANCE = 0.2
"""Of the ground around the house for the sun [-]; the usual value without snow."""


class Plane(NamedTuple):
    """A direction in which opaque surfaces face, and what reaches them."""

    tilt: float
    azimuth: float
    is_sunny: bool
    is_windy: bool


class Glazing(NamedTuple):
    """A direction in which windows face, and their number of panes."""

    tilt: float
    azimuth: float
    panes: int


class Exposure(NamedTuple):
    """How the wind at the station reaches the house."""

    height: float
    terrain: str
    shelter: float


@dataclass(slots=True, eq=False)
class Climate:
    """A year of weather with all that was computed from it so far."""

    year: WeatherYear
    suns: dict[tuple[float, float], PlaneIrradiance] = field(default_factory=dict)
    sets: dict[object, Weather] = field(default_factory=dict)
    lock: Lock = field(default_factory=Lock)

    def weather_on(
        self,
        planes: tuple[Plane, ...],
        glazings: tuple[Glazing, ...],
        facades: tuple[float | None, ...],
        exposure: Exposure,
    ) -> Weather:
        """Return the year as the hour loop reads it for these orientations.

        Parameters
        ----------
        planes : tuple of Plane
            Columns of `sun` and `wind_film`.
        glazings : tuple of Glazing
            Columns of the arrays about glass.
        facades : tuple of float or None
            Azimuths of the columns of `wind_pressure` [°]; None for no wind.
        exposure : Exposure
            Height, terrain and shelter of the walls.

        Returns
        -------
        Weather
        """
        key = (planes, glazings, facades, exposure)
        with self.lock:
            if key not in self.sets:
                if len(self.sets) >= SETS_KEPT:
                    self.sets.pop(next(iter(self.sets)))
                self.sets[key] = self._computed(planes, glazings, facades, exposure)
            return self.sets[key]

    def _computed(
        self,
        planes: tuple[Plane, ...],
        glazings: tuple[Glazing, ...],
        facades: tuple[float | None, ...],
        exposure: Exposure,
    ) -> Weather:
        year = self.year
        through = [self._through(glazing) for glazing in glazings]
        months = np.repeat(np.arange(12), np.array(DAYS_IN_MONTH) * 24)
        return Weather(
            temperature=np.array(year.temperature),
            sky=np.array(year.sky_temperature),
            ground=np.array(year.ground_temperature),
            pressure=np.array(year.pressure),
            humidity=np.array(year.humidity_ratio),
            month=np.resize(months, year.temperature.shape).astype(np.int64),
            sun=self._columns([self._sun(plane) for plane in planes]),
            wind_film=self._columns([self._wind_film(plane, exposure) for plane in planes]),
            glass_beam=self._columns([each[0] for each in through]),
            glass_diffuse=self._columns([each[1] for each in through]),
            glass_heat=self._columns([each[2] for each in through]),
            wind_pressure=self._columns([self._wind_pressure(f, exposure) for f in facades]),
        )

    def _columns(self, columns: Sequence[NDArray[np.float64]]) -> NDArray[np.float64]:
        if not columns:
            return np.zeros((self.year.temperature.size, 0))
        return np.ascontiguousarray(np.stack(columns, axis=1))

    def _irradiance(self, tilt: float, azimuth: float) -> PlaneIrradiance:
        key = (tilt, azimuth)
        if key not in self.suns:
            self.suns[key] = plane_irradiance(self.year, tilt, azimuth, GROUND_REFLECTANCE)
        return self.suns[key]

    def _sun(self, plane: Plane) -> NDArray[np.float64]:
        if not plane.is_sunny:
            return np.zeros(self.year.temperature.size)
        sun = self._irradiance(plane.tilt, plane.azimuth)
        return sun.beam + sun.sky + sun.ground

    def _wind_film(self, plane: Plane, exposure: Exposure) -> NDArray[np.float64]:
        if not plane.is_windy:
            return np.zeros(self.year.temperature.size)
        factor = exposure.shelter * terrain_factor(exposure.height, exposure.terrain)
        return wind_convection(
            self.year.wind_speed * factor, self.year.wind_direction, plane.tilt, plane.azimuth
        )

    def _through(self, glazing: Glazing) -> tuple[NDArray[np.float64], ...]:
        sun = self._irradiance(glazing.tilt, glazing.azimuth)
        curve = glass_curve(glazing.panes)
        direct, diffuse = sun.beam + sun.glow, sun.sky - sun.glow + sun.ground
        return (
            direct * curve.beam_transmitted(sun.cosine),
            diffuse * curve.diffuse_transmitted,
            direct * curve.beam_absorbed(sun.cosine) + diffuse * curve.diffuse_absorbed,
        )

    def _wind_pressure(self, azimuth: float | None, exposure: Exposure) -> NDArray[np.float64]:
        year = self.year
        density = year.pressure / (
            GAS_CONSTANT * year.temperature * (1.0 + 0.608 * year.humidity_ratio)
        )
        factor = wind_pressure_factor(azimuth, year.wind_direction, **exposure._asdict())
        return factor * density * year.wind_speed**2


_climates: dict[int, Climate] = {}
_climates_lock = Lock()


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
