"""Check that a database is carried to a new shape with everything that is in it."""

from __future__ import annotations

import json
import sqlite3
import textwrap
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory

from rooftree.errors import StoreError
from rooftree.records import open_store
from rooftree.records.document import read_document
from rooftree.records.tables import METADATA
from rooftree.records.upgrade import NEWEST, STEPS, upgrade
from strategies import small_job

if TYPE_CHECKING:
    from pathlib import Path

    from rooftree.records import Store

NOON = datetime(2026, 1, 21, 12, 0, tzinfo=UTC)

REBUILD = """
    revision = "t002"
    down_revision = "0001"

    import sqlalchemy as sa
    from alembic import op


    def upgrade():
        op.create_table(
            "note",
            sa.Column("job_id", sa.String(36), nullable=False),
            sa.Column("words", sa.Text, nullable=False),
            sa.ForeignKeyConstraint(
                ["job_id"], ["job.id"], name="fk_note_job", ondelete="CASCADE"
            ),
        )
        op.execute("INSERT INTO note SELECT id, 'kept' FROM job")
        with op.batch_alter_table("job", recreate="always") as batch:
            batch.add_column(sa.Column("colour", sa.String(20), nullable=True))
"""
LOSE = """
    revision = "t002"
    down_revision = "0001"

    from alembic import op


    def upgrade():
        op.execute("DELETE FROM job")
"""
FAIL = """
    revision = "t002"
    down_revision = "0001"

    from alembic import op


    def upgrade():
        op.execute("ALTER TABLE job ADD COLUMN half TEXT")
        op.execute("INSERT INTO nowhere VALUES (1)")
"""


@pytest.fixture
def filled(tmp_path: Path) -> Store:
    """Return a database with a job in it."""
    store = open_store(tmp_path / "data")
    store.save(read_document(json.dumps(small_job())), "Ann", NOON)
    return store


def step(tmp_path: Path, text: str) -> Path:
    """Return a folder with one further step."""
    folder = tmp_path / "steps"
    folder.mkdir()
    (folder / "t002_step.py").write_text(textwrap.dedent(text), encoding="utf-8")
    return folder


def content(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Return every row of every table."""
    connection = sqlite3.connect(path)
    try:
        names = [row[0] for row in connection.execute("SELECT name FROM sqlite_master")]
        tables = [name for name in names if not name.startswith(("sqlite_", "ix_"))]
        return {name: connection.execute(f"SELECT * FROM {name}").fetchall() for name in tables}  # noqa: S608
    finally:
        connection.close()


def test_a_filled_database_is_carried_across(filled: Store, tmp_path: Path) -> None:
    """Rebuilding the table of jobs takes no revision along, not even a row that cascades."""
    before = filled.load("small house")
    history = filled.history("small house")
    folder = step(tmp_path, REBUILD)
    upgrade(filled.engine, filled.path, newest="t002", versions=(folder,))
    assert filled.load("small house") == before
    assert filled.history("small house") == history
    assert content(filled.path)["note"] == [(before.id, "kept")]
    with filled.engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1


def test_the_database_is_copied_first(filled: Store, tmp_path: Path) -> None:
    """The copy holds what was there before the step, and is a database of its own."""
    before = content(filled.path)
    folder = step(tmp_path, REBUILD)
    upgrade(filled.engine, filled.path, newest="t002", versions=(folder,))
    copy = filled.folder / "rooftree-before-step-after-0001.db"
    assert content(copy) == before


@pytest.mark.parametrize("text", [LOSE, FAIL])
def test_a_step_that_fails_changes_nothing(filled: Store, tmp_path: Path, text: str) -> None:
    """A step that breaks off, or would leave rows without their job, is undone whole."""
    before = content(filled.path)
    folder = step(tmp_path, text)
    with pytest.raises((StoreError, sa.exc.OperationalError)):
        upgrade(filled.engine, filled.path, newest="t002", versions=(folder,))
    assert content(filled.path) == before
    assert open_store(filled.folder).names() == ("small house",)


def test_a_database_of_a_newer_program_is_refused(filled: Store) -> None:
    """The message says to update, and nothing is touched."""
    connection = sqlite3.connect(filled.path)
    connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.commit()
    connection.close()
    before = content(filled.path)
    with pytest.raises(StoreError, match=r"was written by a newer Rooftree \(its step is 9999\)"):
        open_store(filled.folder)
    assert content(filled.path) == before


def test_the_steps_make_the_tables_that_the_program_uses(filled: Store) -> None:
    """After all steps nothing is missing and nothing is left over."""
    with filled.engine.connect() as connection:
        context = MigrationContext.configure(connection)
        assert compare_metadata(context, METADATA) == []


def test_the_newest_step_is_the_head_of_the_folder() -> None:
    """The program reads it from a constant, which is quicker than reading the folder."""
    config = Config()
    config.set_main_option("script_location", str(STEPS))
    config.set_main_option("path_separator", "newline")
    assert ScriptDirectory.from_config(config).get_current_head() == NEWEST
