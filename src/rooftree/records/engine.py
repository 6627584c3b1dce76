"""The connection to the database file, and its errors in words."""

from __future__ import annotations

import contextlib
import sqlite3
from typing import TYPE_CHECKING

import sqlalchemy as sa
from sqlalchemy.exc import DatabaseError, IntegrityError
from sqlalchemy.pool import NullPool

from rooftree.errors import StoreError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

BUSY = 5.0
"""How long a write waits for another program [s]."""

FOR_WRITING = "BEGIN IMMEDIATE"
"""Execution option `begin` of every write: a plain BEGIN that writes later can fail half-way
when two programs write."""


def connect(path: Path, *, busy: float = BUSY) -> sa.Engine:
    """Return an engine for a database file.

    Parameters
    ----------
    path : Path
        Of the file.
    busy : float
        How long a write waits for another program [s].

    Returns
    -------
    sqlalchemy.Engine
        Each use opens the file and closes it again, so that between two uses the folder
        holds one plain file that can be copied.
    """
    engine = sa.create_engine(
        sa.URL.create("sqlite", database=str(path)),
        connect_args={"timeout": busy},
        poolclass=NullPool,
    )

    @sa.event.listens_for(engine, "connect")
    def _connect(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None  # transactions are begun below, never by the driver
        # FULL: a reading that was just typed is on the disk before the page says so.
        for pragma in ("journal_mode=WAL", "foreign_keys=ON", "synchronous=FULL"):
            connection.execute(f"PRAGMA {pragma}").close()

    @sa.event.listens_for(engine, "begin")
    def _begin(connection: sa.Connection) -> None:
        if begin := connection.get_execution_options().get("begin", "BEGIN"):
            connection.exec_driver_sql(begin)

    return engine


@contextlib.contextmanager
def plainly(path: Path) -> Iterator[None]:
    """Turn the database's errors into sentences that say what to do.

    Parameters
    ----------
    path : Path
        Of the database file.

    Yields
    ------
    None

    Raises
    ------
    StoreError
        In place of any error of the database.
    """
    try:
        yield
    except IntegrityError:
        raise
    except DatabaseError as error:
        raise StoreError(_says(path, str(error.orig))) from error
    except sqlite3.DatabaseError as error:
        raise StoreError(_says(path, str(error))) from error


def _says(path: Path, cause: str) -> str:
    if "locked" in cause or "busy" in cause:
        return (
            f"{path} is being written by another program; nothing was changed. Wait until it is "
            "done, or close it, then try again"
        )
    if "full" in cause:
        return (
            f"{path} could not be saved: the disk is full; nothing was changed. Free some space "
            "and save again"
        )
    if "not a database" in cause or "malformed" in cause:
        return (
            f"{path} is not a Rooftree database, or is damaged. Move it away and bring back a "
            "copy, or choose another folder"
        )
    if "unable to open" in cause or "readonly" in cause:
        return f"{path} cannot be opened for writing; check the permissions of its folder"
    return f"{path}: {cause}"
