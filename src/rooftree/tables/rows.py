"""Read a table that is shipped beside the code that uses it."""

from __future__ import annotations

import csv
from importlib.resources import files
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


def table_rows(package: str, name: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of a shipped CSV, each as a mapping from column to text.

    Parameters
    ----------
    package : str
        Package that holds the file, such as ``"rooftree.survey"``.
    name : str
        File name, such as ``"gates.csv"``. Its first line names the columns.

    Returns
    -------
    tuple of mapping
        In the order of the file; cells keep their text, without outer spaces.
    """
    text = files(package).joinpath(name).read_text(encoding="utf-8")
    return tuple(
        MappingProxyType({column: cell.strip() for column, cell in row.items()})
        for row in csv.DictReader(text.splitlines(), strict=True)
    )
