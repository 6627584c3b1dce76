"""Put surveyed insulation into the surfaces of the house."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.house import OUTDOORS, SpaceKind
from rooftree.house.defects import insulated_as_found
from rooftree.readings.insulation import InsulationResult, InsulationSurvey, Position

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.house import House, Surface

SAME_AREA = 0.2
"""How far the area of a survey and of the surfaces that it is taken for may differ [0-1];
ours: tape and plan disagree by less."""


def with_insulation(
    house: House, surveys: Sequence[tuple[str, InsulationSurvey, InsulationResult]]
) -> tuple[House, tuple[Finding, ...]]:
    """Return the house with its insulation as surveyed.

    Parameters
    ----------
    house : House
        As described.
    surveys : sequence of (str, InsulationSurvey, InsulationResult)
        Name of each test, what was read and what it comes to; a later one of the same
        surfaces counts.

    Returns
    -------
    tuple of (House, tuple of Finding)
        A finding for each survey of which the surface is not clear.

    Notes
    -----
    A survey belongs to the surface that has its name or id; else to all those that lie where
    it says (an attic floor, a knee wall, ...), if their area is the surveyed one within 20 %.
    They are then insulated as :func:`rooftree.house.defects.insulated_as_found` has it.
    """
    findings = []
    for name, survey, result in surveys:
        if result.resistance is None or not result.resistance.value > 0.0 or not result.patches:
            continue
        surfaces = surveyed_surfaces(house, survey, result.area)
        if not surfaces:
            findings.append(_unclear(name))
            continue
        ids = {surface.id for surface in surfaces}
        house = replace(
            house,
            surfaces=tuple(
                insulated_as_found(surface, survey) if surface.id in ids else surface
                for surface in house.surfaces
            ),
        )
    return house, tuple(findings)


def surveyed_surfaces(house: House, survey: InsulationSurvey, area: float) -> tuple[Surface, ...]:
    """Return the surfaces of which a survey tells.

    Parameters
    ----------
    house : House
        As described.
    survey : InsulationSurvey
        The survey.
    area : float
        Of its patches together [m²].

    Returns
    -------
    tuple of Surface
        Empty where it is not clear.
    """
    insulated = [
        surface
        for surface in house.surfaces
        if any(layer.role == "insulation" for layer in surface.layers)
    ]
    where = survey.where.casefold()
    named = [one for one in insulated if where in (one.id.casefold(), one.name.casefold())]
    if named:
        return tuple(named)
    kinds = {space.id: space.kind for space in house.spaces}
    there = [one for one in insulated if _lies_there(one, survey.position, kinds)]
    for group in (there, *([one] for one in there)):
        whole = sum(one.area for one in group)
        if group and abs(whole - area) <= SAME_AREA * area:
            return tuple(group)
    return ()


def _lies_there(surface: Surface, position: Position, kinds: dict[str, SpaceKind]) -> bool:
    """Return whether a surface of the living spaces lies where a survey says."""
    if kinds.get(surface.inside) is not SpaceKind.LIVING:
        return False
    beyond = kinds.get(surface.outside)
    if position is Position.ATTIC_FLOOR:
        return surface.kind == "ceiling" and beyond is SpaceKind.ATTIC
    if position is Position.KNEE_WALL:
        return surface.kind == "wall" and beyond is SpaceKind.KNEE_WALL_ATTIC
    if position is Position.SLOPE:
        return surface.kind == "roof" and surface.outside == OUTDOORS
    if position is Position.WALL:
        return surface.kind == "wall" and surface.outside == OUTDOORS
    return surface.kind == "floor" and beyond is not SpaceKind.LIVING


def _unclear(name: str) -> Finding:
    return Finding(
        "test/not-in-house",
        Severity.NOTE,
        f"{name} is not put into the house, since it is not clear to which surface it belongs; "
        "give it the name of the surface, or the surface its area.",
        about=name,
    )
