"""Papers: make, preview and download what is handed to people."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.routing import Route

from rooftree.actions import papers, planning
from rooftree.web.display import display_of
from rooftree.web.rendering import render
from rooftree.web.requests import job_of
from rooftree.web.security import PAPER_POLICY

if TYPE_CHECKING:
    from starlette.requests import Request

    from rooftree.job import Job


@dataclass(frozen=True, slots=True)
class PapersPage:
    """What can be handed out.

    Attributes
    ----------
    job : Job
        The job.
    is_ready : bool
        Whether the plan that the report tells has been made.
    is_running : bool
        Whether that plan is being made.
    is_shown : bool
        Whether the report is shown in the page.
    """

    template: ClassVar[str] = "papers.html"
    job: Job
    is_ready: bool
    is_running: bool
    is_shown: bool
    title: str = "Papers"
    sheet: str = "papers"


def show_papers(request: Request) -> Response:
    """Show which papers can be made."""
    job = job_of(request)
    task = planning.plan_task(job)
    page = PapersPage(
        job=job,
        is_ready=task is not None and task.result is not None,
        is_running=task is not None and task.state == "running",
        is_shown="show" in request.query_params,
    )
    return render(request, page)


def send_report(request: Request) -> Response:
    """Send the owner's report as a PDF."""
    job = job_of(request)
    task = planning.plan_task(job)
    if task is None or task.result is None:
        raise HTTPException(404, "The report tells the staged plan; make the plan first.")
    pdf = papers.make_report(job, task.result, system=display_of(request).system)
    manner = "attachment" if "keep" in request.query_params else "inline"
    headers = {
        "content-disposition": f'{manner}; filename="{file_name(job.name)}"',
        "content-security-policy": PAPER_POLICY,
    }
    return Response(pdf, media_type="application/pdf", headers=headers)


def file_name(name: str) -> str:
    """Return a file name for a job's report that any system takes.

    Examples
    --------
    >>> file_name('12 "Oak" Street')
    '12-Oak-Street-report.pdf'
    """
    plain = "".join(sign if sign.isascii() and sign.isalnum() else " " for sign in name)
    return "-".join([*plain.split(), "report.pdf"])


ROUTES = [
    Route("/jobs/{job}/papers", show_papers, name="papers"),
    Route("/jobs/{job}/papers/report.pdf", send_report, name="report"),
]
