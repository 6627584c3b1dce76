"""A line on standard error that says what is being done and how far it is."""

from __future__ import annotations

import sys
import time
from typing import TYPE_CHECKING, Self

if TYPE_CHECKING:
    from types import TracebackType

_WIDTH = 28
_PAUSE = 0.1
"""Between two drawings [s]."""


class Progress:
    """Shows a line at once and a bar once there is something to count.

    On a terminal the line is drawn over and gone at the end; elsewhere, such as in a log,
    there is a new line for each tenth.

    Parameters
    ----------
    what : str
        What is counted.
    first : str
        What is done before there is anything to count; the same where empty.
    """

    def __init__(self, what: str, first: str = "") -> None:
        self._what = what
        self._first = first or what
        self._drawn = 0.0
        self._tenth = -1
        self._is_terminal = sys.stderr.isatty()

    def __enter__(self) -> Self:
        self._draw(f"{self._first} ...")
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._is_terminal:
            print("\r\x1b[K", end="", file=sys.stderr, flush=True)

    def __call__(self, done: int, total: int) -> None:
        """Show that `done` of `total` are done."""
        now, tenth = time.monotonic(), 10 * done // max(total, 1)
        if self._is_terminal and (now - self._drawn >= _PAUSE or done == total):
            full = _WIDTH * done // max(total, 1)
            bar = "#" * full + "." * (_WIDTH - full)
            self._draw(f"{self._what} [{bar}] {done:,} of {total:,}")
            self._drawn = now
        elif not self._is_terminal and tenth != self._tenth:
            self._draw(f"{self._what}: {done:,} of {total:,}")
            self._tenth = tenth

    def _draw(self, line: str) -> None:
        if self._is_terminal:
            print(f"\r\x1b[K{line}", end="", file=sys.stderr, flush=True)
        else:
            print(line, file=sys.stderr, flush=True)
