"""One stream: its files, what is in memory of them, and which lines may follow."""

from __future__ import annotations

import errno
import os
from array import array
from bisect import bisect_left
from dataclasses import dataclass, field
from threading import RLock
from typing import TYPE_CHECKING

from rooftree.errors import StoreError
from rooftree.records.streams.lines import Refusal, Sample, read_line, time_text
from rooftree.records.streams.series import MOST, Series

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from rooftree.records.streams.series import NameStatus, Readings

SUFFIX = ".jsonl"
MOST_NAMES = 64
"""Names that one stream may hold: more come from a logger that counts in its names."""

_RECENT_FILES = 2
"""Files that are read when a stream is opened: a test may go on across midnight."""


@dataclass(frozen=True, slots=True)
class StreamStatus:
    """Where a stream stands.

    Attributes
    ----------
    name : str
        Of the stream.
    count : int
        Lines of its last two days.
    last : str
        Time of the last line, as it stands in a line; empty before the first.
    last_sequence : int or None
        Its number, where the logger gives one.
    names : tuple of NameStatus
        The last reading of each name.
    unreadable : int
        Lines of the files that cannot be read, such as one that a power cut left unfinished.
    """

    name: str
    count: int
    last: str
    last_sequence: int | None
    names: tuple[NameStatus, ...]
    unreadable: int


@dataclass(slots=True)
class _Memory:
    """What is known of the last files; `size` and `file` tell whether it still holds."""

    file: str = ""
    size: int = 0
    unreadable: int = 0
    times: array[int] = field(default_factory=lambda: array("q"))
    sequences: array[int] = field(default_factory=lambda: array("q"))
    digests: array[int] = field(default_factory=lambda: array("q"))
    series: dict[str, Series] = field(default_factory=dict)

    def add(self, sample: Sample) -> None:
        self.times.append(sample.time)
        self.sequences.append(-1 if sample.sequence is None else sample.sequence)
        self.digests.append(_digest(sample))
        if len(self.times) > MOST:
            del self.times[: MOST // 2], self.sequences[: MOST // 2], self.digests[: MOST // 2]
        for name, reading in sample.values.items():
            if name not in self.series:
                self.series[name] = Series(reading)
            self.series[name].add(sample.time, reading)


def _digest(sample: Sample) -> int:
    return hash(frozenset((name, reading.value) for name, reading in sample.values.items()))


class Stream:
    """Readings that one logger sends.

    Parameters
    ----------
    name : str
        Of the stream.
    folder : Path
        Of its files; made with the first line.
    """

    def __init__(self, name: str, folder: Path) -> None:
        self.name = name
        self.folder = folder
        self._lock = RLock()
        self._memory: _Memory | None = None

    def status(self) -> StreamStatus:
        """Return where the stream stands."""
        with self._lock:
            memory = self._current()
            last = memory.sequences[-1] if memory.sequences else -1
            return StreamStatus(
                name=self.name,
                count=len(memory.times),
                last=time_text(memory.times[-1]) if memory.times else "",
                last_sequence=None if last < 0 else last,
                names=tuple(one.status(name) for name, one in memory.series.items()),
                unreadable=memory.unreadable,
            )

    def readings(self, name: str, seconds: float) -> Readings | None:
        """Return the readings of a name in the last seconds [s] of the stream; None without any.

        The end is the last line of the stream: a name that has stopped coming has no
        readings in the window.
        """
        with self._lock:
            memory = self._current()
            if name not in memory.series:
                return None
            start = memory.times[-1] - round(min(seconds, 1e9) * 1e6)
            return memory.series[name].since(name, start)

    def take(self, samples: Sequence[Sample]) -> list[Refusal | bool]:
        """Keep samples in their order: on the disk first, then in memory.

        Returns
        -------
        list of Refusal or bool
            For each sample whether it is new, or why it is refused.

        Raises
        ------
        StoreError
            If the disk is full or may not be written; whatever had been kept before stays.
        """
        with self._lock:
            memory = self._current()
            told: list[Refusal | bool] = []
            new: list[Sample] = []
            probe = _Probe(memory)
            for sample in samples:
                verdict = probe.verdict(sample)
                told.append(verdict)
                if verdict is True:
                    new.append(sample)
            try:
                self._append(memory, new)
            except OSError as error:
                self._memory = None  # what the files hold now is read again
                raise StoreError(_says(self.folder, error)) from error
            return told

    def settle(self) -> None:
        """Force what was kept onto the disk."""
        with self._lock:
            if self._memory is None or not self._memory.file:
                return
            try:
                handle = os.open(self.folder / self._memory.file, os.O_RDWR)
                try:
                    os.fsync(handle)
                finally:
                    os.close(handle)
            except OSError as error:
                raise StoreError(_says(self.folder, error)) from error

    def _append(self, memory: _Memory, samples: Iterable[Sample]) -> None:
        by_file: dict[str, list[Sample]] = {}
        for sample in samples:
            by_file.setdefault(f"{time_text(sample.time)[:10]}{SUFFIX}", []).append(sample)
        for file, of_day in by_file.items():
            self.folder.mkdir(parents=True, exist_ok=True)
            lines = b"".join(sample.raw + b"\n" for sample in of_day)
            with (self.folder / file).open("ab") as there:
                if _ends_within_a_line(self.folder / file):
                    lines = b"\n" + lines
                there.write(lines)
                memory.file, memory.size = file, there.tell()
            for sample in of_day:
                memory.add(sample)

    def _current(self) -> _Memory:
        """Return what is in memory, read anew where another program has written."""
        files = sorted(path.name for path in self.folder.glob(f"*{SUFFIX}"))
        last = files[-1] if files else ""
        size = (self.folder / last).stat().st_size if last else 0
        if self._memory is None or (self._memory.file, self._memory.size) != (last, size):
            self._memory = _loaded([self.folder / file for file in files[-_RECENT_FILES:]])
        return self._memory


class _Probe:
    """Which lines may follow those that are kept and those taken just before."""

    def __init__(self, memory: _Memory) -> None:
        self._memory = memory
        self._kinds = {name: series.last.kind for name, series in memory.series.items()}
        self._new: dict[tuple[int, int], int] = {}
        self._last = (memory.times[-1], memory.sequences[-1]) if memory.times else (-(2**63), -1)

    def verdict(self, sample: Sample) -> Refusal | bool:
        """Return whether a sample is new, or why it is refused."""
        number = -1 if sample.sequence is None else sample.sequence
        key = (sample.time, number)
        kept = self._kept(key)
        if kept is not None:
            return False if kept == _digest(sample) else _another_at(sample)
        if key <= self._last:
            return _backwards(sample, self._last[0])
        for name, reading in sample.values.items():
            kind = self._kinds.get(name, reading.kind)
            if kind is not reading.kind:
                says = f"{name} is {reading.kind.value} here and was {kind.value} before"
                return Refusal(says, "give each quantity a name of its own")
        if len(self._kinds.keys() | sample.values.keys()) > MOST_NAMES:
            says = f"brings more than {MOST_NAMES} names"
            return Refusal(says, "name a quantity alike in every line; split the stream")
        self._kinds |= {name: reading.kind for name, reading in sample.values.items()}
        self._new[key] = _digest(sample)
        self._last = key
        return True

    def _kept(self, key: tuple[int, int]) -> int | None:
        if key > self._last:
            return None
        if key in self._new:
            return self._new[key]
        memory = self._memory
        place = bisect_left(memory.times, key[0])
        while place < len(memory.times) and memory.times[place] == key[0]:
            if memory.sequences[place] == key[1]:
                return memory.digests[place]
            place += 1
        return None


def _another_at(sample: Sample) -> Refusal:
    says = f"has other readings than the line of {time_text(sample.time)} that is kept"
    return Refusal(says, 'send times that rise, or number the lines with "sequence"')


def _backwards(sample: Sample, last: int) -> Refusal:
    says = f"goes back in time: {time_text(sample.time)} after {time_text(last)}"
    remedy = "what is kept stays; set the clock right, or send to a stream of another name"
    return Refusal(says, remedy)


def _loaded(files: Sequence[Path]) -> _Memory:
    memory = _Memory()
    for path in files:
        try:
            content = path.read_bytes()
        except OSError as error:
            raise StoreError(_says(path, error)) from error
        for line in content.split(b"\n"):
            if not line.strip():
                continue
            sample = read_line(line)
            if isinstance(sample, Refusal) or _Probe(memory).verdict(sample) is not True:
                memory.unreadable += 1
            else:
                memory.add(sample)
        memory.file, memory.size = path.name, len(content)
    return memory


def _ends_within_a_line(path: Path) -> bool:
    with path.open("rb") as there:
        if there.seek(0, os.SEEK_END) == 0:
            return False
        there.seek(-1, os.SEEK_END)
        return there.read(1) != b"\n"


def _says(path: Path, error: OSError) -> str:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return (
            f"the stream in {path} could not be kept: the disk is full. Free some space and send "
            "again from the last line that was acknowledged"
        )
    return f"the stream in {path} could not be kept: {error.strerror or error}; check the folder"
