"""All streams of a data folder."""

from __future__ import annotations

import re
from threading import Lock
from typing import TYPE_CHECKING

from rooftree.errors import DocumentError
from rooftree.records.streams.stream import SUFFIX, Stream

if TYPE_CHECKING:
    from pathlib import Path

_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,63}")


class StreamShelf:
    """The streams that loggers have sent to one data folder.

    Parameters
    ----------
    folder : Path
        The data folder; streams lie in ``streams/NAME`` below it.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "streams"
        self._lock = Lock()
        self._open: dict[str, Stream] = {}

    def names(self) -> tuple[str, ...]:
        """Return the names of the streams that hold readings, the last written first."""
        files = [(path.stat().st_mtime_ns, path.parent.name) for path in self._files()]
        return tuple(dict.fromkeys(name for _, name in sorted(files, reverse=True)))

    def _files(self) -> list[Path]:
        return [
            path for path in self.folder.glob(f"*/*{SUFFIX}") if _NAME.fullmatch(path.parent.name)
        ]

    def stream(self, name: str) -> Stream:
        """Return a stream, whether or not it holds anything yet.

        Parameters
        ----------
        name : str
            Small letters, digits, ``-`` and ``_``, at most 64.

        Returns
        -------
        Stream

        Raises
        ------
        DocumentError
            If it cannot be called so.
        """
        if not _NAME.fullmatch(name):
            message = (
                f'"{name[:64]}" cannot name a stream; use small letters, digits, "-" and "_", '
                'such as "house-gauge"'
            )
            raise DocumentError(message)
        with self._lock:
            if name not in self._open:
                self._open[name] = Stream(name, self.folder / name)
            return self._open[name]
