"""A year of weather, hour by hour: what the engine reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

HOURS = 8760
"""Hours in the year of weather; 29 February is never in it."""


@dataclass(frozen=True, slots=True)
class WeatherYear:
    """Hourly weather at one place, in local standard time; every array has shape (8760,).

    Entry k covers the hour from k to k+1 after midnight of 1 January; sun values are
    means over that hour, the others hold for it.

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
