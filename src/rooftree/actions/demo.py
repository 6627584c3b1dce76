"""Run the whole job on the invented demo house."""

from __future__ import annotations

import time
from dataclasses import dataclass
from importlib.resources import files
from typing import TYPE_CHECKING

from rooftree.actions.jobs import load_job
from rooftree.actions.papers import write_report
from rooftree.actions.planning import keep_plan, plan_job
from rooftree.actions.simulation import case_of, simulate_job
from rooftree.actions.year import weather_of
from rooftree.house import Fuel
from rooftree.papers.report.stages import likely_whole
from rooftree.papers.report.words import likely_saving_words, money_range
from rooftree.papers.section.state import breathing_sentence, state_over_year
from rooftree.records import open_store
from rooftree.records.document import read_document
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from rooftree.job import Job
    from rooftree.plan.model import Plan, Stage

WHO = "demo"

_TWO_LINES = 180
"""Letters that surely fit on two lines of 100 when broken between words."""


@dataclass(frozen=True, slots=True)
class DemoSummary:
    """What the demo did.

    Attributes
    ----------
    folder, report : str
        Where database and report are.
    packages : int
        Feasible packages that were simulated.
    seconds : float
        For tests, plan and report [s].
    lines : tuple of str
        The whole in sentences, for one screen.
    """

    folder: str
    report: str
    packages: int
    seconds: float
    lines: tuple[str, ...]


def demo_text() -> str:
    """Return the job file of the demo."""
    return files("rooftree").joinpath("demo", "ranch.json").read_text(encoding="utf-8")


def run_demo(
    folder: Path, report: Path, *, progress: Callable[[int, int], None] | None = None
) -> DemoSummary:
    """Load the demo job, reduce its tests, simulate, plan and write the report.

    Parameters
    ----------
    folder : Path
        Of the demo's database; made if it is not there.
    report : Path
        Where the report goes.
    progress : callable or None
        Told how many houses of how many are simulated.

    Returns
    -------
    DemoSummary
    """
    store = open_store(folder)
    document = read_document(demo_text())
    if document.name not in store.names():
        store.save(document, WHO)
    job = load_job(store, document.name)
    began = time.perf_counter()
    plan = plan_job(job, progress=progress)
    keep_plan(job, plan)
    write_report(job, plan, report, metric=False)
    seconds = time.perf_counter() - began
    return DemoSummary(
        folder=str(folder),
        report=str(report),
        packages=len(plan.packages),
        seconds=seconds,
        lines=tuple(_lines(job, plan, folder, report, seconds)),
    )


def _lines(job: Job, plan: Plan, folder: Path, report: Path, seconds: float) -> list[str]:
    """Return the summary; wrapped at 100 columns it fits a screen of 24 lines."""
    together = likely_saving_words(*likely_whole(plan, calibrated=False))
    return [
        f"Rooftree demo: {job.house.name}. House, people and readings are invented.",
        f"They said “{job.complaints[0].words}”",
        "",
        *_found(job),
        f"Plan      {len(plan.packages):,} feasible packages simulated, hour by hour",
        "",
        *(_stage_line(number, stage) for number, stage in enumerate(plan.stages, start=1)),
        "",
        f"Together  {together} a year; the model alone says ${plan.whole.money_saved:,.0f}",
        f"Report    {report} (database in {folder}; {seconds:.0f} s)",
    ]


def _found(job: Job) -> list[str]:
    """Return what tests and simulation tell of the house as found."""
    case, year, ip = case_of(job), simulate_job(job), DisplaySystem.IP
    flow = state_over_year(case.house, year, weather_of(job)).flow
    gas = show(year.bought(Fuel.GAS), Kind.FUEL, ip, digits=3)
    power = show(year.bought(Fuel.ELECTRICITY), Kind.ELECTRICITY, ip, digits=3)
    lines = [
        f"House     {gas} of gas and {power} of electricity in a typical year",
        f"Air       {breathing_sentence(case.house, flow)}",
    ]
    if case.gates:
        such = case.gates[0].rule.title
        lines.append(f"Gates     {len(case.gates)} stand, such as: {such[:1].lower()}{such[1:]}")
    air = case.reductions.airtightness
    if air is None:
        return lines
    flow_50, changes = show(air.sizes.flow50.value, Kind.FLOW, ip), air.sizes.air_changes50
    hourly = f"{changes.value:.1f} air changes an hour ({changes.low:.1f} to {changes.high:.1f})"
    return [f"Tests     {flow_50} at 50 Pa, {hourly}", *lines]


def _stage_line(number: int, stage: Stage) -> str:
    """Return a stage with as many of its steps as fit on two lines."""
    titles = [step.measure.title for step in stage.steps]
    head = f"  {number}. {stage.name} ({money_range(stage.cost_low, stage.cost_high)}): "
    for shown in range(len(titles), 0, -1):
        left = f"; and {len(titles) - shown} more" if shown < len(titles) else ""
        line = f"{head}{'; '.join(titles[:shown])}{left}"
        if len(line) <= _TWO_LINES:
            return line
    return f"{head}{len(titles)} steps"
