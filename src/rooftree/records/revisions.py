"""Read and add the revisions of a job's records, within a transaction of the store."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import sqlalchemy as sa
from sqlalchemy.exc import IntegrityError

from rooftree.errors import StoreError
from rooftree.records.split import Record
from rooftree.records.tables import JOB, REVISION

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class KeptJob:
    """One job of the database: its name, how often it was saved and when last."""

    name: str
    revision: int
    updated: datetime


@dataclass(frozen=True, slots=True)
class Change:
    """One line of a job's trail.

    Attributes
    ----------
    number : int
        Revision of the job.
    kind, name : str
        What was changed.
    removed : bool
        Whether it was taken out.
    made_at, made_by : datetime, str
        When and by whom.
    """

    number: int
    kind: str
    name: str
    removed: bool
    made_at: datetime
    made_by: str


def job_id(connection: sa.Connection, name: str, path: Path) -> str:
    """Return the id of the job of this name; StoreError with the names there are if none has it."""
    found = connection.execute(sa.select(JOB.c.id).where(JOB.c.name == name)).scalar()
    if found is None:
        known = [row.name for row in connection.execute(sa.select(JOB.c.name))]
        there = ", ".join(known) or "none yet"
        message = f'there is no job "{name}" in {path}; jobs there: {there}'
        raise StoreError(message)
    return str(found)


def newest_revision(connection: sa.Connection, job: str) -> int:
    """Return how often a job was saved; 0 for one that was not."""
    query = sa.select(sa.func.max(REVISION.c.number)).where(REVISION.c.job_id == job)
    return connection.execute(query).scalar() or 0


def name_job(connection: sa.Connection, job: str, name: str) -> None:
    """Make the job's row, or give it its new name."""
    try:
        there = connection.execute(sa.select(JOB.c.name).where(JOB.c.id == job)).scalar()
        if there is None:
            connection.execute(sa.insert(JOB).values(id=job, name=name))
        elif there != name:
            connection.execute(sa.update(JOB).where(JOB.c.id == job).values(name=name))
    except IntegrityError as error:
        message = (
            f'another job is called "{name}" already; nothing was changed. Give this one '
            "another name"
        )
        raise StoreError(message) from error


def records_of(
    connection: sa.Connection, job: str, revision: int | None = None
) -> dict[str, Record]:
    """Return the records of a job as they stood at a revision, or stand now."""
    until = sa.true() if revision is None else REVISION.c.number <= revision
    newest = (
        sa.select(REVISION.c.record_id, sa.func.max(REVISION.c.number).label("number"))
        .where(REVISION.c.job_id == job, until)
        .group_by(REVISION.c.record_id)
        .subquery()
    )
    query = sa.select(REVISION).join(
        newest,
        (REVISION.c.record_id == newest.c.record_id) & (REVISION.c.number == newest.c.number),
    )
    return {
        row.record_id: Record(row.record_id, row.kind, row.name, json.loads(row.body))
        for row in connection.execute(query)
        if not row.removed
    }


def summaries_of(connection: sa.Connection) -> tuple[KeptJob, ...]:
    """Return every job, last saved first."""
    query = (
        sa.select(JOB.c.name, sa.func.max(REVISION.c.number), sa.func.max(REVISION.c.made_at))
        .join_from(JOB, REVISION)
        .group_by(JOB.c.id)
        .order_by(sa.func.max(REVISION.c.made_at).desc())
    )
    return tuple(KeptJob(*row) for row in connection.execute(query))


def changes_of(connection: sa.Connection, job: str) -> tuple[Change, ...]:
    """Return who changed what and when, oldest first."""
    columns = ("number", "kind", "name", "removed", "made_at", "made_by")
    query = (
        sa.select(*(REVISION.c[column] for column in columns))
        .where(REVISION.c.job_id == job)
        .order_by(REVISION.c.number, REVISION.c.kind, REVISION.c.name)
    )
    return tuple(Change(*row) for row in connection.execute(query))


def rows_between(old: dict[str, Record], new: dict[str, Record]) -> list[dict[str, Any]]:
    """Return the revisions that lead from old records to new ones."""
    changed = [record for key, record in new.items() if old.get(key) != record]
    gone = [record for key, record in old.items() if key not in new]
    return [_row(r, removed=False) for r in changed] + [_row(r, removed=True) for r in gone]


def _row(record: Record, *, removed: bool) -> dict[str, Any]:
    return {
        "record_id": record.id,
        "kind": record.kind,
        "name": record.name,
        "body": json.dumps(record.body, ensure_ascii=False),
        "removed": removed,
    }
