"""Jobs: find and open a job, bring one in, add a year of weather."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePath
from typing import TYPE_CHECKING, ClassVar

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from rooftree.actions import jobs
from rooftree.web.rendering import render
from rooftree.web.requests import read_upload, store_of
from rooftree.web.security import MEBIBYTE

if TYPE_CHECKING:
    from starlette.requests import Request

    from rooftree.actions.jobs import JobSummary

JOB_LIMIT, WEATHER_LIMIT = 200 * MEBIBYTE, 8 * MEBIBYTE
"""A bundle carries photos; a year of weather has 8,760 lines of at most 900 characters."""

UPLOAD_LIMITS = {"/jobs/import": JOB_LIMIT, "/weather": WEATHER_LIMIT}
"""Largest body by the path that takes it [bytes]."""


@dataclass(frozen=True, slots=True)
class JobsPage:
    """Every job, and what can be brought in.

    Attributes
    ----------
    jobs : tuple of JobSummary
        Newest first.
    weather : tuple of str
        Names of the typical years that jobs can name.
    job_limit, weather_limit : str
        Largest file of each kind, in words.
    """

    template: ClassVar[str] = "jobs.html"
    jobs: tuple[JobSummary, ...]
    weather: tuple[str, ...]
    job_limit: str = f"{JOB_LIMIT // MEBIBYTE} MB"
    weather_limit: str = f"{WEATHER_LIMIT // MEBIBYTE} MB"
    title: str = "Jobs"


def show_jobs(request: Request) -> Response:
    """List the jobs."""
    store = store_of(request)
    return render(request, JobsPage(jobs.list_jobs(store), jobs.list_weather(store)))


async def bring_in_job(request: Request) -> Response:
    """Take a job file or a bundle, and open the job."""
    name, content = await read_upload(request, "file")
    require_suffix(name, ".json", ".zip")
    job = await run_in_threadpool(jobs.import_job, store_of(request), name, content)
    return RedirectResponse(request.app.url_path_for("front", job=job.name), 303)


async def add_weather(request: Request) -> Response:
    """Take a typical year."""
    name, content = await read_upload(request, "file")
    require_suffix(name, ".epw", ".csv", ".tm2")
    await run_in_threadpool(jobs.add_weather, store_of(request), name, content)
    return RedirectResponse(f"{request.app.url_path_for('jobs')}#weather", 303)


def require_suffix(name: str, *suffixes: str) -> None:
    """Refuse a file whose name says that it is of another kind."""
    if PurePath(name).suffix.lower() not in suffixes:
        raise HTTPException(
            415, f"“{name}” is not a {' or '.join(suffixes)} file. Choose one that is."
        )


ROUTES = [
    Route("/", show_jobs, name="jobs"),
    Route("/jobs/import", bring_in_job, methods=["POST"], name="import"),
    Route("/weather", add_weather, methods=["POST"], name="weather"),
]
