"""Front page of a job: the complaint, what is known, what blocks, what is next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.routing import Route

from rooftree.actions import jobs
from rooftree.web.rendering import render
from rooftree.web.requests import job_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.actions.jobs import FrontPage
    from rooftree.job import Job


@dataclass(frozen=True, slots=True)
class JobFrontPage:
    """The first sheet of a job.

    Attributes
    ----------
    job : Job
        The job.
    front : FrontPage
        Complaints, what is known, what blocks and what is next.
    places : mapping from str to str
        Name of each place by its id; empty for none.
    not_seen : tuple of str
        What could not be seen on any visit, with the reason.
    """

    template: ClassVar[str] = "front.html"
    job: Job
    front: FrontPage
    places: Mapping[str, str]
    not_seen: tuple[str, ...]
    title: str = "Front page"
    sheet: str = "front"


def show_front(request: Request) -> Response:
    """Show where the job stands."""
    job = job_of(request)
    places = {"": ""} | {place.id: place.name for place in job.places}
    not_seen = tuple(line for visit in job.visits for line in visit.not_seen)
    return render(request, JobFrontPage(job, jobs.front_page(job), places, not_seen))


ROUTES = [Route("/jobs/{job}", show_front, name="front")]
