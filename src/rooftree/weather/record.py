"""Weather as it was measured, of any length: what a measured house went through."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import WeatherError
from rooftree.physics.air import pressure_at_altitude
from rooftree.weather.build import GROUND_DEPTH, check_place
from rooftree.weather.clouds import clouds_from_sun
from rooftree.weather.columns import checked_columns, sky_from_columns
from rooftree.weather.ground import fit_ground_climate, ground_temperature
from rooftree.weather.moisture import dew_points, humidity_ratio, saturation_over_water
from rooftree.weather.sun import hourly_sun
from rooftree.weather.year import WeatherYear

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.weather.columns import NameHours
    from rooftree.weather.ground import GroundClimate

DAY = 24
"""Hours of a day [h]: a record has whole days, the first of which is also run before it."""

BRIGHTEST_BEAM = 1400.0
"""Most that the sun gives, square to it [W/m²]."""

_RUNS_NAMED = 4


def record_year(
    name: str,
    source: str,
    *,
    latitude: float,
    longitude: float,
    utc_offset: float,
    elevation: float,
    start: str | np.datetime64,
    temperature: ArrayLike,
    relative_humidity: ArrayLike,
    wind_speed: ArrayLike,
    global_horizontal: ArrayLike,
    diffuse_horizontal: ArrayLike,
    wind_direction: ArrayLike | None = None,
    pressure: ArrayLike | None = None,
    infrared: ArrayLike | None = None,
    cloud_cover: ArrayLike | None = None,
    ground: GroundClimate | None = None,
) -> WeatherYear:
    """Return a weather record, of any number of days, with its sun, sky and ground.

    Entry k of each array covers the hour from k to k+1 after `start`. Many records stamp an
    hour with its end: cut the first entry off, so that the record begins at midnight.

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
    start : str or datetime64
        Midnight, local standard time, at which the record begins.
    temperature : array_like, shape (n,)
        Dry bulb [K]; n is 24 or a multiple of it.
    relative_humidity : array_like, shape (n,)
        Over water also below freezing, as weather services report it [0-1].
    wind_speed : array_like, shape (n,)
        10 m above open ground [m/s].
    global_horizontal, diffuse_horizontal : array_like, shape (n,)
        Mean irradiance over the hour [W/m²].
    wind_direction : array_like, shape (n,), optional
        Where it blows from, clockwise from north; west if left out [°].
    pressure : array_like, shape (n,), optional
        Station pressure; that of the standard atmosphere if left out [Pa].
    infrared : array_like, shape (n,), optional
        Infrared from the sky on level ground [W/m²].
    cloud_cover : array_like, shape (n,), optional
        Share of the sky that opaque cloud covers [0-1].
    ground : GroundClimate, optional
        Yearly wave at the surface of the ground; needed for a record shorter than a year.

    Returns
    -------
    WeatherYear
        The record, ready to simulate. Its `start` tells months and sun; 29 February stays.

    Raises
    ------
    WeatherError
        If the record does not begin at midnight, is not of whole days, a column has another
        length, misses hours or holds values that no weather has.
    NotEnoughDataError
        If the ground climate is left out and the record is shorter than a year, or if neither
        infrared nor clouds are given and the sun hardly rises.
    OutOfRangeError
        If the place is not on earth.

    Notes
    -----
    Direct normal irradiance is global less diffuse over the sine of the sun's altitude in the
    middle of the sunlit part of the hour, at most `BRIGHTEST_BEAM`: what a low sun would exceed
    stays diffuse. Humidity above saturation over ice, which services report below freezing, is
    taken as saturated. Without infrared and cloud cover the clouds follow from the sun
    (:func:`rooftree.weather.clouds.clouds_from_sun`, whose error is said there), and the sky
    from them and the dew point.

    A record longer than a year is one record: nothing is split, and schedules by the hour of
    the day go on. Design conditions and climate zones need a whole year and refuse others.

    Examples
    --------
    >>> from rooftree.weather.ground import GroundClimate
    >>> day = [0.0] * 24
    >>> overcast = record_year(
    ...     "yard", "made", latitude=48.0, longitude=12.0, utc_offset=1.0, elevation=680.0,
    ...     start="2013-08-21", temperature=[290.0] * 24, relative_humidity=[0.5] * 24,
    ...     wind_speed=day, global_horizontal=day, diffuse_horizontal=day,
    ...     ground=GroundClimate(282.0, 10.0, 400.0),
    ... )
    >>> overcast.temperature.size, int(overcast.month[0])
    (24, 7)
    """
    check_place(latitude, longitude, utc_offset, elevation)
    midnight = _midnight(start)
    where = _namer(midnight)
    size = np.size(temperature)
    if size == 0 or size % DAY:
        raise WeatherError(
            f"the record has {size} hours; it needs whole days of {DAY}: leave out the hours "
            "before the first midnight and after the last"
        )
    columns = {
        "temperature": temperature,
        "relative_humidity": relative_humidity,
        "pressure": pressure_at_altitude(elevation) if pressure is None else pressure,
        "wind_speed": wind_speed,
        "wind_direction": 270.0 if wind_direction is None else wind_direction,
        "global_horizontal": global_horizontal,
        "diffuse_horizontal": diffuse_horizontal,
    }
    hourly = checked_columns(
        {key: _hourly(column, size) for key, column in columns.items()}, size, where, _WHOLE
    )
    air = hourly["temperature"]
    dew_point = _dew_point(air, hourly.pop("relative_humidity"))
    altitude, azimuth = hourly_sun(
        latitude, longitude, utc_offset, elevation, start=midnight, count=size
    )
    if infrared is None and cloud_cover is None:
        cloud_cover = clouds_from_sun(hourly["global_horizontal"], altitude)
    return WeatherYear(
        name=name,
        source=source,
        latitude=latitude,
        longitude=longitude,
        utc_offset=utc_offset,
        elevation=elevation,
        temperature=air,
        dew_point=dew_point,
        pressure=hourly["pressure"],
        humidity_ratio=humidity_ratio(dew_point, hourly["pressure"]),
        wind_speed=hourly["wind_speed"],
        wind_direction=hourly["wind_direction"],
        global_horizontal=hourly["global_horizontal"],
        direct_normal=_direct_normal(hourly, altitude),
        diffuse_horizontal=hourly["diffuse_horizontal"],
        sky_temperature=sky_from_columns(air, dew_point, infrared, cloud_cover, where, _WHOLE),
        ground_temperature=_ground(air, midnight, ground),
        sun_altitude=altitude,
        sun_azimuth=azimuth,
        start=midnight,
    )


_WHOLE = "the record"


def _midnight(start: str | np.datetime64) -> np.datetime64:
    try:
        moment: np.datetime64 = np.datetime64(start).astype("datetime64[s]")
    except ValueError as error:
        message = f"start is {start}; write the date of the first day, such as 2013-08-21"
        raise WeatherError(message) from error
    if moment != moment.astype("datetime64[D]"):
        raise WeatherError(
            f"the record begins at {moment}; it must begin at midnight, local standard time: "
            "leave out the hours before the first whole day"
        )
    return moment


def _namer(midnight: np.datetime64) -> NameHours:
    """Return what says in a few words which hours of a record are meant."""

    def where(hours: NDArray[np.int64]) -> str:
        steps = np.flatnonzero(np.diff(hours) > 1)
        runs = zip(np.r_[hours[0], hours[steps + 1]], np.r_[hours[steps], hours[-1]], strict=True)
        named = [
            f"{_clock(midnight, first)} to {_clock(midnight, last + 1)}" for first, last in runs
        ]
        left = len(named) - _RUNS_NAMED
        return "; ".join(named[:_RUNS_NAMED]) + (f"; and {left} times more" if left > 0 else "")

    return where


def _clock(midnight: np.datetime64, hour: int) -> str:
    return str((midnight + np.timedelta64(int(hour), "h")).astype("datetime64[m]")).replace(
        "T", " "
    )


def _hourly(column: ArrayLike, size: int) -> NDArray[np.float64]:
    """Return a column as an array; one number holds throughout."""
    values = np.asarray(column, dtype=np.float64)
    return np.full(size, values) if values.ndim == 0 else values


def _dew_point(
    temperature: NDArray[np.float64], relative_humidity: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the dew point, over ice below freezing, at most the dry bulb."""
    vapor = np.maximum(relative_humidity, 0.001) * saturation_over_water(temperature)
    return np.minimum(dew_points(vapor), temperature)


def _direct_normal(
    hourly: dict[str, NDArray[np.float64]], altitude: NDArray[np.float64]
) -> NDArray[np.float64]:
    direct = np.maximum(hourly["global_horizontal"] - hourly["diffuse_horizontal"], 0.0)
    height = np.sin(np.radians(np.maximum(altitude, 0.1)))
    return np.where(altitude > 0.0, np.minimum(direct / height, BRIGHTEST_BEAM), 0.0)


def _ground(
    temperature: NDArray[np.float64], midnight: np.datetime64, ground: GroundClimate | None
) -> NDArray[np.float64]:
    new_year = midnight.astype("datetime64[Y]").astype("datetime64[s]")
    first_hour = float((midnight - new_year) / np.timedelta64(1, "h"))
    climate = fit_ground_climate(temperature, first_hour) if ground is None else ground
    moments = first_hour + np.arange(temperature.size) + 0.5
    return ground_temperature(climate, GROUND_DEPTH, moments)
