"""Check that published tables load, and that each row says where it comes from."""

from __future__ import annotations

from importlib import resources

import pytest

import rooftree.tables
from rooftree.tables import WAYS_OF_READING, load_table

NAMES = sorted(
    file.name.removesuffix(".csv")
    for file in resources.files(rooftree.tables).iterdir()
    if file.name.endswith(".csv")
)


@pytest.mark.parametrize("name", NAMES)
def test_every_row_has_a_source(name: str) -> None:
    """Each table has rows, and each row its source and how it was read."""
    rows = load_table(name)
    assert rows
    assert all(row["source"] and row["read"] in WAYS_OF_READING for row in rows)


@pytest.mark.parametrize("name", NAMES)
def test_every_table_says_what_it_holds(name: str) -> None:
    """The first line of each file is a comment."""
    text = (resources.files(rooftree.tables) / f"{name}.csv").read_text(encoding="utf-8")
    assert text.startswith("# ")


def test_rows_cannot_be_changed() -> None:
    """A table is shared, so nobody may write to it."""
    row = load_table("air_leakage_limits")[0]
    with pytest.raises(TypeError):
        row["limit"] = "99"  # type: ignore[index]


def test_missing_table_is_named() -> None:
    """A table that is not there is refused by name."""
    with pytest.raises(LookupError, match=r"^there is no published table named 'nothing'$"):
        load_table("nothing")
