"""Make a year of weather out of hourly columns, checked."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.weather.columns import (
    checked_columns,
    dew_point_at_most_dry_bulb,
    sky_from_columns,
)
from rooftree.weather.ground import fit_ground_climate, ground_temperature
from rooftree.weather.hours import name_hours
from rooftree.weather.moisture import humidity_ratio
from rooftree.weather.sun import hourly_sun
from rooftree.weather.year import HOURS, WeatherYear

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

GROUND_DEPTH = 1.0
"""Depth of the ground temperature that a year carries [m]."""

_WHOLE = "a year"


def weather_year(
    name: str,
    source: str,
    *,
    latitude: float,
    longitude: float,
    utc_offset: float,
    elevation: float,
    temperature: ArrayLike,
    dew_point: ArrayLike,
    pressure: ArrayLike,
    wind_speed: ArrayLike,
    wind_direction: ArrayLike,
    global_horizontal: ArrayLike,
    direct_normal: ArrayLike,
    diffuse_horizontal: ArrayLike,
    infrared: ArrayLike | None = None,
    cloud_cover: ArrayLike | None = None,
) -> WeatherYear:
    """Return a year of weather with its sun, sky and ground.

    Entry k of each array covers the hour from k to k+1 after midnight of 1 January, local
    standard time, without 29 February. A value that the source lacks is NaN.

    Parameters
    ----------
    name, source : str
        Station, and file or service that it came from.
    latitude, longitude : float
        North and east positive, -90 to 90 and -180 to 180 [°].
    utc_offset : float
        Hours that local standard time is ahead of UTC, -12 to 14 [h].
    elevation : float
        Height above sea level, -500 to 9000 [m].
    temperature, dew_point : array_like, shape (8760,)
        Dry-bulb and dew-point temperature [K].
    pressure : array_like, shape (8760,)
        Station pressure [Pa].
    wind_speed, wind_direction : array_like, shape (8760,)
        10 m above open ground [m/s]; where it blows from, clockwise from north [°].
    global_horizontal, direct_normal, diffuse_horizontal : array_like, shape (8760,)
        Mean irradiance over the hour [W/m²].
    infrared : array_like, shape (8760,), optional
        Infrared from the sky on level ground; hours without it are taken from dew point
        and cloud cover [W/m²].
    cloud_cover : array_like, shape (8760,), optional
        Share of the sky that opaque cloud covers; needed where infrared is absent [0-1].

    Returns
    -------
    WeatherYear
        The year, ready to simulate.

    Raises
    ------
    WeatherError
        If a column has another length, misses hours or holds values that no weather
        has; the message names columns and hours.
    OutOfRangeError
        If the place is not on earth.

    Notes
    -----
    A dew point up to 1 K above the dry bulb is rounding, or fog, and is set to the dry
    bulb; more is refused.
    """
    check_place(latitude, longitude, utc_offset, elevation)
    columns = {
        "temperature": temperature,
        "dew_point": dew_point,
        "pressure": pressure,
        "wind_speed": wind_speed,
        "wind_direction": wind_direction,
        "global_horizontal": global_horizontal,
        "direct_normal": direct_normal,
        "diffuse_horizontal": diffuse_horizontal,
    }
    arrays = {key: np.asarray(column, dtype=np.float64) for key, column in columns.items()}
    hourly = checked_columns(arrays, HOURS, name_hours, _WHOLE)
    hourly["dew_point"] = dew_point_at_most_dry_bulb(
        hourly["temperature"], hourly["dew_point"], name_hours
    )
    sky = sky_from_columns(
        hourly["temperature"], hourly["dew_point"], infrared, cloud_cover, name_hours, _WHOLE
    )
    altitude, azimuth = hourly_sun(latitude, longitude, utc_offset, elevation)
    climate = fit_ground_climate(hourly["temperature"])
    return WeatherYear(
        name=name,
        source=source,
        latitude=latitude,
        longitude=longitude,
        utc_offset=utc_offset,
        elevation=elevation,
        humidity_ratio=humidity_ratio(hourly["dew_point"], hourly["pressure"]),
        sky_temperature=sky,
        ground_temperature=ground_temperature(climate, GROUND_DEPTH),
        sun_altitude=altitude,
        sun_azimuth=azimuth,
        start=None,
        **hourly,
    )


def check_place(latitude: float, longitude: float, utc_offset: float, elevation: float) -> None:
    """Refuse a place that is not on earth.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive, -90 to 90 and -180 to 180 [°].
    utc_offset : float
        Hours that local standard time is ahead of UTC, -12 to 14 [h].
    elevation : float
        Height above sea level, -500 to 9000 [m].

    Raises
    ------
    OutOfRangeError
        If one of them lies outside its range.
    """
    for name, value, low, high, unit in (
        ("latitude", latitude, -90.0, 90.0, "°"),
        ("longitude", longitude, -180.0, 180.0, "°"),
        ("UTC offset", utc_offset, -12.0, 14.0, "h"),
        ("elevation", elevation, -500.0, 9000.0, "m"),
    ):
        if not low <= value <= high:
            raise OutOfRangeError(name, value, low, high, unit)
