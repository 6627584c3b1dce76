"""Check where readings of a logger can go, and what a page shows of them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from rooftree.actions.streams import begin_sending, open_streams
from rooftree.records.streams import time_text
from rooftree.records.tabular import Column
from rooftree.units import Kind
from rooftree.web.live import live_now, live_part
from rooftree.web.table_step import WantedList

if TYPE_CHECKING:
    from pathlib import Path

    from rooftree.actions.streams import StreamShelf
    from rooftree.web.live import LivePart

STATIONS = WantedList(
    "stations",
    "Stations",
    (
        Column("pressure", "House pressure", ("Pa",), Kind.PRESSURE),
        Column("fans[0].fan_pressure", "Fan pressure", ("Pa",), Kind.PRESSURE),
        Column("fans[0].flow", "Flow of the fan", ("cfm",), Kind.FLOW),
    ),
    60,
)
BASELINE = WantedList(
    "baseline_before", "Baseline", (Column("", "Baseline", ("Pa",), Kind.PRESSURE),), 60
)
STATIC = Column("return_pressure", "Return side", ("in. w.c.",), Kind.STATIC_PRESSURE)
NOTE = Column("note", "Note")


@pytest.fixture
def shelf(tmp_path: Path) -> StreamShelf:
    """Return streams, one of them written half a minute long."""
    made = open_streams(tmp_path)
    sending = begin_sending(made, "gauge")
    for k in range(61):
        values = {
            "flow": "1980 cfm", "fan_pressure": "120 Pa", "house_pressure": f"-50.{k % 3} Pa",
            "air_temperature": "70 °F",
        }  # fmt: skip
        entry = {"time": time_text(1_795_600_800_000_000 + k * 500_000), "values": values}
        sending.feed(json.dumps(entry).encode() + b"\n")
    sending.finish()
    return made


def part(shelf: StreamShelf, stream: str = "", window: str = "") -> LivePart:
    """Return the part for a form with two lists and two fields."""
    return live_part(shelf, (stream, window), (STATIONS, BASELINE), (STATIC, NOTE), ("/a", "/b"))


def test_each_reading_goes_to_the_field_of_its_name(shelf: StreamShelf) -> None:
    """A row is filled by name and kind; plain readings and fields take any of their kind."""
    targets = part(shelf).targets
    assert json.loads(targets[0].value) == {
        "list": "stations",
        "cells": {
            "pressure": "house_pressure", "fans[0].fan_pressure": "fan_pressure",
            "fans[0].flow": "flow",
        },
    }  # fmt: skip
    assert targets[0].words.startswith("Stations, next row: ")
    baseline = [json.loads(one.value) for one in targets if "Baseline" in one.words]
    assert [one["cells"] for one in baseline] == [{"": "fan_pressure"}, {"": "house_pressure"}]
    static = [json.loads(one.value) for one in targets if one.words.startswith("Return side")]
    assert {one["reading"] for one in static} == {"fan_pressure", "house_pressure"}
    assert len(targets) == 5


def test_a_list_with_times_is_told_which_field_says_when(shelf: StreamShelf) -> None:
    """A log takes the time of each reading; how long something took is another matter."""
    log = WantedList(
        "lines",
        "Readings",
        (
            Column("time", "Time", ("s",), Kind.DURATION),
            Column("work", "Work", ("min",), Kind.DURATION),
            Column("flow", "Flow", ("cfm",), Kind.FLOW),
        ),
        60,
    )
    (target,) = live_part(shelf, ("", ""), (log,), (), ("/a", "/b")).targets
    assert json.loads(target.value) == {
        "list": "lines", "cells": {"flow": "flow"}, "clock": "time",
    }  # fmt: skip


def test_what_is_asked_for_is_chosen_if_it_is_there(shelf: StreamShelf) -> None:
    """A stream or a window that is none gives way to the newest and the usual one."""
    assert (part(shelf).stream, part(shelf).window) == ("gauge", 20)
    assert part(shelf, "gauge", "60").window == 60
    assert part(shelf, "elsewhere", "7").stream == "gauge"
    assert part(shelf, "elsewhere", "7").window == 20


def test_without_a_logger_the_page_says_where_to_send(tmp_path: Path) -> None:
    """There is nothing to choose, but an address."""
    empty = part(open_streams(tmp_path))
    assert (empty.streams, empty.stream, empty.targets, empty.sending) == ((), "", (), "/b")


def test_now_shows_every_reading_with_its_last_minutes(shelf: StreamShelf) -> None:
    """Each name has its last value, its mean and a line that ends at the right edge."""
    now = live_now(shelf, "gauge", 20.0)
    assert [one.words for one in now.readings] == [
        "Flow", "Fan pressure", "House pressure", "Air temperature",
    ]  # fmt: skip
    pressure = now.readings[2]
    assert pressure.window.mean == "-50.10 Pa"
    assert pressure.averaged == 250.0
    points = [tuple(map(float, point.split(","))) for point in pressure.points.split()]
    assert points[-1][0] == 300.0
    assert points[0][0] == 225.0
    assert all(0.0 <= y <= 56.0 for _, y in points)
