"""Check an air handler in words."""

from __future__ import annotations

from dataclasses import replace

from rooftree.papers.results.air_handler import WORDS, per_capacity, per_flow
from rooftree.readings.air_handler import (
    AirHandlerTest,
    RegisterFlow,
    RegisterSide,
    reduce_air_handler,
)
from rooftree.units import DisplaySystem

CFM, TON = 4.719474e-4, 3516.853

TEST = AirHandlerTest(
    entering_static=-70.0,
    leaving_static=55.0,
    registers=(
        RegisterFlow("hall", RegisterSide.SUPPLY, 0.4),
        RegisterFlow("hall", RegisterSide.RETURN, 0.39),
    ),
    slot_flow=0.45,
    rated_capacity=2.5 * TON,
    blower_power=400.0,
)


def test_results_have_a_line_each_and_methods_a_table() -> None:
    """What was reduced is told with limits; each method stands in the table."""
    result = reduce_air_handler(TEST)
    lines = {line.words: line for line in WORDS.results(result, DisplaySystem.IP)}
    assert lines["Total external static pressure"].value == "0.5 in. w.c."
    assert lines["Flow for each ton"].value.endswith(" cfm/ton")
    assert " to " in lines["Air flow"].limits
    assert "Temperature split" not in lines
    table = WORDS.tables(result, DisplaySystem.IP)[0]
    assert [row[0] for row in table.rows] == [
        "Registers",
        "Measuring plate",
    ]


def test_one_method_needs_no_table() -> None:
    """A flow by one method is told in its line alone."""
    result = reduce_air_handler(replace(TEST, slot_flow=None))
    assert WORDS.tables(result, DisplaySystem.SI) == ()


def test_readings_that_were_not_made_are_left_out() -> None:
    """Only what was read is listed."""
    words = [line.words for line in WORDS.readings(TEST, DisplaySystem.SI)]
    assert "Supply registers" in words
    assert "Supply air" not in words


def test_the_method_names_what_was_used() -> None:
    """The method is told by the readings that were reduced."""
    assert "measuring plate" in WORDS.method(TEST, reduce_air_handler(TEST))
    assert WORDS.method(TEST, None) == "Static pressures"


def test_ratios_of_the_trade() -> None:
    """400 cfm a ton and half a watt a cfm, in both systems."""
    assert per_capacity(400.0 * CFM / TON, DisplaySystem.IP) == "400 cfm/ton"
    assert per_capacity(400.0 * CFM / TON, DisplaySystem.SI) == "54 L/s for each kW"
    assert per_flow(0.5 / CFM, DisplaySystem.IP) == "0.50 W/cfm"
    assert per_flow(0.5 / CFM, DisplaySystem.SI) == "1.06 W for each L/s"
