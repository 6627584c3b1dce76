"""What is not known of a house's air network, by place, and how far it may be off.

Each unknown is a factor on the size of some leaks, as a logarithm, a shift of their
exponents, or something of the test itself, such as the calibration of a fan. All start
at 0, the house as it was described.

Sources
-------
[CHAN2013] Chan, Joh and Sherman, Energy and Buildings 66 (2013) 616: exponents of 7000
    houses spread by 0.057.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from rooftree.engine.duct_paths import DUCTS
from rooftree.house import OUTDOORS, LeakKind
from rooftree.known import How, Known

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rooftree.house import DuctRun, House, Leak

CRACKS_TOGETHER = 3.0
"""Spread of the logarithm of one factor on all cracks of the living spaces [-]: nobody knows
before the fan test; a factor of 20 either way."""

DUCTS_TOGETHER = 1.5
"""The same of one factor on all leaks of the ducts [-]."""

CRACK_SPREAD = {
    How.MEASURED: 0.2, How.OBSERVED: 0.5, How.TOLD: 0.7, How.ASSUMED: 0.8, How.NOT_SEEN: 1.0,
}  # fmt: skip
"""Spread of the logarithm of cracks between two places, over all cracks together, by how their
size is known [-]; ours: a guess by place is right within a factor of 2.2 two times in three."""

OPENING_SPREAD = {
    How.MEASURED: 0.15, How.OBSERVED: 0.3, How.TOLD: 0.5, How.ASSUMED: 0.5, How.NOT_SEEN: 0.8,
}  # fmt: skip
"""The same of vents, flues and holes [-]; ours: a taped free area still leaves mesh, louvers
and the discharge coefficient."""

DUCT_SPREAD = {
    How.MEASURED: 0.2, How.OBSERVED: 0.4, How.TOLD: 0.6, How.ASSUMED: 0.7, How.NOT_SEEN: 0.8,
}  # fmt: skip
"""The same of the leaks of one duct run, over all duct leaks together [-]; ours."""

EXPONENT_SPREAD = 0.06
"""Spread of the exponent of the cracks between two places [-] [CHAN2013]_."""

INSIDE_SPREAD = 1.0
"""Spread of the logarithm of the leakage of ducts into the living spaces, over that to
outdoors as described, where the house has no run in them [-]; ours."""

INSIDE_DUCT_LEAK = "(ducts to the living space)"
"""Id of the leak from the ducts into the living spaces that the house may not have."""

UNGUESSED = 0.10
"""Share of the air handler's flow that ducts are taken to leak where nobody guessed [0-1]."""


class Role(StrEnum):
    """What an unknown is."""

    SIZE = "size"
    EXPONENT = "exponent"
    COMMON = "common factor"
    TEST = "of the test"


@dataclass(frozen=True, slots=True)
class Unknown:
    """One thing that is not known.

    Attributes
    ----------
    key : str
        Its name, unique in a fit.
    says : str
        In words: ``"cracks from living space to attic"``.
    role : Role
        Size and exponent belong to one place each; a common factor is on all of a kind.
    members : frozenset of str
        Ids of the leaks and duct runs concerned; empty for what is of the test alone.
    spread : float
        Standard deviation before any reading, of the logarithm or of the exponent [-].
    """

    key: str
    says: str
    role: Role
    members: frozenset[str]
    spread: float


def with_guessed_ducts(house: House) -> House:
    """Return the house with a guess for its duct leaks where it has none at all.

    Parameters
    ----------
    house : House
        With or without ducts.

    Returns
    -------
    House
        Runs outside the living spaces leak `UNGUESSED` together, by surface, if none leaks.
    """
    outside = runs_outside(house)
    if house.air_handler is None or not outside or any(run.leakage > 0.0 for run in outside):
        return house
    surface = sum(run.area for run in outside)
    guessed = {
        run.id: UNGUESSED * (run.area / surface if surface > 0.0 else 1.0 / len(outside))
        for run in outside
    }
    ducts = tuple(
        replace(run, leakage=guessed[run.id]) if run.id in guessed else run for run in house.ducts
    )
    return replace(house, ducts=ducts)


def runs_outside(house: House) -> tuple[DuctRun, ...]:
    """Return the duct runs outside the living spaces.

    Parameters
    ----------
    house : House
        With or without ducts.

    Returns
    -------
    tuple of DuctRun
    """
    living = {space.id for space in house.living_spaces}
    return tuple(run for run in house.ducts if run.space not in living)


def has_ducts(house: House) -> bool:
    """Return whether the ducts of a house can be tested.

    Parameters
    ----------
    house : House
        Any.
    """
    handler = house.air_handler
    return handler is not None and handler.flow > 0.0 and bool(house.ducts)


def unknowns_of(house: House) -> tuple[Unknown, ...]:
    """Return what is not known of the air network of a house.

    Parameters
    ----------
    house : House
        As described.

    Returns
    -------
    tuple of Unknown
        Common factors, sizes by the two places that a leak joins, then exponents of cracks.
    """
    sizes = tuple(_sizes(house))
    return (*_common(house), *sizes, *_exponents(house))


def _common(house: House) -> Iterator[Unknown]:
    cracks = frozenset(leak.id for leak in house.leaks if _is_scaled_crack(house, leak))
    if cracks:
        says = "all cracks of the living spaces"
        yield Unknown("(cracks)", says, Role.COMMON, cracks, CRACKS_TOGETHER)
    runs = frozenset(run.id for run in house.ducts if run.leakage > 0.0)
    if runs and has_ducts(house):
        members = runs | {INSIDE_DUCT_LEAK}
        yield Unknown("(ducts)", "all duct leaks", Role.COMMON, members, DUCTS_TOGETHER)


def _is_scaled_crack(house: House, leak: Leak) -> bool:
    living = {space.id for space in house.living_spaces}
    return leak.kind is LeakKind.CRACK and bool({leak.first, leak.second} & living)


def _sizes(house: House) -> Iterator[Unknown]:
    for (kind, one, other), leaks in grouped_leaks(house).items():
        cracks = kind is LeakKind.CRACK
        spread = _widest(leaks, CRACK_SPREAD if cracks else OPENING_SPREAD)
        says = f"{_WORDS[kind]} from {_name(house, one)} to {_name(house, other)}"
        members = frozenset(leak.id for leak in leaks)
        yield Unknown(f"{kind.value}:{one}:{other}", says, Role.SIZE, members, spread)
    if not has_ducts(house):
        return
    for run in house.ducts:
        if run.leakage > 0.0:
            how = run.known.get("leakage", Known()).how
            says = f"leaks of {run.name}"
            members = frozenset({run.id})
            yield Unknown(f"duct:{run.id}", says, Role.SIZE, members, DUCT_SPREAD[how])
    if runs_outside(house) == house.ducts:
        members = frozenset({INSIDE_DUCT_LEAK})
        says = "duct leaks into the living space"
        yield Unknown(f"duct:{DUCTS}", says, Role.TEST, members, INSIDE_SPREAD)


def _exponents(house: House) -> Iterator[Unknown]:
    for (kind, one, other), leaks in grouped_leaks(house).items():
        if kind is LeakKind.CRACK:
            says = f"exponent of the cracks from {_name(house, one)} to {_name(house, other)}"
            members = frozenset(leak.id for leak in leaks)
            key = f"exponent:{one}:{other}"
            yield Unknown(key, says, Role.EXPONENT, members, EXPONENT_SPREAD)


_WORDS = {
    LeakKind.CRACK: "cracks",
    LeakKind.VENT: "vents",
    LeakKind.FLUE: "flue",
    LeakKind.HOLE: "holes",
}


def grouped_leaks(house: House) -> dict[tuple[LeakKind, str, str], list[Leak]]:
    """Return the leaks of a house that have a size, by kind and by what they join.

    Parameters
    ----------
    house : House
        Any.

    Returns
    -------
    dict
        The two places in the order of the house, outdoors last.
    """
    order = {space.id: i for i, space in enumerate(house.spaces)} | {OUTDOORS: len(house.spaces)}
    groups: dict[tuple[LeakKind, str, str], list[Leak]] = {}
    for leak in house.leaks:
        if leak.coefficient > 0.0:
            one, other = sorted((leak.first, leak.second), key=lambda end: order.get(end, -1))
            groups.setdefault((leak.kind, one, other), []).append(leak)
    return groups


def _widest(leaks: Iterable[Leak], spreads: dict[How, float]) -> float:
    """Return the spread of the least known of some leaks."""
    return max(spreads[leak.known.get("coefficient", Known()).how] for leak in leaks)


def _name(house: House, place: str) -> str:
    return next((space.name for space in house.spaces if space.id == place), place)
