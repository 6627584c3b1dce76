"""The record as arrays: order, window, and mean values over equal times."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.readings.tracer_decay.background import Background
    from rooftree.readings.tracer_decay.readings import TracerDecayTest

BINS = 60
"""Equal times that a longer record is averaged over before the line is fitted [-].

The mean of an exponential over equal times is the exponential at their middle times one
common factor, so the slope of its logarithm stays exact; irregular lines within a bin move
it by less than a thousandth."""

COARSE = 200
"""Equal times over which the highest point of a long record is looked for [-]."""

LOWEST_SHARE = 0.10
"""Share of the first excess below which a found window ends [0-1]; ours: below it the
background decides what the logarithm says."""


@dataclass(frozen=True, slots=True)
class Record:
    """Readings as arrays, in the order of the record.

    Attributes
    ----------
    time, concentration : ndarray, shape (n,)
        [s] and [ppm].
    place : ndarray of int, shape (n,)
        Index into `places`.
    places : tuple of str
        Positions in the order in which they first appear.
    """

    time: NDArray[np.float64]
    concentration: NDArray[np.float64]
    place: NDArray[np.int64]
    places: tuple[str, ...]

    def part(self, keep: NDArray[np.bool_]) -> Record:
        """Return the record with some lines only."""
        return Record(self.time[keep], self.concentration[keep], self.place[keep], self.places)


def record_of(test: TracerDecayTest) -> Record:
    """Return the readings of a test as arrays.

    Parameters
    ----------
    test : TracerDecayTest
        Readings.

    Returns
    -------
    Record
    """
    if not test.lines:
        nothing = np.empty(0)
        return Record(nothing, nothing, np.empty(0, dtype=np.int64), ())
    rows, count = test.lines, len(test.lines)
    positions = [row.position for row in rows]
    number = {name: index for index, name in enumerate(dict.fromkeys(positions))}
    return Record(
        np.fromiter([row.time for row in rows], np.float64, count),
        np.fromiter([row.concentration for row in rows], np.float64, count),
        np.fromiter(map(number.__getitem__, positions), np.int64, count),
        tuple(number),
    )


def goes_back(record: Record) -> float | None:
    """Return the first time that lies before the one above it at the same position.

    Parameters
    ----------
    record : Record
        Readings.

    Returns
    -------
    float or None
        That time [s]; None where time only goes forward.
    """
    for index in range(len(record.places)):
        times = record.time[record.place == index]
        back = np.flatnonzero(np.diff(times) < 0.0)
        if back.size:
            return float(times[back[0] + 1])
    return None


def find_window(
    test: TracerDecayTest, record: Record, background: Background
) -> tuple[float, float]:
    """Return the part of the record in which the tracer decays.

    Parameters
    ----------
    test : TracerDecayTest
        The window that was asked for.
    record : Record
        Readings in order of time, at least one.
    background : Background
        Of the air that comes in.

    Returns
    -------
    tuple of float
        Start and end [s].

    Notes
    -----
    From the highest reading (of a long record: the highest mean over a two-hundredth of
    it) to the lowest after it, or to where the excess falls under a tenth of its start or
    under three uncertainties of the background. What is given is kept.
    """
    time, excess = _means(record, COARSE)
    excess = excess - background.at(time)
    start = test.window_start
    if start is None:
        start = float(time[int(np.argmax(excess))])
        start = _after_flat_top(test, record, start)
    end = test.window_end
    if end is None:
        later = np.flatnonzero(time >= start)
        end = (
            float(record.time.max())
            if not later.size
            else _end(time[later], excess[later], background)
        )
    return start, end


def _end(time: NDArray[np.float64], excess: NDArray[np.float64], background: Background) -> float:
    floor = max(LOWEST_SHARE * excess[0], 3.0 * background.standard)
    below = np.flatnonzero(excess < floor)
    last = int(below[0]) if below.size else len(time) - 1
    lowest = int(np.argmin(excess[: last + 1]))
    # A rise that is no more than scatter does not end the window.
    rise = float(excess[last] - excess[lowest])
    return float(time[lowest] if rise > 0.05 * abs(float(excess[0])) else time[last])


def _after_flat_top(test: TracerDecayTest, record: Record, start: float) -> float:
    top = flat_top(test, record)
    if top is None:
        return start
    times = record.time[record.concentration >= top]
    later = record.time[record.time > times.max()]
    return float(later.min()) if later.size else start


def flat_top(test: TracerDecayTest, record: Record) -> float | None:
    """Return the reading at which the sensor went no higher.

    Parameters
    ----------
    test : TracerDecayTest
        End of the sensor's range, where it is known.
    record : Record
        Readings.

    Returns
    -------
    float or None
        The reading [ppm]; None where it was never reached.

    Notes
    -----
    The end of the range where it is given; else the highest reading, if it stands three
    times or more in a row at one position and is a round thousand or one below it, as the
    ends of ranges are.
    """
    if not record.time.size:
        return None
    highest = float(record.concentration.max())
    top = test.highest_concentration
    if top is not None:
        return top if highest >= top else None
    is_round = highest >= 2000.0 and highest % 1000.0 in (0.0, 999.0)
    for index in range(len(record.places)) if is_round else ():
        at_top = (record.concentration[record.place == index] == highest).astype(np.int64)
        if at_top.size >= 3 and np.convolve(at_top, [1, 1, 1], "valid").max() == 3:
            return highest
    return None


def _means(record: Record, bins: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return times and concentrations in order of time, averaged where there are many."""
    if record.time.size <= bins:
        order = np.argsort(record.time, kind="stable")
        return record.time[order], record.concentration[order]
    time, concentration, _ = average(record.time, record.concentration, bins)
    return time, concentration


def average(
    time: NDArray[np.float64], values: NDArray[np.float64], bins: int
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Average readings over equal times; empty ones are left out.

    Parameters
    ----------
    time : ndarray, shape (n,)
        Of the readings [s].
    values : ndarray, shape (n,)
        Readings [any unit].
    bins : int
        Number of equal times.

    Returns
    -------
    tuple of ndarray
        Mean times [s], mean values and how many readings each holds.
    """
    first, last = float(time.min()), float(time.max())
    if time.size <= bins or last <= first:
        return time, values, np.ones(time.size)
    index = np.minimum(((time - first) * (bins / (last - first))).astype(np.int64), bins - 1)
    count = np.bincount(index, minlength=bins).astype(np.float64)
    full = count > 0.0
    times = np.bincount(index, weights=time, minlength=bins)[full] / count[full]
    means = np.bincount(index, weights=values, minlength=bins)[full] / count[full]
    return times, means, count[full]
