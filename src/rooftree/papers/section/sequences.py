"""Which moments follow each other when the section moves: a day, a month's typical day, a year."""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from rooftree.weather import WeatherYear

YEAR, COLDEST, HOTTEST = "year", "coldest", "hottest"
"""Names of the months of the year, and of its coldest and hottest day."""

_MONTHS = tuple(calendar.month_name)[1:]
_DAY = "day-"

DAYS = 365
"""Days of the year of weather; 29 February is never in it."""


@dataclass(frozen=True, slots=True)
class Sequence:
    """Moments that follow each other.

    Attributes
    ----------
    name : str
        As in an address: ``"year"``, ``"january"``, ``"coldest"``, ``"day-36"``.
    words : str
        What it is.
    moments : tuple of (str, ndarray)
        Words for each moment, and the hours of the year whose mean it is, 0 to 8759 [-].
    """

    name: str
    words: str
    moments: tuple[tuple[str, NDArray[np.int64]], ...]


def sequence_names(weather: WeatherYear) -> dict[str, str]:
    """Return what can be chosen besides single days: names with their words.

    Parameters
    ----------
    weather : WeatherYear
        The year.

    Returns
    -------
    dict of str to str
    """
    months = {month.lower(): f"A typical day in {month}" for month in _MONTHS}
    coldest, hottest = (_date_words(_extreme_day(weather, name)) for name in (COLDEST, HOTTEST))
    return {
        COLDEST: f"The coldest day, {coldest}",
        HOTTEST: f"The hottest day, {hottest}",
        YEAR: "The months of the year",
        **months,
    }


def sequence_of(name: str, weather: WeatherYear) -> Sequence:
    """Return a sequence by its name.

    Parameters
    ----------
    name : str
        One of `sequence_names`, or ``"day-1"`` to ``"day-365"``.
    weather : WeatherYear
        The year.

    Returns
    -------
    Sequence

    Raises
    ------
    KeyError
        If there is none of that name.
    OutOfRangeError
        If the day is none of the year.
    """
    names = sequence_names(weather)
    if name == YEAR:
        return Sequence(name, names[name], tuple(_months(weather)))
    if name in (COLDEST, HOTTEST):
        return Sequence(name, names[name], tuple(_day(_extreme_day(weather, name))))
    if name in names:
        return Sequence(name, names[name], tuple(_typical_day(weather, name)))
    if name.startswith(_DAY) and name.removeprefix(_DAY).isdecimal():
        number = int(name.removeprefix(_DAY))
        if not 1 <= number <= DAYS:
            raise OutOfRangeError("day", number, 1, DAYS, "of the year")
        return Sequence(name, _date_words(number - 1), tuple(_day(number - 1)))
    raise KeyError(name)


def clock(hour: int) -> str:
    """Return an hour of the day in words.

    Parameters
    ----------
    hour : int
        0 to 23 [-].

    Returns
    -------
    str

    Examples
    --------
    >>> clock(0), clock(7), clock(12), clock(19)
    ('midnight', '7 a.m.', 'noon', '7 p.m.')
    """
    if hour in (0, 12):
        return "noon" if hour else "midnight"
    return f"{(hour - 1) % 12 + 1} {'a.m.' if hour < 12 else 'p.m.'}"


def _extreme_day(weather: WeatherYear, name: str) -> int:
    """Return the day with the coldest or the hottest hour, 0 to 364."""
    of = weather.temperature
    return int(of.argmin() if name == COLDEST else of.argmax()) // 24


def _date_words(day: int) -> str:
    on = date(2001, 1, 1) + timedelta(days=day)
    return f"{on.day} {_MONTHS[on.month - 1]}"


def _day(day: int) -> Iterator[tuple[str, NDArray[np.int64]]]:
    for hour in range(24):
        yield f"{_date_words(day)}, {clock(hour)}", np.array([24 * day + hour])


def _hours_of(month: int, weather: WeatherYear) -> NDArray[np.int64]:
    return np.flatnonzero(weather.month == month)


def _typical_day(weather: WeatherYear, name: str) -> Iterator[tuple[str, NDArray[np.int64]]]:
    month = [each.lower() for each in _MONTHS].index(name)
    hours = _hours_of(month, weather)
    for hour in range(24):
        yield f"{_MONTHS[month]}, {clock(hour)}, mean of the month", hours[hour::24]


def _months(weather: WeatherYear) -> Iterator[tuple[str, NDArray[np.int64]]]:
    for month, words in enumerate(_MONTHS):
        yield f"{words}, mean of the month", _hours_of(month, weather)
