"""Streams: where a logger sends readings, and where a page reads them back.

Answers are JSON, for programs. A logger is no page of ours and states no origin: see
:class:`rooftree.web.security.Gate` for what keeps other people's pages out.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any, cast

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rooftree.actions import streams
from rooftree.errors import StoreError
from rooftree.web.security import MEBIBYTE, PROGRAM_PATHS

if TYPE_CHECKING:
    from starlette.requests import Request

    from rooftree.actions.streams import Sending, Sent, StreamShelf, StreamStatus, Window

STREAM_LIMIT = 256 * MEBIBYTE
"""Largest sending [bytes]: more than two million lines, a day of a fast logger."""

SENDING_LIMITS = {PROGRAM_PATHS: STREAM_LIMIT}
"""Largest body by the beginning of the path that takes it [bytes]."""

KINDS_OF_LINES = ("application/x-ndjson", "application/jsonl", "application/json")
"""Content types of lines of JSON. No form of another page can send one of them unasked."""

MOST_SECONDS, MOST_POINTS = 86_400.0, 5_000
"""How far back and how finely a page may ask."""


def shelf_of(request: Request) -> StreamShelf:
    """Return the streams that the application was made with."""
    return cast("StreamShelf", request.app.state.streams)


def list_all(request: Request) -> Response:
    """List every stream with where it stands."""
    told = [_status(one) for one in streams.list_streams(shelf_of(request))]
    return JSONResponse({"streams": told})


async def take(request: Request) -> Response:
    """Keep the lines that are sent, as they come."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind not in KINDS_OF_LINES:
        raise HTTPException(
            415, f"Send lines of JSON, and say so: “Content-Type: {KINDS_OF_LINES[0]}”."
        )
    sending = streams.begin_sending(shelf_of(request), str(request.path_params["stream"]))
    status, is_cut, says = 200, False, ""
    try:
        async for piece in request.stream():
            if piece:
                await run_in_threadpool(sending.feed, piece)
    except ClientDisconnect:
        status, is_cut = 400, True
    except HTTPException as error:  # larger than the limit, noticed on the way
        status, is_cut = error.status_code, True
        says = "The sending is too large; send what is left in another one."
    except StoreError as error:
        status, is_cut, says = 503, True, str(error)
    return await run_in_threadpool(_told, sending, status, says, is_cut=is_cut)


def _told(sending: Sending, status: int, says: str, *, is_cut: bool) -> Response:
    sent = sending.finish(is_cut=is_cut)
    answer = asdict(sent)
    if says := says or _says(sent):
        answer = {"says": says} | answer
    return JSONResponse(answer, status if status != 200 or sent.is_whole else 422)


def _says(sent: Sent) -> str:
    if sent.is_whole:
        return ""
    on = f" Send again from line {sent.go_on_with} on." if sent.go_on_with else ""
    return (
        f"{sent.kept + sent.repeated} lines are kept, {sent.refused} are refused; "
        f"each problem names its line.{on}"
    )


def show(request: Request) -> Response:
    """Tell where a stream stands and what each name showed in the last seconds."""
    seconds = _asked(request, "window", streams.WINDOW, MOST_SECONDS)
    name = str(request.path_params["stream"])
    status, windows = streams.reading_windows(shelf_of(request), name, seconds)
    if not status.last:
        raise HTTPException(404, f"The stream “{name}” holds no readings yet.")
    return JSONResponse(
        _status(status) | {"window_s": seconds, "readings": [_plain(one) for one in windows]}
    )


def show_course(request: Request) -> Response:
    """Tell how one reading went, thinned for a picture."""
    seconds = _asked(request, "window", MOST_SECONDS, MOST_SECONDS)
    points = int(_asked(request, "points", streams.POINTS, MOST_POINTS))
    name, reading = (str(request.path_params[key]) for key in ("stream", "reading"))
    course = streams.reading_course(shelf_of(request), name, reading, seconds, points)
    if course is None:
        raise HTTPException(404, f"The stream “{name}” has no reading “{reading}” yet.")
    return JSONResponse(asdict(course))


def _asked(request: Request, name: str, usual: float, most: float) -> float:
    text = request.query_params.get(name, "")
    try:
        number = float(text) if text else usual
    except ValueError:
        number = -1.0
    if not 0.0 < number <= most:
        raise HTTPException(422, f"{name} is “{text}”; ask for a number up to {most:g}.")
    return number


def _status(status: StreamStatus) -> dict[str, Any]:
    return {
        "stream": status.name,
        "lines": status.count,
        "last": status.last,
        "last_sequence": status.last_sequence,
        "unreadable": status.unreadable,
        "names": {one.name: one.text for one in status.names},
    }


def _plain(window: Window) -> dict[str, Any]:
    plain = asdict(window)
    return plain | {"is_settled": window.settling.name == "SETTLED"}


ROUTES = [
    Route("/streams", list_all, name="streams"),
    Route("/streams/{stream}", take, methods=["POST"], name="stream"),
    Route("/streams/{stream}", show),
    Route("/streams/{stream}/readings/{reading}", show_course),
]
