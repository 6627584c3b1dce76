"""The weeks of a year: which places are damp or wet in which."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from rooftree.diagnosis.damp import ROTS
from rooftree.physics.moist_series import saturation_pressures
from rooftree.physics.wood_moisture import wood_equilibria
from rooftree.web.energy import MONTHS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from rooftree.diagnosis import DampPlace

WEEKS = 52
"""Weeks of the year; the last has a day more."""

_HOURS = 168
"""In a week."""

DAMP = 0.8
"""Mean relative humidity at a face from which a week counts as damp [0-1]: the criterion of
ANSI/ASHRAE Standard 160 for a mean of 30 days, here of the week."""

WET_HOURS = 7.0
"""Hours below the dew point from which a week counts as wet [h]: one a day; ours. Wood takes
up the dew of a night and gives it back by day, so it counts by its moisture instead."""

WORDS = ("dry", "damp", "wet")


@dataclass(frozen=True, slots=True)
class Strip:
    """One place through the weeks of the year.

    Attributes
    ----------
    name : str
        Of the place.
    doubt : str
        Why it may be drier; empty where nothing says so.
    weeks : tuple of str
        ``"dry"``, ``"damp"`` or ``"wet"`` for each week.
    alternative : str
        The same in words.
    wet_hours, humidity, index : float
        Hours below the dew point [h], highest mean humidity of 30 days [0-1], mould index [-].
    wood : float or None
        Moisture content that wood comes to there [0-1]; None where it is not wood.
    """

    name: str
    doubt: str
    weeks: tuple[str, ...]
    alternative: str
    wet_hours: float
    humidity: float
    index: float
    wood: float | None

    @property
    def runs(self) -> tuple[tuple[str, int, int], ...]:
        """Return weeks alike that follow each other: what they are, the first, how many."""
        return tuple((state, places[0], len(places)) for state, places in _runs(self.weeks))


def by_week(hourly: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """Return the hours of each week of the year; the last has the day that is left."""
    return np.split(hourly, [_HOURS * k for k in range(1, WEEKS)])


def week_words(week: int) -> str:
    """Return the first day of a week of the year in words.

    Examples
    --------
    >>> week_words(0), week_words(51)
    ('from 1 January', 'from 24 December')
    """
    first = date(2001, 1, 1) + timedelta(days=7 * week)
    return f"from {first.day} {MONTHS[first.month - 1]}"


def damp_strips(places: Sequence[DampPlace]) -> tuple[Strip, ...]:
    """Return the places that are damp or wet in some week, in the order given."""
    strips = (_strip(place) for place in places)
    return tuple(strip for strip in strips if set(strip.weeks) != {WORDS[0]})


def _strip(damp: DampPlace) -> Strip:
    place = damp.place
    humidity = place.vapor / saturation_pressures(place.temperature)
    means = np.array([np.minimum(week, 1.0).mean() for week in by_week(humidity)])
    if place.material.is_wood:
        warmth = np.array([week.mean() for week in by_week(place.temperature)])
        is_wet = wood_equilibria(warmth, means) >= ROTS
    else:
        below = np.where(humidity >= 1.0, place.wets, 0.0)
        is_wet = np.array([week.sum() >= WET_HOURS for week in by_week(below)])
    weeks = tuple(
        WORDS[2] if wet else WORDS[1] if mean >= DAMP else WORDS[0]
        for wet, mean in zip(is_wet, means, strict=True)
    )
    return Strip(
        name=place.name,
        doubt="" if place.is_sure else "if air gets to it through gaps",
        weeks=weeks,
        alternative=_in_words(weeks),
        wet_hours=damp.wet_hours,
        humidity=damp.highest_mean,
        index=damp.index,
        wood=damp.wood_moisture,
    )


def _in_words(weeks: Sequence[str]) -> str:
    """Return runs of weeks in words: ``"wet from January to March, damp in April"``."""
    said = []
    for state, places in _runs(weeks):
        if state != WORDS[0]:
            first, last = _month(places[0]), _month(places[-1])
            said.append(f"{state} {f'in {first}' if first == last else f'from {first} to {last}'}")
    return ", ".join(dict.fromkeys(said)) or WORDS[0]


def _runs(weeks: Sequence[str]) -> Iterator[tuple[str, list[int]]]:
    for state, run in groupby(enumerate(weeks), key=lambda pair: pair[1]):
        yield state, [k for k, _ in run]


def _month(week: int) -> str:
    return MONTHS[(date(2001, 1, 1) + timedelta(days=7 * week + 3)).month - 1]
