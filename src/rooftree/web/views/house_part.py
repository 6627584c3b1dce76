"""One part of the house: its form, what a change does to the year, saved or left."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from starlette.concurrency import run_in_threadpool
from starlette.routing import Route

from rooftree.actions import house
from rooftree.errors import DocumentError, StoreError
from rooftree.records.document.house_parts import part_problems
from rooftree.web.display import display_of
from rooftree.web.house.asked import (
    address_in,
    back_to_house,
    name_of,
    part_before,
    part_of,
    sheet_of,
)
from rooftree.web.house.form import HouseForm, fields_of, form_of
from rooftree.web.house.parts import HouseFormPart, HousePartPage, TrialPart
from rooftree.web.rendering import render, wants_fragment
from rooftree.web.requests import job_name, job_of, read_form, store_of
from rooftree.web.views import house_removal
from rooftree.web.views.field_test import WHO

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.job import Job


def show_part(request: Request) -> Response:
    """Show the form of one part, or an empty one."""
    job, before = job_of(request), part_before(request)
    fields = fields_of(sheet_of(request), before, display_of(request).system)
    return _page(request, job, _form(request, job, fields, before))


async def preview(request: Request) -> Response:
    """Run the year with what was typed so far."""
    return await run_in_threadpool(_preview, request, await read_form(request))


async def lay_out_again(request: Request) -> Response:
    """Lay out the form as typed with rows added, moved or left out; save nothing."""
    return await run_in_threadpool(_again, request, await read_form(request))


async def save(request: Request) -> Response:
    """Save the part, or give the form back as typed with what is wrong marked."""
    return await run_in_threadpool(_save, request, await read_form(request))


def _form(
    request: Request, job: Job, fields: Mapping[str, str], before: Mapping[str, Any]
) -> HouseForm:
    return form_of(sheet_of(request), fields, before, job.house, display_of(request).system)


def _preview(request: Request, sent: Mapping[str, str]) -> Response:
    job, before = job_of(request), part_before(request)
    form = _form(request, job, sent, before)
    result = _trial(request, job, form)
    response = render(request, result)
    if result.missing:
        # The year that was there before stays, with the reason above it why none follows.
        response.headers["hx-reselect"] = "#result-notice"
        response.headers["hx-retarget"] = "#result-notice"
    return response


def _again(request: Request, sent: Mapping[str, str]) -> Response:
    job, before = job_of(request), part_before(request)
    form = _form(request, job, sent, before)
    if wants_fragment(request):
        return render(request, _form_part(request, job, form, is_unsaved=True))
    return _page(request, job, form, is_unsaved=True)


def _save(request: Request, sent: Mapping[str, str]) -> Response:
    job, before = job_of(request), part_before(request)
    form, kind = _form(request, job, sent, before), sheet_of(request).kind
    if form.own_mistakes:
        return _refused(request, job, form, _problems(form))
    try:
        house.save_part(
            store_of(request), job_name(request), kind, part_of(request), form.entry, WHO
        )
    except DocumentError as error:
        return _refused(request, job, form, dict(error.problems))
    except StoreError as error:
        return _refused(request, job, form, {"": str(error)})
    return back_to_house(request, kind)


def _problems(form: HouseForm) -> dict[str, str]:
    found = part_problems(form.sheet.kind, form.entry)
    return {one.path: f"{one.says}; {one.remedy}" for one in found} | form.own_mistakes


def _refused(request: Request, job: Job, form: HouseForm, problems: Mapping[str, str]) -> Response:
    return _page(request, job, form.marked(problems), is_unsaved=True, status=422)


def _page(
    request: Request, job: Job, form: HouseForm, *, is_unsaved: bool = False, status: int = 200
) -> Response:
    entry = _form_part(request, job, form, is_unsaved=is_unsaved)
    called = name_of(form.sheet, form.fields)
    title = f"New {form.sheet.name.lower()}" if entry.is_new else called
    page = HousePartPage(job, form.sheet, entry, _trial(request, job, form), title)
    return render(request, page, status=status)


def _form_part(request: Request, job: Job, form: HouseForm, *, is_unsaved: bool) -> HouseFormPart:
    about = house.HOUSE_PARTS[form.sheet.kind]
    own, query = address_in(request)
    return HouseFormPart(
        job=job,
        layout=form.sheet,
        own=own,
        query=query,
        form=form,
        is_new=not form.before,
        is_unsaved=is_unsaved,
        may_go=bool(form.before) and not about.is_needed,
    )


def _trial(request: Request, job: Job, form: HouseForm) -> TrialPart:
    """Return what the form as typed does to the year; an empty new part does nothing yet."""
    if not form.before and not form.has_anything:
        says = f"Fill in the {form.sheet.name.lower()}: the year with it appears here."
        return TrialPart("", (), (), (says,), is_change=False)
    if form.own_mistakes:
        return _without(form, form.own_mistakes)
    trial = house.try_part(
        store_of(request), job_name(request), form.sheet.kind, part_of(request), form.entry
    )
    if trial.problems:
        return _without(form, dict(trial.problems))
    return TrialPart.of(trial, job.tariff, display_of(request).system, form.sheet, part_of(request))


def _without(form: HouseForm, problems: Mapping[str, str]) -> TrialPart:
    marked, words = form.marked(problems), form.words
    says = tuple(f"{words.get(path, path)}: {text}" for path, text in marked.mistakes.items())
    return TrialPart("", (), (), says, is_change=True)


ROUTES = [
    Route("/jobs/{job}/house/{kind}", show_part, name="house_part"),
    Route("/jobs/{job}/house/{kind}", save, methods=["POST"]),
    Route("/jobs/{job}/house/{kind}/preview", preview, methods=["POST"]),
    Route("/jobs/{job}/house/{kind}/again", lay_out_again, methods=["POST"]),
    *house_removal.ROUTES,
]
