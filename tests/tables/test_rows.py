"""Check the reader of shipped tables."""

from __future__ import annotations

import pytest

from rooftree.tables.rows import table_rows


def test_rows_carry_their_columns() -> None:
    """Each row is a mapping from the column names of the first line."""
    rows = table_rows("rooftree.survey", "kinds.csv")
    assert rows[0]["kind"] == "air-sealing"
    assert set(rows[0]) == {"kind", "title", "groups", "retests"}


def test_rows_cannot_be_changed() -> None:
    """A shared table is read only."""
    with pytest.raises(TypeError):
        table_rows("rooftree.survey", "kinds.csv")[0]["kind"] = "x"  # type: ignore[index]
