"""Readings of a running logger beside a form: what they show, and where they can go."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from rooftree.actions import streams
from rooftree.records.tabular.columns import fits, likeness
from rooftree.units import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from rooftree.actions.streams import StreamShelf, Window
    from rooftree.records.streams import NameStatus
    from rooftree.records.tabular import Column
    from rooftree.web.table_step import WantedList

WINDOWS = (10, 20, 30, 60)
"""Seconds over which a reading can be averaged."""

_TRACE_SECONDS, _TRACE_POINTS = 120.0, 160
_WIDTH, _HEIGHT = 300.0, 56.0


@dataclass(frozen=True, slots=True)
class Target:
    """Where a reading can go.

    Attributes
    ----------
    value : str
        For the script of the page: the list with the reading for each field of a row, and
        the field that says when; or the path of one field with its reading.
    words : str
        As people call it.
    """

    value: str
    words: str


@dataclass(frozen=True, slots=True)
class LivePart:
    """The logger that a page listens to, and where its readings go.

    Attributes
    ----------
    address : str
        Where this part is laid out again.
    sending : str
        Where a logger sends: shown while none does.
    streams : tuple of str
        Names of the streams, the last written first.
    stream : str
        The chosen one; empty where there is none.
    window : int
        Seconds over which readings are averaged.
    windows : tuple of int
        Those that can be chosen.
    targets : tuple of Target
        Where readings can go.
    """

    template: ClassVar[str] = "live.html"
    address: str
    sending: str
    streams: tuple[str, ...]
    stream: str
    window: int
    windows: tuple[int, ...]
    targets: tuple[Target, ...]


@dataclass(frozen=True, slots=True)
class LiveReading:
    """What one name of a stream shows now.

    Attributes
    ----------
    window : Window
        Last value, mean and whether it has settled.
    words : str
        Its name in words.
    points : str
        Its last two minutes, as the points of a line in a picture of 300 by 56.
    averaged : float
        Where in that picture the window begins.
    """

    window: Window
    words: str
    points: str
    averaged: float


@dataclass(frozen=True, slots=True)
class LiveNow:
    """What a stream shows now.

    Attributes
    ----------
    stream : str
        Its name.
    readings : tuple of LiveReading
        One for each name.
    last : str
        Time of its last line.
    """

    template: ClassVar[str] = "live_now.html"
    stream: str
    readings: tuple[LiveReading, ...]
    last: str


def live_now(shelf: StreamShelf, stream: str, seconds: float) -> LiveNow:
    """Return what a stream shows now, averaged over the last seconds [s].

    Raises
    ------
    DocumentError
        If a stream cannot be called so.
    """
    status, windows = streams.reading_windows(shelf, stream, seconds)
    readings = tuple(_reading(shelf, stream, window, seconds) for window in windows)
    return LiveNow(stream, readings, status.last)


def live_part(
    shelf: StreamShelf,
    asked: tuple[str, str],
    lists: Iterable[WantedList],
    fields: Iterable[Column],
    addresses: tuple[str, str],
) -> LivePart:
    """Return the part of a page that listens to a logger.

    Parameters
    ----------
    shelf : StreamShelf
        Of the data folder.
    asked : tuple of str and str
        Stream and window as asked for; the newest stream where that is none.
    lists : iterable of WantedList
        Lists of the form.
    fields : iterable of Column
        Single fields of the form.
    addresses : tuple of str and str
        Where the part is laid out again, and where a logger sends.
    """
    names = shelf.names()
    stream = asked[0] if asked[0] in names else next(iter(names), "")
    window = int(asked[1]) if asked[1] in map(str, WINDOWS) else int(streams.WINDOW)
    shown = shelf.stream(stream).status().names if stream else ()
    targets = (*_into_lists(lists, shown), *_into_fields(fields, shown))
    return LivePart(*addresses, names, stream, window, WINDOWS, targets)


def _into_lists(lists: Iterable[WantedList], shown: Sequence[NameStatus]) -> Iterator[Target]:
    for wanted in lists:
        for cells in _rows(wanted.columns, shown):
            clock = next((one.name for one in wanted.columns if _is_clock(one)), "")
            timed = {"clock": clock} if clock else {}
            value = json.dumps({"list": wanted.name, "cells": cells} | timed)
            told = " and ".join(_worded(reading) for reading in cells.values())
            yield Target(value, f"{wanted.legend}, next row: {told}")


def _rows(columns: Sequence[Column], shown: Sequence[NameStatus]) -> Iterator[dict[str, str]]:
    """Yield which reading fills which field of a row: one way, or one for each plain reading."""
    if len(columns) == 1:
        yield from ({columns[0].name: one.name} for one in shown if _suits(columns[0], one))
        return
    pairs = sorted(
        (-likeness(column, _worded(one.name)), k, j)
        for k, column in enumerate(columns)
        for j, one in enumerate(shown)
        if _suits(column, one)
    )
    cells: dict[str, str] = {}
    for _, k, j in pairs:
        if columns[k].name not in cells and shown[j].name not in cells.values():
            cells[columns[k].name] = shown[j].name
    if cells:
        yield cells


def _into_fields(fields: Iterable[Column], shown: Sequence[NameStatus]) -> Iterator[Target]:
    for column in fields:
        suiting = [one for one in shown if _suits(column, one)]
        for one in sorted(suiting, key=lambda one: -likeness(column, _worded(one.name))):
            value = json.dumps({"path": column.name, "reading": one.name})
            more = f": {_worded(one.name)}" if len(suiting) > 1 else ""
            yield Target(value, f"{column.words}{more}")


def _is_clock(column: Column) -> bool:
    """Return whether a column says when a row was read, rather than how long something took."""
    return column.kind is Kind.DURATION and column.name in ("time", "seconds")


def _suits(column: Column, status: NameStatus) -> bool:
    return column.kind is not None and fits(status.unit, column.kind)


def _worded(name: str) -> str:
    return name.replace("_", " ")


def _reading(shelf: StreamShelf, stream: str, window: Window, seconds: float) -> LiveReading:
    course = streams.reading_course(shelf, stream, window.name, _TRACE_SECONDS, _TRACE_POINTS)
    points = _points(course.time, course.value) if course is not None else ""
    averaged = max(_WIDTH * (1.0 - seconds / _TRACE_SECONDS), 0.0)
    return LiveReading(window, _worded(window.name).capitalize(), points, round(averaged, 1))


def _points(time: Sequence[float], value: Sequence[float]) -> str:
    """Return the points of a line: time to the right, the value up, as high as there is room."""
    if len(value) < 2:
        return ""
    low, high = min(value), max(value)
    reach = (high - low) or 1.0
    return " ".join(
        f"{_WIDTH * (1.0 + t / _TRACE_SECONDS):.1f},"
        f"{_HEIGHT - 3.0 - (_HEIGHT - 6.0) * (v - low) / reach:.1f}"
        for t, v in zip(time, value, strict=True)
    )
