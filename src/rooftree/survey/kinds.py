"""The kinds of measure that gates can hold back, and the tests each one asks for again."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


EVERYTHING = "everything"
"""Name of the group that holds every kind of measure."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of measure as the gates see it.

    Attributes
    ----------
    name, title : str
        Fixed name, such as ``"air-sealing"``, and what a person calls it.
    groups : frozenset of str
        What it has in common with others: ``"tightening"`` makes the house tighter,
        ``"exhaust"`` may pull it below outdoors, ``"covering"`` buries wires and
        pipes, ``"attic-work"``, ``"crawl-work"``, ``"duct-work"``, ``"wall-work"``
        say where people and dust go, ``"equipment"`` is sized to the load, and
        ``"burner"`` touches a burner or its flue.
    retests : tuple of str
        Tests to repeat after it, such as ``"combustion"``.
    """

    name: str
    title: str
    groups: frozenset[str]
    retests: tuple[str, ...]


@cache
def measure_kinds() -> Mapping[str, Kind]:
    """Return every kind of measure by its name."""
    rows = table_rows("rooftree.survey", "kinds.csv")
    return MappingProxyType(
        {
            row["kind"]: Kind(
                row["kind"],
                row["title"],
                frozenset(row["groups"].split()),
                tuple(row["retests"].split()),
            )
            for row in rows
        }
    )


def named_kinds(words: Iterable[str]) -> frozenset[str]:
    """Return the kinds that a mix of kinds and groups names.

    Parameters
    ----------
    words : iterable of str
        Names of kinds, of groups, or ``"everything"``.

    Returns
    -------
    frozenset of str
        Names of kinds.

    Raises
    ------
    KeyError
        If a word is neither a kind nor a group.
    """
    named: set[str] = set()
    for word in words:
        members = {
            kind.name
            for kind in measure_kinds().values()
            if word in (EVERYTHING, kind.name) or word in kind.groups
        }
        if not members:
            raise KeyError(f"{word} is neither a kind of measure nor a group of them")
        named |= members
    return frozenset(named)


def retests_after(kinds: Iterable[str]) -> tuple[str, ...]:
    """Return the tests to repeat after some measures.

    Parameters
    ----------
    kinds : iterable of str
        Kinds of the measures that were done.

    Returns
    -------
    tuple of str
        ``"fan-test"``, ``"duct-leakage"``, ``"combustion"``, ``"ventilation"``: those
        that apply, each once, in this order.

    Notes
    -----
    Any change of tightness, exhaust or flue asks for the combustion and ventilation
    tests again; common practice, and the state weatherization standards that ask for
    the combustion test after each day of such work.
    """
    asked = {test for kind in kinds for test in measure_kinds()[kind].retests}
    order = ("fan-test", "duct-leakage", "combustion", "ventilation")
    return tuple(test for test in order if test in asked)
