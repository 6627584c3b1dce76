"""Check what every kind of test is told in."""

from __future__ import annotations

from rooftree.papers.report.annex import rows_of
from rooftree.papers.results import Line
from rooftree.papers.results.words import Table


def test_a_column_in_which_nothing_stands_is_left_out() -> None:
    """The first column names the rows and stays; others stay where one cell is filled."""
    table = Table(
        "Places", ("Place", "Cost", "Worth"), (("", "$40", ""), ("door", "", ""), ("sill", "", ""))
    )
    assert table.filled == Table(
        "Places", ("Place", "Cost"), (("", "$40"), ("door", ""), ("sill", ""))
    )


def test_an_empty_list_keeps_its_first_head() -> None:
    """A list without rows says what it would list."""
    assert Table("Places", ("Place", "Cost"), ()).filled.columns == ("Place",)


def test_limits_that_say_nothing_new_are_not_repeated() -> None:
    """A value stands alone where its limits are the same words."""
    rows = rows_of((Line("Flow", "0 cfm", "0 cfm"), Line("Leaks", "9 cfm", "8 to 10 cfm")))
    assert [row["value"] for row in rows] == ["0 cfm", "9 cfm (8 to 10 cfm)"]
