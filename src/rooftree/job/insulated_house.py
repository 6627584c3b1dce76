"""Put surveyed insulation into the surfaces of the house."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from scipy.optimize import brentq

from rooftree.engine.conduction import interrupted_layers, resistance_between_faces
from rooftree.finding import Finding, Severity
from rooftree.house import OUTDOORS, SpaceKind
from rooftree.known import How, Known
from rooftree.readings.insulation import InsulationResult, InsulationSurvey, Position

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.house import House, Layer, Surface
    from rooftree.readings.insulation.results import PatchResult

SAME_AREA = 0.2
"""How far the area of a survey and of the surfaces that it is taken for may differ [0-1];
ours: tape and plan disagree by less."""

MOST_VOID = 0.95
"""Largest share of voids [0-1]."""

MEASURED = Known(How.MEASURED, "survey of the insulation")


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
    Their insulation gets the depth and the intended resistance of the survey, its framing
    and its wind-washed share, and as many voids as make it work as the survey found; where
    even without voids it would work less well, its own resistance is raised instead.
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
                _insulated(surface, survey, result) if surface.id in ids else surface
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


def _insulated(surface: Surface, survey: InsulationSurvey, result: InsulationResult) -> Surface:
    """Return a surface whose insulation works as it was found to."""
    patches = result.patches
    framing = _mean(patches, [patch.framing_share for patch in patches])
    washed_of = {patch.name: patch.washed_share for patch in survey.patches}
    washed = _mean(patches, [washed_of.get(patch.name, 0.0) for patch in patches])
    depth = _mean(patches, [patch.mean_depth for patch in patches])
    intended = result.intended or 0.0
    target = result.resistance.value if result.resistance else 0.0
    layers = _resized(surface.layers, depth, max(intended, target))
    for blown_through in (washed, 0.0):
        if _works(layers, framing, 0.0, blown_through) >= target:
            void = _voids(layers, framing, blown_through, target)
            break
    else:
        void, blown_through = 0.0, 0.0
        layers = _raised(surface.layers, depth, framing, target)
    known = dict.fromkeys(("layers", "framing_fraction", "void_fraction"), MEASURED)
    return replace(
        surface,
        layers=layers,
        framing_fraction=framing,
        void_fraction=void,
        washed_fraction=blown_through,
        known={**surface.known, **known},
    )


def _mean(patches: Sequence[PatchResult], values: Sequence[float]) -> float:
    whole = math.fsum(patch.area for patch in patches)
    return math.fsum(p.area * v for p, v in zip(patches, values, strict=True)) / whole


def _resized(layers: tuple[Layer, ...], depth: float, resistance: float) -> tuple[Layer, ...]:
    """Return layers whose insulation together has this depth [m] and resistance [m²·K/W]."""
    insulation = [layer for layer in layers if layer.role == "insulation"]
    thick = sum(layer.thickness for layer in insulation)
    full = resistance_between_faces(tuple(insulation))
    deeper, better = max(depth, 0.001) / thick, resistance / full
    return tuple(
        replace(
            layer,
            thickness=layer.thickness * deeper,
            conductivity=layer.conductivity * deeper / better,
        )
        if layer.role == "insulation"
        else layer
        for layer in layers
    )


def _works(layers: tuple[Layer, ...], framing: float, void: float, washed: float) -> float:
    """Return the resistance with which the insulation works [m²·K/W]."""
    mixed = interrupted_layers(layers, framing, void, washed)
    return resistance_between_faces(tuple(one for one in mixed if one.role == "insulation"))


def _voids(layers: tuple[Layer, ...], framing: float, washed: float, target: float) -> float:
    """Return the share of voids with which the insulation works as found [0-1]."""
    if _works(layers, framing, MOST_VOID, washed) >= target:
        return MOST_VOID
    return float(
        brentq(lambda void: _works(layers, framing, void, washed) - target, 0.0, MOST_VOID)
    )


def _raised(
    layers: tuple[Layer, ...], depth: float, framing: float, target: float
) -> tuple[Layer, ...]:
    """Return layers that work as found between their framing."""

    def short(resistance: float) -> float:
        return _works(_resized(layers, depth, resistance), framing, 0.0, 0.0) - target

    if short(20.0 * target) < 0.0:
        return _resized(layers, depth, target)
    return _resized(layers, depth, float(brentq(short, target, 20.0 * target)))


def _unclear(name: str) -> Finding:
    return Finding(
        "test/not-in-house",
        Severity.NOTE,
        f"{name} is not put into the house, since it is not clear to which surface it belongs; "
        "give it the name of the surface, or the surface its area.",
        about=name,
    )
