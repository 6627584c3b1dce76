"""A measured figure beside its limit, and the table of them."""

from __future__ import annotations

import json
import os
import platform
import resource
import statistics
import subprocess
import sys
from contextlib import contextmanager
from dataclasses import dataclass
from time import perf_counter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence


@dataclass(frozen=True)
class Figure:
    """What was measured.

    Attributes
    ----------
    name : str
        What it is.
    value : float
        Measured, in `unit`.
    unit : str
        Of value and limit.
    limit : float or None
        What it is held against; None where it is only told.
    at_least : bool
        Whether the limit is the least that will do; else the most.
    """

    name: str
    value: float
    unit: str
    limit: float | None = None
    at_least: bool = False

    @property
    def holds(self) -> bool:
        """Return whether it keeps its limit."""
        if self.limit is None:
            return True
        return self.value >= self.limit if self.at_least else self.value <= self.limit

    @property
    def cells(self) -> tuple[str, str, str, str]:
        """Return the figure as a row of the table."""
        if self.limit is None:
            return self.name, f"{_rounded(self.value)} {self.unit}".rstrip(), "", ""
        bound = "at least" if self.at_least else "at most"
        return (
            self.name,
            f"{_rounded(self.value)} {self.unit}",
            f"{bound} {self.limit:,.10g} {self.unit}",
            "yes" if self.holds else "NO",
        )


def _rounded(value: float) -> str:
    """Return a value to three digits, or whole where it has more before the point."""
    return f"{value:,.0f}" if abs(value) >= 100.0 else f"{value:.3g}"


def median_time(action: Callable[[], object], times: int) -> float:
    """Return the median time of an action after it was done once [s]."""
    action()
    return statistics.median(timed(action) for _ in range(times))


def timed(action: Callable[[], object]) -> float:
    """Return how long an action takes [s]."""
    begun = perf_counter()
    action()
    return perf_counter() - begun


def as_user() -> dict[str, str]:
    """Return the environment of a user: what was compiled once is kept beside the sources."""
    return {key: text for key, text in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}


def run_quietly(command: Sequence[str], environment: Mapping[str, str]) -> None:
    """Run a command and forget what it prints."""
    subprocess.run(command, check=True, capture_output=True, env=environment)


def read_json(command: Sequence[str]) -> dict[str, Any]:
    """Run a command that prints JSON; its progress goes to the terminal."""
    ran = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True)
    found: dict[str, Any] = json.loads(ran.stdout)
    return found


@contextmanager
def held_to(cores: int) -> Iterator[None]:
    """Hold this thread, and those that it starts, to some cores where the system can do so."""
    if not hasattr(os, "sched_setaffinity"):
        yield
        return
    every = os.sched_getaffinity(0)
    os.sched_setaffinity(0, sorted(every)[:cores])
    try:
        yield
    finally:
        os.sched_setaffinity(0, every)


def peak_memory() -> float:
    """Return the most memory this process has held [bytes]."""
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return float(peak if sys.platform == "darwin" else peak * 1024)


def machine_words() -> str:
    """Return what it runs on and how busy that is with other work, as far as it matters."""
    busy = f", load average {os.getloadavg()[0]:.1f} before" if hasattr(os, "getloadavg") else ""
    return (
        f"{os.cpu_count()} cores of {platform.machine()}, {platform.system()}, "
        f"Python {platform.python_version()}{busy}"
    )


HEAD = ("Figure", "Measured", "Limit", "Kept")


def text_table(figures: Iterable[Figure]) -> str:
    """Return the figures as lines of a terminal."""
    rows = [HEAD, *(figure.cells for figure in figures)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEAD))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    )


def page(figures: Iterable[Figure], notes: Iterable[str], machine: str) -> str:
    """Return the page of the reference that holds the figures."""
    source = (
        "Written by `python -m bench --write` (`make bench` prints the same), measured on "
        f"{machine}."
    )
    rows = [HEAD, ("---",) * len(HEAD), *(figure.cells for figure in figures)]
    return "\n".join(
        [
            "# Speed and size",
            "",
            source,
            "Times of short actions are medians of several, after one that is not counted.",
            "",
            *("| " + " | ".join(row) + " |" for row in rows),
            "",
            *(f"- {note}" for note in notes),
            "",
        ]
    )
