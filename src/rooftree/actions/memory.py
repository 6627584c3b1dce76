"""Keep what was dear to compute, by what it was computed from."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from threading import Lock
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

Value = TypeVar("Value")


def fingerprint(*parts: object) -> str:
    """Return a name for what a value was computed from.

    Parameters
    ----------
    *parts : object
        Anything whose `repr` tells all that matters, such as the core's dataclasses.

    Returns
    -------
    str
    """
    return hashlib.sha256(repr(parts).encode()).hexdigest()


class Kept(Generic[Value]):
    """The last few results, by key; safe to use from several threads.

    Parameters
    ----------
    most : int
        Results that are kept.
    """

    def __init__(self, most: int = 16) -> None:
        self._most = most
        self._lock = Lock()
        self._values: OrderedDict[str, Value] = OrderedDict()

    def of(self, key: str, compute: Callable[[], Value]) -> Value:
        """Return what is kept under a key, computed now if it is not there."""
        found = self.peek(key)
        if found is not None:
            return found
        value = compute()
        self.put(key, value)
        return value

    def peek(self, key: str) -> Value | None:
        """Return what is kept under a key, or None."""
        with self._lock:
            if key in self._values:
                self._values.move_to_end(key)
            return self._values.get(key)

    def put(self, key: str, value: Value) -> None:
        """Keep a value under a key."""
        with self._lock:
            self._values[key] = value
            self._values.move_to_end(key)
            while len(self._values) > self._most:
                self._values.popitem(last=False)

    def clear(self) -> None:
        """Keep nothing of what was kept so far."""
        with self._lock:
            self._values.clear()
