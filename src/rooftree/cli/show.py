"""Print what actions return, as text for people or JSON for programs."""

from __future__ import annotations

import json
import shutil
import textwrap
from typing import TYPE_CHECKING, Any

from rooftree.actions.plain import plain
from rooftree.house import Fuel
from rooftree.papers.report.annex import test_pages
from rooftree.papers.report.content import money_range, saving_words
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.actions.demo import DemoSummary
    from rooftree.engine.results import YearResult
    from rooftree.job import Job
    from rooftree.job.reduction import Reductions
    from rooftree.plan.model import Plan
    from rooftree.records.document import Problem

_ENERGY = {Fuel.ELECTRICITY: Kind.ELECTRICITY}


def print_json(value: Any) -> None:
    """Print what an action returned as JSON, in SI."""
    print(json.dumps(plain(value), ensure_ascii=False, indent=1))


def print_problems(target: str, problems: Iterable[Problem]) -> None:
    """Print every problem with its path."""
    listed = list(problems)
    for problem in listed:
        print(problem if problem.blocks else f"(doubt) {problem}")
    blocking = sum(problem.blocks for problem in listed)
    print(f"{target}: {blocking} problems, {len(listed) - blocking} doubts")


def _system(*, metric: bool) -> DisplaySystem:
    return DisplaySystem.SI if metric else DisplaySystem.IP


def _wrapped(text: str, indent: str = "  ") -> str:
    width = min(100, shutil.get_terminal_size((100, 24)).columns)
    return textwrap.fill(text, width, initial_indent=indent, subsequent_indent=indent + "  ")


def print_tests(reductions: Reductions, *, metric: bool) -> None:
    """Print every test with method, results and doubts."""
    for page in test_pages(reductions, _system(metric=metric)):
        print(f"{page['name']} ({page['method']})")
        for row in page["rows"]:
            print(_wrapped(f"{row['name']}: {row['value']}"))
        for finding in page["findings"]:
            print(_wrapped(f"{finding['severity']}: {finding['says']} [{finding['source']}]"))
        print()


def print_year(job: Job, year: YearResult, *, metric: bool) -> None:
    """Print energy, loads, air and the temperatures of each space."""
    system = _system(metric=metric)
    print(f"{job.name}: {job.weather}, typical year")
    for (fuel, use), months in year.energy.items():
        kind = _ENERGY.get(fuel, Kind.FUEL)
        print(f"  {show(float(months.sum()), kind, system):>14}  {fuel.value}, {use.value}")
    for words, watts in (
        ("largest heating load", year.peak_heating),
        ("largest cooling load", year.peak_cooling),
    ):
        print(f"  {show(watts, Kind.POWER, system):>14}  {words}")
    print(f"  {show(year.mean_infiltration, Kind.FLOW, system):>14}  air leaking in, mean")
    for source, share in year.source_shares.items():
        print(f"  {share:>13.0%}   of it from {source}")
    for k, space in enumerate(year.space_ids):
        low, mean, high = (
            show(float(t[k]), Kind.TEMPERATURE, system)
            for t in (year.minimum_temperature, year.mean_temperature, year.maximum_temperature)
        )
        print(f"  {space:<14} {low} to {high}, mean {mean}")
    print(
        f"  heat unaccounted for {year.heat_balance_error:.1e} of all heat, "
        f"air {year.mass_residual:.1e} kg/s"
    )


def print_plan(job: Job, plan: Plan, *, metric: bool) -> None:
    """Print the stages with their steps, reasons and checks."""
    print(f"{job.name}: plan out of {len(plan.packages):,} simulated packages")
    for number, stage in enumerate(plan.stages, start=1):
        print(f"\n{number}. {stage.name} ({money_range(stage.cost_low, stage.cost_high)})")
        for step in stage.steps:
            alone, here = saving_words(step.alone), saving_words(step.in_place)
            print(f"  - {step.measure.title}: {here} a year here, {alone} alone")
            print(_wrapped(step.why_here, "      "))
        for check in stage.checks:
            print(_wrapped(f"{check.severity.value}: {check.says}", "    "))
    for measure, why in plan.blocked:
        print(_wrapped(f"not: {measure.title}. {why}"))
    print(f"\nAll together: {saving_words(plan.whole)} a year")
    del metric


def print_demo(summary: DemoSummary) -> None:
    """Print what the demo did, on one screen."""
    for line in summary.lines:
        print(_wrapped(line, ""))
