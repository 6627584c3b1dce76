"""One test of any kind but a fan test: enter it, see what it gives as one types, save it."""

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
from rooftree.papers.results import WORDS
from rooftree.papers.results.words import told_by
from rooftree.papers.setup import setup_svg
from rooftree.records.document.field_tests import KINDS
from rooftree.web.display import display_of
from rooftree.web.drawing import for_page
from rooftree.web.entry import keep_numbers
from rooftree.web.rendering import render, wants_fragment
from rooftree.web.requests import job_name, job_of, read_form, store_of
from rooftree.web.sheets import SHEETS
from rooftree.web.sheets.form import SheetForm, fields_of, form_of
from rooftree.web.sheets.parts import ResultPart, SheetFormPart, TestPage

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request

    from rooftree.job import Job
    from rooftree.web.entry import Fields
    from rooftree.web.sheets.layout import Sheet
    from rooftree.web.table_step import TableSource, TableStep

NEW = "new"
"""Stands for a test that is not in the job yet."""

WHO = "this computer"
"""Who changed the job, for its trail: there are no accounts yet."""


def show_test(request: Request) -> Response:
    """Show one test of the job, or an empty form."""
    job = job_of(request)
    return show_form(request, job, kept_form(request, job))


def kept_form(request: Request, job: Job) -> SheetForm:
    """Return the form of the test as it is in the job, or an empty one."""
    sheet, test = _sheet(request), _test(request)
    if test == NEW:
        return sent_form(request, job, new_fields(sheet, job))
    if test not in _tests(job, sheet):
        raise HTTPException(404, f"This job has no {sheet.kind} test “{test}”.")
    return sent_form(request, job, _entry(request))


def new_fields(sheet: Sheet, job: Job) -> Fields:
    """Return the fields of a new test of a job's last visit."""
    visit = job.visits[-1].id if job.visits else ""
    return {"id": str(uuid4()), "kind": sheet.kind, "visit": visit, "name": sheet.name}


async def preview(request: Request) -> Response:
    """Reduce what was typed so far."""
    return await run_in_threadpool(_preview, request, await read_form(request))


async def lay_out_again(request: Request) -> Response:
    """Lay out the form as typed, one row longer where that was asked for; save nothing."""
    return await run_in_threadpool(_again, request, await read_form(request))


async def save(request: Request) -> Response:
    """Save the test, or give the form back as typed with what is wrong marked."""
    return await run_in_threadpool(_save, request, await read_form(request))


def _sheet(request: Request) -> Sheet:
    slug = str(request.path_params["kind"])
    if slug not in SHEETS:
        raise HTTPException(404, f"There is no kind of test called “{slug}”.")
    return SHEETS[slug]


def _test(request: Request) -> str:
    return str(request.path_params["test"])


def _tests(job: Job, sheet: Sheet) -> set[str]:
    return {one.id for one in job.tests if type(one.reading) is KINDS[sheet.kind].readings}


def sent_form(request: Request, job: Job, sent: Mapping[str, str]) -> SheetForm:
    """Return the form as it was sent."""
    return form_of(_sheet(request), sent, job, display_of(request).system)


def _entry(request: Request) -> Fields:
    return fields_of(readings.test_entry(store_of(request), job_name(request), _test(request)))


def _preview(request: Request, sent: Mapping[str, str]) -> Response:
    job = job_of(request)
    result = _result(request, job, sent_form(request, job, sent))
    response = render(request, result)
    if not result.has_result:
        # What was there before stays, with the reason above it why it does not follow.
        response.headers["hx-reselect"] = "#result-notice"
        response.headers["hx-retarget"] = "#result-notice"
    return response


def _again(request: Request, sent: Mapping[str, str]) -> Response:
    job = job_of(request)
    return lay_out(request, job, sent_form(request, job, sent))


def lay_out(request: Request, job: Job, form: SheetForm) -> Response:
    """Return the form as typed, alone where a script asked for it."""
    if wants_fragment(request):
        part = SheetFormPart(job, form.sheet, _test(request), form, is_unsaved=True)
        return render(request, part)
    return show_form(request, job, form, is_unsaved=True)


def _save(request: Request, sent: Mapping[str, str]) -> Response:
    store, name, job = store_of(request), job_name(request), job_of(request)
    form = sent_form(request, job, sent)
    try:
        readings.save_test(store, name, _as_in_file(request, job, form), WHO)
    except DocumentError as error:
        marked = replace(form, mistakes=dict(error.problems))
        return show_form(request, job, marked, is_unsaved=True, status=422)
    return RedirectResponse(request.app.url_path_for("readings", job=name), 303)


def _as_in_file(request: Request, job: Job, form: SheetForm) -> Mapping[str, object]:
    """Return the entry with everything that was not changed as it stands in the job."""
    if form.entry.get("id") not in {one.id for one in job.tests}:
        return form.entry
    before = readings.test_entry(store_of(request), job_name(request), _test(request))
    return cast("Mapping[str, object]", keep_numbers(form.entry, before))


def show_form(
    request: Request,
    job: Job,
    form: SheetForm,
    *,
    is_unsaved: bool = False,
    status: int = 200,
    step: TableStep | TableSource | None = None,
) -> Response:
    """Return the whole page of a form."""
    sheet = form.sheet
    page = TestPage(
        job=job,
        layout=sheet,
        entry=SheetFormPart(job, sheet, _test(request), form, is_unsaved, step),
        result=_result(request, job, form),
        title=form.fields.get("name", "").strip() or sheet.name,
        picture=for_page(setup_svg(sheet.picture)),
        cautions=WORDS[KINDS[sheet.kind].readings].cautions,
    )
    return render(request, page, status=status)


def _result(request: Request, job: Job, form: SheetForm) -> ResultPart:
    """Return what the readings give so far; a field that cannot be read is no error yet."""
    if not form.has_readings:  # of nothing there is nothing to doubt either
        return ResultPart.without(form.sheet.nothing_yet)
    told = readings.preview_test(form.entry, job)
    result = told.result
    if result is None:
        return ResultPart.without(form.in_words(told.says), told.findings)
    system, sheet = display_of(request).system, form.sheet
    words = WORDS[type(told.reading)]
    return ResultPart(
        says=told_by(result),
        drawing=sheet.draw(told.reading, result, system) if sheet.draw else None,
        lines=words.results(result, system),
        tables=tuple(one.filled for one in words.tables(result, system)),
        findings=told.findings,
        has_result=True,
        missing="",
    )


ROUTES = [
    Route("/jobs/{job}/readings/{kind}/{test}", show_test, name="field_test"),
    Route("/jobs/{job}/readings/{kind}/{test}", save, methods=["POST"]),
    Route("/jobs/{job}/readings/{kind}/{test}/preview", preview, methods=["POST"]),
    Route("/jobs/{job}/readings/{kind}/{test}/again", lay_out_again, methods=["POST"]),
]
