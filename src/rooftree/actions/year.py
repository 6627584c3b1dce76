"""The typical year of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.actions.memory import Kept
from rooftree.records.weather_files import open_year

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.weather import WeatherYear

_YEARS: Kept[WeatherYear] = Kept(4)


def weather_of(job: Job) -> WeatherYear:
    """Return the year of weather that a job names.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    WeatherYear

    Raises
    ------
    WeatherError, StoreError
        If there is no such year, or its file cannot be read.
    """
    return _YEARS.of(job.weather, lambda: open_year(job.weather))


def forget_years() -> None:
    """Forget every year of weather: a file was replaced."""
    _YEARS.clear()
