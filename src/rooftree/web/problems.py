"""Pages for what went wrong, in plain words: what happened, what was kept, what to do."""

from __future__ import annotations

import logging
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar

from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse

from rooftree.errors import DocumentError, RooftreeError, StoreError
from rooftree.web.rendering import render, wants_fragment
from rooftree.web.security import SAFE_HEADERS, is_for_programs

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response
    from starlette.types import ExceptionHandler

_log = logging.getLogger(__name__)

TITLES = {
    400: "This request cannot be read",
    403: "Nothing was done",
    404: "There is no such page",
    405: "This page does not work that way",
    413: "This is too large",
    415: "This kind of file is not taken here",
    422: "This cannot be taken as it is",
    500: "Rooftree made a mistake",
    503: "The record cannot be reached just now",
}

_NOT_FOUND = "The address may be mistyped, or the job may have been renamed."

_MISTAKE = (
    "What you asked for could not be done. Everything saved before is still there. "
    "The window in which Rooftree was started shows the details."
)


@dataclass(frozen=True, slots=True)
class ProblemPage:
    """What went wrong.

    Attributes
    ----------
    title : str
        In a few words.
    says : str
        What happened, and what was kept.
    problems : tuple of (str, str)
        Each place in a form or file with what is wrong there; often empty.
    remedy : str
        What to do now; may be empty where `says` tells.
    """

    template: ClassVar[str] = "problem.html"
    title: str
    says: str
    problems: tuple[tuple[str, str], ...] = ()
    remedy: str = ""


@dataclass(frozen=True, slots=True)
class ProblemNotice(ProblemPage):
    """The same for the notice at the top of a page that stays as it is."""

    template: ClassVar[str] = "problem_notice.html"


def problem(
    request: Request,
    status: int,
    says: str,
    *,
    problems: tuple[tuple[str, str], ...] = (),
    remedy: str = "",
) -> Response:
    """Return the page that says what went wrong, or the notice where a script asked.

    A program is told the same in JSON.
    """
    title = TITLES.get(status, "This did not work")
    if is_for_programs(request.url.path) and not wants_fragment(request):
        told = [{"where": where, "says": what} for where, what in problems]
        return JSONResponse({"says": says, "problems": told, "remedy": remedy}, status)
    kind = ProblemNotice if wants_fragment(request) else ProblemPage
    response = render(request, kind(title, says, problems, remedy), status=status)
    response.headers.update({"hx-retarget": "#notice", "hx-reswap": "innerHTML"})
    return response


def refused(request: Request, error: Exception) -> Response:
    """Answer a request that was refused before any work was done."""
    assert isinstance(error, HTTPException)  # noqa: S101 - HANDLERS sends no other
    says = error.detail
    if error.status_code == 404 and says == "Not Found":
        says = _NOT_FOUND
    response = problem(request, error.status_code, says)
    response.headers.update(error.headers or {})
    return response


def not_taken(request: Request, error: Exception) -> Response:
    """Answer with what the core or the record says; its messages name field and remedy."""
    if isinstance(error, StoreError):
        return problem(request, 503, str(error), remedy="Nothing was half-written. Try again.")
    problems = error.problems if isinstance(error, DocumentError) else ()
    return problem(request, 422, str(error), problems=problems)


def failed(request: Request, error: Exception) -> Response:
    """Answer after a mistake of our own; the traceback goes to the log only."""
    _log.error("%s %s failed", request.method, request.url.path, exc_info=error)
    response = problem(request, 500, _MISTAKE)
    response.headers.update(SAFE_HEADERS)
    return response


HANDLERS: dict[Any, ExceptionHandler] = {
    HTTPException: refused,
    RooftreeError: not_taken,
    500: failed,
}
"""Which function answers which error."""
