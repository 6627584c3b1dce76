"""Reduce the tests of a job; preview and save one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.actions.leakage import forget_outlooks, outlook_of
from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.year import weather_of
from rooftree.errors import DocumentError, RooftreeError
from rooftree.job.instruments import judge_instruments
from rooftree.job.kinds import Circumstances, Result, reduce_reading
from rooftree.job.pressure_map import PressureMap, map_pressures
from rooftree.job.reduction import ReducedTest, Reductions, circumstances_of
from rooftree.job.reduction import reduce_job as _reduce_job
from rooftree.records.document import Around, read_test, with_test

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.records import Store

__all__ = [
    "ReducedTest",
    "Reductions",
    "TestPreview",
    "forget_reductions",
    "pressure_map",
    "preview_test",
    "reduce_job",
    "save_test",
    "test_entry",
]

_REDUCTIONS: Kept[Reductions] = Kept()


@dataclass(frozen=True, slots=True)
class TestPreview:
    """What the readings typed so far give.

    Attributes
    ----------
    reading : object
        As typed, in SI; None while a field cannot be read.
    result : Result or None
        None while there is not enough to reduce.
    findings : tuple of Finding
        Doubts.
    says : str
        What is missing or wrong where there is no result.
    """

    reading: object
    result: Result | None
    findings: tuple[Finding, ...]
    says: str


def reduce_job(job: Job) -> Reductions:
    """Reduce every test of a job, with its typical year at hand.

    Parameters
    ----------
    job : Job
        With any number of tests.

    Returns
    -------
    Reductions
        Kept for the same tests of the same house.
    """
    key = fingerprint(job.tests, job.visits, job.enclosure, job.house, job.weather, job.tariff)
    return _REDUCTIONS.of(
        key, lambda: _reduce_job(job, lambda: weather_of(job), lambda: outlook_of(job))
    )


def forget_reductions() -> None:
    """Forget what was reduced: the weather under it was replaced."""
    _REDUCTIONS.clear()
    forget_outlooks()


def preview_test(entry: Mapping[str, object], job: Job) -> TestPreview:
    """Reduce a test as typed so far, without saving it.

    Parameters
    ----------
    entry : mapping
        One test as in the job file.
    job : Job
        To which it belongs.

    Returns
    -------
    TestPreview
    """
    reading = None
    try:
        place = job.house.site.elevation
        reading = read_test(entry, Around.of(place, job.visits, job.instruments, entry))
        result = reduce_reading(reading, _circumstances(entry, job))
    except DocumentError as error:
        says = "; ".join(f"{path}: {text}" for path, text in error.problems) or str(error)
        return TestPreview(reading, None, (), says)
    except RooftreeError as error:
        return TestPreview(reading, None, (), str(error))
    used = (str(entry.get("instrument", "")), *_texts(entry.get("also_with")))
    doubts = judge_instruments(job, used, str(entry.get("visit", "")))
    return TestPreview(reading, result, (*result.findings, *doubts), "")


def _circumstances(entry: Mapping[str, object], job: Job) -> Circumstances:
    visit = str(entry.get("visit", ""))
    return circumstances_of(
        job,
        reduce_job(job).airtightness,
        lambda: weather_of(job),
        visit=visit,
        outlook=lambda: outlook_of(job),
    )


def _texts(value: object) -> tuple[str, ...]:
    return tuple(map(str, value)) if isinstance(value, list | tuple) else ()


def pressure_map(job: Job) -> PressureMap:
    """Return every pressure that was read in the house as found.

    Parameters
    ----------
    job : Job
        With any number of tests.

    Returns
    -------
    PressureMap
    """
    found = circumstances_of(job, None).readings
    return map_pressures(found, {space.id: space.name for space in job.house.spaces})


def test_entry(store: Store, name: str, test: str) -> Mapping[str, object]:
    """Return one test exactly as it was typed.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    test : str
        Id of the test.

    Returns
    -------
    mapping
        As in the job file.

    Raises
    ------
    DocumentError
        If the job has no such test.
    """
    return store.load(name).test_entry(test)


def save_test(store: Store, name: str, entry: Mapping[str, object], who: str) -> Job:
    """Save a test in a job: a new one, or a new revision of one that is there.

    Parameters
    ----------
    store : Store
        Where the job is kept.
    name : str
        Of the job.
    entry : mapping
        One test as in the job file, quantities as typed.
    who : str
        For the trail.

    Returns
    -------
    Job

    Raises
    ------
    DocumentError
        If the entry cannot be taken; `problems` names each field.
    """
    document = with_test(store.load(name), entry)
    store.save(document, who)
    return document.to_core()
