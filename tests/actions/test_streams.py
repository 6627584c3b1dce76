"""Check what a page is told of a stream: last values, means, whether they have settled."""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.actions.streams import (
    begin_sending,
    list_streams,
    open_streams,
    reading_course,
    reading_windows,
    thin,
)
from rooftree.physics.steadiness import Settling
from rooftree.records.streams import time_text
from rooftree.units import Kind, parse

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from rooftree.actions.streams import StreamShelf

TEN = 1_795_600_800_000_000


@pytest.fixture
def shelf(tmp_path: Path) -> StreamShelf:
    """Return the streams of a folder that holds none yet."""
    return open_streams(tmp_path)


def send(shelf: StreamShelf, texts: Iterable[str], name: str = "x", start: int = 0) -> None:
    """Send a reading each second."""
    sending = begin_sending(shelf, "gauge")
    for k, text in enumerate(texts, start):
        entry = {"time": time_text(TEN + k * 1_000_000), "values": {name: text}}
        sending.feed(json.dumps(entry).encode() + b"\n")
    assert sending.finish().is_whole


def test_a_settled_reading_is_its_mean(shelf: StreamShelf) -> None:
    """The reading to take is the mean in the gauge's own unit, one digit finer than it shows."""
    send(shelf, [f"-{50.0 + 0.1 * (k % 3):.1f} Pa" for k in range(31)])
    status, (window,) = reading_windows(shelf, "gauge", 20.0)
    assert status.count == 31
    assert (window.name, window.kind, window.unit) == ("x", Kind.PRESSURE, "Pa")
    assert window.last == "-50.0 Pa"
    assert window.mean == "-50.10 Pa"
    assert window.count == 21
    assert window.settling is Settling.SETTLED
    assert window.says == f"Settled: 21 readings in 20 s scatter by {window.scatter}."
    assert 0.05 < parse(window.scatter, Kind.PRESSURE) < 0.15
    assert parse(window.standard, Kind.PRESSURE) < parse(window.scatter, Kind.PRESSURE)


def test_a_reading_on_its_way_says_which_way(shelf: StreamShelf) -> None:
    """A drift is told with its size."""
    send(shelf, [f"{10 * k} cfm" for k in range(31)])
    _, (window,) = reading_windows(shelf, "gauge", 20.0)
    assert window.settling is Settling.DRIFTING
    assert window.says == "Rising by 200.0 cfm in 20 s, more than its noise: wait."


def test_a_short_stream_is_told_how_much_is_missing(shelf: StreamShelf) -> None:
    """Before the window is full nothing is called settled."""
    send(shelf, ["72 °F"] * 6)
    _, (window,) = reading_windows(shelf, "gauge", 20.0)
    assert window.says == "6 readings in 5 s; 20 s are needed: wait."
    assert window.mean == "72.0 °F"
    assert window.scatter == "0.0 °F"


def test_a_name_that_stopped_has_an_empty_window(shelf: StreamShelf) -> None:
    """Its last reading is shown as the last, but there is nothing to take."""
    send(shelf, ["5 Pa"])
    send(shelf, ["7 cfm"] * 60, "y", start=5)
    _, windows = reading_windows(shelf, "gauge", 20.0)
    stopped = next(one for one in windows if one.name == "x")
    assert (stopped.last, stopped.mean, stopped.count) == ("5 Pa", "", 0)
    assert stopped.says == "No reading in the last 20 s."


def test_a_mean_of_nothing_has_no_sign(shelf: StreamShelf) -> None:
    """A mean that rounds to zero is not shown as less than zero."""
    send(shelf, ["-0.1 Pa"] + ["0.0 Pa"] * 29)
    _, (window,) = reading_windows(shelf, "gauge", 100.0)
    assert window.mean == "0.00 Pa"


@pytest.mark.parametrize(
    ("text", "mean"), [("1,980 cfm", "1980.0 cfm"), ("0.210 in. w.c.", "0.2100 in. w.c."),
                       ("45 %", "45.0 %"), ("812 ppm", "812.0 ppm")],
)  # fmt: skip
def test_the_mean_is_in_the_unit_of_the_gauge(shelf: StreamShelf, text: str, mean: str) -> None:
    """Nothing is turned into another unit on the way."""
    send(shelf, [text] * 10)
    _, (window,) = reading_windows(shelf, "gauge")
    assert window.mean == mean


def test_streams_are_listed_with_what_they_show(shelf: StreamShelf) -> None:
    """Each stream tells its last readings."""
    assert list_streams(shelf) == ()
    send(shelf, ["5 Pa", "6 Pa"])
    (one,) = list_streams(shelf)
    assert (one.name, one.count, one.last) == ("gauge", 2, time_text(TEN + 1_000_000))
    assert [name.text for name in one.names] == ["6 Pa"]


def test_an_empty_stream_has_no_windows(shelf: StreamShelf) -> None:
    """A page that waits for its logger is told that nothing came."""
    status, windows = reading_windows(shelf, "gauge")
    assert (status.last, status.count, windows) == ("", 0, ())
    assert reading_course(shelf, "gauge", "x", 60.0) is None


def test_a_course_is_thinned(shelf: StreamShelf) -> None:
    """A picture gets few points, the extremes among them, and knows how many they stand for."""
    send(shelf, [f"{1000 if k == 777 else k % 10} Pa" for k in range(2000)])
    course = reading_course(shelf, "gauge", "x", 1e5, 100)
    assert course is not None
    assert course.count == 2000
    assert len(course.value) <= 100
    assert max(course.value) == 1000.0
    assert (course.time[0], course.time[-1]) == (-1999.0, 0.0)


@given(st.lists(st.floats(-1e3, 1e3), max_size=400), st.integers(8, 60))
def test_thinning_keeps_ends_and_extremes(value: list[float], points: int) -> None:
    """Few enough places, in order, with the ends, the lowest and the highest."""
    kept = thin(np.array(value, dtype=float), points)
    assert list(kept) == sorted(set(kept))
    assert len(kept) <= max(points, 8)
    if value:
        assert (kept[0], kept[-1]) == (0, len(value) - 1)
        drawn = [value[place] for place in kept]
        assert (min(drawn), max(drawn)) == (min(value), max(value))
    assert not any(map(math.isnan, (value[place] for place in kept)))
