"""Insulation in the section: every layer drawn as thick as it works."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.house import GROUND, OUTDOORS, SpaceKind
from rooftree.physics.heat_paths import parallel_paths

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.house import House, Surface
    from rooftree.papers.pen import Pen
    from rooftree.papers.section.layout import Layout, Point, Shape
    from rooftree.papers.section.view import View

THICKNESS = 8.5
"""Drawn thickness of insulation per m²·K/W of effective resistance."""

_THINNEST, _THICKEST = 3.0, 44.0
_BEHIND_SLOPE = 9.0
"""Most that fits between a sloped ceiling and the roof, as drawn."""

_WORTH_A_GAP = 0.04
"""Missing share from which a gap is drawn [0-1]."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """One drawn layer of insulation, for its label.

    Attributes
    ----------
    word : str
        What it insulates.
    resistance : float
        Effective [m²·K/W].
    left, right : (float, float)
        Its two ends, in drawing units.
    """

    word: str
    resistance: float
    left: tuple[float, float]
    right: tuple[float, float]


def effective_resistance(surface: Surface) -> float:
    """Return the resistance of the insulation, voids and framing counted in [m²·K/W].

    Parallel paths through insulation, wood of 0.12 W/(m·K) (common handbook value for
    softwood) and voids (0.1 m²·K/W, a still air gap); for the drawing only, the engine
    does its own sum.

    Parameters
    ----------
    surface : Surface
        Any.

    Returns
    -------
    float
        0 where there is no insulation layer [m²·K/W].
    """
    layers = [layer for layer in surface.layers if layer.role == "insulation"]
    full = sum(layer.resistance for layer in layers)
    if not full:
        return 0.0
    wood = sum(layer.thickness for layer in layers) / 0.12
    frame = surface.framing_fraction
    void = (1.0 - frame) * surface.void_fraction
    return parallel_paths((1.0 - frame - void, frame, void), (full, wood, 0.1))


def draw_insulation(pen: Pen, view: View, layout: Layout, house: House) -> list[Drawn]:
    """Draw the insulation around every space.

    Parameters
    ----------
    pen : Pen
        Draws.
    view : View
        Of the layout.
    layout : Layout
        Where the spaces stand.
    house : House
        Whose surfaces they are.

    Returns
    -------
    list of Drawn
        What was drawn.
    """
    drawn: list[Drawn] = []
    for key, shape in layout.shapes.items():
        of_space = [s for s in house.surfaces if s.inside == key and effective_resistance(s) > 0.0]
        drawn += _levels(pen, view, shape, of_space)
        drawn += _walls(pen, view, layout, shape, of_space)
        drawn += _slopes(pen, view, shape, of_space)
    return drawn


def _levels(pen: Pen, view: View, shape: Shape, surfaces: list[Surface]) -> list[Drawn]:
    """Draw ceilings and floors."""
    drawn = []
    for word, kinds in (("ceiling", ("ceiling",)), ("floor", ("floor",))):
        group = [s for s in surfaces if s.kind in kinds and s.outside != GROUND]
        if word == "ceiling" and shape.is_cut and not group:
            continue
        if word == "ceiling" and not shape.is_under_roof:
            group += [s for s in surfaces if s.kind == "roof" and not shape.is_cut]
        if not group or shape.is_under_roof:
            continue
        resistance, void = _mean(group)
        thick = _thickness(resistance)
        left, right = view.x(shape.left), view.x(shape.right)
        if word == "ceiling" and shape.is_cut:
            left, right = (view.x(shape.outline[k][0]) for k in (4, 3))
        y = view.y(shape.top) - thick - 1.5 if word == "ceiling" else view.y(shape.bottom) + 1.5
        _batt(pen, left + 2.0, y, right - left - 4.0, thick, void)
        middle = y + 0.5 * thick
        drawn.append(Drawn(word, resistance, (left + 4.0, middle), (right - 4.0, middle)))
    return drawn


def _walls(
    pen: Pen, view: View, layout: Layout, shape: Shape, surfaces: list[Surface]
) -> list[Drawn]:
    """Draw outside walls, or knee walls on the attic's side of a room in the roof."""
    if shape.is_under_roof:
        return []
    knees = {k for k, s in layout.shapes.items() if s.space.kind is SpaceKind.KNEE_WALL_ATTIC}
    outside = knees if shape.is_cut else {OUTDOORS, GROUND}
    walls = [s for s in surfaces if s.kind == "wall" and s.outside in outside]
    if not walls:
        return []
    resistance, _ = _mean(walls)
    thick = _thickness(resistance)
    top, bottom = view.y(shape.wall_top) + 2.0, view.y(shape.bottom) - 2.0
    left, right = view.x(shape.left), view.x(shape.right)
    middle = 0.5 * (top + bottom)
    drawn = []
    for is_free, inner, outer, edge in (
        (layout.is_free(shape, left=True), left + 1.5, left - thick - 1.5, left),
        (layout.is_free(shape, left=False), right - thick - 1.5, right + 1.5, right),
    ):
        if shape.is_cut or is_free:
            x = outer if shape.is_cut else inner
            pen.box(x, top, thick, bottom - top, fill="url(#batt)", stroke=pen.ink.ink,
                    stroke_width=0.7)  # fmt: skip
            word = "knee wall" if shape.is_cut else "wall"
            drawn.append(Drawn(word, resistance, (edge, middle), (edge, middle)))
    return drawn


def _slopes(pen: Pen, view: View, shape: Shape, surfaces: list[Surface]) -> list[Drawn]:
    """Draw insulated slopes: of a room in the roof, or of an attic under its deck."""
    slopes = [s for s in surfaces if s.kind == "roof" and s.outside == OUTDOORS]
    if not slopes or not (shape.is_cut or shape.is_under_roof):
        return []
    resistance, _ = _mean(slopes)
    thick = _thickness(resistance)
    if shape.is_cut:
        thick = min(thick, _BEHIND_SLOPE)
        corners = shape.outline
        lines = [(corners[2], corners[3]), (corners[4], corners[5])]
        inward = -1.0
    else:
        foot_left, foot_right, ridge = shape.outline
        lines = [(foot_right, ridge), (ridge, foot_left)]
        inward = 1.0
    for first, last in lines:
        _strip(pen, view, first, last, inward * thick)
    (x1, y1), (x2, y2) = lines[0]
    middle = (view.x(0.5 * (x1 + x2)), view.y(0.5 * (y1 + y2)))
    return [Drawn("slope", resistance, middle, middle)]


def _strip(pen: Pen, view: View, first: Point, last: Point, thick: float) -> None:
    """Draw a strip along a line, to its left going from first to last where thick > 0."""
    x1, y1, x2, y2 = view.x(first[0]), view.y(first[1]), view.x(last[0]), view.y(last[1])
    length = math.hypot(x2 - x1, y2 - y1)
    right, down = (y2 - y1) / length * thick, -(x2 - x1) / length * thick
    pen.shape(
        [(x1, y1), (x2, y2), (x2 + right, y2 + down), (x1 + right, y1 + down)],
        fill="url(#batt)",
        stroke=pen.ink.ink,
        stroke_width=0.7,
    )


def _mean(surfaces: Iterable[Surface]) -> tuple[float, float]:
    """Return effective resistance and missing share, by area."""
    group = list(surfaces)
    area = sum(s.area for s in group)
    conductance = sum(s.area / effective_resistance(s) for s in group)
    return area / conductance, sum(s.area * s.void_fraction for s in group) / area


def _thickness(resistance: float) -> float:
    return min(_THICKEST, max(_THINNEST, THICKNESS * resistance))


def _batt(pen: Pen, x: float, y: float, width: float, height: float, void: float) -> None:
    """Draw a horizontal layer of insulation with its missing share as a gap."""
    pen.reserve(x, y, x + width, y + height)
    gap = void * width if void > _WORTH_A_GAP else 0.0
    start = x + min(0.62 * width, width - gap)
    for left, length in ((x, start - x), (start + gap, x + width - start - gap)):
        if length > 0.0:
            pen.box(left, y, length, height, fill="url(#batt)", stroke=pen.ink.ink,
                    stroke_width=0.7)  # fmt: skip
    if gap:
        pen.box(start, y, gap, height, fill="none", stroke=pen.ink.warm, stroke_width=1.4,
                stroke_dasharray="4 3")  # fmt: skip
