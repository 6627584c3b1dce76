"""Where each space stands in the section: shapes in metres, x to the right, y up.

A house record has no plan. What it has is enough for an honest section: which spaces lie
above which (horizontal surfaces between them), their levels, heights and floor areas.
Spaces joined by floors and ceilings form a column; columns stand side by side, the one
with the largest living space first.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from rooftree.house import SpaceKind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.house import House, Space

Point = tuple[float, float]

_UNDER_ROOF = (SpaceKind.ATTIC, SpaceKind.KNEE_WALL_ATTIC)
_HORIZONTAL = 45.0
"""Surfaces tilted less than this from level part one storey from another [°]."""

_CORNERS_OF_CUT_ROOM, _CORNERS_OF_ROOF = 6, 3
_TOUCHING = 0.01
"""Shapes nearer than this touch [m]."""

_OVERHANG = 0.6
_LOWEST_PITCH = 0.33
_RAFTERS = 0.4
"""Room between a sloped ceiling and the roof above it [m]."""


@dataclass(frozen=True, slots=True)
class Shape:
    """The outline of one space, and the box in which its label may stand.

    Attributes
    ----------
    space : Space
        Whose outline it is.
    outline : tuple of Point
        Corners, counter-clockwise from the lower left [m].
    left, right, bottom, top : float
        Box inside the outline [m].
    """

    space: Space
    outline: tuple[Point, ...]
    left: float
    right: float
    bottom: float
    top: float

    @property
    def middle(self) -> float:
        """Return the middle of the box, left to right [m]."""
        return 0.5 * (self.left + self.right)

    @property
    def wide(self) -> float:
        """Return the width of the box [m]."""
        return self.right - self.left

    @property
    def is_cut(self) -> bool:
        """Return whether it is a room in the roof, cut by knee walls and slopes."""
        return len(self.outline) == _CORNERS_OF_CUT_ROOM

    @property
    def is_under_roof(self) -> bool:
        """Return whether it fills the triangle of a roof."""
        return len(self.outline) == _CORNERS_OF_ROOF

    @property
    def wall_top(self) -> float:
        """Return where its side walls end [m]."""
        return self.outline[2][1] if self.is_cut else self.top


@dataclass(frozen=True, slots=True)
class Layout:
    """All shapes of one section.

    Attributes
    ----------
    shapes : mapping from str to Shape
        By id of the space, spaces under the roof first so that rooms cover them.
    roofs : tuple of tuple of Point
        Outline of each roof [m].
    left, right, bottom, top : float
        Extent of the drawing [m].
    """

    shapes: dict[str, Shape]
    roofs: tuple[tuple[Point, ...], ...]
    left: float
    right: float
    bottom: float
    top: float

    def stands_on_nothing(self, shape: Shape) -> bool:
        """Return whether there is no space under a room that stands above the ground."""
        return not shape.is_under_roof and not any(
            other.bottom < shape.bottom and other.left < shape.middle < other.right
            for other in self.shapes.values()
            if other is not shape and not other.is_under_roof
        )

    def is_free(self, shape: Shape, *, left: bool) -> bool:
        """Return whether one side of a shape meets outdoors or ground, not another space."""
        edge = shape.left if left else shape.right
        middle = 0.5 * (shape.bottom + shape.wall_top)
        return not any(
            other.bottom < middle < other.top
            and abs((other.right if left else other.left) - edge) < _TOUCHING
            for other in self.shapes.values()
            if other is not shape and not other.is_under_roof
        )


def columns(house: House) -> list[list[Space]]:
    """Return the spaces grouped by what stands above what, main column first."""
    group = {space.id: space.id for space in house.spaces}

    def root(of: str) -> str:
        while group[of] != of:
            of = group[of]
        return of

    for surface in house.surfaces:
        level = surface.tilt < _HORIZONTAL or surface.tilt > 180.0 - _HORIZONTAL
        if level and surface.outside in group and surface.outside != surface.inside:
            group[root(surface.inside)] = root(surface.outside)
    stacks: dict[str, list[Space]] = {}
    for space in house.spaces:
        stacks.setdefault(root(space.id), []).append(space)
    return sorted(stacks.values(), key=_largest_living, reverse=True)


def _largest_living(stack: Sequence[Space]) -> float:
    return max((s.floor_area for s in stack if s.kind is SpaceKind.LIVING), default=0.0)


def _storeys(stack: Sequence[Space]) -> list[list[Space]]:
    """Return what stands in a column besides roofs, lowest storey first."""
    storeys: list[list[Space]] = []
    for space in sorted(
        (s for s in stack if s.kind not in _UNDER_ROOF), key=lambda s: (s.floor_level, -s.volume)
    ):
        floor = storeys[-1] if storeys else None
        if floor and space.floor_level < floor[0].floor_level + 0.6 * floor[0].height:
            floor.append(space)
        else:
            storeys.append([space])
    return storeys


def lay_out(house: House) -> Layout:
    """Return the shapes of a house's spaces.

    Parameters
    ----------
    house : House
        With at least one space.

    Returns
    -------
    Layout
    """
    depth = math.sqrt(max(s.floor_area for s in house.spaces) / 1.5)
    shapes: dict[str, Shape] = {}
    roofed: dict[str, Shape] = {}
    roofs: list[tuple[Point, ...]] = []
    left = 0.0
    for stack in columns(house):
        widest = max(sum(s.floor_area for s in floor) for floor in _storeys(stack) or [stack])
        width = max(4.0, widest / min(depth, math.sqrt(widest / 1.1)))
        rooms = _stack_rooms(_storeys(stack), left, width)
        roof = _roof(stack, rooms, left, width, roofed)
        if roof:
            roofs.append(roof)
        shapes.update({shape.space.id: shape for shape in rooms})
        left += width
    everything = {**roofed, **shapes}
    corners = [p for shape in everything.values() for p in shape.outline]
    corners += [p for roof in roofs for p in roof]
    return Layout(
        everything,
        tuple(roofs),
        min(x for x, _ in corners),
        max(x for x, _ in corners),
        min(0.0, *(y for _, y in corners)),
        max(y for _, y in corners),
    )


def _stack_rooms(storeys: list[list[Space]], left: float, width: float) -> list[Shape]:
    """Return rectangles, storey on storey, without gaps between them."""
    rooms = []
    ends = [b[0].floor_level for _, b in pairwise(storeys)]
    ends += [f[0].floor_level + max(s.height for s in f) for f in storeys[-1:]]
    for floor, top in zip(storeys, ends, strict=True):
        total = sum(s.floor_area for s in floor)
        x = left
        for space in floor:
            right = x + width * space.floor_area / total
            bottom = space.floor_level
            outline = ((x, bottom), (right, bottom), (right, top), (x, top))
            rooms.append(Shape(space, outline, x, right, bottom, top))
            x = right
    return rooms


def _roof(
    stack: Sequence[Space],
    rooms: list[Shape],
    left: float,
    width: float,
    roofed: dict[str, Shape],
) -> tuple[Point, ...]:
    """Return the roof over a column; put the spaces under it in `roofed`."""
    under = [s for s in stack if s.kind in _UNDER_ROOF]
    middle, half = left + 0.5 * width, 0.5 * width
    highest = max((room.top for room in rooms), default=0.0)
    knee = next((s for s in under if s.kind is SpaceKind.KNEE_WALL_ATTIC), None)
    top_room = max(rooms, key=lambda room: room.bottom) if rooms else None
    if knee and top_room:
        rise, room = _room_in_roof(top_room, middle, half)
        rooms[rooms.index(top_room)] = room
        base, reach = top_room.bottom, half + _OVERHANG
    else:
        base, reach = highest, half + _OVERHANG
        rise = max(_LOWEST_PITCH * reach, 1.5 if under else 0.0)
    outline = ((middle - reach, base), (middle + reach, base), (middle, base + rise))
    for space in under:
        roofed[space.id] = Shape(
            space, outline, middle - 0.5 * reach, middle + 0.5 * reach, base, base + 0.55 * rise
        )
    return outline


def _room_in_roof(room: Shape, middle: float, half: float) -> tuple[float, Shape]:
    """Return the rise of the roof, and the room cut to fit between knee walls and slopes."""
    knee_x, flat_x = 0.60 * half, 0.25 * half
    height = room.top - room.bottom
    knee_y = 0.50 * height
    reach = half + _OVERHANG
    rise = max((y + _RAFTERS) / (1.0 - x / reach) for x, y in ((knee_x, knee_y), (flat_x, height)))
    outline = (
        (middle - knee_x, room.bottom),
        (middle + knee_x, room.bottom),
        (middle + knee_x, room.bottom + knee_y),
        (middle + flat_x, room.top),
        (middle - flat_x, room.top),
        (middle - knee_x, room.bottom + knee_y),
    )
    return rise, Shape(room.space, outline, middle - knee_x, middle + knee_x, room.bottom, room.top)
