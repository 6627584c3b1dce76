"""Readings: every test of the job with its results and doubts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.routing import Route

from rooftree.actions import readings
from rooftree.papers.results import WORDS
from rooftree.papers.results.fan_test import hole_sentence, size_lines
from rooftree.papers.results.words import Line, Table, told_by
from rooftree.readings.airtightness import FanTestResult
from rooftree.records.document.field_tests import KINDS
from rooftree.web.display import display_of
from rooftree.web.fan_chart import fit_chart
from rooftree.web.rendering import render
from rooftree.web.requests import job_of
from rooftree.web.sheets import SHEETS, Sheet
from rooftree.web.views import fan_test, field_test

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.finding import Finding
    from rooftree.job import Job, Test
    from rooftree.job.reduction import ReducedTest, Reductions
    from rooftree.web.charts import Drawing


@dataclass(frozen=True, slots=True)
class TestPart:
    """One test of the job.

    Attributes
    ----------
    id, name, kind : str
        Of the test; `kind` in words.
    note : str
        What the assessor noted.
    says : str
        What it tells, in plain words; may be empty.
    lines : tuple of Line
        Results.
    tables : tuple of Table
        Results that are lists.
    findings : tuple of Finding
        Doubts.
    cautions : str
        What to mind where this work can hurt someone; empty where it cannot.
    address : str
        Name of its kind in addresses.
    """

    id: str
    name: str
    kind: str
    note: str
    says: str
    lines: tuple[Line, ...]
    tables: tuple[Table, ...]
    findings: tuple[Finding, ...]
    cautions: str
    address: str


@dataclass(frozen=True, slots=True)
class ReadingsPage:
    """Every test, with the airtightness of the house at the top.

    Attributes
    ----------
    job : Job
        The job.
    drawing : Drawing or None
        Fits of the fan tests; None without one.
    hole : str
        All leaks together as something that anybody has seen.
    sizes : tuple of Line
        Mean of all fan tests.
    findings : tuple of Finding
        Doubts about the tests together.
    tests : tuple of TestPart
        Each test.
    kinds : tuple of Sheet
        Kinds of test that can be entered besides a fan test.
    new : str
        Stands for a new test in addresses.
    """

    template: ClassVar[str] = "readings.html"
    job: Job
    drawing: Drawing | None
    hole: str
    sizes: tuple[Line, ...]
    findings: tuple[Finding, ...]
    tests: tuple[TestPart, ...]
    kinds: tuple[Sheet, ...] = tuple(SHEETS.values())
    new: str = fan_test.NEW
    title: str = "Readings"
    sheet: str = "readings"


def show_readings(request: Request) -> Response:
    """Show what every test gives."""
    job = job_of(request)
    reduced = readings.reduce_job(job)
    return render(request, _page(request, job, reduced))


def _page(request: Request, job: Job, reduced: Reductions) -> ReadingsPage:
    system = display_of(request).system
    whole = reduced.airtightness
    fits = [one.result for one in reduced.tests if isinstance(one.result, FanTestResult)]
    return ReadingsPage(
        job=job,
        drawing=fit_chart(fits, system) if fits else None,
        hole=hole_sentence(whole.sizes, system) if whole else "",
        sizes=size_lines(whole.sizes, system) if whole else (),
        findings=whole.findings if whole else (),
        tests=tuple(_test(request, one) for one in reduced.tests),
    )


def _test(request: Request, one: ReducedTest) -> TestPart:
    words, system = WORDS[type(one.test.reading)], display_of(request).system
    return TestPart(
        id=one.test.id,
        name=one.test.name,
        kind=words.name,
        note=one.test.note,
        says=told_by(one.result),
        lines=words.results(one.result, system) if one.result else (),
        tables=words.tables(one.result, system) if one.result else (),
        findings=one.findings,
        cautions=words.cautions,
        address=address_of(one.test),
    )


_SLUGS = {KINDS[sheet.kind].readings: slug for slug, sheet in SHEETS.items()}


def address_of(test: Test) -> str:
    """Return the name of a test's kind in addresses; empty for a fan test."""
    return _SLUGS.get(type(test.reading), "")


ROUTES = [
    Route("/jobs/{job}/readings", show_readings, name="readings"),
    *fan_test.ROUTES,
    *field_test.ROUTES,
]
