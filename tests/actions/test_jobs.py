"""Jobs of the database: listed, opened, brought in, and where each stands."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from actions.conftest import NAME
from demo_job import small_demo
from rooftree.actions.jobs import (
    add_weather,
    front_page,
    import_job,
    list_jobs,
    list_weather,
    load_job,
)
from rooftree.errors import DocumentError, StoreError, WeatherError
from rooftree.finding import Severity

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.records import Store


def test_jobs_are_listed_with_where_they_stand(store: Store) -> None:
    """Each line tells whose job it is, how often it was saved, and what holds it back."""
    (line,) = list_jobs(store)
    assert line.name == NAME
    assert line.client == "The Pell family (invented)"
    assert line.invented
    assert line.revision == 1
    assert line.standing.startswith("25 tests, 7 measures offered; ")
    assert line.standing.endswith(" gates stand.")


def test_a_job_without_tests_says_so(store: Store) -> None:
    """A job that was only begun stands at its beginning."""
    raw = small_demo() | {"tests": [], "name": "only begun"}
    raw["id"] = "00000000-0000-4000-8000-000000000001"
    import_job(store, "begun.json", json.dumps(raw).encode())
    assert {line.name: line.standing for line in list_jobs(store)}["only begun"] == "No test yet."


def test_a_job_is_read_once_for_each_revision(store: Store) -> None:
    """The same revision is the same object; a saved change is seen at once."""
    first = load_job(store, NAME)
    assert load_job(store, NAME) is first
    changed = store.load(NAME).model_copy(update={"client": "Somebody else"})
    store.save(changed, "test")
    assert load_job(store, NAME).client == "Somebody else"


def test_a_job_that_is_not_there_is_refused(store: Store) -> None:
    """The message names the jobs that are."""
    with pytest.raises(StoreError, match=r'^there is no job "nowhere" in .*jobs there: ranch'):
        load_job(store, "nowhere")


def test_a_broken_file_changes_nothing(store: Store) -> None:
    """A job file with a bare number is refused whole."""
    raw = small_demo()
    raw["house"]["spaces"][0]["volume"] = 13_120
    with pytest.raises(DocumentError, match=r"house\.spaces\[0\]\.volume"):
        import_job(store, "broken.json", json.dumps(raw).encode())
    assert store.revision(NAME) == 1


def test_the_front_page_begins_with_the_complaint(job: Job) -> None:
    """Complaints in the client's words, what is known, what blocks, what is next."""
    page = front_page(job)
    assert page.complaints == job.complaints
    assert any("at 50 Pa" in sentence for sentence in page.known)
    assert page.blocks
    assert all(finding.severity is not Severity.NOTE for finding in page.blocks)
    assert page.next[-1] == "Make the report."


def test_stops_come_first(job: Job) -> None:
    """What must not wait stands before the plan among the next steps."""
    gas_leak = tuple(
        replace(test, reading=replace(test.reading, gas_leak=True))  # type: ignore[call-arg]
        if test.id.startswith("test-burner")
        else test
        for test in job.tests
    )
    page = front_page(replace(job, tests=gas_leak))
    assert any(finding.severity is Severity.STOP for finding in page.blocks)
    assert not page.next[0].startswith("Make the plan")


def test_without_a_fan_test_one_is_asked_for(job: Job) -> None:
    """A plan needs to know how much the house leaks."""
    page = front_page(replace(job, tests=()))
    assert any(step.startswith("Make a fan test") for step in page.next)


def test_without_measures_they_are_asked_for(job: Job) -> None:
    """There is nothing to plan without offers."""
    page = front_page(replace(job, measures=()))
    assert page.next[-1] == "Offer measures with their cost ranges."


def test_a_file_that_is_no_year_is_not_kept(store: Store) -> None:
    """A year of weather is read through before it is kept."""
    with pytest.raises(WeatherError):
        add_weather(store, "town.epw", b"LOCATION,nothing\n")
    assert list_weather(store) == ("greensboro",)
