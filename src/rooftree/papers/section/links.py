"""What of the section can be pressed: spaces, insulation, ducts and burners.

The places lie over the finished drawing, see-through, so that the drawing itself is the
same with and without them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from rooftree.house import GROUND, OUTDOORS, SpaceKind
from rooftree.papers.section.fittings import burner_places, pipe_places
from rooftree.papers.section.layout import lay_out
from rooftree.papers.section.view import view_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from rooftree.house import House, Surface
    from rooftree.papers.section.layout import Layout, Point
    from rooftree.papers.section.view import View

_THICK = 16.0
"""Width of what is pressed along a wall, a ceiling or a floor, in drawing units."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One place that can be pressed.

    Attributes
    ----------
    kind : str
        Kind of the parts, such as ``"surface"``.
    parts : tuple of str
        Their ids; empty where a house has one at most.
    words : str
        What it is called.
    corners : tuple of (float, float)
        Outline in drawing units.
    """

    kind: str
    parts: tuple[str, ...]
    words: str
    corners: tuple[tuple[float, float], ...]


def with_links(
    svg: str, house: House, head: float, address: Callable[[str, tuple[str, ...]], str]
) -> str:
    """Return a section in which the parts of the house lead to what is known of them.

    Parameters
    ----------
    svg : str
        As `draw_section` gives it for the same house.
    house : House
        What is drawn.
    head : float
        Room above the house in the drawing [drawing units].
    address : callable
        Gives the address for a kind of part and the ids of those that lie there.

    Returns
    -------
    str
        The drawing is a group then, not a picture: what is in it can be reached by
        keyboard, and says what it is.
    """
    links = "".join(_link(spot, address(spot.kind, spot.parts)) for spot in spots(house, head))
    body, end = svg.rsplit("</svg>", 1)
    return f"{body}{links}</svg>{end}".replace('role="img"', 'role="group"', 1)


def spots(house: House, head: float) -> tuple[Spot, ...]:
    """Return every place of a section that can be pressed, spaces first.

    Parameters
    ----------
    house : House
        What is drawn.
    head : float
        Room above the house in the drawing [drawing units].

    Returns
    -------
    tuple of Spot
        Later ones lie over earlier ones.
    """
    layout = lay_out(house)
    view = view_of(layout, head)
    return (
        *_spaces(view, layout),
        *(spot for key in layout.shapes for spot in _edges(view, layout, house, key)),
        *_ducts(view, layout, house),
        *_burners(view, layout, house),
    )


def _link(spot: Spot, href: str) -> str:
    link = ET.Element("a", {"href": href, "class": "part"})
    ET.SubElement(link, "title").text = spot.words
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in spot.corners)
    ET.SubElement(link, "polygon", {"points": points, "fill": "transparent"})
    return ET.tostring(link, encoding="unicode")


def _spaces(view: View, layout: Layout) -> Iterator[Spot]:
    for key, shape in layout.shapes.items():
        yield Spot("space", (key,), shape.space.name, tuple(view.points(shape.outline)))


def _edges(view: View, layout: Layout, house: House, key: str) -> Iterator[Spot]:
    """Yield ceilings, floors, walls and slopes of one space."""
    shape = layout.shapes[key]
    own = [surface for surface in house.surfaces if surface.inside == key]
    slopes = [s for s in own if s.kind == "roof"]
    if shape.is_under_roof:
        yield from _strips(view, shape.outline, ((1, 2), (2, 0)), slopes)
        return
    if shape.is_cut:
        yield from _strips(view, shape.outline, ((2, 3), (4, 5)), slopes)
        knees = {k for k, s in layout.shapes.items() if s.space.kind is SpaceKind.KNEE_WALL_ATTIC}
        walls = [s for s in own if s.kind == "wall" and s.outside in knees]
        yield from _strips(view, shape.outline, ((1, 2), (5, 0)), walls)
        yield from _strips(view, shape.outline, ((3, 4),), [s for s in own if s.kind == "ceiling"])
    else:
        walls = [s for s in own if s.kind == "wall" and s.outside in (OUTDOORS, GROUND)]
        sides = [
            ends
            for ends, is_left in (((1, 2), False), ((3, 0), True))
            if layout.is_free(shape, left=is_left)
        ]
        yield from _strips(view, shape.outline, sides, walls)
        above = [s for s in own if s.kind in ("ceiling", "roof")]
        yield from _strips(view, shape.outline, ((2, 3),), above)
    below = [s for s in own if s.kind in ("floor", "slab")]
    yield from _strips(view, shape.outline, ((0, 1),), below)


def _strips(
    view: View,
    outline: tuple[Point, ...],
    sides: Sequence[tuple[int, int]],
    surfaces: list[Surface],
) -> Iterator[Spot]:
    """Yield a strip along each of some sides of an outline, for the surfaces that lie there."""
    if not surfaces:
        return
    words = surfaces[0].name
    if len(surfaces) > 1:
        words = f"{len(surfaces)} surfaces: {', '.join(one.name for one in surfaces)}"
    for first, last in sides:
        (x1, y1), (x2, y2) = view.points((outline[first], outline[last]))
        length = max(((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5, 1.0)
        right, down = -(y2 - y1) / length * _THICK / 2, (x2 - x1) / length * _THICK / 2
        corners = (
            (x1 + right, y1 + down),
            (x2 + right, y2 + down),
            (x2 - right, y2 - down),
            (x1 - right, y1 - down),
        )
        yield Spot("surface", tuple(one.id for one in surfaces), words, corners)


def _ducts(view: View, layout: Layout, house: House) -> Iterator[Spot]:
    for key, side, box in pipe_places(view, layout, house):
        runs = [run for run in house.ducts if run.space == key and run.side == side]
        words = ", ".join(run.name for run in runs)
        yield Spot("duct", tuple(run.id for run in runs), words, _corners(*box))


def _burners(view: View, layout: Layout, house: House) -> Iterator[Spot]:
    for name, shape, box in burner_places(view, layout, house):
        kind = "water heater" if name == "water heater" else "heating"
        yield Spot(kind, (), f"{name} in the {shape.space.name}", _corners(*box))


def _corners(x: float, y: float, wide: float, tall: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall))
