"""Tables of the database: jobs, and every revision of every record, never deleted.

A record is one thing of a job that a person makes or changes: the head of the job, its
house, one test, one observation. A removal is a revision too.
"""

from __future__ import annotations

from datetime import UTC, datetime

import sqlalchemy as sa
from sqlalchemy.types import TypeDecorator


class UtcDateTime(TypeDecorator[datetime]):
    """A time with its zone; SQLite would return it without."""

    impl = sa.String(32)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, _dialect: sa.Dialect) -> str | None:
        """Return the time as text in UTC."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a time without its zone cannot be kept")
        return value.astimezone(UTC).isoformat()

    def process_result_value(self, value: str | None, _dialect: sa.Dialect) -> datetime | None:
        """Return the text as a time in UTC."""
        return None if value is None else datetime.fromisoformat(value)


METADATA = sa.MetaData()

JOB = sa.Table(
    "job",
    METADATA,
    sa.Column("id", sa.String(36), nullable=False),
    sa.Column("name", sa.String(200), nullable=False),
    sa.PrimaryKeyConstraint("id", name="pk_job"),
    sa.UniqueConstraint("name", name="uq_job_name"),
)

REVISION = sa.Table(
    "revision",
    METADATA,
    sa.Column("job_id", sa.String(36), nullable=False),
    sa.Column("record_id", sa.String(36), nullable=False),
    sa.Column("number", sa.Integer, nullable=False),
    sa.Column("kind", sa.String(60), nullable=False),
    sa.Column("name", sa.String(200), nullable=False),
    sa.Column("body", sa.Text, nullable=False),
    sa.Column("removed", sa.Boolean, nullable=False),
    sa.Column("made_at", UtcDateTime, nullable=False),
    sa.Column("made_by", sa.String(200), nullable=False),
    sa.PrimaryKeyConstraint("record_id", "number", name="pk_revision"),
    sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_revision_job"),
    sa.Index("ix_revision_job", "job_id", "number"),
)
