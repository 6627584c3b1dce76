"""One fan test: enter it, see the fit and its doubts as one types, save it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, cast
from uuid import uuid4

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from rooftree.actions import readings
from rooftree.errors import DocumentError
from rooftree.papers.results.fan_test import curve_lines, hole_sentence, size_lines
from rooftree.papers.setup import setup_svg
from rooftree.readings.airtightness import FanTest, FanTestResult
from rooftree.web.display import display_of
from rooftree.web.drawing import for_page
from rooftree.web.entry import keep_numbers
from rooftree.web.fan_chart import fit_chart
from rooftree.web.fan_form import FanForm, fields_of, form_of, new_fields
from rooftree.web.fan_parts import FanTestPage, FitPart, FormPart
from rooftree.web.rendering import render, wants_fragment
from rooftree.web.requests import job_name, job_of, read_form, store_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request

    from rooftree.job import Job
    from rooftree.web.entry import Fields
    from rooftree.web.table_step import TableSource, TableStep

NEW = "new"
"""Stands for a test that is not in the job yet."""

WHO = "this computer"
"""Who changed the job, for its trail: there are no accounts yet."""

NOTHING_YET = (
    "The fit appears here as soon as there is a house pressure with a fan flow at one station, "
    "and the temperatures and the barometric pressure."
)


def show_fan_test(request: Request) -> Response:
    """Show one fan test of the job, or an empty form."""
    job = job_of(request)
    return show_form(request, job, kept_form(request, job))


def kept_form(request: Request, job: Job) -> FanForm:
    """Return the form of the test as it is in the job, or an empty one."""
    test = _test(request)
    tests = [one.id for one in job.tests if isinstance(one.reading, FanTest)]
    if test == NEW:
        like = _entry(request, tests[-1]) if tests else {}
        visit = job.visits[-1].id if job.visits else ""
        return form_of(new_fields(like, visit, str(uuid4())))
    if test not in tests:
        raise HTTPException(404, f"This job has no fan test “{test}”.")
    return form_of(_entry(request, test))


def _entry(request: Request, test: str) -> Fields:
    return fields_of(readings.test_entry(store_of(request), job_name(request), test))


async def preview(request: Request) -> Response:
    """Reduce what was typed so far."""
    return await run_in_threadpool(_preview, request, form_of(await read_form(request)))


async def lay_out_again(request: Request) -> Response:
    """Lay out the form as typed, one row longer where that was asked for; save nothing."""
    return await run_in_threadpool(_again, request, form_of(await read_form(request)))


async def save(request: Request) -> Response:
    """Save the test, or give the form back as typed with what is wrong marked."""
    return await run_in_threadpool(_save, request, form_of(await read_form(request)))


def _test(request: Request) -> str:
    return str(request.path_params["test"])


def _preview(request: Request, form: FanForm) -> Response:
    fit = _fit(request, job_of(request), form)
    response = render(request, fit)
    if fit.result is None:
        # What was drawn before stays, with the reason above it why it does not follow.
        response.headers["hx-reselect"] = "#fit-notice"
        response.headers["hx-retarget"] = "#fit-notice"
    return response


def _again(request: Request, form: FanForm) -> Response:
    return lay_out(request, job_of(request), form)


def lay_out(request: Request, job: Job, form: FanForm) -> Response:
    """Return the form as typed, alone where a script asked for it."""
    if wants_fragment(request):
        return render(request, FormPart(job, _test(request), form, is_unsaved=True))
    return show_form(request, job, form, is_unsaved=True)


def _save(request: Request, form: FanForm) -> Response:
    store, name = store_of(request), job_name(request)
    try:
        readings.save_test(store, name, _as_in_file(request, form), WHO)
    except DocumentError as error:
        marked = replace(form, mistakes=dict(error.problems))
        return show_form(request, job_of(request), marked, is_unsaved=True, status=422)
    return RedirectResponse(request.app.url_path_for("readings", job=name), 303)


def _as_in_file(request: Request, form: FanForm) -> Mapping[str, object]:
    """Return the entry with everything that was not changed as it stands in the job."""
    tests = {one.id for one in job_of(request).tests}
    if form.entry.get("id") not in tests:
        return form.entry
    before = readings.test_entry(store_of(request), job_name(request), _test(request))
    return cast("Mapping[str, object]", keep_numbers(form.entry, before))


def show_form(
    request: Request,
    job: Job,
    form: FanForm,
    *,
    is_unsaved: bool = False,
    status: int = 200,
    step: TableStep | TableSource | None = None,
) -> Response:
    """Return the whole page of a form."""
    entry = FormPart(job, _test(request), form, is_unsaved, step)
    title = form.fields.get("name", "").strip() or "A fan test"
    page = FanTestPage(job, entry, _fit(request, job, form), title, for_page(setup_svg("fan_test")))
    return render(request, page, status=status)


def _fit(request: Request, job: Job, form: FanForm) -> FitPart:
    """Return what the readings give so far; a field that cannot be read is no error yet."""
    told = readings.preview_test(form.entry, job)
    result = told.result
    if not isinstance(result, FanTestResult):
        missing = form.in_words(told.says) if form.has_readings else NOTHING_YET
        return FitPart(None, None, "", (), (), told.findings, missing)
    system = display_of(request).system
    return FitPart(
        result=result,
        drawing=fit_chart([result], system),
        hole=hole_sentence(result.sizes, system),
        sizes=size_lines(result.sizes, system),
        curve=curve_lines(result, system),
        findings=told.findings,
        missing="",
    )


ROUTES = [
    Route("/jobs/{job}/readings/fan-test/{test}", show_fan_test, name="fan_test"),
    Route("/jobs/{job}/readings/fan-test/{test}", save, methods=["POST"]),
    Route("/jobs/{job}/readings/fan-test/{test}/preview", preview, methods=["POST"]),
    Route("/jobs/{job}/readings/fan-test/{test}/again", lay_out_again, methods=["POST"]),
]
