"""The main job in a process of its own: plan, report, pages, and the memory all of it takes.

Run by ``python -m bench``; prints one JSON object.
"""

from __future__ import annotations

import json
import sys
from functools import partial
from http.client import HTTPConnection
from pathlib import Path
from queue import Queue
from threading import Thread
from time import perf_counter, process_time
from typing import TYPE_CHECKING
from urllib.parse import quote, urlsplit

from starlette.testclient import TestClient

from bench.figures import held_to, median_time, peak_memory
from rooftree.actions.demo import demo_text
from rooftree.actions.jobs import load_job
from rooftree.actions.papers import make_report
from rooftree.actions.planning import keep_plan, plan_job
from rooftree.actions.simulation import simulate_job
from rooftree.cli.progress import Progress
from rooftree.records import open_store
from rooftree.records.document.field_tests import KINDS
from rooftree.units import DisplaySystem
from rooftree.web import create_app, fan_form, serve
from rooftree.web.sheets import SHEETS, form

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.records import Store

OWN = "http://127.0.0.1"
"""Address of the pages, as they see it."""

CORES = 2
"""On which the packages are to be simulated in time."""

PAGES = {
    "Jobs": "/",
    "Front page": "/jobs/{job}",
    "Readings": "/jobs/{job}/readings",
    "Fan test": "/jobs/{job}/readings/fan-test/{test}",
    "House": "/jobs/{job}/house",
    "Plan": "/jobs/{job}/plan",
    "Plan, a measure switched": "/jobs/{job}/plan/compare?chosen=1&measure={measure}",
    "Papers": "/jobs/{job}/papers",
}


def page_times(store: Store, job: Job) -> dict[str, float]:
    """Return the median time of each page, through the server and a socket [s]."""
    told: Queue[str] = Queue()
    Thread(target=serve, args=(store, 0), kwargs={"announce": told.put}, daemon=True).start()
    connection = HTTPConnection(urlsplit(told.get(timeout=60.0)).netloc)

    def get(path: str) -> None:
        connection.request("GET", path)
        answer = connection.getresponse()
        answer.read()
        if answer.status != 200:
            message = f"{path} answers {answer.status}"
            raise RuntimeError(message)

    names = {
        "job": quote(job.name),
        "test": quote(job.tests[0].id),
        "measure": quote(job.measures[0].id),
    }
    return {
        name: median_time(partial(get, path.format(**names)), 7) for name, path in PAGES.items()
    }


def preview_times(store: Store, job: Job) -> dict[str, float]:
    """Return the median time from what was typed to its result, by kind of test [s]."""
    slugs = {KINDS[sheet.kind].readings: slug for slug, sheet in SHEETS.items()}
    found: dict[str, float] = {}
    with TestClient(create_app(store, port=80), base_url=OWN, headers={"origin": OWN}) as client:
        for test in job.tests:
            slug = slugs.get(type(test.reading), "fan-test")
            fields = fan_form.fields_of if slug == "fan-test" else form.fields_of
            typed = fields(store.load(job.name).test_entry(test.id))
            path = f"/jobs/{quote(job.name)}/readings/{slug}/{quote(test.id)}/preview"
            if slug not in found:
                found[slug] = median_time(partial(_preview, client, path, typed), 7)
    return found


def _preview(client: TestClient, path: str, typed: dict[str, str]) -> None:
    answer = client.post(path, data=typed, headers={"hx-request": "true"})
    if answer.status_code != 200:
        message = f"{path} answers {answer.status_code} to what the job holds"
        raise RuntimeError(message)


@held_to(CORES)
def measure(folder: Path) -> dict[str, object]:
    """Return what the main job took."""
    store = open_store(folder)
    store.import_file("demo.json", demo_text().encode(), "bench")
    job = load_job(store, store.names()[0])
    simulate_job(job)  # warms up: the hour loop is compiled once on each machine
    begun, worked = perf_counter(), process_time()
    with Progress("Simulating packages") as progress:
        plan = plan_job(job, progress=progress)
    plan_seconds, plan_work = perf_counter() - begun, process_time() - worked
    keep_plan(job, plan)
    report = partial(make_report, job, plan, system=DisplaySystem.IP)
    return {
        "packages": len(plan.packages),
        "plan_seconds": plan_seconds,
        "plan_work": plan_work,
        "report_seconds": median_time(report, 3),
        "page_seconds": page_times(store, job),
        "preview_seconds": preview_times(store, job),
        "peak_memory": peak_memory(),
    }


if __name__ == "__main__":
    print(json.dumps(measure(Path(sys.argv[1]))))
