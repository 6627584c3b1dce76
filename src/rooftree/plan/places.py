"""Conditions on a house that rules ask for by name."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.errors import PlanError
from rooftree.house import Draft, LeakKind, SpaceKind
from rooftree.plan.measures.equipment import room_air_burners
from rooftree.plan.measures.parts import joins, living_ids, spaces_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rooftree.house import House

ATTICS = (SpaceKind.ATTIC, SpaceKind.KNEE_WALL_ATTIC)


def _burns_in(house: House, *kinds: SpaceKind, natural: bool = False) -> bool:
    return any(
        house.space(space).kind in kinds
        for _, space, draft in room_air_burners(house)
        if space and (draft is Draft.NATURAL or not natural)
    )


def _ducts_in_attic(house: House) -> bool:
    attics = {space.id for space in spaces_of(house, SpaceKind.ATTIC)}
    return any(run.space in attics for run in house.ducts)


def _vented_crawlspace(house: House) -> bool:
    crawlspaces = {space.id for space in spaces_of(house, SpaceKind.CRAWLSPACE)}
    return any(leak.kind is LeakKind.VENT and leak.first in crawlspaces for leak in house.leaks)


def _leaky_ceiling(house: House) -> bool:
    attics = [space.id for space in spaces_of(house, SpaceKind.ATTIC)]
    return any(
        leak.kind is LeakKind.CRACK and leak.coefficient > 0.0
        for leak in house.leaks
        if joins(leak, living_ids(house), attics)
    )


_CONDITIONS: Mapping[str, Callable[[House], bool]] = MappingProxyType(
    {
        "": lambda _: True,
        "ducts in the attic": _ducts_in_attic,
        "vented crawlspace": _vented_crawlspace,
        "leaky ceiling": _leaky_ceiling,
        "no natural draft inside": lambda house: (
            not _burns_in(house, SpaceKind.LIVING, natural=True)
        ),
        "no burner on room air inside": lambda house: not _burns_in(house, SpaceKind.LIVING),
        "no burner on room air in the crawlspace": lambda house: (
            not _burns_in(house, SpaceKind.CRAWLSPACE)
        ),
        "no burner on room air in the attic": lambda house: not _burns_in(house, *ATTICS),
    }
)


def condition_holds(name: str, house: House) -> bool:
    """Tell whether a condition holds in a house.

    Parameters
    ----------
    name : str
        As it stands in a table of rules; empty always holds.
    house : House
        The house to look at.

    Returns
    -------
    bool
        Whether it holds.

    Raises
    ------
    PlanError
        If there is no such condition.
    """
    if name not in _CONDITIONS:
        raise PlanError(f"a rule asks for {name!r}; conditions are: {', '.join(_CONDITIONS)}")
    return _CONDITIONS[name](house)
