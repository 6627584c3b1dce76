"""Tracer decay: a zone with a known air change, a sensor with a known error, and noise."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from covered.method import Method
from rooftree.readings.tracer_decay import (
    OutdoorReading,
    SteadyReading,
    TracerDecayTest,
    TracerReading,
    generation_rates,
    reduce_tracer_decay,
)
from rooftree.readings.tracer_decay.readings import Activity

if TYPE_CHECKING:
    from numpy.random import Generator
    from numpy.typing import NDArray

    from rooftree.physics.propagation import Propagated

HOUR = 3600.0


def _noise(rng: Generator, count: int, deviation: float, neighbours: float) -> NDArray[np.float64]:
    """Return noise whose neighbours are correlated."""
    fresh = rng.normal(0.0, deviation, count)
    fresh[1:] *= math.sqrt(1.0 - neighbours**2)
    made = np.empty(count)
    last = 0.0
    for index, value in enumerate(fresh.tolist()):
        last = neighbours * last + value
        made[index] = last
    return made


def _tilt(rng: Generator) -> float:
    """Return what the sensor's gain changes by from one end of the window to the other."""
    return float(rng.normal(0.0, 0.5 * 0.03 * math.sqrt(2.0)))


def _decay(
    rng: Generator, step: float, neighbours: float, mixing: float, places: int
) -> tuple[float, float, TracerDecayTest]:
    """Return the true rate [1/h], the true volume [m³] and the test."""
    rate = math.exp(rng.uniform(math.log(0.2), math.log(2.0)))
    duration = rng.uniform(0.8, 2.2) / rate * HOUR
    outdoors, start = rng.normal(425.0, 10.0), rng.uniform(900.0, 2000.0)
    drift = rng.uniform(-30.0, 30.0)
    volume = rng.uniform(200.0, 700.0)
    times = np.arange(0.0, duration + 0.5 * step, step)
    gain = rng.normal(1.0, 0.03)
    tilt = _tilt(rng)
    share = times / duration
    lines: list[TracerReading] = []
    for place in range(places):
        local = rate * (1.0 + rng.normal(0.0, mixing))
        excess = start * np.exp(-local * times / HOUR) * (1.0 + tilt * share)
        read = gain * (outdoors + drift * share + excess)
        read = read + _noise(rng, len(times), 5.0, neighbours)
        lines += [
            TracerReading(time, round(value), f"room {place + 1}")
            for time, value in zip(times.tolist(), read.tolist(), strict=True)
        ]
    background = tuple(
        OutdoorReading(round(gain * (outdoors + drift * at) + rng.normal(0.0, 5.0)), at * duration)
        for at in (0.0, 1.0)
    )
    entered = volume * (1.0 + rng.normal(0.0, 0.05))
    test = TracerDecayTest(tuple(lines), background, volume=entered)
    return rate, volume, test


def _logger(rng: Generator) -> tuple[float, Propagated] | None:
    rate, volume, test = _decay(rng, 30.0, 0.9, 0.05, 1)
    found = reduce_tracer_decay(test).flow
    return None if found is None else (rate * volume / HOUR, found)


def _by_hand(rng: Generator) -> tuple[float, Propagated] | None:
    rate, _, test = _decay(rng, 900.0, 0.0, 0.05, 1)
    found = reduce_tracer_decay(test).air_changes
    return None if found is None else (rate, found)


def _rooms(rng: Generator) -> tuple[float, Propagated] | None:
    rate, _, test = _decay(rng, 120.0, 0.7, 0.05, 3)
    found = reduce_tracer_decay(test).air_changes
    return None if found is None else (rate, found)


def _people(rng: Generator) -> tuple[float, Propagated] | None:
    """Return flow and estimate from a household that sits in the evening."""
    volume, flow = rng.uniform(200.0, 500.0), rng.uniform(0.02, 0.08)
    count = int(rng.integers(1, 6))
    person = generation_rates()[Activity.SEATED]
    # Half of the variance from person to person is shared by the household.
    spread = person.uncertainty * math.sqrt(0.5)
    own = rng.normal(0.0, spread, count)
    source = person.rate * float(np.exp(rng.normal(0.0, spread) + own).sum())
    outdoors, gain = rng.normal(425.0, 10.0), rng.normal(1.0, 0.03)
    rate = flow / volume
    times = np.arange(2.0, 4.0, 0.25) * HOUR
    rise = source / flow * 1e6 * (1.0 - 0.8 * np.exp(-rate * times))
    read = gain * (outdoors + rise) + rng.normal(0.0, 5.0, len(times))
    steady = tuple(
        SteadyReading(time, value)
        for time, value in zip(times.tolist(), read.tolist(), strict=True)
    )
    background = tuple(OutdoorReading(gain * outdoors + rng.normal(0.0, 5.0)) for _ in range(2))
    entered = volume * (1.0 + rng.normal(0.0, 0.05))
    test = TracerDecayTest(
        outdoors=background, volume=entered, steady=steady, steady_people=float(count)
    )
    result = reduce_tracer_decay(test).steady
    found = result.flow if result else None
    return None if found is None else (flow, found)


DRAWN = (
    "rate 0.2 to 2 an hour, start 900 to 2000 ppm above outdoors, background with its drift,"
    " sensor gain 3 % and its tilt, scatter 5 ppm, mixing, volume 5 %"
)


METHODS = (
    Method("logger every 30 s, correlated noise: air flow", _logger, DRAWN),
    Method("one reading each quarter of an hour: air changes", _by_hand, DRAWN),
    Method("three rooms every 2 min: air changes", _rooms, DRAWN),
    Method(
        "people near the steady state: air flow", _people,
        "1 to 5 people with 20 % each, half of it shared; flow 20 to 80 L/s, volume, sensor 3 %",
    ),
)  # fmt: skip
"""Round trips of the tracer decay."""
