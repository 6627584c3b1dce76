"""Check files of columns: they hold what was given, whole, or are refused with a reason."""

from __future__ import annotations

import builtins
import csv
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from rooftree.errors import StoreError
from rooftree.records.columns_file import ROWS_AT_ONCE, require_columns_place, write_columns

if TYPE_CHECKING:
    from pathlib import Path

ROWS = 2 * ROWS_AT_ONCE + 5
COLUMNS = {
    "hour_begins": np.datetime64("2003-01-01T00:00:00", "s") + np.arange(ROWS) * 3600,
    "house.power_W": np.linspace(-1.0, 1e6, ROWS),
    "house.supply_air_degC": np.where(np.arange(ROWS) % 2, np.nan, 20.5),
}


def read_rows(path: Path) -> list[list[str]]:
    """Return the rows of a CSV file as text."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def test_csv_holds_every_row(tmp_path: Path) -> None:
    """Heads, then a row for each hour; numbers to seven digits, what is no number empty."""
    path = tmp_path / "hours.csv"
    write_columns(path, COLUMNS, notes={})
    heads, *rows = read_rows(path)
    assert heads == list(COLUMNS)
    assert len(rows) == ROWS
    assert rows[0] == ["2003-01-01T00:00:00", "-1", "20.5"]
    assert rows[1][2] == ""
    read = np.array([float(row[1]) for row in rows])
    np.testing.assert_allclose(read, COLUMNS["house.power_W"], rtol=1e-6)


def test_progress_ends_with_all_rows(tmp_path: Path) -> None:
    """What is told grows and ends with the number of rows."""
    said: list[tuple[int, int]] = []
    write_columns(
        tmp_path / "hours.csv", COLUMNS, notes={}, progress=lambda done, of: said.append((done, of))
    )
    assert said == sorted(said)
    assert said[-1] == (ROWS, ROWS)


def test_parquet_holds_every_column_and_its_notes(tmp_path: Path) -> None:
    """Times stay times, what is no number is null, and the file says where it is from."""
    parquet = pytest.importorskip("pyarrow.parquet")
    path = tmp_path / "hours.parquet"
    write_columns(path, COLUMNS, notes={"job": "ranch"})
    table = parquet.read_table(path)
    assert table.column_names == list(COLUMNS)
    np.testing.assert_array_equal(
        table["house.power_W"].to_numpy(), COLUMNS["house.power_W"], strict=True
    )
    assert table["house.supply_air_degC"].null_count == ROWS // 2
    assert str(table["hour_begins"][1].as_py()) == "2003-01-01 01:00:00"
    assert table.schema.metadata[b"job"] == b"ranch"


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    """The message names a file that would do."""
    with pytest.raises(StoreError, match=r"is a folder; name a file in it, such as .*hours\.csv$"):
        require_columns_place(tmp_path)


@pytest.mark.parametrize("name", ["hours", "hours.xlsx", "hours.csv.gz"])
def test_other_endings_are_refused(tmp_path: Path, name: str) -> None:
    """Only what can be written is promised."""
    with pytest.raises(StoreError, match=r"ends in neither \.csv nor \.parquet; end it in one"):
        require_columns_place(tmp_path / name)


def test_without_the_library_the_remedy_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who has no pyarrow learns how to get it, and that CSV needs none."""
    real = builtins.__import__

    def missing(name: str, *rest: Any, **more: Any) -> Any:
        if name.startswith("pyarrow"):
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", missing)
    require_columns_place(tmp_path / "hours.csv")
    with pytest.raises(StoreError, match=r'install "rooftree\[parquet\]"`, or end the name in'):
        require_columns_place(tmp_path / "hours.parquet")


def test_nothing_half_written_stays(tmp_path: Path) -> None:
    """Columns of unequal length fail, and the file that was there is untouched."""
    path = tmp_path / "hours.csv"
    path.write_text("before", encoding="utf-8")
    with pytest.raises(ValueError, match="zip"):
        write_columns(path, {"a": np.zeros(3), "b": np.zeros(2)}, notes={})
    assert path.read_text(encoding="utf-8") == "before"
    assert [one.name for one in tmp_path.iterdir()] == ["hours.csv"]
