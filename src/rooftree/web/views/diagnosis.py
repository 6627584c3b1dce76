"""Diagnosis: where heat, air and water go in the house through its year, and what suffers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse
from starlette.routing import Route

from rooftree.actions.moments import moments_of, moving_section, sequences_of
from rooftree.actions.plain import plain
from rooftree.errors import OutOfRangeError
from rooftree.web.diagnosis.told import Told, told_of
from rooftree.web.display import display_of
from rooftree.web.drawing import for_page
from rooftree.web.rendering import render
from rooftree.web.requests import job_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markupsafe import Markup
    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.actions.moments import Moments
    from rooftree.job import Job
    from rooftree.papers.section import Moment
    from rooftree.units import DisplaySystem

FIRST = "coldest"
"""Sequence that is shown first."""

ANY_DAY = "day"
"""Choice of any day of the year, by its number."""

MORNING = 7
"""Hour of a day that is shown first."""

_LAST_MONTH = 11


@dataclass(frozen=True, slots=True)
class DiagnosisPage:
    """What a year of the house tells, with the section at one moment of it.

    Attributes
    ----------
    job : Job
        The job.
    sequences : mapping from str to str
        Moments that can follow each other: names with words.
    shown : str
        The one that is shown; `ANY_DAY` for a single day.
    day : int
        Day of the year that is, or would be, shown alone, 1 to 365.
    at, last : int
        Place of the moment that is shown, and of the last one.
    moment : Moment
        What is shown.
    drawing : Markup
        The section at that moment, as SVG.
    told : Told
        What the year tells.
    """

    template: ClassVar[str] = "diagnosis.html"
    job: Job
    sequences: Mapping[str, str]
    shown: str
    day: int
    at: int
    last: int
    moment: Moment
    drawing: Markup
    told: Told
    title: str = "Diagnosis"
    sheet: str = "diagnosis"


def show_diagnosis(request: Request) -> Response:
    """Show what a year of the house tells."""
    job = job_of(request)
    system = display_of(request).system
    shown, day, moments = _chosen(request, job, system)
    last = len(moments.moments) - 1
    at = min(_number(request, "at", MORNING if last > _LAST_MONTH else 0), last)
    moment = moments.moments[at]
    page = DiagnosisPage(
        job=job,
        sequences=sequences_of(job),
        shown=shown,
        day=day,
        at=at,
        last=last,
        moment=moment,
        drawing=for_page(moving_section(job, system).svg(moment)),
        told=told_of(job, system),
    )
    return render(request, page)


def send_moments(request: Request) -> Response:
    """Send the moments of a sequence, for the page's script."""
    job = job_of(request)
    moments = _moments(job, str(request.path_params["name"]), display_of(request).system)
    return JSONResponse(plain(moments))


def _chosen(request: Request, job: Job, system: DisplaySystem) -> tuple[str, int, Moments]:
    """Return which sequence the address asks for, the day in it, and its moments."""
    day = min(max(_number(request, "day", 1), 1), 365)
    shown = request.query_params.get("show", FIRST)
    if shown == ANY_DAY:
        return shown, day, _moments(job, f"{ANY_DAY}-{day}", system)
    shown = shown if shown in sequences_of(job) else FIRST
    return shown, day, _moments(job, shown, system)


def _moments(job: Job, name: str, system: DisplaySystem) -> Moments:
    try:
        return moments_of(job, name, system)
    except (KeyError, OutOfRangeError) as error:
        raise HTTPException(404, f"There is no sequence of moments called “{name}”.") from error


def _number(request: Request, name: str, otherwise: int) -> int:
    text = request.query_params.get(name, "")
    return int(text) if text.isdecimal() and len(text) < 5 else otherwise


ROUTES = [
    Route("/jobs/{job}/diagnosis", show_diagnosis, name="diagnosis"),
    Route("/jobs/{job}/diagnosis/moments/{name}", send_moments, name="moments"),
]
"""The page, and what its script asks for."""
