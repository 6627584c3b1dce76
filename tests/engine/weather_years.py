"""Years of weather that never change, for limit cases."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np

from rooftree.weather import HOURS, WeatherYear


def even_year(
    temperature: float = 273.15,
    *,
    humidity_ratio: float = 0.003,
    wind_speed: float = 0.0,
    sky_temperature: float | None = None,
    ground_temperature: float | None = None,
    pressure: float = 101325.0,
) -> WeatherYear:
    """Return a year without sun in which nothing ever changes."""

    def even(value: float) -> np.ndarray:
        return np.full(HOURS, value)

    return WeatherYear(
        name="even", source="made", latitude=40.0, longitude=-80.0, utc_offset=-5.0, elevation=0.0,
        temperature=even(temperature), dew_point=even(temperature - 5.0),
        pressure=even(pressure), humidity_ratio=even(humidity_ratio),
        wind_speed=even(wind_speed), wind_direction=even(270.0),
        global_horizontal=even(0.0), direct_normal=even(0.0), diffuse_horizontal=even(0.0),
        sky_temperature=even(temperature if sky_temperature is None else sky_temperature),
        ground_temperature=even(temperature if ground_temperature is None else ground_temperature),
        sun_altitude=even(-20.0), sun_azimuth=even(0.0),
    )  # fmt: skip


def first_days(year: WeatherYear, days: int) -> WeatherYear:
    """Return the first days of a year, as a record that begins on its first of January."""
    return days_from(year, 0, days)


def days_from(year: WeatherYear, first: int, days: int) -> WeatherYear:
    """Return some days of a year, as a record that begins on the first of them."""
    arrays = {
        field.name: getattr(year, field.name)[24 * first : 24 * (first + days)]
        for field in fields(year)
        if isinstance(getattr(year, field.name), np.ndarray)
    }
    return replace(year, **arrays, start=np.datetime64("2003-01-01", "D") + first)
