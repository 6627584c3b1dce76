"""The annex: every test with its method, edition, readings, results and doubts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.papers.report.words import capitalised, day_words
from rooftree.papers.results import WORDS, Line
from rooftree.papers.results.fan_test import size_lines
from rooftree.papers.results.words import told_by
from rooftree.readings.airtightness import FanTest

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.job.reduction import ReducedTest, Reductions
    from rooftree.plan.model import Plan
    from rooftree.units import DisplaySystem

Row = dict[str, str]

_OURSELVES = "the simulated year"
"""Begins the source of what rests on the simulation itself."""


def test_pages(reductions: Reductions, system: DisplaySystem) -> list[dict[str, Any]]:
    """Return every test with method, readings, results and doubts.

    Parameters
    ----------
    reductions : Reductions
        Of one job.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    list of dict
        With name, method, about, says, rows, tables and findings.
    """
    return pages_of(None, reductions, system)


def pages_of(
    job: Job | None, reductions: Reductions, system: DisplaySystem
) -> list[dict[str, Any]]:
    """Return every test, also with when, where and with what it was made.

    Parameters
    ----------
    job : Job or None
        The record: its visits, places and instruments have names.
    reductions : Reductions
        Of the same job.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    list of dict
        With name, method, about, says, rows, tables and findings.
    """
    pages = [_page(job, reduced, system) for reduced in reductions.tests]
    mean = reductions.airtightness
    if mean is not None and len(mean.results) > 1:
        pages.append(
            {
                "name": "Fan tests of the house as found, mean of all",
                "method": "Flows averaged at each pressure, first within a direction, then over "
                "both; curve through 4 and 50 Pa",
                "about": "",
                "says": "",
                "rows": rows_of(size_lines(mean.sizes, system)),
                "tables": [],
                "findings": doubts(mean.findings),
            }
        )
    return pages


def _page(job: Job | None, reduced: ReducedTest, system: DisplaySystem) -> dict[str, Any]:
    return {
        "name": reduced.test.name,
        "method": WORDS[type(reduced.test.reading)]
        .method(reduced.test.reading, reduced.result)
        .removesuffix("."),
        "about": _about(job, reduced) if job else "",
        "says": told_by(reduced.result),
        "rows": _rows(reduced, system),
        "tables": _tables(reduced, system),
        "findings": doubts(reduced.findings),
    }


def doubts(findings: Iterable[Finding]) -> list[Row]:
    """Return findings as rows.

    Parameters
    ----------
    findings : iterable of Finding
        Of one test.

    Returns
    -------
    list of dict
        With severity, says and source.
    """
    return [
        {"severity": f.severity.value, "says": f.says, "source": capitalised(f.source)}
        for f in findings
    ]


def sources_of(reductions: Reductions, plan: Plan) -> list[str]:
    """Return every document that a finding or a check of this report rests on.

    Parameters
    ----------
    reductions : Reductions
        Of the job.
    plan : Plan
        Of the job.

    Returns
    -------
    list of str
        Each once, in order of the alphabet.
    """
    checks = [check for stage in plan.stages for check in stage.checks]
    standards = [
        reduced.test.reading.standard.value
        for reduced in reductions.tests
        if isinstance(reduced.test.reading, FanTest)
    ]
    sources = [f.source for f in (*reductions.findings, *plan.findings, *checks)]
    return sorted(
        {
            capitalised(source)
            for source in (*standards, *sources)
            if source and not source.startswith(_OURSELVES)
        }
    )


def _about(job: Job, reduced: ReducedTest) -> str:
    """Return when, where and with what a test was made."""
    test = reduced.test
    days = {visit.id: f"{day_words(visit.date)}, {visit.assessor}" for visit in job.visits}
    places = {place.id: place.name for place in job.places}
    instruments = {one.id: one.name for one in job.instruments}
    parts = (
        days.get(test.visit, ""),
        places.get(test.place, ""),
        instruments.get(test.instrument, ""),
        test.note.removesuffix("."),
    )
    return "; ".join(part for part in parts if part)


def _rows(reduced: ReducedTest, system: DisplaySystem) -> list[Row]:
    """Return readings and results of one test; readings alone where there is no result."""
    words = WORDS[type(reduced.test.reading)]
    lines = words.readings(reduced.test.reading, system)
    if reduced.result is not None:
        lines += words.results(reduced.result, system)
    return rows_of(lines)


def rows_of(lines: Iterable[Line]) -> list[Row]:
    """Return lines as rows of name and value, the limits behind the value.

    Parameters
    ----------
    lines : iterable of Line
        Of one test.

    Returns
    -------
    list of dict
        With name and value.
    """
    return [
        {
            "name": one.words,
            "value": one.value if one.limits in ("", one.value) else f"{one.value} ({one.limits})",
        }
        for one in lines
    ]


def _tables(reduced: ReducedTest, system: DisplaySystem) -> list[dict[str, Any]]:
    """Return results that are lists, such as the stations of a fan test."""
    if reduced.result is None:
        return []
    return [
        {"caption": one.caption, "columns": list(one.columns), "rows": [list(r) for r in one.rows]}
        for one in (
            every.filled
            for every in WORDS[type(reduced.test.reading)].tables(reduced.result, system)
        )
    ]
