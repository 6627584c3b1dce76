"""Front page of a job: the complaint, what is known, what blocks, what is next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.routing import Route

from rooftree.actions import jobs
from rooftree.web.rendering import render
from rooftree.web.requests import job_name, store_of

if TYPE_CHECKING:
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
    """

    template: ClassVar[str] = "front.html"
    job: Job
    front: FrontPage
    title: str = "Front page"
    sheet: str = "front"


def show_front(request: Request) -> Response:
    """Show where the job stands."""
    job = jobs.load_job(store_of(request), job_name(request))
    return render(request, JobFrontPage(job, jobs.front_page(job)))


ROUTES = [Route("/jobs/{job}", show_front, name="front")]
