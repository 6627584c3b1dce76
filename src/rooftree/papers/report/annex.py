"""The annex: every test with its method, edition, readings, results and doubts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.papers.report.rows import airtightness_rows, rows_of
from rooftree.papers.report.words import capitalised, day_words
from rooftree.readings.airtightness import FanTest, FanTestResult
from rooftree.readings.combustion import CombustionTest
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureTest
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.job.reduction import ReducedTest, Reductions
    from rooftree.plan.model import Plan

Row = dict[str, str]

METHODS = {
    ZonePressureTest: "Two leaks in series: mass balance and power law, one pressure read",
    DuctLeakageTest: "Duct pressurization, flow brought to 25 Pa by the power law "
    "(ASTM E1554, recalled)",
    CombustionTest: "Worst-case pressure, spillage, draft and carbon monoxide, in the order of "
    "BPI, Combustion Safety Test Procedure for Vented Appliances",
}
"""Method of each kind of test besides the fan test, which names its standard itself."""

_OURSELVES = "the simulated year"
"""Begins the source of what rests on the simulation itself."""

_DIRECTION = {"depressurize": "air pulled out of the house", "pressurize": "air pushed into it"}


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
        With name, method, about, rows, stations and findings.
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
        With name, method, about, rows, stations and findings.
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
                "rows": airtightness_rows(mean, system),
                "stations": [],
                "findings": doubts(mean.findings),
            }
        )
    return pages


def _page(job: Job | None, reduced: ReducedTest, system: DisplaySystem) -> dict[str, Any]:
    return {
        "name": reduced.test.name,
        "method": _method(reduced),
        "about": _about(job, reduced) if job else "",
        "rows": rows_of(reduced, system),
        "stations": _stations(reduced, system),
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
        test.note,
    )
    return "; ".join(part for part in parts if part)


def _method(reduced: ReducedTest) -> str:
    reading = reduced.test.reading
    if not isinstance(reading, FanTest):
        return METHODS[type(reading)]
    method = f"{reading.standard.value}, {_DIRECTION[reading.direction.value]}"
    if isinstance(reduced.result, FanTestResult):
        method += f", {len(reading.stations)} stations, {reduced.result.fit.method.value} fit"
    return method


def _stations(reduced: ReducedTest, system: DisplaySystem) -> list[Row]:
    """Return the stations of a fan test, as read and reduced."""
    if not isinstance(reduced.result, FanTestResult):
        return []
    return [
        {
            "pressure": f"{station.pressure:.1f}".replace("-", "−"),
            "induced": f"{station.induced_pressure:.1f}",
            "flow": show(station.fan_flow, Kind.FLOW, system),
            "off": _off(station.residual) if station.is_used else station.left_out.value,
        }
        for station in reduced.result.stations
    ]


def _off(residual: float | None) -> str:
    return "" if residual is None else f"{100.0 * residual:+.1f} %".replace("-", "−")
