"""Measure everything that has a limit, print it, and write it where asked to."""

from __future__ import annotations

import argparse
import sys
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from bench.engine_speed import BATCH, ORACLE_DAYS, engine_figures
from bench.figures import (
    Figure,
    as_user,
    machine_words,
    median_time,
    page,
    read_json,
    run_quietly,
    text_table,
)
from bench.network_scipy import race

if TYPE_CHECKING:
    from collections.abc import Iterator

    from bench.network_scipy import NetworkRace
    from rooftree.job import Job

PAGE = Path(__file__).parents[1] / "docs" / "reference" / "bench.md"

MEBIBYTE = 1024.0**2


def say(what: str) -> None:
    """Tell what is being measured."""
    print(f"{what} ...", file=sys.stderr, flush=True)


def help_figure() -> Figure:
    """Measure the help of the command."""
    say("Help")
    command = [sys.executable, "-m", "rooftree.cli", "--help"]
    run = partial(run_quietly, command, as_user())
    return Figure("`rooftree --help`", median_time(run, 7), "s", 0.5)


def main_job_figures() -> Iterator[Figure]:
    """Measure plan, report, pages and memory in a process of its own."""
    say("Main job")
    with TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "bench.main_job", folder]
        found = read_json(command)
    yield Figure("Feasible packages of the demo", found["packages"], "packages", 2000, True)
    yield Figure("Its plan on two cores, every package simulated", found["plan_seconds"], "s", 90.0)
    yield Figure("Processor time of that, both cores together", found["plan_work"], "s")
    yield Figure("Report as a PDF", found["report_seconds"], "s", 2.0)
    for name, seconds in found["page_seconds"].items():
        yield Figure(f"Page: {name}", 1000.0 * seconds, "ms", 200.0)
    slowest = max(found["preview_seconds"], key=found["preview_seconds"].get)
    seconds = found["preview_seconds"][slowest]
    name = f"Result while typing, slowest of {len(found['preview_seconds'])} kinds: {slowest}"
    yield Figure(name, 1000.0 * seconds, "ms", 100.0)
    yield Figure("Peak memory of all that", found["peak_memory"] / MEBIBYTE, "MB", 1024.0)


def core_figures() -> Iterator[Figure]:
    """Measure the engine, one fan test and the other reductions, warm."""
    from rooftree.actions.demo import demo_text
    from rooftree.actions.simulation import case_of
    from rooftree.actions.year import weather_of
    from rooftree.readings.airtightness import FanTest, reduce_fan_test
    from rooftree.records.document import read_document

    say("Engine")
    job = read_document(demo_text()).to_core()
    yield from engine_figures(case_of(job).house, weather_of(job), job)
    say("Fan test")
    test = next(t.reading for t in job.tests if isinstance(t.reading, FanTest))
    seconds = median_time(partial(reduce_fan_test, test, job.enclosure), 50)
    yield Figure("Reduction of a fan test", 1000.0 * seconds, "ms", 5.0)
    yield from reduction_figures(job)


def reduction_figures(job: Job) -> Iterator[Figure]:
    """Measure the reduction of every kind of test in the demo, and a Monte Carlo run."""
    from rooftree.actions.readings import reduce_job
    from rooftree.actions.year import weather_of
    from rooftree.job.kinds import reduce_reading
    from rooftree.job.reduction import circumstances_of
    from rooftree.papers.results import WORDS
    from rooftree.physics.distributions import Drawn, propagate_by_draws

    say("Reductions")
    around = circumstances_of(job, reduce_job(job).airtightness, lambda: weather_of(job))
    kinds = {type(test.reading): test.reading for test in job.tests}
    times = {
        WORDS[kind].name: median_time(partial(reduce_reading, reading, around), 15)
        for kind, reading in kinds.items()
    }
    slowest = max(times, key=lambda name: times[name])
    name = f"Slowest reduction of {len(times)} kinds: {slowest[:1].lower()}{slowest[1:]}"
    yield Figure(name, 1000.0 * times[slowest], "ms", 20.0)
    inputs = [Drawn(3.0, 0.3), Drawn(4.0, 0.4), Drawn(2.0, 0.1)]
    drawn = partial(propagate_by_draws, lambda a, b, c: a * b**0.65 / c, inputs)
    yield Figure("Monte Carlo of 10,000 draws", 1000.0 * median_time(drawn, 15), "ms", 300.0)


def network_race() -> NetworkRace:
    """Let the air network race a general solver on the demo house."""
    from rooftree.actions.demo import demo_text
    from rooftree.actions.simulation import case_of
    from rooftree.actions.year import weather_of
    from rooftree.records.document import read_document

    say("Air network against a general solver")
    job = read_document(demo_text()).to_core()
    return race(case_of(job).house, weather_of(job))


def race_figures(found: NetworkRace) -> Iterator[Figure]:
    """Return what the race gave; it has no limit."""
    yield Figure("Air network, one hour, ours", 1e6 * found.seconds, "µs")
    yield Figure("Air network, one hour, SciPy's general solver", 1e6 * found.scipy_seconds, "µs")
    yield Figure("SciPy's time to ours", found.ratio, "times")
    yield Figure("Largest difference of any flow", found.largest_difference, "kg/s")


def notes(found: NetworkRace) -> list[str]:
    """Return what belongs to the figures."""
    engine = (
        f"The batch is {BATCH} packages of the demo's measures, all different, on one core with "
        "all that Python does for them. All sets of twelve measures make the packages; the members "
        "of the ensemble have leaks, exponents, layers and setpoints drawn, so that no two share a "
        "surface. Both run in one process of their own, held to two cores (`bench/variants.py`)."
    )
    plain = (
        f"The plain solution (`bench/oracle.py`) steps through {len(ORACLE_DAYS)} days on the same "
        "arrays, on one core; its time is scaled by hours and held against a house-year in a batch."
    )
    growth = (
        "Growth to the power of 1 is in proportion; below that is what every run needs once. With "
        "twice the leaks, each is two of half the size, so that the year stays the same (holes "
        "stay whole)."
    )
    first = (
        "A new process finds the hour loop compiled by those before it; the first figure is from "
        "the start of Python to the year's result with house and weather read from a file."
    )
    main_job = (
        "The main job runs in a process of its own, held to two cores: plan, report and pages "
        "of the demo house."
    )
    pages = (
        "Pages go through the server and a socket, with the plan kept; each request for the plan "
        "runs a whole year of the house with the measures that are switched on."
    )
    network = (
        f"The race is on {found.spaces} spaces and {found.paths} paths of the demo house: ours "
        f"solved {found.hours:,} hours, `scipy.optimize.root` the first {found.scipy_hours}, step "
        "by step with the same equations, each from the hour before (`bench/network_scipy.py`)."
    )
    return [engine, plain, growth, first, main_job, pages, network]


def main() -> None:
    """Measure, print, write; exit code 1 if a limit is not kept."""
    parser = argparse.ArgumentParser(prog="python -m bench", description=__doc__)
    parser.add_argument("--write", action="store_true", help=f"write {PAGE.name} as well")
    write = parser.parse_args().write
    machine = machine_words()
    figures = [help_figure(), *core_figures(), *main_job_figures()]
    found = network_race()
    figures += race_figures(found)
    print(f"Measured on {machine}\n\n{text_table(figures)}")
    if write:
        PAGE.write_text(page(figures, notes(found), machine), encoding="utf-8")
    sys.exit(0 if all(figure.holds for figure in figures) else 1)


if __name__ == "__main__":
    main()
