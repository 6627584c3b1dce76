"""The application: which function answers which address, and what guards them."""

from __future__ import annotations

from pathlib import Path
from socket import AF_INET, IPPROTO_TCP, SO_REUSEADDR, SOCK_STREAM, SOL_SOCKET, socket
from typing import TYPE_CHECKING

import uvicorn
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.routing import BaseRoute, Mount
from starlette.staticfiles import StaticFiles

from rooftree.actions.streams import open_streams
from rooftree.errors import RooftreeError
from rooftree.web.problems import HANDLERS
from rooftree.web.security import BodyLimit, Gate, SafeHeaders
from rooftree.web.views import (
    diagnosis,
    display,
    filling,
    front,
    house,
    house_part,
    instruments,
    jobs,
    live,
    papers,
    parts,
    plan,
    readings,
    streams,
)
from rooftree.web.views.bring_in import TABLE_LIMITS
from rooftree.web.warm import warm_up_beside

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.records import Store

HOST = "127.0.0.1"
"""The only address that the server listens on."""

STATIC = Path(__file__).parent / "static"


def create_app(store: Store, *, port: int, developer: bool = False) -> Starlette:
    """Return the application that shows and changes what is in the store.

    Parameters
    ----------
    store : Store
        Where jobs are kept.
    port : int
        Port on which it will be served: requests under any other are refused.
    developer : bool
        Whether to offer the page of parts at ``/ui``.

    Returns
    -------
    Starlette
    """
    guards = [
        Middleware(Gate, port=port),
        Middleware(BodyLimit, limits=jobs.UPLOAD_LIMITS | streams.SENDING_LIMITS | TABLE_LIMITS),
    ]
    app = Starlette(
        routes=[Mount("/", routes=_routes(developer=developer), middleware=guards)],
        middleware=[Middleware(SafeHeaders)],
        exception_handlers=HANDLERS,
    )
    app.state.store = store
    app.state.streams = open_streams(store.folder)
    return app


def _routes(*, developer: bool) -> list[BaseRoute]:
    made: list[BaseRoute] = [
        *jobs.ROUTES,
        *front.ROUTES,
        *readings.ROUTES,
        *instruments.ROUTES,
        *house.ROUTES,
        *diagnosis.ROUTES,
        *house_part.ROUTES,
        *plan.ROUTES,
        *papers.ROUTES,
        *display.ROUTES,
        *streams.ROUTES,
        *live.ROUTES,
        *filling.ROUTES,
        Mount("/static", StaticFiles(directory=STATIC), name="static"),
    ]
    return made + parts.ROUTES if developer else made


def serve(
    store: Store,
    port: int,
    *,
    developer: bool = False,
    announce: Callable[[str], None] | None = None,
) -> None:
    """Serve the pages on 127.0.0.1 until interrupted.

    Parameters
    ----------
    store : Store
        Where jobs are kept.
    port : int
        Port to listen on; 0 for any that is free.
    developer : bool
        Whether to offer the page of parts at ``/ui``.
    announce : callable or None
        Told the address as soon as it answers.

    Raises
    ------
    RooftreeError
        When another program listens on that port already.
    """
    with bound_socket(port) as listening:
        taken = listening.getsockname()[1]
        app = create_app(store, port=taken, developer=developer)
        if announce is not None:
            announce(f"http://{HOST}:{taken}")
        warm_up_beside(store)
        config = uvicorn.Config(app, log_level="warning", access_log=False, server_header=False)
        uvicorn.Server(config).run(sockets=[listening])


def bound_socket(port: int) -> socket:
    """Return a socket that listens on this computer only."""
    # Named as TCP, its connections get no-delay from the event loop; else each page waits 40 ms.
    made = socket(AF_INET, SOCK_STREAM, IPPROTO_TCP)
    made.setsockopt(SOL_SOCKET, SO_REUSEADDR, 1)
    try:
        made.bind((HOST, port))
        made.listen()
    except OSError as error:
        made.close()
        message = f"port {port} of {HOST} is in use by another program; choose another one"
        raise RooftreeError(message) from error
    return made
