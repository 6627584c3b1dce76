"""Check the recorded test that is played for demonstration, and how it is played."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import numpy as np
import pytest

from play_readings import (
    COEFFICIENT,
    EXPONENT,
    PRESSURES,
    as_lines,
    held_pressures,
    main,
    play,
    read_recording,
    recording,
)
from rooftree.actions.streams import begin_sending, open_streams
from rooftree.units import Kind, parse

if TYPE_CHECKING:
    from pathlib import Path

START = datetime(2026, 11, 25, 10, tzinfo=UTC)


def test_every_line_is_taken(tmp_path: Path) -> None:
    """The stream takes the whole recording without a word."""
    sending = begin_sending(open_streams(tmp_path), "gauge")
    for line in as_lines(recording(), START):
        sending.feed(line)
    sent = sending.finish()
    assert sent.is_whole
    assert sent.kept == len(recording())
    assert sent.notes == ()


def test_the_recording_is_a_house() -> None:
    """Flow and pressure of the held stations follow the power law that they were made from."""
    held = np.array(list(held_pressures()))
    shown = [values for _, values in recording()]
    for pressure in PRESSURES:
        there = np.flatnonzero(held == pressure)
        flow = np.mean([parse(shown[k]["flow"], Kind.FLOW) for k in there]) / parse(
            "1 cfm", Kind.FLOW
        )
        assert flow == pytest.approx(COEFFICIENT * pressure**EXPONENT, rel=0.03)
        read = [parse(shown[k]["house_pressure"], Kind.PRESSURE) for k in there]
        assert np.mean(read) == pytest.approx(-pressure, abs=1.6)
        assert np.std(read) > 0.2


def test_the_same_seed_gives_the_same_recording() -> None:
    """A demonstration can be repeated."""
    assert recording(3) == recording(3) != recording(4)


@pytest.mark.parametrize("speed", [1.0, 10.0])
def test_it_is_played_in_its_own_time_or_faster(speed: float) -> None:
    """Every line is sent once, in order, and the waits add up to the test's length."""
    sent: list[bytes] = []
    waits: list[float] = []
    test = recording()
    play(test, START, sent.append, waits.append, speed)
    assert b"".join(sent) == b"".join(as_lines(test, START))
    assert sum(waits) * speed == pytest.approx(test[-1][0], abs=1.0)


def test_what_is_written_can_be_played_again(tmp_path: Path) -> None:
    """A file of lines gives back the recording, whenever it was made."""
    path = tmp_path / "test.jsonl"
    main(["--write", str(path), "--seed", "5"])
    assert read_recording(path) == recording(5)


def test_without_a_server_it_says_so() -> None:
    """Nobody is left with a traceback."""
    with pytest.raises(SystemExit, match=r"^nothing answers at .*; start `rooftree serve` first$"):
        main(["--to", "http://127.0.0.1:9/streams/gauge"])
