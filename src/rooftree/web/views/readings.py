"""Readings: every test of the job with its results and doubts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.routing import Route

from rooftree.actions import readings
from rooftree.readings.airtightness import FanTest, FanTestResult
from rooftree.web.display import display_of
from rooftree.web.fan_chart import fit_chart
from rooftree.web.fan_words import Line, hole_sentence, size_lines
from rooftree.web.reading_words import KIND_NAMES, cautions_of, result_lines, sentence_of
from rooftree.web.rendering import render
from rooftree.web.requests import job_of
from rooftree.web.views import fan_test

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.finding import Finding
    from rooftree.job import Job
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
    findings : tuple of Finding
        Doubts.
    cautions : str
        What to mind where this work can hurt someone; empty where it cannot.
    is_fan_test : bool
        Whether it can be opened and changed here.
    """

    id: str
    name: str
    kind: str
    note: str
    says: str
    lines: tuple[Line, ...]
    findings: tuple[Finding, ...]
    cautions: str
    is_fan_test: bool


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
    return TestPart(
        id=one.test.id,
        name=one.test.name,
        kind=KIND_NAMES[type(one.test.reading)],
        note=one.test.note,
        says=sentence_of(one.result),
        lines=result_lines(one.result, display_of(request).system),
        findings=one.findings,
        cautions=cautions_of(one.result),
        is_fan_test=isinstance(one.test.reading, FanTest),
    )


ROUTES = [Route("/jobs/{job}/readings", show_readings, name="readings"), *fan_test.ROUTES]
