"""The readings of a running logger, asked for again and again by the page of a test."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.routing import Route

from rooftree.actions.streams import WINDOW
from rooftree.web.live import WINDOWS, live_now, live_part
from rooftree.web.rendering import render
from rooftree.web.views.streams import shelf_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.records.tabular import Column
    from rooftree.web.table_step import WantedList


def show_now(request: Request) -> Response:
    """Show what a stream reads now."""
    asked = request.query_params.get("window", "")
    seconds = float(asked) if asked in map(str, WINDOWS) else WINDOW
    return render(request, live_now(shelf_of(request), str(request.path_params["stream"]), seconds))


def show_live(request: Request, lists: Iterable[WantedList], fields: Iterable[Column]) -> Response:
    """Show which loggers there are, and where their readings can go in the form of a test."""
    query = request.query_params
    asked = (query.get("stream", ""), query.get("window", ""))
    sending = f"{request.url.scheme}://{request.url.netloc}/streams/gauge"
    addresses = (request.url.path, sending)
    return render(request, live_part(shelf_of(request), asked, lists, fields, addresses))


ROUTES = [Route("/live/{stream}", show_now, name="live")]
