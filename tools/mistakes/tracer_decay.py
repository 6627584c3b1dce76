"""Mistakes with a tracer decay."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from mistakes.mistake import Mistake
from rooftree.readings.tracer_decay import (
    OutdoorReading,
    TracerDecayTest,
    TracerReading,
    reduce_tracer_decay,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator
    from numpy.typing import NDArray

    from rooftree.finding import Finding

HOUR = 3600.0
SCATTER = 5.0


def _lines(
    rng: Generator, times: NDArray[np.float64], excess: NDArray[np.float64], outdoors: float
) -> tuple[TracerReading, ...]:
    read = outdoors + excess * (1.0 + rng.normal(0.0, 0.005, len(times)))
    read = np.round(read + rng.normal(0.0, SCATTER, len(times)))
    return tuple(map(TracerReading, times.tolist(), read.tolist()))


def _draw(rng: Generator) -> tuple[float, float, float, NDArray[np.float64]]:
    """Return rate [1/h], excess at the start and background [ppm], and the times [s]."""
    rate = math.exp(rng.uniform(math.log(0.25), math.log(1.5)))
    duration = rng.uniform(1.0, 2.0) / rate * HOUR
    times = np.arange(0.0, duration, rng.choice([60.0, 120.0, 300.0]))
    return rate, rng.uniform(900.0, 1800.0), rng.normal(425.0, 10.0), times


def _clean(rng: Generator) -> TracerDecayTest:
    rate, start, outdoors, times = _draw(rng)
    lines = _lines(rng, times, start * np.exp(-rate * times / HOUR), outdoors)
    background = tuple(
        OutdoorReading(round(outdoors + rng.normal(0.0, SCATTER)), at) for at in (0.0, times[-1])
    )
    return TracerDecayTest(lines, background, is_mixed=True, volume=rng.uniform(200.0, 600.0))


def _with_excess(
    test: TracerDecayTest,
    rng: Generator,
    excess: Callable[[NDArray[np.float64], NDArray[np.float64], float], NDArray[np.float64]],
) -> TracerDecayTest:
    """Return the test with another excess, made from times, true excess and rate [1/h]."""
    times = np.array([line.time for line in test.lines])
    read = np.array([line.concentration for line in test.lines])
    outdoors = sum(one.concentration for one in test.outdoors) / len(test.outdoors)
    over = np.maximum(read - outdoors, 1.0)
    rate = math.log(over[0] / over[-1]) / (times[-1] - times[0]) * HOUR
    start = over[0] * np.exp(-rate * times / HOUR)
    return replace(test, lines=_lines(rng, times, excess(times, start, rate), outdoors))


def _no_background(test: TracerDecayTest, _: Generator) -> TracerDecayTest:
    return replace(test, outdoors=(OutdoorReading(0.0),))


def _background_indoors(test: TracerDecayTest, rng: Generator) -> TracerDecayTest:
    more = rng.uniform(250.0, 500.0)
    return replace(
        test,
        outdoors=tuple(
            replace(one, concentration=one.concentration + more) for one in test.outdoors
        ),
    )


def _someone_stayed(test: TracerDecayTest, rng: Generator) -> TracerDecayTest:
    # Somebody who breathes in the house holds it up by 150 to 500 ppm in the end.
    held = rng.uniform(150.0, 500.0)
    return _with_excess(
        test,
        rng,
        lambda times, excess, rate: held + (excess[0] - held) * np.exp(-rate * times / HOUR),
    )


def _window_opened(test: TracerDecayTest, rng: Generator) -> TracerDecayTest:
    factor, share = rng.uniform(2.0, 4.0), rng.uniform(0.3, 0.7)

    def opened(
        times: NDArray[np.float64], excess: NDArray[np.float64], rate: float
    ) -> NDArray[np.float64]:
        after = np.maximum(times - share * times[-1], 0.0)
        made: NDArray[np.float64] = excess * np.exp(-(factor - 1.0) * rate * after / HOUR)
        return made

    return _with_excess(test, rng, opened)


def _times_in_minutes(test: TracerDecayTest, _: Generator) -> TracerDecayTest:
    lines = tuple(replace(line, time=line.time / 60.0) for line in test.lines)
    outdoors = tuple(
        replace(one, time=None if one.time is None else one.time / 60.0) for one in test.outdoors
    )
    return replace(test, lines=lines, outdoors=outdoors)


def _midnight(test: TracerDecayTest, rng: Generator) -> TracerDecayTest:
    last = test.lines[-1].time
    start = rng.uniform(24.0 * HOUR - 0.9 * last, 24.0 * HOUR - 0.1 * last)
    lines = tuple(replace(line, time=(line.time + start) % (24.0 * HOUR)) for line in test.lines)
    return replace(test, lines=lines)


def _stopped_early(test: TracerDecayTest, rng: Generator) -> TracerDecayTest:
    first, last = test.lines[0], test.lines[-1]
    outdoors = test.outdoors[0].concentration
    fall = math.log((first.concentration - outdoors) / max(last.concentration - outdoors, 1.0))
    end = last.time * rng.uniform(0.03, 0.2) / fall
    kept = tuple(line for line in test.lines if line.time <= end)
    return replace(test, lines=kept if len(kept) > 1 else test.lines[:2])


def _hangs(test: TracerDecayTest, rng: Generator) -> TracerDecayTest:
    stuck = round(rng.uniform(400.0, 5000.0))
    return replace(test, lines=tuple(replace(line, concentration=stuck) for line in test.lines))


def _saturated(test: TracerDecayTest, rng: Generator) -> TracerDecayTest:
    outdoors = test.outdoors[0].concentration
    share = (2000.0 - outdoors) / (test.lines[0].concentration - outdoors)
    factor = share / rng.uniform(0.5, 0.8)
    return replace(
        test,
        lines=tuple(
            replace(
                line,
                concentration=min(
                    round(outdoors + factor * (line.concentration - outdoors)), 2000.0
                ),
            )
            for line in test.lines
        ),
    )


def _clean_rooms(rng: Generator) -> TracerDecayTest:
    rate, start, outdoors, times = _draw(rng)
    lines: tuple[TracerReading, ...] = ()
    for room in ("living room", "bedroom", "cellar"):
        level = start * (1.0 + rng.normal(0.0, 0.02))
        here = _lines(rng, times, level * np.exp(-rate * times / HOUR), outdoors)
        lines += tuple(replace(line, position=room) for line in here)
    background = (OutdoorReading(round(outdoors), 0.0), OutdoorReading(round(outdoors), times[-1]))
    return TracerDecayTest(lines, background, is_mixed=True, volume=300.0)


def _not_mixed(test: TracerDecayTest, rng: Generator) -> TracerDecayTest:
    outdoors, share = test.outdoors[0].concentration, rng.uniform(0.4, 0.75)
    return replace(
        test,
        lines=tuple(
            replace(line, concentration=outdoors + share * (line.concentration - outdoors))
            if line.position == "cellar"
            else line
            for line in test.lines
        ),
    )


def _findings(test: TracerDecayTest) -> tuple[Finding, ...]:
    return reduce_tracer_decay(test).findings


def _mistake(
    name: str,
    codes: tuple[str, ...],
    spoil: Callable[[TracerDecayTest, Generator], TracerDecayTest],
    *,
    factor_of_two: bool = False,
    clean: Callable[[Generator], TracerDecayTest] = _clean,
) -> Mistake:
    full = tuple(f"tracer-decay/{code}" for code in codes)
    return Mistake(None, name, full, clean, spoil, _findings, factor_of_two)


MISTAKES = (
    _mistake("background left at 0", ("low-background",), _no_background, factor_of_two=True),
    _mistake(
        "background read indoors",
        ("high-background", "below-background"),
        _background_indoors,
        factor_of_two=True,
    ),
    _mistake("somebody stayed in the house", ("bent", "changed", "not-decaying"), _someone_stayed),
    _mistake(
        "window opened during the decay",
        ("changed", "bent"),
        _window_opened,
        factor_of_two=True,
    ),
    _mistake(
        "times in minutes taken for seconds",
        ("implausible",),
        _times_in_minutes,
        factor_of_two=True,
    ),
    _mistake("record passes midnight", ("time-back",), _midnight),
    _mistake("stopped too early", ("too-short", "not-decaying", "too-unsure"), _stopped_early),
    _mistake("sensor hangs", ("constant",), _hangs),
    _mistake("sensor at the end of its range", ("saturated",), _saturated),
    _mistake("one room is not mixed", ("not-mixed",), _not_mixed, clean=_clean_rooms),
)
"""Mistakes with a tracer decay; none of them is among the thirty-two."""
