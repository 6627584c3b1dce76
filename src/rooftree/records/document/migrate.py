"""Versions of the job file: older ones are brought up, newer ones are refused."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeAlias

from rooftree.errors import DocumentError
from rooftree.records.document.job import FORMAT, VERSION

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

Migration: TypeAlias = "Callable[[dict[str, Any]], dict[str, Any]]"

MIGRATIONS: Mapping[int, Migration] = {}
"""For each older version, what makes the next one of it. There is no older one yet."""


def migrate(
    raw: dict[str, Any],
    migrations: Mapping[int, Migration] = MIGRATIONS,
    version: int = VERSION,
) -> dict[str, Any]:
    """Return a job file in the version of this program.

    Parameters
    ----------
    raw : dict
        Job file of any version, as plain lists and mappings; it is not changed.
    migrations : mapping from int to callable
        What makes version n + 1 of version n.
    version : int
        Version wanted.

    Returns
    -------
    dict
        With ``"version"`` set.

    Raises
    ------
    DocumentError
        If it is no job file, of a newer version, or of one that cannot be brought up.
    """
    if raw.get("format") != FORMAT:
        raise _refused("format", f'is {raw.get("format")!r}, not "{FORMAT}"', "open a job file")
    found = raw.get("version")
    if isinstance(found, bool) or not isinstance(found, int) or found < 1:
        raise _refused("version", f"is {found!r}", f"write the version, such as {version}")
    if found > version:
        raise _refused(
            "version",
            f"is {found}; this program knows job files up to version {version}",
            "update the program, or export the job as an older version",
        )
    for step in range(found, version):
        if step not in migrations:
            says = f"is {found}; version {step} can no longer be brought up"
            raise _refused("version", says, "open it with an older program and export it again")
        raw = migrations[step](dict(raw)) | {"version": step + 1}
    return raw


def _refused(path: str, says: str, remedy: str) -> DocumentError:
    return DocumentError(f"{path} {says}; {remedy}", ((path, f"{says}; {remedy}"),))
