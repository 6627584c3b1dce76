"""Check the database of jobs: nothing is lost, nothing half-written stays, all is traced."""

from __future__ import annotations

import io
import json
import multiprocessing
import sqlite3
import threading
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

import pytest
import sqlalchemy as sa
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from rooftree.errors import DocumentError, StoreError
from rooftree.records import open_store
from rooftree.records.document import JobDocument, read_document
from rooftree.records.split import join, split
from rooftree.records.tables import METADATA
from strategies import JOB_ID, job_files, put, small_job
from two_writers import save_ten_states

if TYPE_CHECKING:
    from pathlib import Path

    from rooftree.records import Store

NOON = datetime(2026, 1, 21, 12, 0, tzinfo=UTC)


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """Return an empty database that waits 50 ms for others."""
    return open_store(tmp_path / "data", busy=0.05)


def document(**changes: Any) -> JobDocument:
    """Return the small job with some fields changed, by path with __ for the dots."""
    job = small_job()
    for path, value in changes.items():
        put(job, path.replace("__", "."), value)
    return read_document(json.dumps(job))


def test_an_empty_database_has_no_jobs(store: Store) -> None:
    """The smallest database: made, and asked."""
    assert store.names() == ()
    assert store.summaries() == ()


def test_a_job_comes_back_as_it_was_saved(store: Store) -> None:
    """Saved, and loaded by another opening of the same folder."""
    assert store.save(document(), "Ann", NOON) == 1
    assert open_store(store.folder).load("small house") == document()
    (kept,) = store.summaries()
    assert (kept.name, kept.revision, kept.updated) == ("small house", 1, NOON)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=20)
@given(first=job_files(), second=job_files())
def test_any_two_states_of_a_job_follow_each_other(
    tmp_path: Path, first: dict[str, Any], second: dict[str, Any]
) -> None:
    """Whatever changes between two saves, the second state is what is loaded."""
    store = open_store(tmp_path)
    for job in (first, second):
        saved = JobDocument.model_validate(job | {"name": "job"})
        store.save(saved, "Ann", NOON)
        assert store.load("job") == saved


def test_saving_what_did_not_change_adds_nothing(store: Store) -> None:
    """The same job twice, as when a tablet sends again what got through."""
    assert [store.save(document(), "Ann", NOON) for _ in range(3)] == [1, 1, 1]
    assert len(store.history("small house")) == len(split(small_job()))


def test_only_what_changed_is_written(store: Store) -> None:
    """One reading corrected is one new revision of one record."""
    store.save(document(), "Ann", NOON)
    later = NOON + timedelta(hours=1)
    store.save(document(tests__1__zone_pressure="-46 Pa"), "Bob", later)
    new = [change for change in store.history("small house") if change.number == 2]
    assert [(one.kind, one.name, one.removed) for one in new] == [("tests", "attic-zone", False)]
    assert (new[0].made_by, new[0].made_at) == ("Bob", later)


def test_a_removal_is_a_revision(store: Store) -> None:
    """What was taken out is gone from the job and stays in the trail."""
    store.save(document(), "Ann", NOON)
    job = small_job()
    del job["tests"][3]
    store.save(read_document(json.dumps(job)), "Bob", NOON)
    assert [test.id for test in store.load("small house").tests][-1] == "ducts"
    removed = [change.name for change in store.history("small house") if change.removed]
    assert removed == ["flue"]
    store.save(document(), "Ann", NOON)
    assert store.load("small house") == document()


def test_a_job_can_be_seen_as_it_was(store: Store) -> None:
    """At each revision there is, with what was removed since."""
    states = [
        document(),
        document(client="second"),
        document(client="third", photos=[], observations=[]),
    ]
    for state in states:
        store.save(state, "Ann", NOON)
    assert [store.load("small house", revision) for revision in (1, 2, 3)] == states
    for revision in (0, 4):
        with pytest.raises(StoreError, match=rf"has the revisions 1 to 3, not {revision}$"):
            store.load("small house", revision)


def test_what_can_no_longer_be_taken_is_told_by_its_path(store: Store) -> None:
    """A record that another program has spoiled does not end in a riddle."""
    store.save(document(), "Ann", NOON)
    connection = sqlite3.connect(store.path)
    connection.execute("UPDATE revision SET body = '{\"id\": \"visit-1\"}' WHERE kind = 'visits'")
    connection.commit()
    connection.close()
    with pytest.raises(DocumentError, match=r"visits\[0\]\.date is missing; add it"):
        store.load("small house")


def test_bills_and_decisions_are_records_of_their_own(store: Store) -> None:
    """They have no ids; a bill is named by its fuel and start, a decision by its measure."""
    store.save(document(), "Ann", NOON)
    store.save(document(bills__0__cost="$150", decisions__0__choice="declined"), "Ann", NOON)
    new = {(one.kind, one.name) for one in store.history("small house") if one.number == 2}
    assert new == {("bills", "natural gas 2025-01-03"), ("decisions", "seal")}


@given(job_files())
def test_a_job_is_the_sum_of_its_records(job: dict[str, Any]) -> None:
    """Split and joined, the job is the same; the same thing has the same UUID everywhere."""
    records = split(job)
    assert join(list(records.values())) == job
    assert split(json.loads(json.dumps(job))).keys() == records.keys()
    assert len(records) == 2 + sum(
        len(value) for key, value in job.items() if isinstance(value, list) and key != "order"
    )


def test_a_job_can_be_renamed(store: Store) -> None:
    """The name is a field like any other; the id tells which job it is."""
    store.save(document(), "Ann", NOON)
    store.save(document(name="new name"), "Ann", NOON)
    assert store.names() == ("new name",)
    assert store.revision("new name") == 2


def test_two_jobs_cannot_have_one_name(store: Store) -> None:
    """The second is refused, and nothing of it stays."""
    store.save(document(), "Ann", NOON)
    other = document(id=JOB_ID.replace("3f0c", "ffff"))
    with pytest.raises(StoreError, match=r'^another job is called "small house" already; nothing'):
        store.save(other, "Bob", NOON)
    assert store.load("small house") == document()


def test_a_job_that_is_not_there_is_told(store: Store) -> None:
    """With the names of those that are."""
    store.save(document(), "Ann", NOON)
    for ask in (store.load, store.revision, store.history):
        with pytest.raises(
            StoreError, match=r'^there is no job "x" in .*; jobs there: small house$'
        ):
            ask("x")


def test_a_job_with_problems_is_not_saved(store: Store) -> None:
    """What could not be loaded again is refused before anything is written."""
    job = small_job()
    put(job, "decisions.0.measure", "nothing")
    with pytest.raises(DocumentError, match=r"decisions\[0\]\.measure is \"nothing\""):
        store.save(JobDocument.model_validate(job), "Ann", NOON)
    assert store.names() == ()


def test_a_change_based_on_an_old_state_is_refused(store: Store) -> None:
    """Two people changed the same job: the second is told, the first loses nothing."""
    first = store.save(document(), "Ann", NOON)
    store.save(document(client="Changed by Ann"), "Ann", NOON, based_on=first)
    with pytest.raises(StoreError, match=r'^somebody else has saved "small house" meanwhile'):
        store.save(document(client="Changed by Bob"), "Bob", NOON, based_on=first)
    assert store.load("small house").client == "Changed by Ann"


def test_a_time_without_zone_is_refused(store: Store) -> None:
    """A trail whose times could mean any zone is no trail."""
    with pytest.raises(sa.exc.StatementError, match="without its zone"):
        store.save(document(), "Ann", datetime(2026, 1, 21))
    assert store.names() == ()


def test_a_database_locked_by_another_process_is_told(store: Store) -> None:
    """The wait is short, the message says what to do, and nothing changed."""
    store.save(document(), "Ann", NOON)
    other = sqlite3.connect(store.path, isolation_level=None)
    try:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError, match=r"is being written by another program; nothing was"):
            store.save(document(client="Bob"), "Ann", NOON)
        assert store.load("small house").client == "An invented owner"
        other.execute("ROLLBACK")
    finally:
        other.close()
    assert store.save(document(client="Bob"), "Ann", NOON) == 2


def test_a_full_disk_while_saving_loses_nothing(store: Store) -> None:
    """The database may not grow: the save is refused whole, and the next one works again."""
    store.save(document(), "Ann", NOON)

    def limit(connection: sqlite3.Connection, _record: object) -> None:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count={pages}").close()

    sa.event.listen(store.engine, "connect", limit)
    words = "x" * 60_000
    with pytest.raises(StoreError, match=r"the disk is full; nothing was changed\. Free some"):
        store.save(document(client=words, complaints__0__words=words), "Ann", NOON)
    assert store.load("small house") == document()
    assert store.revision("small house") == 1
    sa.event.remove(store.engine, "connect", limit)
    assert store.save(document(client=words), "Ann", NOON) == 2


def test_a_file_that_is_no_database_is_told(tmp_path: Path) -> None:
    """And is left as it is."""
    (tmp_path / "rooftree.db").write_bytes(b"this is a letter, not a database" * 40)
    with pytest.raises(StoreError, match=r"is not a Rooftree database, or is damaged\. Move it"):
        open_store(tmp_path)
    assert (tmp_path / "rooftree.db").read_bytes().startswith(b"this is a letter")


def test_a_damaged_database_is_told(store: Store) -> None:
    """Pages overwritten in the middle are found when they are read."""
    store.save(document(), "Ann", NOON)
    content = bytearray(store.path.read_bytes())
    content[4096:] = b"\xff" * (len(content) - 4096)
    store.path.write_bytes(bytes(content))
    with pytest.raises(StoreError, match=r"is not a Rooftree database, or is damaged"):
        open_store(store.folder).load("small house")


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    """A file stands where the folder should be."""
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(StoreError, match=r"cannot be made: .*; choose another folder$"):
        open_store(tmp_path / "file" / "data")


def test_a_database_that_cannot_be_opened_is_told(tmp_path: Path) -> None:
    """Something else stands where the file should be; nothing is made of it."""
    (tmp_path / "rooftree.db").mkdir()
    with pytest.raises(StoreError, match=r"cannot be opened for writing; check the permissions"):
        open_store(tmp_path)


def test_at_rest_there_is_one_file(store: Store) -> None:
    """Between two uses the folder can be copied: nothing waits in a side file."""
    store.save(document(), "Ann", NOON)
    store.load("small house")
    assert [path.name for path in store.folder.iterdir()] == ["rooftree.db"]


def test_all_constraints_have_names() -> None:
    """A migration can only change what it can name."""
    for table in METADATA.tables.values():
        assert all(constraint.name for constraint in table.constraints)
        assert all(index.name for index in table.indexes)


def test_many_threads_save_without_loss(tmp_path: Path) -> None:
    """Eight threads save eight jobs; each finds its own, and nobody is told it is locked."""
    store = open_store(tmp_path)
    failures: list[Exception] = []

    def save(k: int) -> None:
        changes = {"id": f"{k:08d}{JOB_ID[8:]}", "name": f"job {k}"}
        try:
            for client in ("one", "two", "three"):
                store.save(document(**changes, client=client), f"person {k}", NOON)
        except Exception as error:  # noqa: BLE001 told to the main thread
            failures.append(error)

    threads = [threading.Thread(target=save, args=(k,)) for k in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    assert {store.load(name).client for name in store.names()} == {"three"}
    assert {store.revision(name) for name in store.names()} == {3}


def test_two_processes_write_one_after_the_other(tmp_path: Path) -> None:
    """Two programs that write the same job at once lose no revision."""
    open_store(tmp_path).save(document(), "Ann", NOON)
    context = multiprocessing.get_context("spawn")
    both = [context.Process(target=save_ten_states, args=(tmp_path, who)) for who in ("A", "B")]
    for process in both:
        process.start()
    for process in both:
        process.join()
    assert [process.exitcode for process in both] == [0, 0]
    store = open_store(tmp_path)
    assert store.revision("small house") == 21
    made = [(one.number, one.made_by) for one in store.history("small house") if one.number > 1]
    assert [number for number, _ in made] == list(range(2, 22))
    assert [sum(who == by for _, by in made) for who in ("A", "B")] == [10, 10]


def picture(color: str = "brown") -> bytes:
    """Return a photo."""
    file = io.BytesIO()
    Image.new("RGB", (4, 4), color).save(file, "JPEG")
    return file.getvalue()


def test_a_photo_is_kept_beside_the_database(store: Store) -> None:
    """Kept under its name; another photo of the same name gets one of its own."""
    store.save(document(), "Ann", NOON)
    assert store.put_photo("small house", "wall 1.jpg", picture()) == "wall 1.jpg"
    assert store.put_photo("small house", "wall 1.jpg", picture()) == "wall 1.jpg"
    other = store.put_photo("small house", "wall 1.jpg", picture("blue"))
    assert other != "wall 1.jpg"
    for name in ("wall 1.jpg", other):
        path = store.photo_path("small house", name)
        assert path.is_file()
        assert path.parent == store.folder / "photos" / JOB_ID


@pytest.mark.parametrize("name", ["../../evil.jpg", "/etc/evil.jpg", "..\\evil.jpg", "a/b.jpg"])
def test_a_photo_never_leaves_its_folder(store: Store, name: str) -> None:
    """Whatever name a browser sends."""
    store.save(document(), "Ann", NOON)
    kept = store.put_photo("small house", name, picture())
    assert store.photo_path("small house", kept).parent == store.folder / "photos" / JOB_ID


def test_what_is_no_photo_is_not_kept(store: Store) -> None:
    """Refused by name, and nothing is written."""
    store.save(document(), "Ann", NOON)
    with pytest.raises(DocumentError, match=r"^virus\.jpg is not a picture"):
        store.put_photo("small house", "virus.jpg", b"MZ")
    assert not (store.folder / "photos").exists()


def test_a_job_moves_to_another_database(store: Store, tmp_path: Path) -> None:
    """Exported with its photo and imported elsewhere, it is the same job; twice is once."""
    store.save(document(), "Ann", NOON)
    store.put_photo("small house", "wall 1.jpg", picture())
    size = store.export_bundle("small house", tmp_path / "job.zip")
    assert size == (tmp_path / "job.zip").stat().st_size
    other = open_store(tmp_path / "other")
    for _ in range(2):
        other.import_bundle(tmp_path / "job.zip", "Bob", NOON)
    assert other.load("small house") == store.load("small house")
    assert other.revision("small house") == 1
    paths = [one.photo_path("small house", "wall 1.jpg") for one in (store, other)]
    assert paths[0].read_bytes() == paths[1].read_bytes()


def test_a_job_file_alone_can_be_brought_in(store: Store) -> None:
    """Without a zip around it there are no photos, and that is fine."""
    text = json.dumps(small_job()).encode()
    assert store.import_file("job.json", text, "Ann", NOON) == document()
    assert store.names() == ("small house",)


def test_a_file_that_is_not_there_is_told(store: Store, tmp_path: Path) -> None:
    """By its path."""
    with pytest.raises(StoreError, match=r"gone\.zip cannot be read: No such file"):
        store.import_bundle(tmp_path / "gone.zip", "Ann", NOON)


@given(st.binary(max_size=200))
def test_rubbish_is_never_brought_in(content: bytes) -> None:
    """Nothing that is not a job becomes one, as bundle or as job file."""
    from rooftree.records.bundle import read_bundle

    for read in (read_bundle, read_document):
        with pytest.raises(DocumentError):
            read(content)
