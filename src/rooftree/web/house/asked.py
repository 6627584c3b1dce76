"""What a request for a part of the house asks for: its kind, its name, how it is saved."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from rooftree.actions import house
from rooftree.errors import DocumentError
from rooftree.web.house import HOUSE_SHEETS, slug_of
from rooftree.web.house.page import address_of
from rooftree.web.requests import job_name, store_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.web.sheets.layout import Sheet

_KINDS = {slug_of(kind): kind for kind in HOUSE_SHEETS}

PLACES = {
    "site": "site", "use": "use", "space": "spaces", "surface": "surfaces", "window": "windows",
    "leak": "leaks", "duct": "ducts",
}  # fmt: skip
"""Where each kind stands on the House page; the others stand under the equipment."""


def sheet_of(request: Request) -> Sheet:
    """Return the layout for the kind of part in the address; 404 for no kind."""
    slug = str(request.path_params["kind"])
    if slug not in _KINDS:
        raise HTTPException(404, f"A house has no part called “{slug}”.")
    return HOUSE_SHEETS[_KINDS[slug]]


def part_of(request: Request) -> str:
    """Return the name of the part in the address; empty for a new one."""
    return request.query_params.get("id", "")


def part_before(request: Request) -> dict[str, Any]:
    """Return the part as it is saved; empty for a new one."""
    sheet, part = sheet_of(request), part_of(request)
    about = house.HOUSE_PARTS[sheet.kind]
    if about.is_list and not part:
        return {}
    try:
        return house.house_part(store_of(request), job_name(request), sheet.kind, part)
    except DocumentError as error:
        if about.is_list:
            raise HTTPException(404, f"This house has no {sheet.kind} “{part}”.") from error
        return {}


def address_in(request: Request) -> tuple[str, str]:
    """Return the address of the part without and with what names it."""
    kind, part = sheet_of(request).kind, part_of(request)
    own = address_of(request.app, job_name(request), kind)
    return own, address_of(request.app, job_name(request), kind, part).removeprefix(own)


def name_of(sheet: Sheet, entry: Mapping[str, Any]) -> str:
    """Return what to call a part."""
    return str(entry.get("name") or sheet.name)


def back_to_house(request: Request, kind: str) -> Response:
    """Return to the place of a kind of part on the House page."""
    page = request.app.url_path_for("house", job=job_name(request))
    return RedirectResponse(f"{page}#{PLACES.get(kind, 'equipment')}", 303)
