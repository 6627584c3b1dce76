"""Draw the section of a house as SVG, for pages and papers alike."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.house import GROUND, OUTDOORS, SpaceKind
from rooftree.papers.section.layout import Layout, Point, Shape, lay_out
from rooftree.papers.section.pen import DARK, LIGHT, Pen
from rooftree.papers.section.state import breathing_sentence
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from rooftree.house import House, Surface
    from rooftree.papers.section.state import SectionState

WIDTH = 1120.0
"""Width of the drawing in its own units."""

_MARGIN = 110.0
_HEAD = 96.0
_FOOT = 74.0
_INSULATION = 8.5
"""Drawn thickness of insulation per m²·K/W of effective resistance."""
_SMALLEST_FLOW = 0.0012
"""Flows below this are not drawn [m³/s]."""


@dataclass(frozen=True, slots=True)
class _View:
    """Maps metres to drawing units; heights are stretched, as storeys are low and wide."""

    scale: float
    rise: float
    left: float
    ground: float

    def x(self, metres: float) -> float:
        return self.left + self.scale * metres

    def y(self, metres: float) -> float:
        return self.ground - self.rise * metres

    def points(self, outline: tuple[Point, ...]) -> list[tuple[float, float]]:
        return [(self.x(a), self.y(b)) for a, b in outline]


def draw_section(
    house: House,
    state: SectionState,
    *,
    system: DisplaySystem,
    dark: bool = False,
    title: str | None = None,
    note: str = "",
) -> str:
    """Return the section of a house as SVG text.

    Parameters
    ----------
    house : House
        What to draw.
    state : SectionState
        Temperatures, humidities and flows to show in it.
    system : DisplaySystem
        Units of the labels.
    dark : bool
        For dark rooms and attics.
    title : str or None
        What the drawing shows; by default, where the air comes from.
    note : str
        Shown at the foot, such as that the house is invented.

    Returns
    -------
    str
        An ``svg`` element with a text alternative and no scripts or style sheets.
    """
    layout = lay_out(house)
    span = layout.right - layout.left
    scale = min((WIDTH - 2.0 * _MARGIN) / span, 60.0)
    rise = min(1.6 * scale, 470.0 / (layout.top - layout.bottom))
    left = 0.5 * WIDTH - 0.5 * scale * (layout.left + layout.right)
    view = _View(scale, rise, left, _HEAD + rise * layout.top + 22.0)
    height = view.y(layout.bottom) + 46.0 + _FOOT
    heading = title or breathing_sentence(house, state.flow)
    pen = Pen(WIDTH, height, DARK if dark else LIGHT, heading, _alternative(house, state, system))
    pen.box(0.0, 0.0, WIDTH, height, fill=pen.ink.paper)
    _heading(pen, heading, state, system)
    _ground(pen, view, layout)
    _spaces(pen, view, layout)
    for surface in house.surfaces:
        _insulation(pen, view, layout, surface)
    _ducts(pen, view, layout, house)
    _water_heater(pen, view, layout, house)
    _neutral_level(pen, view, layout, house, state)
    _labels(pen, view, layout, state, system)
    _arrows(pen, view, layout, house, state, system)
    _legend(pen, height, note)
    return pen.svg()


def _heading(pen: Pen, heading: str, state: SectionState, system: DisplaySystem) -> None:
    outdoors = show(state.outdoor_temperature, Kind.TEMPERATURE, system, digits=2)
    wind = show(state.wind_speed, Kind.SPEED, system, digits=1)
    pen.words(40.0, 42.0, heading, size=24.0, bold=True)
    pen.words(
        40.0,
        68.0,
        f"Section through the house. {state.when}: {outdoors} outside, wind {wind}. "
        "The wider an arrow, the more air.",
        size=14.0,
        color=pen.ink.soft,
    )


def _ground(pen: Pen, view: _View, layout: Layout) -> None:
    top = view.y(0.0)
    bottom = view.y(layout.bottom) + 38.0
    pen.box(40.0, top, WIDTH - 80.0, bottom - top, fill="url(#soil)")
    pen.line(40.0, top, WIDTH - 40.0, top, stroke=pen.ink.ink, stroke_width=2.2,
             stroke_linecap="round")  # fmt: skip


def _spaces(pen: Pen, view: _View, layout: Layout) -> None:
    for roof in layout.roofs:
        pen.shape(view.points(roof), fill=pen.ink.fill, stroke=pen.ink.ink, stroke_width=2.2,
                  stroke_linejoin="round")  # fmt: skip
    for shape in layout.shapes.values():
        if shape.outline in layout.roofs:
            continue
        living = shape.space.kind is SpaceKind.LIVING
        pen.shape(
            view.points(shape.outline),
            fill=pen.ink.room if living else pen.ink.fill,
            stroke=pen.ink.ink,
            stroke_width=2.6 if living else 1.6,
            stroke_linejoin="round",
        )


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
    return 1.0 / ((1.0 - frame - void) / full + frame / wood + void / 0.1)


def _insulation(pen: Pen, view: _View, layout: Layout, surface: Surface) -> None:
    """Draw the insulation of one surface, to its effective resistance."""
    resistance = effective_resistance(surface)
    shape = layout.shapes.get(surface.inside)
    if not resistance or shape is None:
        return
    thickness = min(44.0, max(3.0, _INSULATION * resistance))
    left, right = view.x(shape.left) + 2.0, view.x(shape.right) - 2.0
    top, bottom = view.y(shape.top), view.y(shape.bottom)
    if surface.kind == "ceiling" and surface.tilt < 45.0 and surface.outside != OUTDOORS:
        if len(shape.outline) == 6:
            left, right = (view.x(shape.outline[k][0]) for k in (4, 3))
        _batt(pen, left, top - thickness - 1.5, right - left, thickness, surface.void_fraction)
    elif surface.kind == "floor" and surface.outside != GROUND:
        _batt(pen, left, bottom + 1.5, right - left, thickness, surface.void_fraction)
    elif surface.kind == "wall" and surface.outside == OUTDOORS and len(shape.outline) == 4:
        if surface.azimuth > 180.0 and shape.left <= _first(layout):
            pen.box(left, top + 2.0, thickness, bottom - top - 4.0, fill="url(#batt)",
                    stroke=pen.ink.ink, stroke_width=0.7)  # fmt: skip
        elif surface.azimuth < 180.0 and shape.right >= _last(layout):
            pen.box(right - thickness, top + 2.0, thickness, bottom - top - 4.0,
                    fill="url(#batt)", stroke=pen.ink.ink, stroke_width=0.7)  # fmt: skip


def _first(layout: Layout) -> float:
    return min(shape.left for shape in layout.shapes.values() if len(shape.outline) == 4)


def _last(layout: Layout) -> float:
    return max(shape.right for shape in layout.shapes.values() if len(shape.outline) == 4)


def _batt(pen: Pen, x: float, y: float, width: float, height: float, void: float) -> None:
    """Draw a horizontal layer of insulation with its missing share as a gap."""
    gap = void * width if void > 0.04 else 0.0
    start = x + 0.62 * width
    for left, length in ((x, start - x), (start + gap, x + width - start - gap)):
        if length > 0.0:
            pen.box(left, y, length, height, fill="url(#batt)", stroke=pen.ink.ink,
                    stroke_width=0.7)  # fmt: skip
    if gap:
        pen.box(start, y, gap, height, fill="none", stroke=pen.ink.warm, stroke_width=1.4,
                stroke_dasharray="4 3")  # fmt: skip


def _ducts(pen: Pen, view: _View, layout: Layout, house: House) -> None:
    """Draw supply and return ducts as pipes in the space that they run through."""
    by_space: dict[str, int] = {}
    for run in house.ducts:
        shape = layout.shapes.get(run.space)
        if shape is None:
            continue
        place = by_space.get(run.space, 0)
        by_space[run.space] = place + 1
        height = min(17.0, 0.45 * view.rise * (shape.top - shape.bottom))
        length = min(130.0, 0.28 * view.scale * (shape.right - shape.left))
        x = view.x(shape.left) + 0.42 * view.scale * (shape.right - shape.left)
        x += place * (length + 34.0)
        y = view.y(shape.bottom + 0.45 * (shape.top - shape.bottom)) - 0.5 * height
        if shape.space.kind is SpaceKind.KNEE_WALL_ATTIC:
            x, y = view.x(shape.outline[1][0]) - 92.0, view.y(shape.bottom) - height - 4.0
            length = 46.0
        elif shape.outline in layout.roofs:
            y = view.y(shape.bottom) - height - 24.0
        pen.box(x, y, length, height, rx=0.5 * height, fill=pen.ink.paper, stroke=pen.ink.ink,
                stroke_width=1.4)  # fmt: skip
        pen.words(x + 0.5 * length, y + 0.5 * height + 4.0, run.side, size=11.5,
                  anchor="middle", color=pen.ink.soft)  # fmt: skip


def _water_heater(pen: Pen, view: _View, layout: Layout, house: House) -> None:
    """Draw the water heater, with its vent where it has one."""
    heater = house.water_heater
    shape = layout.shapes.get(heater.space) if heater else None
    if heater is None or shape is None:
        return
    x = view.x(shape.left + 0.88 * (shape.right - shape.left))
    bottom = view.y(shape.bottom) - 3.0
    tall = min(72.0, 0.6 * view.rise * (shape.top - shape.bottom))
    if heater.draft.value in ("natural draft", "fan assisted"):
        pen.line(x, bottom - tall, x, view.y(layout.top) + 24.0, stroke=pen.ink.ink,
                 stroke_width=3.0)  # fmt: skip
        pen.line(x - 9.0, view.y(layout.top) + 24.0, x + 9.0, view.y(layout.top) + 24.0,
                 stroke=pen.ink.ink, stroke_width=2.0)  # fmt: skip
    pen.box(x - 17.0, bottom - tall, 34.0, tall, rx=6.0, fill=pen.ink.paper, stroke=pen.ink.ink,
            stroke_width=1.6)  # fmt: skip
    pen.words(x - 22.0, bottom - 0.5 * tall, "water heater", size=12.0, anchor="end",
              color=pen.ink.soft, step=14.0)  # fmt: skip


def _neutral_level(
    pen: Pen, view: _View, layout: Layout, house: House, state: SectionState
) -> None:
    main = layout.shapes[max(house.living_spaces, key=lambda space: space.volume).id]
    level = state.neutral_level
    if level is None or not main.bottom < level < layout.top:
        return
    y = view.y(level)
    pen.line(view.x(main.left) - 38.0, y, view.x(main.right), y, stroke=pen.ink.ink,
             stroke_width=1.2, stroke_dasharray="3 6", stroke_linecap="round")  # fmt: skip
    pen.words(view.x(main.left) - 44.0, y + 4.0, "neutral level", size=12.0, anchor="end",
              color=pen.ink.soft, step=14.0)  # fmt: skip


def _labels(
    pen: Pen, view: _View, layout: Layout, state: SectionState, system: DisplaySystem
) -> None:
    for shape in layout.shapes.values():
        space = shape.space
        warmth = show(state.temperature[space.id], Kind.TEMPERATURE, system, digits=2)
        damp = f"{100.0 * state.relative_humidity[space.id]:.0f} %"
        x = view.x(shape.middle)
        middle = 0.5 * (view.y(shape.top) + view.y(shape.bottom))
        if space.kind is SpaceKind.LIVING:
            wide = view.scale * (shape.right - shape.left) > 190.0
            text = f"{warmth} · {damp}" if wide else warmth
            pen.words(x, middle - 2.0, text, size=22.0, anchor="middle", bold=True)
            area = show(space.floor_area, Kind.AREA, system, digits=3)
            name = f"{space.name} {area}" if wide else space.name
            pen.words(x, middle + 17.0, name, size=13.0, anchor="middle", color=pen.ink.soft)
        elif space.kind is SpaceKind.CRAWLSPACE:
            pen.words(x, view.y(shape.bottom) + 22.0, f"{space.name} {warmth} · {damp}",
                      size=15.0, anchor="middle", bold=True, halo=True)  # fmt: skip
        elif space.kind is SpaceKind.KNEE_WALL_ATTIC:
            peak = max(y for _, y in shape.outline)
            pen.words(x, view.y(peak) - 8.0, f"knee-wall attic {warmth}", size=13.0,
                      anchor="middle", bold=True, step=-15.0)  # fmt: skip
        else:
            pen.words(x, middle, f"{space.kind.value} {warmth}", size=15.0, anchor="middle",
                      bold=True, step=16.0)  # fmt: skip


def _arrows(
    pen: Pen,
    view: _View,
    layout: Layout,
    house: House,
    state: SectionState,
    system: DisplaySystem,
) -> None:
    """Draw the net way of the air across each boundary of the living spaces."""
    living = {space.id for space in house.living_spaces}
    flows = {
        ends: amount
        for ends, amount in state.flow.items()
        if amount > _SMALLEST_FLOW and (ends[0] in living) != (ends[1] in living)
    }
    largest = max(flows.values(), default=1.0)
    crossing: dict[frozenset[str], int] = {}
    for (source, target), amount in sorted(flows.items(), key=lambda item: -item[1]):
        inward = target in living
        room = layout.shapes[target if inward else source]
        other = source if inward else target
        pair = frozenset((source, target))
        turn = crossing.get(pair, 0)
        crossing[pair] = turn + 1
        across = _across(view, layout, room, layout.shapes.get(other), inward, turn)
        if across is None:
            continue
        x, y, dx, dy = across
        width = 2.0 + 8.0 * math.sqrt(amount / largest)
        color, head = (pen.ink.cool, "cool") if inward else (pen.ink.warm, "warm")
        reach = 30.0
        sign = 1.0 if inward else -1.0
        pen.path(
            f"M{x - sign * dx * reach:.1f} {y - sign * dy * reach:.1f} "
            f"L{x + sign * dx * reach:.1f} {y + sign * dy * reach:.1f}",
            fill="none",
            stroke=color,
            stroke_width=round(width, 1),
            marker_end=f"url(#head-{head})",
            opacity=0.92,
        )
        label = show(amount, Kind.FLOW, system, digits=2)
        if dx:  # beside a wall: above the arrow
            outward = -1.0 if dx > 0.0 else 1.0
            anchor = "end" if outward < 0.0 else "start"
            pen.words(x + outward * (reach + 6.0), y - 0.5 * width - 5.0, label, size=14.0,
                      anchor=anchor, color=color, bold=True, halo=True, step=-15.0)  # fmt: skip
        else:
            outside = y - 30.0 if dy > 0.0 else y + 26.0
            pen.words(x + 0.5 * width + 8.0, outside, label, size=14.0, color=color, bold=True,
                      halo=True, step=-15.0 if dy > 0.0 else 15.0)  # fmt: skip


def _across(
    view: _View,
    layout: Layout,
    room: Shape,
    other: Shape | None,
    inward: bool,
    turn: int,
) -> tuple[float, float, float, float] | None:
    """Return where an arrow crosses a boundary, and its direction into the room.

    Air to and from outdoors crosses the free outside wall of the room, entering low and
    leaving high; other boundaries are crossed where the two shapes touch.
    """
    width = room.right - room.left
    if other is None:
        at_left = room.left <= _first(layout) + 0.01
        x = view.x(room.left if at_left else room.right)
        share = (0.22 if inward else 0.86) - 0.1 * turn
        y = view.y(room.bottom + share * (room.top - room.bottom))
        return x, y, (1.0 if at_left else -1.0), 0.0
    share = 0.16 if inward else 0.44
    if other.bottom >= room.top - 0.3 or other.outline in layout.roofs:
        if len(room.outline) == 6:  # a room in the roof: through the knee wall
            x = view.x(room.left if inward else room.right)
            y = view.y(room.bottom + 0.25 * (room.top - room.bottom))
            return x, y, (1.0 if inward else -1.0), 0.0
        return view.x(room.left + share * width), view.y(room.top), 0.0, 1.0
    if other.top <= room.bottom + 0.3:
        return view.x(room.left + (share - 0.04) * width), view.y(room.bottom), 0.0, -1.0
    beside_right = other.left >= room.right - 0.01
    low, high = max(room.bottom, other.bottom), min(room.top, other.top)
    if high <= low:
        return None
    x = view.x(room.right if beside_right else room.left)
    y = view.y(low + (0.3 if inward else 0.7) * (high - low))
    return x, y, (-1.0 if beside_right else 1.0), 0.0


def _legend(pen: Pen, height: float, note: str) -> None:
    y = height - 26.0
    x = 40.0
    for color, text in (
        (pen.ink.cool, "air coming in"),
        (pen.ink.warm, "house air going out"),
    ):
        pen.line(x, y, x + 34.0, y, stroke=color, stroke_width=6.0, stroke_linecap="round")
        pen.words(x + 44.0, y + 5.0, text, size=13.0)
        x += 190.0
    pen.box(x, y - 8.0, 40.0, 14.0, fill="url(#batt)", stroke=pen.ink.ink, stroke_width=0.7)
    pen.words(x + 50.0, y + 5.0, "insulation, drawn to its effective R", size=13.0)
    x += 290.0
    pen.box(x, y - 8.0, 30.0, 14.0, fill="none", stroke=pen.ink.warm, stroke_width=1.4,
            stroke_dasharray="4 3")  # fmt: skip
    pen.words(x + 40.0, y + 5.0, "missing", size=13.0)
    if note:
        pen.words(WIDTH - 40.0, y + 5.0, note, size=12.0, anchor="end", color=pen.ink.soft)


def _alternative(house: House, state: SectionState, system: DisplaySystem) -> str:
    """Return the text that stands for the drawing."""
    rooms = "; ".join(
        f"{space.name} {show(state.temperature[space.id], Kind.TEMPERATURE, system, digits=2)}, "
        f"{100.0 * state.relative_humidity[space.id]:.0f} % humidity"
        for space in house.spaces
    )
    living = {space.id for space in house.living_spaces}
    names = {space.id: space.name for space in house.spaces} | {OUTDOORS: "outdoors"}
    flows = "; ".join(
        f"{show(amount, Kind.FLOW, system, digits=2)} from {names[a]} to {names[b]}"
        for (a, b), amount in sorted(state.flow.items(), key=lambda item: -item[1])
        if amount > _SMALLEST_FLOW and (a in living) != (b in living)
    )
    return f"{state.when}. {rooms}. Air: {flows}."
