"""Compute once what the first page would wait for."""

from __future__ import annotations

from threading import Thread
from typing import TYPE_CHECKING

from rooftree.actions import diagnosis, jobs, planning
from rooftree.errors import RooftreeError

if TYPE_CHECKING:
    from rooftree.records import Store


def warm_up(store: Store) -> bool:
    """Run and diagnose the year of the job that was last saved; the engine is compiled on the way.

    Returns whether there was a year to run: a job that cannot be simulated says so on its
    own pages.
    """
    try:
        for summary in jobs.list_jobs(store)[:1]:
            job = jobs.load_job(store, summary.name)
            planning.compare(job, frozenset())
            diagnosis.diagnosis_of(job)
            return True
    except RooftreeError:
        return False
    return False


def warm_up_beside(store: Store) -> None:
    """Do so in a thread that nobody waits for."""
    Thread(target=warm_up, args=(store,), daemon=True, name="warm-up").start()
