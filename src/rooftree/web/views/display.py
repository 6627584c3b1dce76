"""Units and light: two choices in the head of every page."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from rooftree.web.display import changed, display_of, remember
from rooftree.web.requests import read_form, words

if TYPE_CHECKING:
    from starlette.requests import Request


async def set_display(request: Request) -> Response:
    """Keep what was pressed and go back to the page it was pressed on."""
    form = await read_form(request)
    display = changed(display_of(request), system=form.get("system"), theme=form.get("theme"))
    response = RedirectResponse(way_back(request, words(form, "back")), 303)
    remember(response, display)
    return response


def way_back(request: Request, otherwise: str) -> str:
    """Return the page that it was pressed on, with what its script put into the address."""
    came_from = urlsplit(request.headers.get("referer", ""))
    if came_from.netloc != request.headers["host"]:
        return own_path(otherwise)
    return own_path(f"{came_from.path}?{came_from.query}" if came_from.query else came_from.path)


def own_path(text: str) -> str:
    """Return the path if it is one of ours, else that of the jobs.

    Examples
    --------
    >>> own_path("/jobs/ranch/plan?measure=a"), own_path("//elsewhere.test/")
    ('/jobs/ranch/plan?measure=a', '/')
    """
    plain = text.isprintable() and "\\" not in text
    return text if plain and text.startswith("/") and not text.startswith("//") else "/"


ROUTES = [Route("/display", set_display, methods=["POST"], name="display")]
