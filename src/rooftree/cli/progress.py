"""A line on standard error that says how far a long task is."""

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
    """Shows a bar on a terminal, and a line now and then elsewhere.

    Parameters
    ----------
    what : str
        What is being done.
    """

    def __init__(self, what: str) -> None:
        self._what = what
        self._drawn = 0.0
        self._tenth = -1

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._drawn and sys.stderr.isatty():
            print(file=sys.stderr)

    def __call__(self, done: int, total: int) -> None:
        """Show that `done` of `total` are done."""
        now = time.monotonic()
        if sys.stderr.isatty():
            if now - self._drawn < _PAUSE and done < total:
                return
            full = round(_WIDTH * done / max(total, 1))
            bar = "#" * full + "." * (_WIDTH - full)
            print(f"\r{self._what} [{bar}] {done:,} of {total:,}", end="", file=sys.stderr)
        else:
            tenth = 10 * done // max(total, 1)
            if tenth == self._tenth:
                return
            self._tenth = tenth
            print(f"{self._what}: {done:,} of {total:,}", file=sys.stderr)
        self._drawn = now
        sys.stderr.flush()
