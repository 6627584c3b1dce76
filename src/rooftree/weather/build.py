"""Make a year of weather out of hourly columns, checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError, WeatherError
from rooftree.weather.ground import fit_ground_climate, ground_temperature
from rooftree.weather.hours import name_hours
from rooftree.weather.moisture import humidity_ratio
from rooftree.weather.sky import sky_infrared, sky_temperature
from rooftree.weather.sun import hourly_sun
from rooftree.weather.year import HOURS, WeatherYear

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

GROUND_DEPTH = 1.0
"""Depth of the ground temperature that a year carries [m]."""


@dataclass(frozen=True, slots=True)
class _Column:
    """What an hourly column may hold; `shift` turns the inner unit into the one shown."""

    words: str
    low: float
    high: float
    unit: str
    shift: float = 0.0


# Ranges of the public hourly weather layouts; the pressure range covers -500 to 9000 m.
_COLUMNS = {
    "temperature": _Column("dry-bulb temperature", 203.15, 343.15, "°C", -273.15),
    "dew_point": _Column("dew-point temperature", 203.15, 343.15, "°C", -273.15),
    "pressure": _Column("station pressure", 31000.0, 120000.0, "Pa"),
    "wind_speed": _Column("wind speed", 0.0, 60.0, "m/s"),
    "wind_direction": _Column("wind direction", 0.0, 360.0, "°"),
    "global_horizontal": _Column("global horizontal irradiance", 0.0, 1600.0, "W/m²"),
    "direct_normal": _Column("direct normal irradiance", 0.0, 1420.0, "W/m²"),
    "diffuse_horizontal": _Column("diffuse horizontal irradiance", 0.0, 1000.0, "W/m²"),
    "infrared": _Column("horizontal infrared", 50.0, 700.0, "W/m²"),
    "cloud_cover": _Column("opaque cloud cover", 0.0, 1.0, "of the sky"),
}


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
    _check_place(latitude, longitude, utc_offset, elevation)
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
    hourly = _checked({key: np.asarray(column, float) for key, column in columns.items()})
    hourly["dew_point"] = _dew_point_at_most_dry_bulb(hourly)
    sky = _sky(hourly["temperature"], hourly["dew_point"], infrared, cloud_cover)
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
        **hourly,
    )


def _check_place(latitude: float, longitude: float, utc_offset: float, elevation: float) -> None:
    for name, value, low, high, unit in (
        ("latitude", latitude, -90.0, 90.0, "°"),
        ("longitude", longitude, -180.0, 180.0, "°"),
        ("UTC offset", utc_offset, -12.0, 14.0, "h"),
        ("elevation", elevation, -500.0, 9000.0, "m"),
    ):
        if not low <= value <= high:
            raise OutOfRangeError(name, value, low, high, unit)


def _checked(columns: dict[str, NDArray[np.float64]]) -> dict[str, NDArray[np.float64]]:
    """Return the columns, or refuse them all at once with every problem named."""
    problems = [line for key, values in columns.items() for line in _problems(key, values)]
    if problems:
        raise WeatherError(
            "; ".join(problems) + "; correct these hours in the file or take another year"
        )
    return columns


def _problems(key: str, values: NDArray[np.float64]) -> list[str]:
    column = _COLUMNS[key]
    if values.shape != (HOURS,):
        return [f"{column.words} has {values.size} values; a year has {HOURS}"]
    lines = []
    missing = np.isnan(values)
    if missing.any():
        lines.append(f"{column.words} is missing in {missing.sum()} hours ({_where(missing)})")
    with np.errstate(invalid="ignore"):
        odd = ~missing & ~((values >= column.low) & (values <= column.high))
    if odd.any():
        first = values[np.flatnonzero(odd)[0]] + column.shift
        low, high = column.low + column.shift, column.high + column.shift
        lines.append(
            f"{column.words} is {first:g} {column.unit} ({_where(odd)}); "
            f"weather has {low:g} to {high:g} {column.unit}"
        )
    return lines


def _where(chosen: NDArray[np.bool_]) -> str:
    return name_hours(np.flatnonzero(chosen))


def _dew_point_at_most_dry_bulb(hourly: dict[str, NDArray[np.float64]]) -> NDArray[np.float64]:
    """Return the dew point; rounding or fog may put it up to 1 K above the dry bulb."""
    above = hourly["dew_point"] - hourly["temperature"]
    odd = above > 1.0
    if odd.any():
        raise WeatherError(
            f"dew-point temperature is {above.max():.1f} K above the dry bulb ({_where(odd)}); "
            "correct these hours in the file or take another year"
        )
    return np.minimum(hourly["dew_point"], hourly["temperature"])


def _sky(
    temperature: NDArray[np.float64],
    dew_point: NDArray[np.float64],
    infrared: ArrayLike | None,
    cloud_cover: ArrayLike | None,
) -> NDArray[np.float64]:
    received, cloud = _optional("infrared", infrared), _optional("cloud_cover", cloud_cover)
    unknown = np.isnan(received)
    if unknown.any():
        # Cloud cover matters only in hours whose infrared is absent.
        cloud = _checked({"cloud_cover": np.where(unknown, cloud, 0.0)})["cloud_cover"]
        received = np.where(unknown, sky_infrared(temperature, dew_point, cloud), received)
    return sky_temperature(_checked({"infrared": received})["infrared"])


def _optional(key: str, column: ArrayLike | None) -> NDArray[np.float64]:
    """Return a column, missing throughout where there is none; its length must be right."""
    values = np.full(HOURS, np.nan) if column is None else np.asarray(column, dtype=np.float64)
    return values if values.shape == (HOURS,) else _checked({key: values})[key]
