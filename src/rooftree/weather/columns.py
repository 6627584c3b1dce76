"""Hourly columns of weather: what each may hold, and how wrong hours are named."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import WeatherError
from rooftree.weather.sky import sky_infrared, sky_temperature

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import ArrayLike, NDArray

    NameHours = Callable[[NDArray[np.int64]], str]
    """Says in a few words which entries are meant."""


@dataclass(frozen=True, slots=True)
class Column:
    """What an hourly column may hold; `shift` turns the inner unit into the one shown."""

    words: str
    low: float
    high: float
    unit: str
    shift: float = 0.0


COLUMNS = {
    "temperature": Column("dry-bulb temperature", 203.15, 343.15, "°C", -273.15),
    "dew_point": Column("dew-point temperature", 203.15, 343.15, "°C", -273.15),
    "relative_humidity": Column("relative humidity", 0.0, 1.05, "[0-1]"),
    "pressure": Column("station pressure", 31000.0, 120000.0, "Pa"),
    "wind_speed": Column("wind speed", 0.0, 60.0, "m/s"),
    "wind_direction": Column("wind direction", 0.0, 360.0, "°"),
    "global_horizontal": Column("global horizontal irradiance", 0.0, 1600.0, "W/m²"),
    "direct_normal": Column("direct normal irradiance", 0.0, 1420.0, "W/m²"),
    "diffuse_horizontal": Column("diffuse horizontal irradiance", 0.0, 1000.0, "W/m²"),
    "infrared": Column("horizontal infrared", 50.0, 700.0, "W/m²"),
    "cloud_cover": Column("opaque cloud cover", 0.0, 1.0, "of the sky"),
}
"""Ranges of the public hourly weather layouts; that of pressure covers -500 to 9000 m."""

_REMEDY = "; correct these hours in the file or take another year"


def checked_columns(
    columns: Mapping[str, NDArray[np.float64]], hours: int, where: NameHours, whole: str
) -> dict[str, NDArray[np.float64]]:
    """Return the columns, or refuse them all at once with every problem named.

    Parameters
    ----------
    columns : mapping from str to ndarray, shape (hours,)
        Hourly values by the names of `COLUMNS`.
    hours : int
        How many entries each must have.
    where : callable
        Says which entries are meant.
    whole : str
        What has that many entries, such as ``"a year"``.

    Returns
    -------
    dict

    Raises
    ------
    WeatherError
        If a column has another length, misses hours or holds values that no weather has.
    """
    problems = [
        line
        for key, values in columns.items()
        for line in _problems(COLUMNS[key], values, hours, where, whole)
    ]
    if problems:
        raise WeatherError("; ".join(problems) + _REMEDY)
    return dict(columns)


def _problems(
    column: Column, values: NDArray[np.float64], hours: int, where: NameHours, whole: str
) -> list[str]:
    if values.shape != (hours,):
        return [f"{column.words} has {values.size} values; {whole} has {hours}"]
    lines = []
    missing = np.isnan(values)
    if missing.any():
        named = where(np.flatnonzero(missing))
        lines.append(f"{column.words} is missing in {missing.sum()} hours ({named})")
    with np.errstate(invalid="ignore"):
        odd = ~missing & ~((values >= column.low) & (values <= column.high))
    if odd.any():
        chosen = np.flatnonzero(odd)
        first = values[chosen[0]] + column.shift
        low, high = column.low + column.shift, column.high + column.shift
        lines.append(
            f"{column.words} is {first:g} {column.unit} ({where(chosen)}); "
            f"weather has {low:g} to {high:g} {column.unit}"
        )
    return lines


def dew_point_at_most_dry_bulb(
    temperature: NDArray[np.float64], dew_point: NDArray[np.float64], where: NameHours
) -> NDArray[np.float64]:
    """Return the dew point; rounding or fog may put it up to 1 K above the dry bulb.

    Parameters
    ----------
    temperature, dew_point : ndarray, shape (n,)
        Dry bulb and dew point [K].
    where : callable
        Says which entries are meant.

    Returns
    -------
    ndarray, shape (n,)
        Dew point, at most the dry bulb [K].

    Raises
    ------
    WeatherError
        If it lies more than 1 K above.
    """
    above = dew_point - temperature
    odd = above > 1.0
    if odd.any():
        raise WeatherError(
            f"dew-point temperature is {above.max():.1f} K above the dry bulb "
            f"({where(np.flatnonzero(odd))}){_REMEDY}"
        )
    return np.minimum(dew_point, temperature)


def sky_from_columns(
    temperature: NDArray[np.float64],
    dew_point: NDArray[np.float64],
    infrared: ArrayLike | None,
    cloud_cover: ArrayLike | None,
    where: NameHours,
    whole: str,
) -> NDArray[np.float64]:
    """Return how cold the sky is, from its infrared or else from dew point and clouds.

    Parameters
    ----------
    temperature, dew_point : ndarray, shape (n,)
        Dry bulb and dew point [K].
    infrared : array_like, shape (n,), or None
        Infrared from the sky on level ground; not a number where it is absent [W/m²].
    cloud_cover : array_like, shape (n,), or None
        Share of the sky that opaque cloud covers; needed where infrared is absent [0-1].
    where : callable
        Says which entries are meant.
    whole : str
        What has n entries, such as ``"a year"``.

    Returns
    -------
    ndarray, shape (n,)
        Temperature of the sky as a black body [K].

    Raises
    ------
    WeatherError
        If cloud cover is missing where it is needed, or a value is none of any weather.
    """
    hours = temperature.size

    def column(key: str, values: ArrayLike | None) -> NDArray[np.float64]:
        filled = np.full(hours, np.nan) if values is None else np.asarray(values, dtype=np.float64)
        if filled.shape == (hours,):
            return filled
        return checked_columns({key: filled}, hours, where, whole)[key]

    received, cloud = column("infrared", infrared), column("cloud_cover", cloud_cover)
    unknown = np.isnan(received)
    if unknown.any():
        # Cloud cover matters only in hours whose infrared is absent.
        needed = {"cloud_cover": np.where(unknown, cloud, 0.0)}
        cloud = checked_columns(needed, hours, where, whole)["cloud_cover"]
        received = np.where(unknown, sky_infrared(temperature, dew_point, cloud), received)
    sound = checked_columns({"infrared": received}, hours, where, whole)
    return sky_temperature(sound["infrared"])
