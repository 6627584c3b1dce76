"""Ducts and burners in the section."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.house import Draft, SpaceKind
from rooftree.papers.pen import Line
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.house import House
    from rooftree.papers.pen import Pen
    from rooftree.papers.section.layout import Layout, Shape
    from rooftree.papers.section.pressures import SectionPressures
    from rooftree.papers.section.view import View

_VENTED = (Draft.NATURAL, Draft.FAN_ASSISTED)
_WIDE = 34.0
"""Width of a burner."""

_TALL_ENOUGH = 80.0
"""Height of a space from which the worst-case pressure stands beside its burner."""


def draw_ducts(pen: Pen, view: View, layout: Layout, house: House) -> None:
    """Draw supply and return ducts as pipes in the space that they run through.

    Parameters
    ----------
    pen : Pen
        Draws.
    view : View
        Of the layout.
    layout : Layout
        Where the spaces stand.
    house : House
        Whose ducts they are.
    """
    for _, side, (x, y, length, height) in pipe_places(view, layout, house):
        pen.box(x, y, length, height, rx=0.5 * height, fill=pen.ink.paper, stroke=pen.ink.ink,
                stroke_width=1.4)  # fmt: skip
        pen.words(x + 0.5 * length, y + 0.5 * height + 4.0, side, size=11.5, anchor="middle",
                  color=pen.ink.soft)  # fmt: skip
        pen.reserve(x, y, x + length, y + height)


def pipe_places(
    view: View, layout: Layout, house: House
) -> Iterator[tuple[str, str, tuple[float, float, float, float]]]:
    """Yield where the ducts are drawn: space, side, and left, top, length and height."""
    by_space: dict[str, list[str]] = {}
    for run in house.ducts:
        if run.space in layout.shapes:
            by_space.setdefault(run.space, []).append(run.side)
    for key, sides in by_space.items():
        for place, side in enumerate(dict.fromkeys(sides)):
            yield key, side, _pipe(view, layout.shapes[key], place)


def _pipe(view: View, shape: Shape, place: int) -> tuple[float, float, float, float]:
    wide, tall = view.scale * (shape.right - shape.left), view.rise * (shape.top - shape.bottom)
    height = min(17.0, 0.45 * tall)
    length = min(108.0, 0.18 * wide)
    x = view.x(shape.left) + 0.36 * wide + place * (length + 22.0)
    y = view.y(shape.bottom + 0.5 * (shape.top - shape.bottom)) - 0.5 * height
    if shape.space.kind is SpaceKind.LIVING:
        y = view.y(shape.bottom) - height - 10.0
    elif shape.space.kind is SpaceKind.KNEE_WALL_ATTIC:
        length = 46.0
        x, y = view.x(shape.outline[1][0]) - 62.0, view.y(shape.bottom) - height - 5.0
    elif shape.is_under_roof:
        y = view.y(shape.bottom) - height - 30.0
    return x, y, length, height


def draw_burners(
    pen: Pen,
    view: View,
    layout: Layout,
    house: House,
    pressures: SectionPressures | None,
    system: DisplaySystem,
) -> None:
    """Draw the water heater and the heating, with their vents where they have one.

    Parameters
    ----------
    pen : Pen
        Draws.
    view : View
        Of the layout.
    layout : Layout
        Where the spaces stand.
    house : House
        Whose equipment it is.
    pressures : SectionPressures or None
        Worst-case pressures to write beside them.
    system : DisplaySystem
        Units of the labels.
    """
    worst = pressures.appliances if pressures else {}
    for name, draft, shape, x in _burners(view, layout, house):
        _burner(pen, view, layout, shape, x, draft)
        tall = _height(view, shape)
        _name(pen, view, shape, x, tall, name, worst.get(name), system)


def burner_places(
    view: View, layout: Layout, house: House
) -> Iterator[tuple[str, Shape, tuple[float, float, float, float]]]:
    """Yield where burners are drawn: name, space, and left, top, width and height."""
    for name, _, shape, x in _burners(view, layout, house):
        tall = _height(view, shape)
        yield name, shape, (x - 0.5 * _WIDE, view.y(shape.bottom) - 3.0 - tall, _WIDE, tall)


def _burners(view: View, layout: Layout, house: House) -> Iterator[tuple[str, Draft, Shape, float]]:
    """Yield name, draft, space and middle of each burner that is drawn."""
    heater, heating = house.water_heater, house.heating
    found = []
    if heater is not None:
        found.append(("water heater", heater.space, heater.draft, 0.90))
    if heating is not None and heating.draft is not Draft.NONE:
        share = 0.97 if heater is None or heater.space != heating.space else 0.66
        found.append((heating.kind, heating.space, heating.draft, share))
    for name, key, draft, share in found:
        shape = layout.shapes.get(key)
        if shape is not None and not shape.is_under_roof:
            x = view.x(shape.left + share * (shape.right - shape.left)) - 0.5 * _WIDE
            yield name, draft, shape, x


def _height(view: View, shape: Shape) -> float:
    return min(72.0, 0.6 * view.rise * (shape.top - shape.bottom))


def _burner(pen: Pen, view: View, layout: Layout, shape: Shape, x: float, draft: Draft) -> None:
    bottom, tall = view.y(shape.bottom) - 3.0, _height(view, shape)
    cap = view.y(layout.top) + 24.0
    if draft in _VENTED:
        pen.line(x, bottom - tall, x, cap, stroke=pen.ink.ink, stroke_width=3.0)
        pen.line(x - 9.0, cap, x + 9.0, cap, stroke=pen.ink.ink, stroke_width=2.0)
        pen.reserve(x - 4.0, cap, x + 4.0, bottom - tall)
    left = x - 0.5 * _WIDE
    pen.box(left, bottom - tall, _WIDE, tall, rx=6.0, fill=pen.ink.paper, stroke=pen.ink.ink,
            stroke_width=1.6)  # fmt: skip
    pen.reserve(left, bottom - tall, left + _WIDE, bottom)


def _name(
    pen: Pen,
    view: View,
    shape: Shape,
    x: float,
    tall: float,
    name: str,
    worst: float | None,
    system: DisplaySystem,
) -> None:
    edge = x - 0.5 * _WIDE - 6.0
    y = view.y(shape.bottom) - 3.0 - 0.5 * tall
    moves = [(0.0, step) for step in (-14.0, 14.0, -28.0, 28.0)]
    if tall < 2.0 * _WIDE:
        y += 4.0
    lines = [Line(name, 12.0, pen.ink.soft)]
    if worst is not None and view.rise * (shape.top - shape.bottom) > _TALL_ENOUGH:
        text = f"{show(worst, Kind.PRESSURE, system, digits=2)} worst case"
        lines.append(Line(text, 13.0, pen.ink.warm, bold=True))
    pen.lines(edge, y, lines, anchor="end", moves=moves)
