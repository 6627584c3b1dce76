"""A year or a record of weather, hour by hour: what the engine reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import WeatherError

if TYPE_CHECKING:
    from numpy.typing import NDArray

HOURS = 8760
"""Hours in the year of weather; 29 February is never in it."""

_FIRST_DAY = np.datetime64("2003-01-01", "D")
"""First day of a year that has no date: one without 29 February."""


@dataclass(frozen=True, slots=True)
class WeatherYear:
    """Hourly weather at one place, in local standard time; every array has shape (hours,).

    A typical year has 8760 hours, and entry k covers the hour from k to k+1 after midnight
    of 1 January. A record of other length has a `start`, a midnight, and entry k covers the
    hour from k to k+1 after that. Sun values are means over that hour, the others hold for it.

    Attributes
    ----------
    name, source : str
        Station, and file or service that it came from.
    latitude, longitude, utc_offset : float
        North and east positive [°]; hours ahead of UTC [h].
    elevation : float
        Height above sea level [m].
    temperature, dew_point : ndarray
        Dry-bulb and dew-point temperature [K].
    pressure : ndarray
        Station pressure [Pa].
    humidity_ratio : ndarray
        Water vapor per dry air [kg/kg].
    wind_speed, wind_direction : ndarray
        At the station, 10 m above open ground [m/s]; where it blows from [°].
    global_horizontal, direct_normal, diffuse_horizontal : ndarray
        Irradiance [W/m²].
    sky_temperature : ndarray
        Temperature of the sky as a black body [K].
    ground_temperature : ndarray
        Of undisturbed ground at a depth of 1 m [K].
    sun_altitude, sun_azimuth : ndarray
        Apparent, at the middle of the hour, or of its sunlit part where the sun rises or
        sets in it; azimuth clockwise from north [°].
    start : datetime64 or None
        Midnight at which a record begins; None for a typical year.
    """

    name: str
    source: str
    latitude: float
    longitude: float
    utc_offset: float
    elevation: float
    temperature: NDArray[np.float64]
    dew_point: NDArray[np.float64]
    pressure: NDArray[np.float64]
    humidity_ratio: NDArray[np.float64]
    wind_speed: NDArray[np.float64]
    wind_direction: NDArray[np.float64]
    global_horizontal: NDArray[np.float64]
    direct_normal: NDArray[np.float64]
    diffuse_horizontal: NDArray[np.float64]
    sky_temperature: NDArray[np.float64]
    ground_temperature: NDArray[np.float64]
    sun_altitude: NDArray[np.float64]
    sun_azimuth: NDArray[np.float64]
    start: np.datetime64 | None = None

    @property
    def dates(self) -> NDArray[np.datetime64]:
        """Return the day in which each hour lies; for a typical year, days of 2003."""
        first = _FIRST_DAY if self.start is None else self.start.astype("datetime64[D]")
        return np.asarray(first + np.arange(self.temperature.size) // 24)

    @property
    def day_of_year(self) -> NDArray[np.int64]:
        """Return the day of the year in which each hour lies, 0 for 1 January [-]."""
        days = self.dates
        return np.asarray((days - days.astype("datetime64[Y]")).astype(np.int64))

    @property
    def month(self) -> NDArray[np.int64]:
        """Return the month in which each hour lies, 0 for January [-]."""
        return np.asarray(self.dates.astype("datetime64[M]").astype(np.int64) % 12)

    def require_whole_year(self, purpose: str) -> None:
        """Refuse a record of other length than a year, for what needs a year."""
        if self.temperature.size != HOURS:
            raise WeatherError(
                f"{purpose} need a year of {HOURS} hours; this record has "
                f"{self.temperature.size}: take a typical year of the place"
            )
