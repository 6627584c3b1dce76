"""Write columns of equal length to a file that other programs read: CSV or Parquet."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING, Any

import numpy as np

from rooftree.errors import StoreError
from rooftree.records.files import whole_file

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path
    from typing import IO

    from numpy.typing import NDArray

    Columns = Mapping[str, NDArray[Any]]

SUFFIXES = (".csv", ".parquet")
"""Endings of the files that can be written."""

ROWS_AT_ONCE = 730
"""Rows between two reports of how far the writing is."""


def require_columns_place(path: Path) -> None:
    """Refuse a place where no columns can be written, before the work for them is done.

    Parameters
    ----------
    path : Path
        Where they are to go.

    Raises
    ------
    StoreError
        If it is a folder, ends in something else, or needs a library that is not there.
    """
    if path.is_dir():
        raise StoreError(f"{path} is a folder; name a file in it, such as {path / 'hours.csv'}")
    if path.suffix.lower() not in SUFFIXES:
        raise StoreError(f"{path} ends in neither .csv nor .parquet; end it in one of them")
    if path.suffix.lower() == ".parquet":
        _parquet()


def write_columns(
    path: Path,
    columns: Columns,
    *,
    notes: Mapping[str, str],
    progress: Callable[[int, int], None] | None = None,
) -> None:
    """Write columns to a file, whole or not at all.

    Parameters
    ----------
    path : Path
        Where; its ending says which kind of file.
    columns : mapping from str to ndarray, shape (rows,)
        By name, in order.
    notes : mapping from str to str
        What a Parquet file says of itself besides; CSV has no place for them.
    progress : callable or None
        Told how many of the rows are written, and of how many.

    Raises
    ------
    StoreError
        As `require_columns_place`, or if the file cannot be written.
    """
    require_columns_place(path)
    with whole_file(path) as file:
        if path.suffix.lower() == ".parquet":
            _write_parquet(file, columns, notes)
        else:
            _write_csv(file, columns, progress)


def _write_csv(
    file: IO[bytes], columns: Columns, progress: Callable[[int, int], None] | None
) -> None:
    rows = len(next(iter(columns.values())))
    text = io.TextIOWrapper(file, encoding="utf-8", newline="", write_through=True)
    writer = csv.writer(text)
    writer.writerow(columns)
    for start in range(0, rows, ROWS_AT_ONCE):
        part = [list(_words(column[start : start + ROWS_AT_ONCE])) for column in columns.values()]
        writer.writerows(zip(*part, strict=True))
        if progress is not None:
            progress(min(start + ROWS_AT_ONCE, rows), rows)
    text.detach()


def _words(values: NDArray[Any]) -> Iterator[str]:
    """Yield values as CSV has them: numbers with seven digits, what is no number empty."""
    if values.dtype.kind == "f":
        return ("" if value != value else f"{value:.7g}" for value in values.tolist())
    return (str(value) for value in values)


def _write_parquet(file: IO[bytes], columns: Columns, notes: Mapping[str, str]) -> None:
    arrow, parquet = _parquet()
    arrays = {
        name: arrow.array(column, mask=np.isnan(column) if column.dtype.kind == "f" else None)
        for name, column in columns.items()
    }
    parquet.write_table(
        arrow.table(arrays).replace_schema_metadata(dict(notes)), file, compression="zstd"
    )


def _parquet() -> tuple[Any, Any]:
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError as error:
        raise StoreError(
            "a .parquet file needs the library pyarrow, which is not installed; install it with "
            '`pip install "rooftree[parquet]"`, or end the name in .csv'
        ) from error
    return pyarrow, pyarrow.parquet
