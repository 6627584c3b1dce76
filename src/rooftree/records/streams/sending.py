"""One sending to a stream: lines that come in pieces of any size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import StoreError
from rooftree.records.streams.lines import LONGEST, Refusal, Sample, read_line, time_text

if TYPE_CHECKING:
    from rooftree.records.streams.stream import Stream

MOST_PROBLEMS = 100
"""Problems that an answer lists; the others are counted."""

MOST_REFUSED = 10_000
"""Refused lines after which a sending is read no further."""

_AT_ONCE = 1_000
"""Lines that are kept with one write."""


@dataclass(frozen=True, slots=True)
class LineProblem:
    """Why one line was refused.

    Attributes
    ----------
    line : int
        Its number in the sending, from 1.
    says, remedy : str
        What is wrong, and what to send instead.
    """

    line: int
    says: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Sent:
    """What became of a sending.

    Attributes
    ----------
    stream : str
        Name of the stream.
    kept : int
        Lines that are new and on the disk.
    repeated : int
        Lines that were there already.
    refused : int
        Lines that are not kept.
    problems : tuple of LineProblem
        The first of the refused lines.
    notes : tuple of str
        What the logger should know though it was kept.
    last : str
        Time of the last line that is kept, as it stands in a line.
    last_sequence : int or None
        Its number.
    go_on_with : int or None
        Line of this sending from which to send again: where it was cut, or stopped being
        read; None where every line was read.
    """

    stream: str
    kept: int
    repeated: int
    refused: int
    problems: tuple[LineProblem, ...]
    notes: tuple[str, ...]
    last: str
    last_sequence: int | None
    go_on_with: int | None

    @property
    def is_whole(self) -> bool:
        """Return whether every line is kept."""
        return self.refused == 0 and self.go_on_with is None


class Sending:
    """Lines on their way into a stream.

    Parameters
    ----------
    stream : Stream
        Where they go.
    """

    def __init__(self, stream: Stream) -> None:
        self._stream = stream
        self._rest = bytearray()
        self._lines = 0
        self._kept = self._repeated = self._refused = 0
        self._problems: list[LineProblem] = []
        self._notes: list[str] = []
        self._names: set[str] | None = None
        self._last_number: int | None = None
        self._missing = 0
        self._stopped_at: int | None = None

    def feed(self, piece: bytes) -> None:
        """Take a piece of the sending; the lines that it completes are kept at once.

        Raises
        ------
        StoreError
            If they cannot be written; `finish` still tells what was kept before.
        """
        if self._stopped_at is not None:
            return
        self._rest += piece
        if b"\n" not in piece and len(self._rest) <= LONGEST:
            return
        *whole, rest = bytes(self._rest).split(b"\n")
        self._rest = bytearray(rest)
        self._take(whole)
        if len(self._rest) > LONGEST:
            self._stop("is longer than any reading", "end each line with a line break")

    def finish(self, *, is_cut: bool = False) -> Sent:
        """Take what came last, force everything onto the disk and tell what became of it.

        Parameters
        ----------
        is_cut : bool
            Whether the connection broke before the end.
        """
        rest = bytes(self._rest)
        self._rest.clear()
        if rest.strip() and not is_cut:
            found = read_line(rest.strip())
            if isinstance(found, Refusal) and found.is_cut:
                is_cut = True
            else:
                self._take([rest])
        if is_cut and self._stopped_at is None:
            self._stop(
                "was cut short",
                "the lines before it are kept; send from this line on again",
            )
        self._stream.settle()
        return self._sent()

    def _sent(self) -> Sent:
        status = self._stream.status()
        notes = list(self._notes)
        if self._missing:
            notes.append(f"by their sequence, {self._missing} lines are missing")
        return Sent(
            stream=self._stream.name,
            kept=self._kept,
            repeated=self._repeated,
            refused=self._refused,
            problems=tuple(self._problems),
            notes=tuple(notes),
            last=status.last,
            last_sequence=status.last_sequence,
            go_on_with=self._stopped_at,
        )

    def _take(self, lines: list[bytes]) -> None:
        for first in range(0, len(lines), _AT_ONCE):
            self._keep(lines[first : first + _AT_ONCE])

    def _keep(self, lines: list[bytes]) -> None:
        if self._stopped_at is not None:
            return
        numbered: list[tuple[int, Sample]] = []
        refused: list[tuple[int, Refusal]] = []
        for k, line in enumerate(lines, self._lines + 1):
            stripped = line.strip()
            found = read_line(stripped) if stripped else None
            if isinstance(found, Refusal):
                refused.append((k, found))
            elif found is not None:
                numbered.append((k, found))
        self._note_names_before()
        try:
            told = self._stream.take([sample for _, sample in numbered])
        except StoreError:
            self._stopped_at = self._lines + 1
            raise
        self._lines += len(lines)
        for (k, sample), verdict in zip(numbered, told, strict=True):
            if isinstance(verdict, Refusal):
                refused.append((k, verdict))
                continue
            self._kept += verdict
            self._repeated += not verdict
            self._note(k, sample)
        for k, refusal in sorted(refused, key=lambda one: one[0]):
            self._refuse(k, refusal)
        if self._refused > MOST_REFUSED:
            self._stop(
                f"was not read: more than {MOST_REFUSED:,} lines before it were refused",
                "mend the logger, then send from this line on again",
            )

    def _refuse(self, line: int, refusal: Refusal) -> None:
        self._refused += 1
        if len(self._problems) < MOST_PROBLEMS:
            self._problems.append(LineProblem(line, refusal.says, refusal.remedy))

    def _stop(self, says: str, remedy: str) -> None:
        """Read no further, and say from where to send again."""
        if self._stopped_at is None:
            self._stopped_at = self._lines + 1
            self._problems.append(LineProblem(self._stopped_at, says, remedy))
            self._rest.clear()

    def _note_names_before(self) -> None:
        if self._names is None:
            self._names = {one.name for one in self._stream.status().names}

    def _note(self, line: int, sample: Sample) -> None:
        """Note names that are new to the stream and numbers that are missing."""
        names = self._names
        if names is not None and not names >= sample.values.keys():
            if names:
                new = sorted(sample.values.keys() - names)
                self._notes.append(
                    f"line {line} ({time_text(sample.time)}) brings the new name "
                    f"{' and '.join(new)}, kept as a series of its own; if that is a mistyped "
                    f"{' or '.join(sorted(names))}, mend it in the logger"
                )
            names.update(sample.values)
        number, before = sample.sequence, self._last_number
        if number is not None:
            if before is not None and number > before + 1:
                self._missing += number - before - 1
            self._last_number = number
