"""One part of the house: its form, what a change does to the year, saved or left."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from rooftree.actions import house
from rooftree.errors import DocumentError, StoreError
from rooftree.records.document.house_parts import part_problems
from rooftree.web.display import display_of
from rooftree.web.house import HOUSE_SHEETS, slug_of
from rooftree.web.house.change import replaced_by_tests, sentence_of, tables_of
from rooftree.web.house.form import HouseForm, fields_of, form_of
from rooftree.web.house.parts import HouseFormPart, HousePartPage, RemovalPage, TrialPart
from rooftree.web.rendering import render, wants_fragment
from rooftree.web.requests import job_name, job_of, read_form, store_of
from rooftree.web.views.field_test import WHO

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.applications import Starlette
    from starlette.requests import Request

    from rooftree.actions.house import HouseTrial
    from rooftree.job import Job
    from rooftree.web.sheets.layout import Sheet

_KINDS = {slug_of(kind): kind for kind in HOUSE_SHEETS}

PLACES = {
    "site": "site", "use": "use", "space": "spaces", "surface": "surfaces", "window": "windows",
    "leak": "leaks", "duct": "ducts",
}  # fmt: skip
"""Where each kind stands on the House page; the others stand under the equipment."""


def address_of(app: Starlette, job: str, kind: str, part: str = "") -> str:
    """Return the address of the form of one part; of a new one where it has no name."""
    query = f"?{urlencode({'id': part})}" if part else ""
    return f"{app.url_path_for('house_part', job=job, kind=slug_of(kind))}{query}"


def show_part(request: Request) -> Response:
    """Show the form of one part, or an empty one."""
    job, before = job_of(request), _before(request)
    fields = fields_of(_sheet(request), before, display_of(request).system)
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


def show_removal(request: Request) -> Response:
    """Show what stands in the way of taking a part out, or what that would change."""
    job, sheet = job_of(request), _sheet(request)
    kind, part, before = sheet.kind, _part(request), _before(request)
    if not before:
        raise HTTPException(404, f"This house has no {sheet.name.lower()} to take out.")
    store, name = store_of(request), job_name(request)
    found = house.removal_obstacles(store, name, kind, part)
    result = None
    if not found:
        result = _result(request, job, house.try_removal(store, name, kind, part))
    links = tuple(
        (address_of(request.app, name, one.kind, one.part) if one.kind else "", one)
        for one in found
    )
    called = _name_of(sheet, before)
    page = RemovalPage(
        job, sheet, called, *_address(request), links, result, f"Take out {called}?"
    )  # fmt: skip
    return render(request, page)


async def remove(request: Request) -> Response:
    """Take the part out of the house."""
    return await run_in_threadpool(_remove, request)


def _remove(request: Request) -> Response:
    sheet = _sheet(request)
    house.remove_part(store_of(request), job_name(request), sheet.kind, _part(request), WHO)
    return _back(request, sheet.kind)


def _sheet(request: Request) -> Sheet:
    slug = str(request.path_params["kind"])
    if slug not in _KINDS:
        raise HTTPException(404, f"A house has no part called “{slug}”.")
    return HOUSE_SHEETS[_KINDS[slug]]


def _part(request: Request) -> str:
    return request.query_params.get("id", "")


def _before(request: Request) -> dict[str, Any]:
    """Return the part as it is saved; empty for a new one."""
    sheet, part = _sheet(request), _part(request)
    about = house.HOUSE_PARTS[sheet.kind]
    if about.is_list and not part:
        return {}
    try:
        return house.house_part(store_of(request), job_name(request), sheet.kind, part)
    except DocumentError as error:
        if about.is_list:
            raise HTTPException(404, f"This house has no {sheet.kind} “{part}”.") from error
        return {}


def _form(
    request: Request, job: Job, fields: Mapping[str, str], before: Mapping[str, Any]
) -> HouseForm:
    return form_of(_sheet(request), fields, before, job.house, display_of(request).system)


def _preview(request: Request, sent: Mapping[str, str]) -> Response:
    job, before = job_of(request), _before(request)
    form = _form(request, job, sent, before)
    result = _trial(request, job, form)
    response = render(request, result)
    if result.missing:
        # The year that was there before stays, with the reason above it why none follows.
        response.headers["hx-reselect"] = "#result-notice"
        response.headers["hx-retarget"] = "#result-notice"
    return response


def _again(request: Request, sent: Mapping[str, str]) -> Response:
    job, before = job_of(request), _before(request)
    form = _form(request, job, sent, before)
    if wants_fragment(request):
        return render(request, _form_part(request, job, form, is_unsaved=True))
    return _page(request, job, form, is_unsaved=True)


def _save(request: Request, sent: Mapping[str, str]) -> Response:
    job, before = job_of(request), _before(request)
    form, kind = _form(request, job, sent, before), _sheet(request).kind
    if form.own_mistakes:
        return _refused(request, job, form, _problems(form))
    try:
        house.save_part(store_of(request), job_name(request), kind, _part(request), form.entry, WHO)
    except DocumentError as error:
        return _refused(request, job, form, dict(error.problems))
    except StoreError as error:
        return _refused(request, job, form, {"": str(error)})
    return _back(request, kind)


def _problems(form: HouseForm) -> dict[str, str]:
    found = part_problems(form.sheet.kind, form.entry)
    return {one.path: f"{one.says}; {one.remedy}" for one in found} | form.own_mistakes


def _refused(request: Request, job: Job, form: HouseForm, problems: Mapping[str, str]) -> Response:
    return _page(request, job, form.marked(problems), is_unsaved=True, status=422)


def _back(request: Request, kind: str) -> Response:
    page = request.app.url_path_for("house", job=job_name(request))
    return RedirectResponse(f"{page}#{PLACES.get(kind, 'equipment')}", 303)


def _page(
    request: Request, job: Job, form: HouseForm, *, is_unsaved: bool = False, status: int = 200
) -> Response:
    entry = _form_part(request, job, form, is_unsaved=is_unsaved)
    called = _name_of(form.sheet, form.fields)
    title = f"New {form.sheet.name.lower()}" if entry.is_new else called
    page = HousePartPage(job, form.sheet, entry, _trial(request, job, form), title)
    return render(request, page, status=status)


def _form_part(request: Request, job: Job, form: HouseForm, *, is_unsaved: bool) -> HouseFormPart:
    about = house.HOUSE_PARTS[form.sheet.kind]
    own, query = _address(request)
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


def _address(request: Request) -> tuple[str, str]:
    """Return the address of the part without and with what names it."""
    kind, part = _sheet(request).kind, _part(request)
    own = address_of(request.app, job_name(request), kind)
    return own, address_of(request.app, job_name(request), kind, part).removeprefix(own)


def _name_of(sheet: Sheet, entry: Mapping[str, Any]) -> str:
    return str(entry.get("name") or sheet.name)


def _trial(request: Request, job: Job, form: HouseForm) -> TrialPart:
    """Return what the form as typed does to the year; an empty new part does nothing yet."""
    if not form.before and not form.has_anything:
        says = f"Fill in the {form.sheet.name.lower()}: the year with it appears here."
        return TrialPart("", (), (), (says,), is_change=False)
    if form.own_mistakes:
        return _without(form, form.own_mistakes)
    trial = house.try_part(
        store_of(request), job_name(request), form.sheet.kind, _part(request), form.entry
    )
    if trial.problems:
        return _without(form, dict(trial.problems))
    return _result(request, job, trial)


def _without(form: HouseForm, problems: Mapping[str, str]) -> TrialPart:
    marked, words = form.marked(problems), form.words
    says = tuple(f"{words.get(path, path)}: {text}" for path, text in marked.mistakes.items())
    return TrialPart("", (), (), says, is_change=True)


def _result(request: Request, job: Job, trial: HouseTrial) -> TrialPart:
    if trial.after is None:
        says = f"The house cannot be simulated so: {trial.says}."
        return TrialPart("", (), trial.findings, (says,), is_change=True)
    tables = tables_of(trial, job.tariff, display_of(request).system)
    says, is_change = sentence_of(trial), trial.before is not trial.after
    replaced = replaced_by_tests(trial.after, _sheet(request), _part(request))
    return TrialPart(says, tables, trial.findings, (), is_change, replaced)


ROUTES = [
    Route("/jobs/{job}/house/{kind}", show_part, name="house_part"),
    Route("/jobs/{job}/house/{kind}", save, methods=["POST"]),
    Route("/jobs/{job}/house/{kind}/preview", preview, methods=["POST"]),
    Route("/jobs/{job}/house/{kind}/again", lay_out_again, methods=["POST"]),
    Route("/jobs/{job}/house/{kind}/remove", show_removal, name="house_part_removal"),
    Route("/jobs/{job}/house/{kind}/remove", remove, methods=["POST"]),
]
