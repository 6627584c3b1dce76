"""A fan test as it is typed: reduced at once, saved only when it is whole."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from actions.conftest import NAME
from demo_job import small_demo
from rooftree.actions import readings
from rooftree.actions.readings import preview_test, reduce_job, save_test
from rooftree.errors import DocumentError

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.records import Store


def entry() -> dict[str, Any]:
    """Return the demo's fan test with a gust in it, as typed."""
    return dict(small_demo()["tests"][1])


def test_a_preview_is_the_reduction(job: Job) -> None:
    """What the page shows while one types is what the report will say."""
    preview = preview_test(entry(), job)
    assert preview.says == ""
    assert preview.result == reduce_job(job).tests[1].result
    assert preview.findings


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"stations": []}, "stations"),
        ({"indoor_temperature": "69"}, "indoor_temperature"),
        ({"direction": "sideways"}, "direction"),
    ],
)
def test_an_unfinished_entry_says_what_is_missing(
    job: Job, change: dict[str, object], says: str
) -> None:
    """There is no result yet, and the field is named."""
    preview = preview_test(entry() | change, job)
    assert preview.result is None
    assert says in preview.says


def test_a_saved_test_is_kept_as_typed(store: Store) -> None:
    """The same id is a new revision of the test, word by word as typed."""
    typed = entry() | {"note": "hose checked"}
    job = save_test(store, NAME, typed, "A. N. Assessor")
    assert store.revision(NAME) == 2
    assert job.tests[1].note == "hose checked"
    kept = readings.test_entry(store, NAME, typed["id"])
    assert kept["stations"] == typed["stations"]
    assert store.history(NAME)[-1].made_by == "A. N. Assessor"


def test_a_new_test_is_added(store: Store, job: Job) -> None:
    """Without an id it is one test more."""
    typed = {name: value for name, value in entry().items() if name != "id"}
    assert len(save_test(store, NAME, typed, "test").tests) == len(job.tests) + 1


def test_a_broken_entry_is_not_saved(store: Store) -> None:
    """A bare number is refused with its field, and the job stays as it was."""
    typed = entry() | {"outdoor_temperature": 34}
    with pytest.raises(DocumentError, match="outdoor_temperature is the bare number 34"):
        save_test(store, NAME, typed, "test")
    assert store.revision(NAME) == 1


def test_a_test_that_is_not_there_is_refused(store: Store) -> None:
    """The id is named."""
    with pytest.raises(DocumentError, match="nowhere"):
        readings.test_entry(store, NAME, "nowhere")
