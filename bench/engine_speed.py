"""The speed of the engine: one house and many, against a plain solution, and how it grows."""

from __future__ import annotations

import pickle
import sys
from dataclasses import replace
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import numpy as np

from bench.figures import Figure, as_user, held_to, median_time, read_json, run_quietly, timed
from bench.network_scipy import race
from bench.oracle import Oracle, first_state
from bench.variants import packages
from rooftree.engine import simulate, simulate_many
from rooftree.engine.compile import compile_house
from rooftree.house import LeakKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rooftree.house import House, Leak
    from rooftree.job import Job
    from rooftree.weather import WeatherYear

DAY, YEAR = 24, 8760
"""Hours."""

BATCH = 64
"""Variants that tell what a house-year costs in a batch."""

ORACLE_DAYS = 20, 110, 200
"""Days of the year that the plain solution steps through: winter, spring, summer."""

LENGTHS = 120, 240
"""Days of the records that tell how time grows with the length of the weather."""

GROWTH = "Time grows with {} to the power of"

MEBIBYTE = 1024.0**2


def engine_figures(house: House, year: WeatherYear, job: Job) -> Iterator[Figure]:
    """Measure one house and many, on one core and on two.

    Parameters
    ----------
    house : House
        The demo's.
    year : WeatherYear
        Its weather.
    job : Job
        The demo, which offers the measures.

    Yields
    ------
    Figure
    """
    with held_to(1):
        milliseconds = 1000.0 * median_time(partial(simulate, house, year), 25)
        figures = [
            Figure("One house-year of the demo, one core", milliseconds, "ms", 15.0),
            *batch_figures(house, year, job),
            *growth_figures(house, year),
        ]
    yield from figures
    yield from many_figures()
    yield from first_figures(house, year)


def batch_figures(house: House, year: WeatherYear, job: Job) -> Iterator[Figure]:
    """Measure a batch of variants, how it grows, and the plain solution on the same house."""
    variants = packages(house, job)
    sizes = BATCH, 2 * BATCH, 4 * BATCH
    seconds = [
        median_time(partial(simulate_many, variants[:size], year, workers=1), 3) for size in sizes
    ]
    each = seconds[0] / BATCH
    yield Figure("One house-year in a batch, one core", 1000.0 * each, "ms", 4.0)
    plain = oracle_seconds(house, year)
    yield Figure("The plain solution with SciPy, one hour", 1000.0 * plain, "ms")
    yield Figure("Its time to ours in a batch", plain * YEAR / each, "times", 1500.0, True)
    words = f"the variants, {sizes[0]} to {sizes[-1]},"
    yield Figure(GROWTH.format(words), exponent(sizes, seconds), "")


def oracle_seconds(house: House, year: WeatherYear) -> float:
    """Return the time of one hour by the plain solution on the same arrays [s]."""
    compiled = compile_house(house, year)
    oracle = Oracle(compiled, first_state(compiled))
    oracle.run(0, 2)  # what is slow only the first time
    seconds = sum(timed(partial(oracle.run, DAY * day, DAY)) for day in ORACLE_DAYS)
    return seconds / (DAY * len(ORACLE_DAYS))


def growth_figures(house: House, year: WeatherYear) -> Iterator[Figure]:
    """Measure how time grows with the length of the weather and the number of paths."""
    records = [first_days(year, days) for days in LENGTHS]
    seconds = [median_time(partial(simulate, house, record), 7) for record in records]
    words = f"the weather, {LENGTHS[0]} to {LENGTHS[1]} days,"
    yield Figure(GROWTH.format(words), exponent(LENGTHS, seconds), "")
    houses = house, with_halved_leaks(house)
    seconds = [median_time(partial(simulate, each, year), 15) for each in houses]
    leaks = [len(each.leaks) for each in houses]
    words = f"the leaks, {leaks[0]} to {leaks[1]},"
    yield Figure(GROWTH.format(words), exponent(leaks, seconds), "")
    races = [race(each, year, 1) for each in houses]
    power = exponent([found.paths for found in races], [found.seconds for found in races])
    yield Figure("That of the air network alone", power, "")


def many_figures() -> Iterator[Figure]:
    """Measure packages, ensemble and memory in a process of its own, on two cores."""
    found = read_json([sys.executable, "-m", "bench.many"])
    count = found["packages"]
    yield Figure(f"{count:,} packages on two cores", found["package_seconds"], "s", 10.0)
    yield Figure("Peak memory of that", found["package_memory"] / MEBIBYTE, "MB", 600.0)
    count = found["members"]
    yield Figure(f"{count:,} members on two cores", found["member_seconds"], "s", 3.0)


def first_figures(house: House, year: WeatherYear) -> Iterator[Figure]:
    """Measure the first result in a new process, with what was compiled before."""
    with TemporaryDirectory() as folder:
        both = Path(folder) / "house-and-year"
        both.write_bytes(pickle.dumps((house, year)))
        command = [sys.executable, "-m", "bench.first_result", str(both)]
        seconds = median_time(partial(run_quietly, command, as_user()), 5)
    yield Figure("First year in a new process, house and weather given", seconds, "s", 1.5)
    command = [sys.executable, "-m", "bench.first_job"]
    seconds = median_time(partial(run_quietly, command, as_user()), 3)
    yield Figure("The same with job read, tests put in and weather made", seconds, "s")


def exponent(sizes: Sequence[float], seconds: Sequence[float]) -> float:
    """Return the power with which time grows with size [-]: 1 where it is in proportion."""
    return float(np.polyfit(np.log(sizes), np.log(seconds), 1)[0])


def first_days(year: WeatherYear, days: int) -> WeatherYear:
    """Return the first days of a year as a record."""
    arrays = {
        name: getattr(year, name)[: DAY * days]
        for name in type(year).__dataclass_fields__
        if isinstance(getattr(year, name), np.ndarray)
    }
    return replace(year, **arrays)


def with_halved_leaks(house: House) -> House:
    """Return the same house with two leaks of half the size in place of each.

    Holes stay whole: air that goes both ways through one, and a door that a fan test opens,
    are not those of two halves.
    """
    leaks: list[Leak] = []
    for leak in house.leaks:
        if leak.kind is LeakKind.HOLE:
            leaks.append(leak)
        else:
            half = replace(leak, coefficient=0.5 * leak.coefficient)
            leaks += (replace(half, id=f"{leak.id}-{k}") for k in (1, 2))
    return replace(house, leaks=tuple(leaks))
