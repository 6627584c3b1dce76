"""Bring a database to the shape that this program knows."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import sqlalchemy as sa

from rooftree.errors import StoreError

if TYPE_CHECKING:
    from alembic.config import Config

NEWEST = "0001"
"""The last step there is; a test holds it against the folder of steps."""

STEPS = Path(__file__).parent / "migrations"


def upgrade(
    engine: sa.Engine, path: Path, *, newest: str = NEWEST, versions: tuple[Path, ...] = ()
) -> None:
    """Run the steps that a database has not seen; copy it first if it holds anything.

    Parameters
    ----------
    engine : sqlalchemy.Engine
        To the database.
    path : Path
        Its file.
    newest : str
        The step to reach.
    versions : tuple of Path
        Folders with further steps.

    Raises
    ------
    StoreError
        If a newer program wrote it, or a step left rows without their job; the database
        is as it was then.
    """
    found = _step_of(engine)
    if found == newest:
        return
    config = _config(versions)
    if found is not None:
        _require_known(config, found, path)
        _copy(engine, path, found)
    _run(engine, path, config, newest)


def _step_of(engine: sa.Engine) -> str | None:
    """Return the last step that a database has seen, without the migration library."""
    with engine.connect() as connection:
        if not sa.inspect(connection).has_table("alembic_version"):
            return None
        found = connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar()
        return None if found is None else str(found)


def _config(versions: tuple[Path, ...]) -> Config:
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(STEPS).replace("%", "%%"))
    config.set_main_option("path_separator", "newline")
    folders = "\n".join(str(folder) for folder in (STEPS / "versions", *versions))
    config.set_main_option("version_locations", folders.replace("%", "%%"))
    return config


def _require_known(config: Config, found: str, path: Path) -> None:
    from alembic.script import ScriptDirectory

    script = ScriptDirectory.from_config(config)
    if found not in {step.revision for step in script.walk_revisions()}:
        message = (
            f"{path} was written by a newer Rooftree (its step is {found}); update the program, "
            "or use another folder. Nothing was changed"
        )
        raise StoreError(message)


def _run(engine: sa.Engine, path: Path, config: Config, newest: str) -> None:
    """Run all steps in one transaction.

    A step that rebuilds a table drops the old one, and with foreign keys enforced that
    would take the rows that refer to it along. So enforcement is off during the steps,
    and what it would have held is checked before the transaction ends.
    """
    from alembic import command

    with engine.execution_options(begin="").connect() as connection:
        connection.exec_driver_sql("PRAGMA foreign_keys=OFF")
        connection.exec_driver_sql("BEGIN IMMEDIATE")
        try:
            config.attributes["connection"] = connection
            command.upgrade(config, newest)
            dangling = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
            if dangling:
                message = f"{path}: a step left rows without their job; nothing was changed"
                raise StoreError(message)
            connection.exec_driver_sql("COMMIT")
        except BaseException:
            connection.exec_driver_sql("ROLLBACK")
            raise


def _copy(engine: sa.Engine, path: Path, found: str) -> None:
    """Keep the database as it was beside the new one."""
    copy = path.with_name(f"{path.stem}-before-step-after-{found}{path.suffix}")
    if copy.exists():
        return
    with engine.execution_options(begin="").connect() as connection:  # VACUUM needs none
        connection.exec_driver_sql("VACUUM INTO ?", (str(copy),))
