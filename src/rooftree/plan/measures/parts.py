"""Parts of a house that measures look for and change; every function is pure."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.errors import PlanError
from rooftree.house import Layer, LeakKind, Space, SpaceKind, Surface

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from rooftree.house import House, Leak

BEST_FILL = 0.02
"""Least conductivity of anything that fills a cavity [W/(m·K)]; judgement, sprayed foam."""

FILL_CONDUCTIVITY = 0.04
"""Of insulation added where a surface had none [W/(m·K)]; batts, common practice."""


def demand(kind: str, found: object, missing: str) -> None:
    """Refuse a measure where the house lacks what it changes.

    Parameters
    ----------
    kind : str
        Kind of measure.
    found : object
        What was looked for; anything empty counts as missing.
    missing : str
        What is missing, in plain words.

    Raises
    ------
    PlanError
        Naming what is missing.
    """
    if not found:
        raise PlanError(f"{kind} needs {missing}; this house has none")


def living_ids(house: House) -> frozenset[str]:
    """Return the ids of the living spaces.

    Parameters
    ----------
    house : House
        Any house.

    Returns
    -------
    frozenset of str
        Their ids.
    """
    return frozenset(space.id for space in house.living_spaces)


def spaces_of(house: House, *kinds: SpaceKind) -> tuple[Space, ...]:
    """Return the spaces of some kinds, in the order of the house.

    Parameters
    ----------
    house : House
        Any house.
    kinds : SpaceKind
        Kinds that are wanted.

    Returns
    -------
    tuple of Space
        May be empty.
    """
    return tuple(space for space in house.spaces if space.kind in kinds)


def largest_living(house: House) -> Space:
    """Return the living space with the largest floor.

    Parameters
    ----------
    house : House
        Any house.

    Returns
    -------
    Space
        The space.

    Raises
    ------
    PlanError
        If there is no living space.
    """
    if not house.living_spaces:
        raise PlanError("the house has no living space; give one of its spaces that kind")
    return max(house.living_spaces, key=lambda space: space.floor_area)


def joins(part: Surface | Leak, one: Iterable[str], other: Iterable[str]) -> bool:
    """Tell whether a surface or a leak lies between two groups of spaces.

    Parameters
    ----------
    part : Surface or Leak
        What lies between.
    one, other : iterable of str
        Ids of spaces, or ``OUTDOORS``.

    Returns
    -------
    bool
        True in either direction.
    """
    ends = (part.inside, part.outside) if isinstance(part, Surface) else (part.first, part.second)
    first, second = ends
    one, other = frozenset(one), frozenset(other)
    return (first in one and second in other) or (first in other and second in one)


def boundary_cracks(house: House) -> tuple[Leak, ...]:
    """Return the cracks between a living space and anything that is not one.

    Parameters
    ----------
    house : House
        Any house.

    Returns
    -------
    tuple of Leak
        In the order of the house.
    """
    living = living_ids(house)
    return tuple(
        leak
        for leak in house.leaks
        if leak.kind is LeakKind.CRACK and (leak.first in living) != (leak.second in living)
    )


def scaled(house: House, chosen: Iterable[Leak], factor: float) -> House:
    """Return the house with the coefficients of some leaks multiplied.

    Parameters
    ----------
    house : House
        Any house.
    chosen : iterable of Leak
        Leaks to scale.
    factor : float
        What their coefficients are multiplied by [-].

    Returns
    -------
    House
        The changed house.
    """
    ids = {leak.id for leak in chosen}
    return replace(
        house,
        leaks=tuple(
            replace(leak, coefficient=leak.coefficient * factor) if leak.id in ids else leak
            for leak in house.leaks
        ),
    )


def with_surfaces(
    house: House, chosen: Iterable[Surface], change: Callable[[Surface], Surface]
) -> House:
    """Return the house with some surfaces changed.

    Parameters
    ----------
    house : House
        Any house.
    chosen : iterable of Surface
        Surfaces to change.
    change : callable
        Takes one and gives the changed one.

    Returns
    -------
    House
        The changed house.
    """
    ids = {surface.id for surface in chosen}
    return replace(
        house,
        surfaces=tuple(
            change(surface) if surface.id in ids else surface for surface in house.surfaces
        ),
    )


def insulation_resistance(surface: Surface) -> float:
    """Return the resistance of the insulation layers of a surface [m²·K/W].

    Parameters
    ----------
    surface : Surface
        Any surface.

    Returns
    -------
    float
        Sum over its insulation layers [m²·K/W].
    """
    return sum(layer.resistance for layer in surface.layers if layer.role == "insulation")


def filled(surface: Surface, resistance: float, void_left: float = 0.0) -> Surface:
    """Return a surface whose cavity insulation has at least some resistance, voids filled.

    The cavity keeps its depth; a surface without an insulation layer gets one behind
    its inside face.

    Parameters
    ----------
    surface : Surface
        Any surface.
    resistance : float
        Wanted resistance of the insulation layers together [m²·K/W].
    void_left : float
        Largest share of voids that the work leaves [0-1].

    Returns
    -------
    Surface
        The changed surface.

    Raises
    ------
    PlanError
        If no insulation is good enough to reach the resistance in the depth there is.
    """
    voids = min(surface.void_fraction, void_left)
    missing = resistance - insulation_resistance(surface)
    if missing <= 0.0:
        return replace(surface, void_fraction=voids)
    first = next((k for k, layer in enumerate(surface.layers) if layer.role == "insulation"), None)
    if first is None:
        new = Layer(
            "added insulation", missing * FILL_CONDUCTIVITY, FILL_CONDUCTIVITY, role="insulation"
        )
        layers = (surface.layers[0], new, *surface.layers[1:])
    else:
        old = surface.layers[first]
        conductivity = old.thickness / (old.resistance + missing)
        if conductivity < BEST_FILL:
            most = insulation_resistance(surface) - old.resistance + old.thickness / BEST_FILL
            raise PlanError(
                f"{surface.name} has a cavity {old.thickness * 1000:.0f} mm deep, which holds at "
                f"most {most:.2f} m²·K/W; {resistance:.2f} m²·K/W was asked for: lower the setting"
            )
        new = replace(old, name=f"{old.name}, filled", conductivity=conductivity)
        layers = (*surface.layers[:first], new, *surface.layers[first + 1 :])
    return replace(surface, layers=layers, void_fraction=voids)
