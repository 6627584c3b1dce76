"""Check that a sentence is told in the units of its reader."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.units import DisplaySystem, Kind, both, both_range, in_either, show, told


@pytest.mark.parametrize("system", list(DisplaySystem))
@given(flow=st.floats(0.001, 5.0), pressure=st.floats(-80.0, 80.0))
def test_each_reader_gets_his_own_units(
    system: DisplaySystem, flow: float, pressure: float
) -> None:
    """Several quantities in one sentence are each told as `show` shows them."""
    sentence = f"It moves {both(flow, Kind.FLOW)} at {both(pressure, Kind.PRESSURE)}."
    shown = show(flow, Kind.FLOW, system), show(pressure, Kind.PRESSURE, system)
    assert told(sentence, system) == f"It moves {shown[0]} at {shown[1]}."


def test_a_sentence_for_nobody_in_particular_has_both() -> None:
    """Files for programs keep both systems, and no marks."""
    assert told(both(0.0302, Kind.FLOW), None) == "64 cfm (30.2 L/s)"
    assert told(both_range(0.02, 0.03, Kind.FLOW), None) == "42 to 64 cfm (20 to 30 L/s)"


def test_what_both_systems_show_alike_is_told_once() -> None:
    """A pressure of a house test is in pascals everywhere."""
    assert both(-5.0, Kind.PRESSURE) == show(-5.0, Kind.PRESSURE, DisplaySystem.SI)


@given(text=st.text())
def test_any_other_text_is_left_alone(text: str) -> None:
    """Brackets of other sentences are not taken for units."""
    if "\N{INVISIBLE SEPARATOR}" not in text:
        assert told(text, DisplaySystem.IP) == text


def test_a_unit_that_ends_with_a_point_ends_the_sentence() -> None:
    """No sentence ends with two points."""
    sentence = f"The fan works against {both(125.0, Kind.STATIC_PRESSURE)}."
    assert told(sentence, DisplaySystem.IP) == "The fan works against 0.5 in. w.c."


def test_words_of_no_kind_are_told_in_one_system_too() -> None:
    """A ratio that no kind measures has words for each reader."""
    sentence = f"It moves {in_either('400 cfm for each ton', '54 L/s for each kW')}."
    assert told(sentence, DisplaySystem.IP) == "It moves 400 cfm for each ton."
    assert told(sentence, DisplaySystem.SI) == "It moves 54 L/s for each kW."
