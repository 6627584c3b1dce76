"""The rules a plan obeys, each a row of a table with its reason and source.

``order.csv`` says what comes first, ``exclusions.csv`` what does not go together,
``needs.csv`` what does not go alone, ``openings.csv`` when a measure really opens a gate
and whether the hazard harms people now, ``stages.csv`` and ``kinds.csv`` the stages.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

_HERE = "rooftree.plan.rules"


@dataclass(frozen=True, slots=True)
class Order:
    """What comes first where both kinds are in a plan.

    Attributes
    ----------
    first, then : str
        Kinds of measure.
    must : bool
        Whether the plan is wrong otherwise; what only should be so gives way to safety.
    where : str
        Condition of :mod:`rooftree.plan.places`; empty for every house.
    reason, source : str
        One sentence, and where it comes from.
    """

    first: str
    then: str
    must: bool
    where: str
    reason: str
    source: str


@dataclass(frozen=True, slots=True)
class Exclusion:
    """Two kinds that do not go together.

    Attributes
    ----------
    kinds : frozenset of str
        The two.
    reason, source : str
        One sentence, and where it comes from.
    """

    kinds: frozenset[str]
    reason: str
    source: str


@dataclass(frozen=True, slots=True)
class Need:
    """A kind that does not go without another.

    Attributes
    ----------
    kind : str
        What needs.
    needs : frozenset of str
        Kinds of which one must be there.
    must : bool
        Whether the need holds too where none of them is on offer.
    where : str
        Condition of :mod:`rooftree.plan.places`; empty for every house.
    reason, source : str
        One sentence, and where it comes from.
    """

    kind: str
    needs: frozenset[str]
    must: bool
    where: str
    reason: str
    source: str


@dataclass(frozen=True, slots=True)
class Opening:
    """When a gate that measures may solve is really open.

    Attributes
    ----------
    gate : str
        Code of the gate.
    proof : str
        Condition of :mod:`rooftree.plan.places` on the house afterwards; empty where
        the measure itself is the proof.
    sure : frozenset of str
        Kinds that open it whatever the proof says.
    harms_now : bool
        Whether people or the house are harmed if nothing is done at all.
    reason : str
        One sentence.
    """

    gate: str
    proof: str
    sure: frozenset[str]
    harms_now: bool
    reason: str


@cache
def order_rules() -> tuple[Order, ...]:
    """Return what comes before what."""
    return tuple(
        Order(
            row["first"],
            row["then"],
            row["strength"] == "must",
            row["where"],
            row["reason"],
            row["source"],
        )
        for row in table_rows(_HERE, "order.csv")
    )


@cache
def exclusions() -> tuple[Exclusion, ...]:
    """Return what does not go together."""
    return tuple(
        Exclusion(frozenset((row["one"], row["other"])), row["reason"], row["source"])
        for row in table_rows(_HERE, "exclusions.csv")
    )


@cache
def needs() -> tuple[Need, ...]:
    """Return what does not go alone."""
    return tuple(
        Need(
            row["kind"],
            frozenset(row["needs"].split()),
            row["strength"] == "must",
            row["where"],
            row["reason"],
            row["source"],
        )
        for row in table_rows(_HERE, "needs.csv")
    )


@cache
def openings() -> Mapping[str, Opening]:
    """Return when each gate that measures may solve is really open, by its code."""
    return MappingProxyType(
        {
            row["gate"]: Opening(
                row["gate"],
                row["proof"],
                frozenset(row["sure"].split()),
                row["stands"] == "harms now",
                row["reason"],
            )
            for row in table_rows(_HERE, "openings.csv")
        }
    )


@cache
def stage_names() -> Mapping[int, str]:
    """Return the name of each stage by its number."""
    return MappingProxyType(
        {int(row["stage"]): row["name"] for row in table_rows(_HERE, "stages.csv")}
    )
