"""Check amounts, ranges, dates and sentences as a homeowner reads them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from papers.subjects import make_effect
from rooftree.papers.report.words import (
    capitalised,
    day_words,
    dollars,
    first_sentence,
    likely_saving_words,
    money_range,
    saving_words,
)


@pytest.mark.parametrize(
    ("amount", "words"),
    [(0.0, "$0"), (4.9, "$0"), (1234.0, "$1,230"), (2000.0, "$2,000"), (12_345.0, "$12,300"),
     (-40.0, "−$40"), (1999, "$2,000")],
)  # fmt: skip
def test_dollars_are_rounded_as_estimates(amount: float, words: str) -> None:
    """Tens below two thousand, hundreds from there."""
    assert dollars(amount) == words


def test_a_range_that_rounds_to_one_amount_is_one_amount() -> None:
    """No range pretends to be wider than what is shown."""
    assert money_range(998.0, 1003.0) == "$1,000"
    assert money_range(800.0, 1200.0) == "$800 to $1,200"


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (90.0, 210.0, "saves $90 to $210"),
        (-40.0, -20.0, "costs $20 to $40"),
        (2.0, 60.0, "saves up to $60"),
        (-60.0, -2.0, "costs up to $60"),
        (-30.0, 50.0, "saves up to $50, or costs up to $30"),
        (-10.0, 14.0, "about even"),
        (0.0, 0.0, "about even"),
    ],
)
def test_savings_are_told_as_ranges(low: float, high: float, words: str) -> None:
    """The words say which way it goes, and by how much."""
    assert likely_saving_words(make_effect(low), make_effect(high)) == words


@given(st.floats(20.0, 1e4))
def test_a_saving_turned_round_is_a_cost(amount: float) -> None:
    """The same amount the other way has the same figures."""
    saved, paid = saving_words(make_effect(amount)), saving_words(make_effect(-amount))
    assert saved.removeprefix("saves ") == paid.removeprefix("costs ")


def test_days_are_written_out() -> None:
    """ISO dates become words; what is not a date stays as it is."""
    assert day_words("2026-01-05") == "5 January 2026"
    assert day_words("last spring") == "last spring"
    assert day_words("") == ""


def test_first_sentence_does_not_end_within_a_figure() -> None:
    """A point in a figure ends no sentence."""
    assert first_sentence("It is 2.5 Pa below. Then more.") == "It is 2.5 Pa below."
    assert first_sentence("Only one.") == "Only one."
    assert first_sentence("") == ""


def test_capital_at_the_start() -> None:
    """Only the first letter changes."""
    assert capitalised("recalled: BPI") == "Recalled: BPI"
    assert capitalised("") == ""
