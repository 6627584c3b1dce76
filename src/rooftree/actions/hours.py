"""Write every hour of a simulated year to a file, each column named with its unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.actions.simulation import simulate_job
from rooftree.actions.subject import Written
from rooftree.actions.year import weather_of
from rooftree.house import OUTDOORS
from rooftree.physics.moist_series import saturation_pressures, vapor_pressures
from rooftree.records.columns_file import write_columns

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path
    from typing import Any

    from numpy.typing import NDArray

    from rooftree.engine.results import Hourly, YearResult
    from rooftree.job import Job
    from rooftree.weather import WeatherYear

    Column = tuple[str, NDArray[Any]]

_FREEZING = 273.15
"""Of water [K]: temperatures leave in degrees Celsius."""

HOUSE = "house"
"""Before the point in the names of columns that concern the whole house."""

_OF_HOUSE = (
    ("infiltration_m3_per_s", "infiltration"),
    ("air_handler_runtime", "runtime"),
    ("supply_air_degC", "supply_temperature"),
    ("condensate_kg_per_s", "condensate"),
)
_OF_SPACES = (
    ("air_degC", "temperature"),
    ("radiant_degC", "radiant"),
    ("humidity_ratio_kg_per_kg", "humidity_ratio"),
    ("pressure_Pa", "pressure"),
    ("heat_delivered_W", "heating"),
    ("cold_delivered_W", "cooling"),
    ("heat_by_open_windows_W", "aired"),
    ("sun_W", "sun"),
)
_OF_ELEMENTS = (
    ("inside_face_degC", "face_inside"),
    ("outside_face_degC", "face_outside"),
    ("heat_from_inside_face_W", "conducted_inside"),
    ("heat_from_outside_face_W", "conducted_outside"),
)
_OF_WEATHER = (
    ("air_degC", "temperature"),
    ("dew_point_degC", "dew_point"),
    ("humidity_ratio_kg_per_kg", "humidity_ratio"),
    ("air_pressure_Pa", "pressure"),
    ("wind_m_per_s", "wind_speed"),
    ("wind_from_deg", "wind_direction"),
    ("sun_horizontal_W_per_m2", "global_horizontal"),
    ("sun_direct_normal_W_per_m2", "direct_normal"),
    ("sun_diffuse_horizontal_W_per_m2", "diffuse_horizontal"),
)
_USES = ("heating", "heating_backup", "cooling", "air_moving", "drying", "hot_water")
"""What the first columns of `Hourly.bought` stand for; then come the room units."""


def write_hours(
    job: Job, path: Path, *, progress: Callable[[int, int], None] | None = None
) -> Written:
    """Run a job's house through its year and write every hour to a file.

    Parameters
    ----------
    job : Job
        Any.
    path : Path
        Where; ends in ``.csv`` or ``.parquet``.
    progress : callable or None
        Told how many hours are written, and of how many.

    Returns
    -------
    Written

    Raises
    ------
    StoreError
        If the file cannot be written.
    HouseError
        If the house cannot be simulated as it is described.
    """
    weather = weather_of(job)
    notes = {
        "job": job.name,
        "weather": weather.name,
        "time": "local standard time, beginning of the hour; a typical year is told as 2003",
    }
    columns = hourly_columns(simulate_job(job), weather)
    write_columns(path, columns, notes=notes, progress=progress)
    return Written(str(path), path.stat().st_size)


def hourly_columns(year: YearResult, weather: WeatherYear) -> dict[str, NDArray[Any]]:
    """Return every hour of a year as columns whose names say what and in which unit.

    Parameters
    ----------
    year : YearResult
        With hourly values.
    weather : WeatherYear
        That it ran through.

    Returns
    -------
    dict of str to ndarray, shape (hours,)
        `hour_begins`, then ``outdoors.``, ``house.``, each space, element and leak by its
        id, a point, and the quantity with its unit; shares carry none.
    """
    hourly = year.hourly
    if hourly is None:
        message = "columns need a year that was simulated with its hours kept"
        raise ValueError(message)
    hours = np.arange(weather.temperature.size) % 24
    begins = weather.dates.astype("datetime64[s]") + hours * np.timedelta64(3600, "s")
    return {
        "hour_begins": begins,
        **dict(_of_weather(weather)),
        **dict(_of_house(hourly)),
        **dict(_of_spaces(year, hourly, weather)),
        **dict(_of_each(hourly, year.element_ids, _OF_ELEMENTS)),
        **{f"{leak}.air_kg_per_s": hourly.leak_flow[:, k] for k, leak in enumerate(year.leak_ids)},
    }


def _of_weather(weather: WeatherYear) -> Iterator[Column]:
    for name, field in _OF_WEATHER:
        yield f"{OUTDOORS}.{name}", _told(name, getattr(weather, field))


def _of_house(hourly: Hourly) -> Iterator[Column]:
    for name, field in _OF_HOUSE:
        yield f"{HOUSE}.{name}", _told(name, getattr(hourly, field))
    units = hourly.bought.shape[1] - len(_USES)
    names = (*_USES, *(f"room_unit_{k + 1}" for k in range(units)))
    for name, power in zip(names, hourly.bought.T, strict=True):
        yield f"{HOUSE}.bought_for_{name}_W", power


def _of_spaces(year: YearResult, hourly: Hourly, weather: WeatherYear) -> Iterator[Column]:
    yield from _of_each(hourly, year.space_ids, _OF_SPACES)
    origins = (*year.space_ids, OUTDOORS)
    for k, space in enumerate(year.space_ids):
        vapor = vapor_pressures(hourly.humidity_ratio[:, k], weather.pressure)
        yield f"{space}.relative_humidity", vapor / saturation_pressures(hourly.temperature[:, k])
        for origin, mass in zip(origins, hourly.entering[:, k].T, strict=True):
            if mass.any():
                yield f"{space}.air_from_{origin}_kg_per_s", mass


def _of_each(
    hourly: Hourly, ids: tuple[str, ...], quantities: tuple[tuple[str, str], ...]
) -> Iterator[Column]:
    for k, one in enumerate(ids):
        for name, field in quantities:
            yield f"{one}.{name}", _told(name, getattr(hourly, field)[:, k])


def _told(name: str, values: NDArray[np.float64]) -> NDArray[np.float64]:
    return values - _FREEZING if name.endswith("_degC") else values
