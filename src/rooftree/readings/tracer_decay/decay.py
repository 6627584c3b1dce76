"""The window of one test, fitted at every position."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.uncertainty import UncertaintyTerm, combined_uncertainty
from rooftree.readings.tracer_decay.line import STATED_WEIGHT, fit_line
from rooftree.readings.tracer_decay.results import PositionDecay
from rooftree.readings.tracer_decay.series import BINS, average, find_window

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.readings.tracer_decay.background import Background
    from rooftree.readings.tracer_decay.line import Line
    from rooftree.readings.tracer_decay.readings import TracerDecayTest
    from rooftree.readings.tracer_decay.series import Record

ONE_PLACE, STIRRED = 0.05, 0.02
"""Relative standard uncertainty of the rate at one place for what mixing leaves unknown [-],
without stirring and with it; ours."""


class Decay:
    """What the window of one test gives, before it is judged.

    Parameters
    ----------
    test : TracerDecayTest
        Readings.
    record : Record
        The same as arrays, at least one line, in order of time at each position.
    background : Background
        Of the air that comes in.
    """

    __slots__ = ("background", "lowest", "noise", "positions", "record", "window")

    def __init__(self, test: TracerDecayTest, record: Record, background: Background) -> None:
        start, end = find_window(test, record, background)
        self.record = record.part((record.time >= start) & (record.time <= end))
        self.window = (start, end)
        later = record.concentration[record.time >= start]
        self.lowest = float(later.min()) if later.size else math.inf
        self.background = background
        self.noise = test.concentration_scatter
        bins = max(BINS // max(len(record.places), 1), 8)
        self.positions = tuple(
            made
            for index, name in enumerate(record.places)
            if (made := self._position(index, name, bins)) is not None
        )

    def _position(self, index: int, name: str, bins: int) -> PositionDecay | None:
        here = self.record.place == index
        time, concentration, count = (
            average(self.record.time[here], self.record.concentration[here], bins)
            if here.any()
            else (np.empty(0),) * 3
        )
        excess = concentration - self.background.at(time)
        keep = excess > 0.0
        if keep.sum() < 2 or float(np.ptp(time[keep])) <= 0.0:
            return None
        line = fit_line(time[keep], excess[keep], self.noise / np.sqrt(count[keep]))
        return PositionDecay(
            name, tuple(time[keep].tolist()), tuple(excess[keep].tolist()), line, int(here.sum())
        )

    def arrays(
        self, decay: PositionDecay, shift: float = 0.0
    ) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
        """Return times, excess over a background raised by `shift`, and scatter."""
        time = np.array(decay.times)
        # A raised background may swallow the last reading; half of it is left then.
        excess = np.array(decay.excess)
        moved = np.maximum(excess - shift, 0.5 * excess)
        count = max(decay.readings / len(decay.times), 1.0)
        return time, moved, np.full(len(time), self.noise / math.sqrt(count))

    def lines(self, shift: float) -> list[Line]:
        """Return every position's line with the background raised by `shift` [ppm]."""
        return [fit_line(*self.arrays(decay, shift)) for decay in self.positions]

    @property
    def slope(self) -> float:
        """Mean fall of the logarithm over the positions [1/s]."""
        return sum(one.line.slope for one in self.positions) / len(self.positions)

    @property
    def duration(self) -> float:
        """Time from the first to the last point that is fitted [s]."""
        return max(one.times[-1] - one.times[0] for one in self.positions)

    @property
    def first_excess(self) -> float:
        """Highest excess at the start, on the lines [ppm]."""
        return max(one.line.at(one.times[0]) for one in self.positions)

    @property
    def scatter(self) -> UncertaintyTerm:
        """Uncertainty of the mean slope from scatter [1/s]."""
        count = len(self.positions)
        return combined_uncertainty(
            UncertaintyTerm("scatter", one.line.standard / count, one.line.degrees_of_freedom)
            for one in self.positions
        )

    def mixing(self, *, is_mixed: bool) -> UncertaintyTerm:
        """Return what imperfect mixing leaves unknown of the mean slope [-], relative.

        What is stated counts for four degrees of freedom beside what the positions show;
        the part of their spread that scatter explains is taken out.
        """
        stated = STIRRED if is_mixed else ONE_PLACE
        lines = [one.line for one in self.positions]
        count = len(lines)
        if count < 2:
            return UncertaintyTerm("mixing", stated)
        seen = float(np.var([line.slope for line in lines], ddof=1))
        seen = max(seen - sum(line.standard**2 for line in lines) / count, 0.0)
        freedom = STATED_WEIGHT + count - 1.0
        variance = STATED_WEIGHT * stated**2 + (count - 1.0) * seen / self.slope**2
        return UncertaintyTerm("mixing", math.sqrt(variance / freedom / count), freedom)

    @property
    def deviations(self) -> list[tuple[str, float, float]]:
        """How far each position's line lies off the mean at both ends, with its doubt [-]."""
        if len(self.positions) < 2:
            return []
        rows = []
        for time in (
            max(one.times[0] for one in self.positions),
            min(one.times[-1] for one in self.positions),
        ):
            levels = [one.line.at(time) for one in self.positions]
            mean = sum(levels) / len(levels)
            for one, level in zip(self.positions, levels, strict=True):
                away = abs(time - one.line.middle)
                doubt = math.hypot(one.line.standard * away, self.background.standard / mean)
                rows.append((one.position, level / mean - 1.0, doubt))
        return rows
