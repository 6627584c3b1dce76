"""Check a tracer decay in words."""

from __future__ import annotations

import math

from rooftree.papers.results.tracer_decay import WORDS
from rooftree.readings.tracer_decay import (
    OutdoorReading,
    SteadyReading,
    TracerDecayTest,
    TracerReading,
    reduce_tracer_decay,
)
from rooftree.units import DisplaySystem

LINES = tuple(
    TracerReading(600.0 * step, 420.0 + share * 1400.0 * math.exp(-step / 12.0), place)
    for place, share in (("den", 1.0), ("hall", 0.96))
    for step in range(19)
)
TEST = TracerDecayTest(
    LINES,
    (OutdoorReading(420.0, 0.0), OutdoorReading(420.0, 10_800.0)),
    volume=400.0,
    steady=(SteadyReading(0.0, 870.0), SteadyReading(3600.0, 872.0)),
    steady_people=4.0,
)
RESULT = reduce_tracer_decay(TEST)


def test_rate_and_flow_have_limits() -> None:
    """Air changes and outdoor air are told with limits, beside background and window."""
    lines = {line.words: line for line in WORDS.results(RESULT, DisplaySystem.SI)}
    assert lines["Air changes"].value == "0.5 h⁻¹"
    assert " to " in lines["Outdoor air"].limits
    assert lines["Background taken off"].value == "420 ppm"
    assert lines["Part of the record"].value == "0 min to 180 min"
    assert " to " in lines["By the people inside"].limits


def test_places_and_doubts_are_tables() -> None:
    """Each place has a row, and so has each part of the doubt."""
    places, doubts = WORDS.tables(RESULT, DisplaySystem.SI)
    assert [row[0] for row in places.rows] == ["den", "hall"]
    assert {"scatter", "background", "sensor", "mixing"} <= {row[0] for row in doubts.rows}


def test_readings_are_told_in_short() -> None:
    """However long the record is, it takes a few lines."""
    lines = WORDS.readings(TEST, DisplaySystem.SI)
    assert len(lines) == 5
    assert lines[0].value == "38 in 2 places"


def test_no_rate_is_no_line() -> None:
    """Where there is no rate yet, how long to go on is told instead."""
    short = reduce_tracer_decay(TracerDecayTest(LINES[:4], volume=400.0))
    words = [line.words for line in WORDS.results(short, DisplaySystem.SI)]
    assert "Air changes" not in words
    assert "Longer for a good rate" in words
