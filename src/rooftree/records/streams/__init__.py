"""Streams: readings that a logger sends while a test runs, kept line by line.

A stream is a folder of append-only files, one for each day (UTC) of its readings, each
line exactly as it was sent. What was acknowledged is on the disk before the answer, and
what was sent twice is kept once.
"""

from rooftree.records.streams.lines import Reading, Refusal, Sample, read_line, time_text
from rooftree.records.streams.sending import LineProblem, Sending, Sent
from rooftree.records.streams.series import NameStatus, Readings
from rooftree.records.streams.shelf import StreamShelf
from rooftree.records.streams.stream import Stream, StreamStatus

__all__ = [
    "LineProblem",
    "NameStatus",
    "Reading",
    "Readings",
    "Refusal",
    "Sample",
    "Sending",
    "Sent",
    "Stream",
    "StreamShelf",
    "StreamStatus",
    "read_line",
    "time_text",
]
