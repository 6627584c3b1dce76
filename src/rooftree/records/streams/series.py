"""The readings of a stream in memory: times and values by name, oldest first."""

from __future__ import annotations

from array import array
from bisect import bisect_left
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.records.streams.lines import Reading
    from rooftree.units import Kind

MOST = 500_000
"""Readings of one name that stay in memory; older ones stay in their files."""


@dataclass(frozen=True, slots=True)
class NameStatus:
    """The last reading of one name.

    Attributes
    ----------
    name : str
        Of the reading.
    kind : Kind
        What it measures.
    unit : str
        In which the logger sends it.
    text : str
        The last reading as it was sent.
    value : float
        The same in the unit of the core.
    time : int
        When [µs since 1970].
    count : int
        Readings in memory.
    """

    name: str
    kind: Kind
    unit: str
    text: str
    value: float
    time: int
    count: int


@dataclass(frozen=True, slots=True)
class Readings:
    """Readings of one name over a time.

    Attributes
    ----------
    name : str
        Of the readings.
    kind : Kind
        What they measure.
    unit : str
        In which the logger sends them.
    resolution : float
        Step of the display, in the unit of the core.
    time : ndarray, shape (n,)
        Since the last of them [s]; not above zero.
    value : ndarray, shape (n,)
        In the unit of the core.
    """

    name: str
    kind: Kind
    unit: str
    resolution: float
    time: NDArray[np.float64]
    value: NDArray[np.float64]


@dataclass(slots=True)
class Series:
    """Readings of one name as they come in.

    Attributes
    ----------
    last : Reading
        The newest; its kind is that of all.
    times : array of int
        [µs since 1970].
    values : array of float
        In the unit of the core.
    """

    last: Reading
    times: array[int] = field(default_factory=lambda: array("q"))
    values: array[float] = field(default_factory=lambda: array("d"))

    def add(self, time: int, reading: Reading) -> None:
        """Take one reading."""
        self.times.append(time)
        self.values.append(reading.value)
        self.last = reading
        if len(self.times) > MOST:
            del self.times[: MOST // 2], self.values[: MOST // 2]

    def status(self, name: str) -> NameStatus:
        """Return the last reading."""
        last = self.last
        time, count = self.times[-1], len(self.times)
        return NameStatus(name, last.kind, last.unit, last.text, last.value, time, count)

    def since(self, name: str, start: int) -> Readings:
        """Return the readings from a time on [µs since 1970]."""
        first = bisect_left(self.times, start)
        # Copies: an array that is looked at cannot grow.
        times = np.array(self.times[first:], dtype=np.int64)
        values = np.array(self.values[first:], dtype=float)
        seconds = (times - (times[-1] if times.size else 0)) / 1e6
        last = self.last
        return Readings(name, last.kind, last.unit, last.resolution, seconds, values)
