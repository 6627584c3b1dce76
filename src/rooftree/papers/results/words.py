"""What every kind of test is told in: lines, tables, and the words of one kind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from rooftree.units import DisplaySystem


class Limited(Protocol):
    """A value with limits."""

    @property
    def value(self) -> float:
        """The value."""

    @property
    def low(self) -> float:
        """Lower 95 % limit."""

    @property
    def high(self) -> float:
        """Upper 95 % limit."""


@dataclass(frozen=True, slots=True)
class Line:
    """One value in words.

    Attributes
    ----------
    words : str
        What it is.
    value : str
        The value with its unit.
    limits : str
        Between which it lies with 95 % probability; empty where that is not known.
    """

    words: str
    value: str
    limits: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A list of results, such as one row for each register.

    Attributes
    ----------
    caption : str
        What it lists.
    columns : tuple of str
        Heads of its columns, units included.
    rows : tuple of tuple of str
        Its cells; the first of each row names the row.
    """

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def filled(self) -> Table:
        """Return the list without the columns in which nothing stands."""
        kept = [k for k in range(len(self.columns)) if not k or any(row[k] for row in self.rows)]
        return Table(
            self.caption,
            tuple(self.columns[k] for k in kept),
            tuple(tuple(row[k] for k in kept) for row in self.rows),
        )


def _nothing(thing: Any, system: DisplaySystem) -> tuple[Any, ...]:
    """Return nothing, for kinds that have no such part."""
    del thing, system
    return ()


@dataclass(frozen=True, slots=True)
class TestWords:
    """How one kind of test is told on pages, by commands and in the annex.

    Attributes
    ----------
    reading : type
        Class of its raw readings.
    name : str
        What the kind is called, such as ``"Zone pressure"``.
    method : callable
        The published method with its edition, by reading and result; the result may be
        None.
    readings : callable
        The raw readings as lines, by reading and units; long lists are told in short.
    results : callable
        The results as lines, by result and units.
    tables : callable
        Results that are lists, by result and units.
    cautions : str
        What to mind where this work can hurt someone; empty where it cannot.
    """

    reading: type
    name: str
    method: Callable[[Any, Any], str]
    readings: Callable[[Any, DisplaySystem], tuple[Line, ...]]
    results: Callable[[Any, DisplaySystem], tuple[Line, ...]]
    tables: Callable[[Any, DisplaySystem], tuple[Table, ...]] = _nothing
    cautions: str = ""


def told_by(result: object) -> str:
    """Return what a result says in plain words; empty where it says nothing."""
    return str(getattr(result, "says", ""))


def always(words: str) -> Callable[[Any, Any], str]:
    """Return what tells the same method whatever was read."""
    return lambda *_: words


def line(words: str, value: float | None, kind: Kind, system: DisplaySystem) -> Line:
    """Return a value as a line; one that was not read says so."""
    return Line(words, "not read" if value is None else show(value, kind, system))


def limited_line(words: str, of: Limited, kind: Kind, system: DisplaySystem) -> Line:
    """Return a value with its 95 % limits as a line."""
    return Line(words, show(of.value, kind, system), show_range(of.low, of.high, kind, system))


def listed(values: Iterable[float], kind: Kind, system: DisplaySystem) -> str:
    """Return several readings in one text."""
    return ", ".join(show(one, kind, system) for one in values) or "not read"
