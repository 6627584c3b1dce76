"""Check the words for how sure a doubt is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.physics.sureness import probability_from_odds, probability_within, sureness


@pytest.mark.parametrize(
    ("probability", "words"),
    [(1, "almost certain"), (0.95, "almost certain"), (0.949, "likely"), (0.7, "likely"),
     (0.69, "possible"), (0, "possible")],
)  # fmt: skip
def test_words(probability: float, words: str) -> None:
    """The words change exactly at 0.95 and 0.70."""
    assert sureness(probability) == words


@given(st.floats(-600.0, 600.0))
def test_both_explanations_share_the_whole(log_ratio: float) -> None:
    """What one explanation gains the other loses."""
    both = probability_from_odds(log_ratio) + probability_from_odds(-log_ratio)
    assert both == pytest.approx(1.0)


@given(st.floats(0.0, 8.0), st.floats(0.0, 2.0))
def test_farther_is_surer(distance: float, more: float) -> None:
    """A reading farther off is never less sure, on either side."""
    assert probability_within(distance + more) >= probability_within(distance)
    assert probability_within(-distance) == probability_within(distance)
