"""The table of the bench: limits are kept or not, and the page says the same."""

from __future__ import annotations

import pytest
from bench.figures import Figure, median_time, page, text_table

MOST = Figure("One year", 25.0, "ms", 30.0)
LEAST = Figure("Packages", 3880.0, "packages", 2000.0, at_least=True)
TOLD = Figure("Ratio", 591.4, "times")


@pytest.mark.parametrize(
    ("figure", "holds"),
    [
        (MOST, True),
        (Figure("One year", 30.0, "ms", 30.0), True),
        (Figure("One year", 30.1, "ms", 30.0), False),
        (LEAST, True),
        (Figure("Packages", 1999.0, "packages", 2000.0, at_least=True), False),
        (TOLD, True),
    ],
)
def test_a_limit_is_kept_or_not(figure: Figure, holds: bool) -> None:
    """At most and at least are each held to the right side; without a limit nothing fails."""
    assert figure.holds is holds


def test_the_table_says_what_fails() -> None:
    """A limit that is not kept stands out."""
    table = text_table([MOST, Figure("Help", 0.7, "s", 0.5)])
    assert table.splitlines()[-1].split() == ["Help", "0.7", "s", "at", "most", "0.5", "s", "NO"]


def test_the_page_holds_every_figure_and_note() -> None:
    """The written page has one row a figure and says what it was measured on."""
    text = page([MOST, LEAST, TOLD], ["How it was measured."], "2 cores")
    assert "measured on 2 cores." in text
    assert "| One year | 25 ms | at most 30 ms | yes |" in text
    assert "| Packages | 3,880 packages | at least 2,000 packages | yes |" in text
    assert "| Ratio | 591 times |  |  |" in text
    assert text.endswith("- How it was measured.\n")


def test_an_action_is_done_once_more_than_it_is_timed() -> None:
    """The first time, which warms up, is not counted."""
    done: list[int] = []
    assert median_time(lambda: done.append(1), 3) >= 0.0
    assert len(done) == 4
