"""The tracer in the air that comes in, and how well it is known.

Sources
-------
[E741] ASTM E741 (recalled): the background is taken off every reading.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.tracer_decay.readings import Tracer

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.readings.tracer_decay.readings import OutdoorReading, TracerDecayTest

ASSUMED = 425.0
"""Carbon dioxide outdoors where nobody read it [ppm]; recalled: global mean of 2024."""

ASSUMED_UNCERTAINTY = 25.0
"""Standard uncertainty of that [ppm]; ours: towns at night and near roads have more."""

DRIFT = 10.0
"""Standard uncertainty of a background read at one moment only [ppm]; ours."""


@dataclass(frozen=True, slots=True)
class Background:
    """Concentration of the air that comes in.

    Attributes
    ----------
    value : float
        Mean over the readings [ppm].
    standard : float
        Standard uncertainty [ppm].
    times, values : tuple of float
        Means of what was read at each time [s] and [ppm], in order of time; one entry
        without times where they were not noted.
    is_assumed : bool
        Whether nobody read it.
    """

    value: float
    standard: float
    times: tuple[float, ...]
    values: tuple[float, ...]
    is_assumed: bool

    def at(self, time: NDArray[np.float64], shift: float = 0.0) -> NDArray[np.float64]:
        """Return the background at each time [ppm], raised by `shift` [ppm]."""
        if len(self.times) < 2:
            return np.full(time.shape, self.value + shift)
        return np.interp(time, self.times, self.values) + shift


def reduce_background(test: TracerDecayTest) -> Background:
    """Return the background of a test.

    Parameters
    ----------
    test : TracerDecayTest
        Readings.

    Returns
    -------
    Background

    Notes
    -----
    Between readings at two or more times it runs in a straight line, and a twelfth of the
    square of their span is its variance; read at one moment, or before or after only, it
    may have drifted by `DRIFT`. Scatter of single readings and, with another sensor, both sensors'
    uncertainties are added in quadrature. A tracer that is absent outdoors has none.
    """
    if not test.outdoors:
        is_gas = test.tracer is Tracer.CARBON_DIOXIDE
        value, standard = (ASSUMED, ASSUMED_UNCERTAINTY) if is_gas else (0.0, 0.0)
        return Background(value, standard, (), (), is_assumed=is_gas)
    times, values = _by_time(test.outdoors)
    value = sum(values) / len(values)
    changes = test.tracer is Tracer.CARBON_DIOXIDE
    lonely = DRIFT if changes else 0.0
    apart = (max(values) - min(values)) / math.sqrt(12.0)
    drift = apart if _spans(test, times) else max(apart, lonely)
    scatter = test.concentration_scatter / math.sqrt(len(test.outdoors))
    sensor = 0.0 if test.same_sensor else math.sqrt(2.0) * test.concentration_uncertainty * value
    return Background(value, math.hypot(drift, scatter, sensor), times, values, is_assumed=False)


def _by_time(
    outdoors: tuple[OutdoorReading, ...],
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the mean of what was read at each time; only values where a time is missing."""
    groups: dict[float, list[float]] = {}
    for reading in outdoors:
        if reading.time is None:
            return (), tuple(reading.concentration for reading in outdoors)
        groups.setdefault(reading.time, []).append(reading.concentration)
    times = tuple(sorted(groups))
    return times, tuple(sum(groups[time]) / len(groups[time]) for time in times)


def _spans(test: TracerDecayTest, times: tuple[float, ...]) -> bool:
    """Return whether the background was read at moments far apart."""
    if not times:
        return len(test.outdoors) > 1
    if not test.lines:
        return len(times) > 1
    decay = abs(test.lines[-1].time - test.lines[0].time)
    return times[-1] - times[0] >= 0.5 * decay > 0.0
