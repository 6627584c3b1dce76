"""Jobs and revisions of their records."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the first tables."""
    op.create_table(
        "job",
        sa.Column("id", sa.String(36), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_job"),
        sa.UniqueConstraint("name", name="uq_job_name"),
    )
    op.create_table(
        "revision",
        sa.Column("job_id", sa.String(36), nullable=False),
        sa.Column("record_id", sa.String(36), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(60), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("removed", sa.Boolean(), nullable=False),
        sa.Column("made_at", sa.String(32), nullable=False),
        sa.Column("made_by", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("record_id", "number", name="pk_revision"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_revision_job"),
    )
    op.create_index("ix_revision_job", "revision", ["job_id", "number"])
