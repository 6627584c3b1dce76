"""Reading what a page sent."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

from rooftree.actions.jobs import load_job
from rooftree.errors import StoreError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request

    from rooftree.job import Job
    from rooftree.records import Store

MAX_FIELDS = 2000
"""More fields than the longest test needs."""


def store_of(request: Request) -> Store:
    """Return the store that the application was made with."""
    return cast("Store", request.app.state.store)


def job_of(request: Request) -> Job:
    """Return the job in the address; 404 where there is none of that name."""
    store, name = store_of(request), job_name(request)
    try:
        return load_job(store, name)
    except StoreError as error:
        if name in store.names():
            raise
        raise HTTPException(404, f"There is no job called “{name}” here.") from error


def job_name(request: Request) -> str:
    """Return the name of the job in the address."""
    return str(request.path_params["job"])


async def read_form(request: Request) -> dict[str, str]:
    """Return the text fields of a form; of fields with the same name the last one."""
    async with request.form(max_files=0, max_fields=MAX_FIELDS) as form:
        return {name: value for name, value in form.multi_items() if isinstance(value, str)}


async def read_upload(request: Request, name: str) -> tuple[str, bytes]:
    """Return the name and the content of the one file that a form carries."""
    async with request.form(max_files=1, max_fields=20) as form:
        sent = form.get(name)
        if not isinstance(sent, UploadFile) or not sent.filename:
            raise HTTPException(422, "No file was chosen. Choose one, then press the button again.")
        return sent.filename, await sent.read()


def words(form: Mapping[str, str], name: str) -> str:
    """Return a text field without spaces around it; empty where there is none."""
    return form.get(name, "").strip()
