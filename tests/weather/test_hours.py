"""Check how rows are put in order and how hours are named."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import WeatherError
from rooftree.weather.hours import (
    DAYS_IN_MONTH,
    hour_label,
    month_of_hour,
    name_hours,
    rows_by_hour,
)

MONTH = month_of_hour() + 1
DAY = np.concatenate([np.repeat(np.arange(1, days + 1), 24) for days in DAYS_IN_MONTH])
HOUR = np.tile(np.arange(1, 25), 365)


def test_rows_in_order_stay_in_order() -> None:
    """A file from 1 January 01:00 to 31 December 24:00 keeps its order."""
    assert (rows_by_hour(MONTH, DAY, HOUR) == np.arange(8760)).all()


@given(st.randoms(use_true_random=False))
def test_order_of_rows_does_not_matter(random: object) -> None:
    """Rows may come in any order; each lands in its own hour."""
    mixed = np.random.default_rng(random.getrandbits(32)).permutation(8760)  # type: ignore[attr-defined]
    order = rows_by_hour(MONTH[mixed], DAY[mixed], HOUR[mixed])
    assert (mixed[order] == np.arange(8760)).all()


def test_29_february_is_left_out() -> None:
    """A leap year of 8784 rows gives the 8760 hours of the others."""
    split = 59 * 24
    month = np.r_[MONTH[:split], np.full(24, 2), MONTH[split:]]
    day = np.r_[DAY[:split], np.full(24, 29), DAY[split:]]
    hour = np.r_[HOUR[:split], np.arange(1, 25), HOUR[split:]]
    order = rows_by_hour(month, day, hour)
    assert order[split - 1] == split - 1
    assert order[split] == split + 24


def test_midnight_may_be_hour_zero_of_the_next_day() -> None:
    """A stamp of 00:00 closes the day before it, across the turn of the year too."""
    order = rows_by_hour(MONTH, DAY, HOUR % 24)
    assert order[23] == 47
    assert order[8759] == 23


def test_missing_hours_are_named() -> None:
    """Missing hours are counted and named by month, day and clock."""
    keep = (MONTH != 3) & ~((MONTH == 5) & (DAY == 7) & (HOUR >= 3) & (HOUR <= 4))
    with pytest.raises(
        WeatherError,
        match=r"^the weather file lacks 746 of the 8760 hours of a year: all of March; "
        r"7 May 02:00 to 04:00; fetch the file again or take another year$",
    ):
        rows_by_hour(MONTH[keep], DAY[keep], HOUR[keep])


def test_repeated_hours_are_named() -> None:
    """Two rows for one hour are refused, with the hour."""
    with pytest.raises(
        WeatherError,
        match=r"^the weather file has more than one row for 1 hours: 1 January 00:00 to 01:00; "
        r"give a file with one row an hour and one year$",
    ):
        rows_by_hour(np.r_[MONTH, 1], np.r_[DAY, 1], np.r_[HOUR, 1])


@pytest.mark.parametrize(
    ("month", "day", "hour"), [(13, 1, 1), (0, 1, 1), (2, 30, 1), (4, 31, 1), (1, 1, 25), (1, 0, 1)]
)
def test_stamps_that_are_no_hour_are_refused(month: int, day: int, hour: int) -> None:
    """A stamp outside the calendar is refused with its row."""
    with pytest.raises(
        WeatherError,
        match=rf"^row 1 of the hours is stamped month {month} day {day} hour {hour}, which is no "
        r"hour of a year; correct or fetch the file again$",
    ):
        rows_by_hour([month], [day], [hour])


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        ([8759], "31 December 23:00 to 24:00"),
        ([22, 23, 24], "1 January 22:00 to 2 January 01:00"),
        (list(range(744)), "all of January"),
        (list(range(8760)), "the whole year"),
        (
            [0, 2, 4, 6, 8, 10],
            (
                "1 January 00:00 to 01:00; 1 January 02:00 to 03:00; 1 January 04:00 to 05:00; "
                "1 January 06:00 to 07:00; and 2 hours more"
            ),
        ),
    ],
)
def test_hours_are_named_in_few_words(hours: list[int], words: str) -> None:
    """Whole months, then runs of hours, then a count of the rest."""
    assert name_hours(hours) == words


def test_labels_at_both_ends_of_the_year() -> None:
    """The first hour is 1 January 00:00 and so is the end of the year."""
    assert hour_label(0) == hour_label(8760) == "1 January 00:00"
    assert hour_label(8759) == "31 December 23:00"
