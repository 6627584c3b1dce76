"""Published tables, each a CSV file beside this module that says where every row comes from.

A table starts with comment lines (``#``) that say what it holds. Every row names its
`source` and how it was `read`: ``source`` (seen in the document), ``quoted`` (seen in a
document that quotes it) or ``recalled`` (to be verified before it may decide anything).
"""

from __future__ import annotations

import csv
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

WAYS_OF_READING = ("source", "quoted", "recalled")
"""What the column `read` may say."""


@cache
def load_table(name: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of one published table, as text.

    Parameters
    ----------
    name : str
        Name of the CSV file, without its ending.

    Returns
    -------
    tuple of mapping
        One read-only mapping from column to text for each row, in the order of the file.

    Raises
    ------
    LookupError
        If there is no such table.
    ValueError
        If a row does not say where it comes from and how it was read.
    """
    file = resources.files(__name__) / f"{name}.csv"
    if not file.is_file():
        raise LookupError(f"there is no published table named {name!r}")
    lines = file.read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if line and not line.startswith("#")))
    for number, row in enumerate(rows, start=1):
        if None in row or None in row.values():
            raise ValueError(f"{name}.csv, row {number}: not as many fields as columns")
        if not row.get("source") or row.get("read") not in WAYS_OF_READING:
            raise ValueError(f"{name}.csv, row {number}: says no source, or not how it was read")
    return tuple(MappingProxyType(row) for row in rows)
