"""The 8760 hours of a year: put rows in order, and name the hours that are wrong.

A weather file stamps each row with the end of its hour: hour 1 is 00:00 to 01:00,
hour 24 is 23:00 to 24:00 of the same day, hour 0 (in a few files) is hour 24 of the
day before.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import WeatherError
from rooftree.weather.year import HOURS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
"""Names of the months, as messages write them."""

DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Days of each month in a year without 29 February."""

MONTH_START = tuple(24 * sum(DAYS_IN_MONTH[:k]) for k in range(13))
"""First hour of each month, and the end of the year [h]."""

_RUNS_NAMED = 4


def month_of_hour() -> NDArray[np.int64]:
    """Return the month, 0 to 11, that each hour of the year lies in.

    Returns
    -------
    ndarray, shape (8760,)
        0 for January [-].
    """
    return np.repeat(np.arange(12), np.multiply(DAYS_IN_MONTH, 24))


def hour_label(hour: int) -> str:
    """Return how a message writes the start of an hour of the year.

    Parameters
    ----------
    hour : int
        Hours since midnight of 1 January, 0 to 8760.

    Returns
    -------
    str
        Day, month and clock time.

    Examples
    --------
    >>> hour_label(1419)
    '1 March 03:00'
    """
    month = int(np.searchsorted(MONTH_START, hour % HOURS, side="right")) - 1
    day, clock = divmod(hour % HOURS - MONTH_START[month], 24)
    return f"{day + 1} {MONTHS[month]} {clock:02d}:00"


def name_hours(hours: Sequence[int] | NDArray[np.int64]) -> str:
    """Return a few words that say which hours of the year are meant.

    Parameters
    ----------
    hours : sequence of int
        Hours since midnight of 1 January, rising, at least one.

    Returns
    -------
    str
        Whole months by name, then the first runs of hours, then how many are left.

    Examples
    --------
    >>> name_hours([0, 1, 2, 50])
    '1 January 00:00 to 03:00; 3 January 02:00 to 03:00'
    """
    chosen = np.zeros(HOURS, dtype=bool)
    chosen[np.asarray(hours, dtype=np.int64)] = True
    if chosen.all():
        return "the whole year"
    words: list[str] = []
    for month, name in enumerate(MONTHS):
        inside = slice(MONTH_START[month], MONTH_START[month + 1])
        if chosen[inside].all():
            words.append(f"all of {name}")
            chosen[inside] = False
    edges = np.flatnonzero(np.diff(np.r_[False, chosen, False].astype(np.int8))).reshape(-1, 2)
    words += [_name_run(int(start), int(end)) for start, end in edges[:_RUNS_NAMED]]
    left = int(np.sum(edges[_RUNS_NAMED:, 1] - edges[_RUNS_NAMED:, 0]))
    if left:
        words.append(f"and {left} hours more")
    return "; ".join(words)


def _name_run(start: int, end: int) -> str:
    last = hour_label(end - 1).rsplit(" ", 1)
    closing = f"{(end - 1) % 24 + 1:02d}:00"
    if last[0] == hour_label(start).rsplit(" ", 1)[0]:
        return f"{hour_label(start)} to {closing}"
    return f"{hour_label(start)} to {last[0]} {closing}"


def rows_by_hour(month: ArrayLike, day: ArrayLike, hour: ArrayLike) -> NDArray[np.int64]:
    """Return which row of a file holds each hour of the year.

    Parameters
    ----------
    month, day : array_like of int, shape (n,)
        Month 1 to 12 and day of the month that the row is stamped with [-].
    hour : array_like of int, shape (n,)
        Hour that ends at the stamp, 0 to 24 [h].

    Returns
    -------
    ndarray, shape (8760,)
        Row numbers in the order of the year; rows of 29 February are left out [-].

    Raises
    ------
    WeatherError
        If a stamp is no hour of a year, an hour is absent, or one comes twice.
    """
    month, day, hour = (np.asarray(stamp, dtype=np.int64) for stamp in (month, day, hour))
    leap_day = (month == 2) & (day == 29)
    last_day = np.r_[0, DAYS_IN_MONTH][np.clip(month, 0, 12)]
    sound = (month >= 1) & (month <= 12) & (day >= 1) & (day <= last_day + leap_day)
    sound &= (hour >= 0) & (hour <= 24)
    if not sound.all():
        row = int(np.flatnonzero(~sound)[0])
        raise WeatherError(
            f"row {row + 1} of the hours is stamped month {month[row]} day {day[row]} "
            f"hour {hour[row]}, which is no hour of a year; correct or fetch the file again"
        )
    rows = np.flatnonzero(~leap_day)
    first_hour = np.asarray(MONTH_START)[month[rows] - 1]
    position = (first_hour + 24 * (day[rows] - 1) + hour[rows] - 1) % HOURS
    count = np.bincount(position, minlength=HOURS)
    _refuse_gaps(count)
    order = np.empty(HOURS, dtype=np.int64)
    order[position] = rows
    return order


def _refuse_gaps(count: NDArray[np.int64]) -> None:
    missing = np.flatnonzero(count == 0)
    if missing.size:
        raise WeatherError(
            f"the weather file lacks {missing.size} of the 8760 hours of a year: "
            f"{name_hours(missing)}; fetch the file again or take another year"
        )
    repeated = np.flatnonzero(count > 1)
    if repeated.size:
        raise WeatherError(
            f"the weather file has more than one row for {repeated.size} hours: "
            f"{name_hours(repeated)}; give a file with one row an hour and one year"
        )
