"""Run the steps on the connection that the store hands over."""

from alembic import context

from rooftree.records.tables import METADATA


def run() -> None:
    """Run every step that the database has not seen; the store holds the transaction."""
    context.configure(
        connection=context.config.attributes["connection"],
        target_metadata=METADATA,
        render_as_batch=True,
    )
    with context.begin_transaction():
        context.run_migrations()


if hasattr(context, "config"):  # only while the migration library runs this file
    run()
