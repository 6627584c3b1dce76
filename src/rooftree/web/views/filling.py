"""Fill the form of a test from a table, or from a logger that runs."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from starlette.concurrency import run_in_threadpool
from starlette.routing import Route

from rooftree.web import fan_wanted
from rooftree.web.fan_form import form_of
from rooftree.web.rendering import render, wants_fragment
from rooftree.web.requests import job_of
from rooftree.web.sheets import wanted
from rooftree.web.table_step import Filled, steering
from rooftree.web.views import fan_test, field_test
from rooftree.web.views.bring_in import brought_in, read_table_form
from rooftree.web.views.live import show_live

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request
    from starlette.responses import Response


async def bring_into_fan_test(request: Request) -> Response:
    """Look at a table for a fan test, or fill it in; save nothing."""
    sent, file = await read_table_form(request)
    return await run_in_threadpool(_into_fan_test, request, sent, file)


async def bring_into_test(request: Request) -> Response:
    """Look at a table for any other test, or fill it in; save nothing."""
    sent, file = await read_table_form(request)
    return await run_in_threadpool(_into_test, request, sent, file)


def listen_for_fan_test(request: Request) -> Response:
    """Show which loggers there are, and which fields of a fan test can take their readings."""
    form = fan_test.kept_form(request, job_of(request))
    return show_live(request, fan_wanted.wanted_lists(form), fan_wanted.wanted_fields(form))


def listen_for_test(request: Request) -> Response:
    """Show which loggers there are, and which fields of a test can take their readings."""
    form = field_test.kept_form(request, job_of(request))
    return show_live(request, wanted.wanted_lists(form), wanted.wanted_fields(form))


def _into_fan_test(request: Request, sent: Mapping[str, str], file: bytes) -> Response:
    job, form = job_of(request), form_of(sent)
    step = brought_in(sent, file, fan_wanted.wanted_lists(form), form.fields, request.url.path)
    if isinstance(step, Filled):
        filled = form_of(steering(sent) | dict(step.fields), step.mistakes)
        return fan_test.lay_out(request, job, filled)
    if wants_fragment(request):
        return render(request, step)
    return fan_test.show_form(request, job, form, is_unsaved=True, step=step)


def _into_test(request: Request, sent: Mapping[str, str], file: bytes) -> Response:
    job = job_of(request)
    form = field_test.sent_form(request, job, sent)
    step = brought_in(sent, file, wanted.wanted_lists(form), form.fields, request.url.path)
    if isinstance(step, Filled):
        filled = field_test.sent_form(request, job, steering(sent) | dict(step.fields))
        return field_test.lay_out(request, job, replace(filled, mistakes=step.mistakes))
    if wants_fragment(request):
        return render(request, step)
    return field_test.show_form(request, job, form, is_unsaved=True, step=step)


_FAN_TEST = "/jobs/{job}/readings/fan-test/{test}"
_TEST = "/jobs/{job}/readings/{kind}/{test}"

ROUTES = [
    Route(f"{_FAN_TEST}/table", bring_into_fan_test, methods=["POST"]),
    Route(f"{_FAN_TEST}/live", listen_for_fan_test),
    Route(f"{_TEST}/table", bring_into_test, methods=["POST"]),
    Route(f"{_TEST}/live", listen_for_test),
]
