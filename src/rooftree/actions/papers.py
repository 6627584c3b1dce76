"""Draw and set what is handed to people."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from rooftree.actions.simulation import case_of, simulate_job
from rooftree.actions.subject import Written
from rooftree.actions.year import weather_of
from rooftree.errors import StoreError
from rooftree.papers.report import ReportSubject, render_report
from rooftree.papers.section import (
    conditions,
    draw_section,
    measured_pressures,
    state_at,
    state_over_year,
)
from rooftree.records.files import write_whole
from rooftree.units import DisplaySystem

if TYPE_CHECKING:
    from pathlib import Path

    from rooftree.engine.results import YearResult
    from rooftree.job import Job
    from rooftree.papers.section import SectionState
    from rooftree.plan.model import Plan

WINTER = (12, 1, 2)
"""Months of the section in the report: the stack is strongest, the complaints loudest."""


def section_svg(
    job: Job,
    year: YearResult,
    *,
    hour: int | None,
    system: DisplaySystem,
    dark: bool,
    headed: bool = True,
) -> str:
    """Return the section drawing of a job's house.

    Parameters
    ----------
    job : Job
        Whose house it is.
    year : YearResult
        With hourly values.
    hour : int or None
        Hour of the year; None for the mean of the year.
    system : DisplaySystem
        Units of the labels.
    dark : bool
        For dark rooms.
    headed : bool
        With its title and the moment above it; a page may say both itself.

    Returns
    -------
    str
        SVG.
    """
    house, state = case_of(job).house, _state(job, year, hour)
    note = "invented house" if job.invented else ""
    pressures = measured_pressures(house, [test.reading for test in job.tests])
    return draw_section(
        house, state, system=system, dark=dark, note=note, pressures=pressures, headed=headed
    )


def section_conditions(
    job: Job, year: YearResult, *, hour: int | None, system: DisplaySystem
) -> str:
    """Say which moment the section shows, and the weather then.

    Parameters
    ----------
    job : Job
        Whose house it is.
    year : YearResult
        With hourly values.
    hour : int or None
        Hour of the year; None for the mean of the year.
    system : DisplaySystem
        Units of the weather.

    Returns
    -------
    str
    """
    return conditions(_state(job, year, hour), system)


def _state(job: Job, year: YearResult, hour: int | None) -> SectionState:
    house, weather = case_of(job).house, weather_of(job)
    if hour is None:
        return state_over_year(house, year, weather)
    return state_at(house, year, weather, hour)


def make_report(job: Job, plan: Plan, *, system: DisplaySystem, made: date | None = None) -> bytes:
    """Return the owner's report as a PDF.

    Parameters
    ----------
    job : Job
        The record.
    plan : Plan
        Of the job as it stands.
    system : DisplaySystem
        Units that its reader likes.
    made : date or None
        Date on the report; today where None.

    Returns
    -------
    bytes
    """
    case = case_of(job)
    state = state_over_year(case.house, simulate_job(job), weather_of(job), WINTER)
    subject = ReportSubject(
        job=job,
        reductions=case.reductions,
        house=case.house,
        plan=plan,
        state=state,
        calibrated=False,
        made=(made or date.today()).isoformat(),
    )
    return render_report(subject, system=system)


def require_place(path: Path) -> None:
    """Refuse a place where no report can be written, before the work for it is done.

    Parameters
    ----------
    path : Path
        Where the report is to go.

    Raises
    ------
    StoreError
        If it is a folder, or does not end in ``.pdf``.
    """
    if path.is_dir():
        raise StoreError(f"{path} is a folder; name a file in it, such as {path / 'report.pdf'}")
    if path.suffix.lower() != ".pdf":
        raise StoreError(f"{path} does not end in .pdf; the report is a PDF, so end it in .pdf")


def write_report(job: Job, plan: Plan, path: Path, *, metric: bool) -> Written:
    """Write the owner's report to a file, whole or not at all.

    Parameters
    ----------
    job : Job
        The record.
    plan : Plan
        Of the job as it stands.
    path : Path
        Where.
    metric : bool
        Whether its reader likes SI units.

    Returns
    -------
    Written

    Raises
    ------
    StoreError
        If the file cannot be written.
    """
    system = DisplaySystem.SI if metric else DisplaySystem.IP
    content = make_report(job, plan, system=system)
    write_whole(path, content)
    return Written(str(path), len(content))
