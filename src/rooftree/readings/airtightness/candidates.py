"""Explanations of how the stations of a fan test lie, before they are weighed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.airtightness import limits
from rooftree.readings.airtightness.configurations import reassignments

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from rooftree.readings.airtightness.readings import FanTest
    from rooftree.readings.airtightness.stations import StationResult

    Array = NDArray[np.float64]

EXPONENT, EXPONENT_SPREAD = 0.65, 0.08
"""Exponent of a house and its spread [-]: the mean of 7 000 tests (Chan, Joh & Sherman, Energy
and Buildings 66 (2013) 616); their spread of 0.057 widened, since a house may be an odd one."""

_SHORTER = 0.5
# Logarithm of how much more rarely the whole of a test is wrong than a little of it; ours.


class Cause(StrEnum):
    """Kinds of explanations."""

    NONE = "noise alone"
    OPENED = "something opened or closed between two stations"
    STRAY = "one station was read wrong"
    CONFIGURATION = "another fan configuration than the one noted"
    FLOW_UNIT = "flows in another unit than the one noted"
    OFFSET = "all pressures off by the same"
    FAN_STARTED = "the baseline shifted between two stations"
    UNSTEADY = "read before the pressure was steady"


PRIOR = {
    Cause.NONE: 0.84,
    Cause.OPENED: 0.03,
    Cause.STRAY: 0.03,
    Cause.CONFIGURATION: 0.03,
    Cause.FLOW_UNIT: 0.03,
    Cause.OFFSET: 0.02,
    Cause.FAN_STARTED: 0.01,
    Cause.UNSTEADY: 0.01,
}
"""How common each is before the stations are looked at [0-1]; ours, none is published."""

SPREAD = {
    Cause.OPENED: 0.5,
    Cause.STRAY: 0.7,
    Cause.OFFSET: 4.0,
    Cause.FAN_STARTED: 4.0,
    Cause.UNSTEADY: 0.1,
}
"""How large each effect usually is: ln(flow) [-], or a shift [Pa]; ours."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One explanation, before it is weighed.

    Attributes
    ----------
    cause : Cause
        Its kind.
    first, last : int
        Places of the stations it concerns, from 0, both included; for what happened between
        two stations, the first after it and the last of all.
    shift : ndarray, shape (n,)
        What to add to ln(flow) of each station to undo it, where that is known [-].
    pattern : ndarray, shape (n,)
        What an effect of unknown size adds to ln(flow) of each station, for a size of one.
    penalty : float
        Logarithm of how unlikely it is for other reasons, 0 or below [-].
    detail : str
        Fan and configurations, or the two units.
    """

    cause: Cause
    first: int
    last: int
    shift: Array
    pattern: Array
    penalty: float = 0.0
    detail: str = ""


def draw_up_candidates(test: FanTest, used: Sequence[StationResult]) -> Iterator[Candidate]:
    """Yield every explanation that is weighed.

    Parameters
    ----------
    test : FanTest
        As read.
    used : sequence of StationResult
        Stations that the fit went through, in the order read.

    Yields
    ------
    Candidate
    """
    count = len(used)
    none, last = np.zeros(count), count - 1
    per_pascal = EXPONENT / np.array([s.induced_pressure for s in used])
    yield Candidate(Cause.NONE, 0, last, none, none)
    yield Candidate(Cause.OFFSET, 0, last, none, -per_pascal)
    for k in range(1, count):
        after = np.where(np.arange(count) >= k, 1.0, 0.0)
        yield Candidate(Cause.OPENED, k, last, none, after)
        yield Candidate(Cause.FAN_STARTED, k, last, none, -after * per_pascal)
    for i in range(count):
        yield Candidate(Cause.STRAY, i, i, none, np.where(np.arange(count) == i, 1.0, 0.0))
    ways = _ways([s.induced_pressure for s in used])
    if min(np.count_nonzero(ways > 0.0), np.count_nonzero(ways < 0.0)) >= 2:
        yield Candidate(Cause.UNSTEADY, 0, last, none, ways)
    for first, end in _stretches(count):
        within = np.where((np.arange(count) >= first) & (np.arange(count) <= end), 1.0, 0.0)
        if end - first + 1 < count and all(s.is_flow_shown for s in used[first : end + 1]):
            for units, factor in limits.FLOW_SLIPS.items():
                yield Candidate(
                    Cause.FLOW_UNIT,
                    first,
                    end,
                    within * math.log(factor),
                    none,
                    -_SHORTER * (end - first + 1) / count,
                    units,
                )
    fans = {fan.id: fan for fan in test.fans}
    for each in reassignments(used, fans, list(_stretches(count))):
        yield Candidate(
            Cause.CONFIGURATION,
            each.first,
            each.last,
            each.shift,
            none,
            each.penalty - _SHORTER * (each.last - each.first + 1) / count,
            each.words,
        )


def _stretches(count: int) -> Iterator[tuple[int, int]]:
    """Yield first and last of each single station, each start and each end, and of all."""
    for i in range(count):
        yield i, i
    for k in range(2, count):
        yield 0, k - 1
        yield count - k, count - 1
    yield 0, count - 1


def _ways(pressures: Sequence[float]) -> Array:
    """Return +0.5 where a station was reached from below and -0.5 from above."""
    steps = [1.0 if later > earlier else -1.0 for earlier, later in pairwise(pressures)]
    return 0.5 * np.array([steps[0], *steps])
