"""Print what actions return, as text for people or JSON for programs."""

from __future__ import annotations

import json
import shutil
import textwrap
from typing import TYPE_CHECKING, Any

from rooftree.actions.plain import plain
from rooftree.units import DisplaySystem, Kind, show, told

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.actions.simulation import SimulatedYear
    from rooftree.actions.subject import Written
    from rooftree.job import Job
    from rooftree.records.document import Problem

WIDEST = 100
"""Columns; longer lines are hard to read."""


def print_json(value: Any) -> None:
    """Print what an action returned as JSON, in SI."""
    print(json.dumps(plain(value), ensure_ascii=False, indent=1, allow_nan=False), flush=True)


def print_problems(target: str, problems: Iterable[Problem]) -> None:
    """Print every problem with its path."""
    listed = list(problems)
    for problem in listed:
        print(problem if problem.blocks else f"(doubt) {problem}")
    blocking = sum(problem.blocks for problem in listed)
    print(f"{target}: {_counted(blocking, 'problem')}, {_counted(len(listed) - blocking, 'doubt')}")


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number or 'no'} {noun}s"


def print_written(written: Written) -> None:
    """Print which file was written and how large it is."""
    print(f"{written.file}: {max(1, round(written.bytes / 1000)):,} kB")


def print_lines(lines: Iterable[str]) -> None:
    """Print lines, each wrapped to the terminal; what is indented stays so."""
    for line in lines:
        print_wrapped(line.strip(), line[: len(line) - len(line.lstrip())])


def print_wrapped(
    text: str, indent: str = "  ", *, system: DisplaySystem = DisplaySystem.IP
) -> None:
    """Print a text that hangs where it goes on, its quantities in the reader's units."""
    text = told(text, system)
    width = min(WIDEST, shutil.get_terminal_size((WIDEST, 24)).columns)
    print(textwrap.fill(text, width, initial_indent=indent, subsequent_indent=indent + "  "))


def display_system(*, metric: bool) -> DisplaySystem:
    """Return the units that the person wants."""
    return DisplaySystem.SI if metric else DisplaySystem.IP


def print_year(job: Job, simulated: SimulatedYear, *, metric: bool) -> None:
    """Print energy, cost, loads, air and the temperatures of each space."""
    from rooftree.house import Fuel
    from rooftree.plan.words import dollars

    system = display_system(metric=metric)
    year, loads = simulated.year, simulated.loads
    print(f"{job.name}: typical year of {job.weather}, house fitted to its tests")
    for (fuel, use), months in sorted(year.energy.items()):
        kind = Kind.ELECTRICITY if fuel is Fuel.ELECTRICITY else Kind.FUEL
        print(f"  {show(float(months.sum()), kind, system):>14}  {fuel.value}, {use.value}")
    print(f"  {dollars(simulated.cost):>14}  energy bills, at the prices of the job")
    print(f"  {show(simulated.emissions, Kind.MASS, system):>14}  carbon dioxide, with the grid's")
    for words, watts, outdoors in (
        ("heating", loads.heating, loads.heating_temperature),
        ("cooling", loads.cooling, loads.cooling_temperature),
    ):
        at = show(outdoors, Kind.TEMPERATURE, system)
        print(f"  {show(watts, Kind.POWER, system):>14}  rooms need for {words} at {at} outdoors")
    for words, watts in (
        ("heating", year.peak_heating),
        ("cooling", year.peak_cooling),
    ):
        print(f"  {show(watts, Kind.POWER, system):>14}  most {words} delivered in an hour")
    print(f"  {show(year.mean_infiltration, Kind.FLOW, system):>14}  air leaking in, mean")
    for source, share in sorted(year.source_shares.items(), key=lambda item: -item[1]):
        print(f"  {share:>14.0%}   of it from {source}")
    for k, space in enumerate(year.space_ids):
        low, mean, high = (
            show(float(t[k]), Kind.TEMPERATURE, system)
            for t in (year.minimum_temperature, year.mean_temperature, year.maximum_temperature)
        )
        print(f"  {space:<14}  {low} to {high}, mean {mean}")
    print(
        f"  Heat unaccounted for: {year.heat_balance_error:.1e} of all heat; "
        f"air: {year.mass_residual:.1e} kg/s"
    )
