"""Reduce the tests of a job; preview and save a fan test."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import DocumentError, RooftreeError
from rooftree.job.reduction import ReducedTest, Reductions, reduce_job
from rooftree.readings.airtightness import reduce_fan_test
from rooftree.records.document import read_fan_test, with_test

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.readings.airtightness import Enclosure, FanTestResult
    from rooftree.records import Store

__all__ = [
    "FanTestPreview",
    "ReducedTest",
    "Reductions",
    "fan_test_entry",
    "preview_fan_test",
    "reduce_job",
    "save_fan_test",
]


@dataclass(frozen=True, slots=True)
class FanTestPreview:
    """What the readings typed so far give.

    Attributes
    ----------
    result : FanTestResult or None
        None while there is not enough to reduce.
    findings : tuple of Finding
        Doubts.
    says : str
        What is missing or wrong where there is no result.
    """

    result: FanTestResult | None
    findings: tuple[Finding, ...]
    says: str


def preview_fan_test(entry: Mapping[str, object], enclosure: Enclosure) -> FanTestPreview:
    """Reduce a fan test as typed so far, without saving it.

    Parameters
    ----------
    entry : mapping
        One test as in the job file.
    enclosure : Enclosure
        Of the house.

    Returns
    -------
    FanTestPreview
    """
    try:
        result = reduce_fan_test(read_fan_test(entry), enclosure)
    except DocumentError as error:
        says = "; ".join(f"{path}: {text}" for path, text in error.problems) or str(error)
        return FanTestPreview(None, (), says)
    except RooftreeError as error:
        return FanTestPreview(None, (), str(error))
    return FanTestPreview(result, result.findings, "")


def fan_test_entry(store: Store, name: str, test: str) -> Mapping[str, object]:
    """Return one fan test exactly as it was typed.

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


def save_fan_test(store: Store, name: str, entry: Mapping[str, object], who: str) -> Job:
    """Save a fan test in a job: a new one, or a new revision of one that is there.

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
