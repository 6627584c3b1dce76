"""One fan test: enter it, see the fit and its doubts as one types, save it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from rooftree.actions import jobs, readings
from rooftree.errors import DocumentError, RooftreeError, UnitError
from rooftree.readings.airtightness import Standard
from rooftree.web.display import display_of
from rooftree.web.fan_chart import fit_chart
from rooftree.web.fan_form import UNITS, FanForm, form_of
from rooftree.web.fan_words import Line, curve_lines, hole_sentence, size_lines
from rooftree.web.rendering import render, wants_fragment
from rooftree.web.requests import job_name, read_form, store_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.readings.airtightness import FanTestResult
    from rooftree.web.charts import Drawing

NEW = "new"
"""Stands for a test that is not in the job yet."""

WHO = "this computer"
"""Who changed the job, for its trail: there are no accounts yet."""

NOTHING_YET = (
    "The fit appears here as soon as there is a house pressure with a fan flow at one station, "
    "and the temperatures and the barometric pressure."
)


@dataclass(frozen=True, slots=True)
class FitPart:
    """What the readings give so far.

    Attributes
    ----------
    result : FanTestResult or None
        The reduced test; None while there is not enough to reduce.
    drawing : Drawing or None
        Its fit.
    hole : str
        All leaks together as something that anybody has seen.
    sizes, curve : tuple of Line
        Results with limits.
    findings : tuple of Finding
        Doubts.
    missing : str
        What is still needed where there is no result.
    """

    template: ClassVar[str] = "fan_test_fit.html"
    result: FanTestResult | None
    drawing: Drawing | None
    hole: str
    sizes: tuple[Line, ...]
    curve: tuple[Line, ...]
    findings: tuple[Finding, ...]
    missing: str


@dataclass(frozen=True, slots=True)
class FormPart:
    """The form, as typed.

    Attributes
    ----------
    job : Job
        The job.
    test : str
        Id of the test in the job; `NEW` for one that is not in it yet.
    form : FanForm
        What was typed and what is wrong with it.
    is_unsaved : bool
        Whether what was typed is not in the job yet.
    standards : tuple of (str, str)
        Value and words of each reduction that can be followed.
    units : mapping from str to tuple of str
        Units for numbers typed alone, by column.
    """

    template: ClassVar[str] = "fan_test_form.html"
    job: Job
    test: str
    form: FanForm
    is_unsaved: bool
    standards: tuple[tuple[str, str], ...] = tuple((one.value, one.value) for one in Standard)
    units: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: UNITS)


@dataclass(frozen=True, slots=True)
class FanTestPage:
    """The form with its fit beside it.

    Attributes
    ----------
    job : Job
        The job.
    entry : FormPart
        The form.
    fit : FitPart
        What the readings give so far.
    title : str
        Name of the test.
    """

    template: ClassVar[str] = "fan_test.html"
    job: Job
    entry: FormPart
    fit: FitPart
    title: str
    sheet: str = "readings"


def show_fan_test(request: Request) -> Response:
    """Show one fan test of the job, or an empty form."""
    job = jobs.load_job(store_of(request), job_name(request))
    test = str(request.path_params["test"])
    if test == NEW:
        return _page(request, job, test, form_of(_blank(job)))
    entry = readings.fan_test_entry(store_of(request), job.name, test)
    return _page(request, job, test, form_of(fields_of(entry)))


async def preview(request: Request) -> Response:
    """Reduce what was typed so far."""
    form = form_of(await read_form(request))
    return await run_in_threadpool(_preview, request, form)


async def lay_out_again(request: Request) -> Response:
    """Lay out the form as typed, one row longer where that was asked for; save nothing."""
    form = form_of(await read_form(request))
    return await run_in_threadpool(_again, request, form)


async def save(request: Request) -> Response:
    """Save the test, or give the form back as typed with what is wrong marked."""
    form = form_of(await read_form(request))
    return await run_in_threadpool(_save, request, form)


ROUTES = [
    Route("/jobs/{job}/readings/fan-test/{test}", show_fan_test, name="fan_test"),
    Route("/jobs/{job}/readings/fan-test/{test}", save, methods=["POST"]),
    Route("/jobs/{job}/readings/fan-test/{test}/preview", preview, methods=["POST"]),
    Route("/jobs/{job}/readings/fan-test/{test}/again", lay_out_again, methods=["POST"]),
]
