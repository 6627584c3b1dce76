"""Take a part out of the house: what stands in the way, or what that would change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.routing import Route

from rooftree.actions import house
from rooftree.web.display import display_of
from rooftree.web.house.asked import (
    address_in,
    back_to_house,
    name_of,
    part_before,
    part_of,
    sheet_of,
)
from rooftree.web.house.page import address_of
from rooftree.web.house.parts import RemovalPage, TrialPart
from rooftree.web.rendering import render
from rooftree.web.requests import job_name, job_of, store_of
from rooftree.web.views.field_test import WHO

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response


def show_removal(request: Request) -> Response:
    """Show what stands in the way of taking a part out, or what that would change."""
    job, sheet, before = job_of(request), sheet_of(request), part_before(request)
    if not before:
        raise HTTPException(404, f"This house has no {sheet.name.lower()} to take out.")
    kind, part = sheet.kind, part_of(request)
    store, name = store_of(request), job_name(request)
    found = house.removal_obstacles(store, name, kind, part)
    result = None
    if not found:
        trial = house.try_removal(store, name, kind, part)
        result = TrialPart.of(trial, job.tariff, display_of(request).system, sheet, part)
    links = tuple(
        (address_of(request.app, name, one.kind, one.part) if one.kind else "", one)
        for one in found
    )
    called = name_of(sheet, before)
    own, query = address_in(request)
    page = RemovalPage(job, sheet, called, own, query, links, result, f"Take out {called}?")
    return render(request, page)


async def remove(request: Request) -> Response:
    """Take the part out of the house."""
    return await run_in_threadpool(_remove, request)


def _remove(request: Request) -> Response:
    kind = sheet_of(request).kind
    house.remove_part(store_of(request), job_name(request), kind, part_of(request), WHO)
    return back_to_house(request, kind)


ROUTES = [
    Route("/jobs/{job}/house/{kind}/remove", show_removal, name="house_part_removal"),
    Route("/jobs/{job}/house/{kind}/remove", remove, methods=["POST"]),
]
