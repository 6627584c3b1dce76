"""Instruments of a job: what measured, how well, and until when that is known."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar
from uuid import uuid4

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from rooftree.actions import instruments
from rooftree.errors import DocumentError
from rooftree.job.instruments import judge_instruments
from rooftree.web.instrument_form import HEADS, InstrumentForm, fields_of
from rooftree.web.rendering import render
from rooftree.web.requests import job_name, job_of, read_form, store_of
from rooftree.web.views.field_test import NEW, WHO

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request

    from rooftree.finding import Finding
    from rooftree.job import Instrument, Job


@dataclass(frozen=True, slots=True)
class InstrumentsPage:
    """The instruments of the job.

    Attributes
    ----------
    job : Job
        The job.
    listed : tuple of (Instrument, tuple of Finding)
        Each with what its calibration lets doubt on the day of the last visit.
    elsewhere : mapping from str to mapping
        Instruments of other jobs, by id.
    new : str
        Stands for a new instrument in addresses.
    """

    template: ClassVar[str] = "instruments.html"
    job: Job
    listed: tuple[tuple[Instrument, tuple[Finding, ...]], ...]
    elsewhere: Mapping[str, Mapping[str, object]]
    new: str = NEW
    title: str = "Instruments"
    sheet: str = "readings"


@dataclass(frozen=True, slots=True)
class InstrumentPage:
    """One instrument, as typed.

    Attributes
    ----------
    job : Job
        The job.
    instrument : str
        Its id; `NEW` for one that is not in the job yet.
    form : InstrumentForm
        What was typed and what is wrong with it.
    heads : tuple of str
        Heads of the columns after the quantity.
    title : str
        Its name.
    """

    template: ClassVar[str] = "instrument.html"
    job: Job
    instrument: str
    form: InstrumentForm
    title: str
    heads: tuple[str, ...] = HEADS
    sheet: str = "readings"


def show_instruments(request: Request) -> Response:
    """List the instruments of the job."""
    job = job_of(request)
    visit = job.visits[-1].id if job.visits else ""
    listed = tuple((one, judge_instruments(job, [one.id], visit)) for one in job.instruments)
    elsewhere = instruments.instruments_elsewhere(store_of(request), job_name(request))
    return render(request, InstrumentsPage(job, listed, elsewhere))


def show_instrument(request: Request) -> Response:
    """Show one instrument, or an empty form."""
    job, wanted = job_of(request), str(request.path_params["instrument"])
    if wanted == NEW:
        return _page(request, job, InstrumentForm({"id": str(uuid4())}))
    entry = instruments.instrument_entry(store_of(request), job_name(request), wanted)
    entry = entry or _elsewhere(request).get(wanted)
    if entry is None:
        raise HTTPException(404, f"This job has no instrument “{wanted}”.")
    return _page(request, job, InstrumentForm(fields_of(entry)))


async def save(request: Request) -> Response:
    """Save the instrument, or give the form back as typed with what is wrong marked."""
    return await run_in_threadpool(_save, request, InstrumentForm(await read_form(request)))


def _elsewhere(request: Request) -> dict[str, Mapping[str, object]]:
    return instruments.instruments_elsewhere(store_of(request), job_name(request))


def _save(request: Request, form: InstrumentForm) -> Response:
    store, name = store_of(request), job_name(request)
    try:
        instruments.save_instrument(store, name, form.entry, WHO)
    except DocumentError as error:
        marked = replace(form, mistakes=_placed(error, form))
        return _page(request, job_of(request), marked, status=422)
    return RedirectResponse(request.app.url_path_for("instruments", job=name), 303)


def _placed(error: DocumentError, form: InstrumentForm) -> dict[str, str]:
    """Return what is wrong by the path of the form, whose rows are not those of the entry."""

    def moved(path: str) -> str:
        return re.sub(
            r"^measures\[(\d+)\]", lambda at: f"measures[{form.places[int(at[1])]}]", path
        )

    return {moved(path): says for path, says in error.problems}


def _page(request: Request, job: Job, form: InstrumentForm, *, status: int = 200) -> Response:
    title = form.fields.get("name", "").strip() or "An instrument"
    wanted = str(request.path_params["instrument"])
    return render(request, InstrumentPage(job, wanted, form, title), status=status)


ROUTES = [
    Route("/jobs/{job}/instruments", show_instruments, name="instruments"),
    Route("/jobs/{job}/instruments/{instrument}", show_instrument, name="instrument"),
    Route("/jobs/{job}/instruments/{instrument}", save, methods=["POST"]),
]
