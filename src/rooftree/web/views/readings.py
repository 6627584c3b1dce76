"""Readings: every test of the job with its results and doubts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.routing import Route

from rooftree.actions import readings
from rooftree.finding import Severity
from rooftree.papers.results import WORDS
from rooftree.papers.results.fan_test import hole_sentence, size_lines
from rooftree.papers.results.words import told_by
from rooftree.readings.airtightness import FanTest, FanTestResult
from rooftree.records.document.field_tests import KINDS
from rooftree.web.display import display_of
from rooftree.web.fan_chart import fit_chart, fit_title
from rooftree.web.rendering import render
from rooftree.web.requests import job_name, job_of
from rooftree.web.sheets import SHEETS
from rooftree.web.sheets.layout import GROUPS
from rooftree.web.views import fan_test, field_test, pressures

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.job.reduction import ReducedTest, Reductions
    from rooftree.papers.results import Line
    from rooftree.web.charts import Drawing


@dataclass(frozen=True, slots=True)
class TestRow:
    """One test in the list.

    Attributes
    ----------
    name, kind : str
        Of the test; `kind` in words.
    says : str
        What it tells, in plain words; may be empty.
    gravest : str
        Severity of its gravest finding; empty without one.
    doubts : int
        How many findings it has.
    address : str
        Of its own page.
    """

    name: str
    kind: str
    says: str
    gravest: str
    doubts: int
    address: str


@dataclass(frozen=True, slots=True)
class GroupPart:
    """The tests of one group, and the kinds that can be entered.

    Attributes
    ----------
    name : str
        Of the group.
    tests : tuple of TestRow
        Those of the job.
    kinds : tuple of (str, str)
        Name and address of each kind of test.
    cautions : tuple of str
        What to mind with these tests; empty where nothing can hurt someone.
    """

    name: str
    tests: tuple[TestRow, ...]
    kinds: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]


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
        Doubts about the fan tests together.
    groups : tuple of GroupPart
        Tests by what they are about.
    """

    template: ClassVar[str] = "readings.html"
    job: Job
    drawing: Drawing | None
    hole: str
    sizes: tuple[Line, ...]
    findings: tuple[Finding, ...]
    groups: tuple[GroupPart, ...]
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
        groups=tuple(_group(request, name, reduced) for name in GROUPS),
    )


def _group(request: Request, name: str, reduced: Reductions) -> GroupPart:
    sheets = [sheet for sheet in SHEETS.values() if sheet.group == name]
    readings_of = {KINDS[sheet.kind].readings for sheet in sheets}
    kinds = [(sheet.name, _address(request, sheet.slug, field_test.NEW)) for sheet in sheets]
    if name == GROUPS[0]:
        readings_of.add(FanTest)
        kinds.insert(0, ("Fan test", _address(request, "", fan_test.NEW)))
    rows = (_row(request, one) for one in reduced.tests if type(one.test.reading) in readings_of)
    cautions = dict.fromkeys(filter(None, (WORDS[kind].cautions for kind in readings_of)))
    return GroupPart(name, tuple(rows), tuple(kinds), tuple(cautions))


def _row(request: Request, one: ReducedTest) -> TestRow:
    kind, system = type(one.test.reading), display_of(request).system
    fan_test_says = fit_title(one.result, system) if isinstance(one.result, FanTestResult) else ""
    gravest = min((f.severity for f in one.findings), key=list(Severity).index, default="")
    return TestRow(
        name=one.test.name,
        kind=WORDS[kind].name,
        says=told_by(one.result) or fan_test_says,
        gravest=str(gravest),
        doubts=len(one.findings),
        address=_address(request, _SLUGS.get(kind, ""), one.test.id),
    )


def _address(request: Request, slug: str, test: str) -> str:
    """Return the address of a test's own page; a fan test has no slug."""
    route, kind = ("field_test", {"kind": slug}) if slug else ("fan_test", {})
    return str(request.app.url_path_for(route, job=job_name(request), test=test, **kind))


_SLUGS = {KINDS[sheet.kind].readings: slug for slug, sheet in SHEETS.items()}


ROUTES = [
    Route("/jobs/{job}/readings", show_readings, name="readings"),
    *pressures.ROUTES,
    *fan_test.ROUTES,
    *field_test.ROUTES,
]
