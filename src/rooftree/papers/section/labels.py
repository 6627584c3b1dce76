"""Words in the section: spaces, insulation, the neutral level, the legend."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.house import SpaceKind
from rooftree.papers.pen import Box, Line
from rooftree.papers.section.degrees import to_the_degree
from rooftree.papers.section.pressures import TEST_PRESSURE
from rooftree.papers.section.view import WIDTH
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from rooftree.house import House, Space
    from rooftree.papers.pen import Move, Pen
    from rooftree.papers.section.insulation import Drawn
    from rooftree.papers.section.layout import Layout, Shape
    from rooftree.papers.section.pressures import SectionPressures
    from rooftree.papers.section.state import SectionState
    from rooftree.papers.section.view import View

EDGE = 40.0
"""Left and right end of headings, ground and legend."""

_BETWEEN = 26.0
"""Room between entries of the legend."""

_EAVES = 0.15
"""Part of a roof's width at each end where it is too low for words [-]."""

_ROOMY = 190.0
"""Width from which a room shows its humidity and floor area."""

_AROUND: tuple[Move, ...] = tuple(
    (right, down)
    for down in (0.0, -18.0, 18.0, -36.0, 36.0, 54.0)
    for right in (0.0, -30.0, 30.0, -70.0, 70.0)
)
_UP_AND_DOWN: tuple[Move, ...] = tuple((0.0, down) for down in (-16.0, 16.0, -32.0, 32.0, -48.0))


def label_spaces(
    pen: Pen,
    view: View,
    layout: Layout,
    state: SectionState,
    pressures: SectionPressures | None,
    system: DisplaySystem,
) -> None:
    """Write name, temperature, humidity and measured pressure of each space.

    Parameters
    ----------
    pen : Pen
        Writes.
    view : View
        Of the layout.
    layout : Layout
        Where the spaces stand.
    state : SectionState
        Temperatures and humidities.
    pressures : SectionPressures or None
        Zone pressures.
    system : DisplaySystem
        Units of the labels.
    """
    zones = pressures.zones if pressures else {}
    for shape in layout.shapes.values():
        if shape.space.kind is SpaceKind.LIVING:
            _room(pen, view, shape, state, system)
            continue
        zone = zones.get(shape.space.id)
        below = "" if zone is None else f"{zone:.0f} of {TEST_PRESSURE:.0f} Pa"
        _buffer(pen, view, shape, state, below, system)


def _warmth(space: Space, state: SectionState, system: DisplaySystem) -> str:
    return to_the_degree(state.temperature[space.id], system)


def _climate(space: Space, state: SectionState, system: DisplaySystem) -> str:
    """Return temperature and humidity of a space in words."""
    return f"{_warmth(space, state, system)} · {100.0 * state.relative_humidity[space.id]:.0f} %"


def _room(pen: Pen, view: View, shape: Shape, state: SectionState, system: DisplaySystem) -> None:
    space = shape.space
    x, middle = view.x(shape.middle), 0.5 * (view.y(shape.top) + view.y(shape.bottom))
    is_roomy = view.scale * (shape.right - shape.left) > _ROOMY

    def told(state: SectionState) -> str:
        return (_climate if is_roomy else _warmth)(space, state, system)

    area = show(space.floor_area, Kind.AREA, system, digits=3)
    name = f"{space.name} {area}" if is_roomy else space.name
    lines = (
        Line(told(state), 22.0, bold=True, shows=("text", told)),
        Line(name, 13.0, pen.ink.soft),
    )
    pen.lines(x, middle - 2.0, lines, anchor="middle", halo=not pen.is_still, moves=_AROUND,
              within=_inside(view, shape))  # fmt: skip


def _buffer(
    pen: Pen, view: View, shape: Shape, state: SectionState, below: str, system: DisplaySystem
) -> None:
    """Write the label of a buffer space, with its measured pressure under it."""
    space = shape.space
    x = view.x(shape.middle)
    tall = view.rise * (shape.top - shape.bottom)

    def short(state: SectionState) -> str:
        return f"{space.kind.value} {_climate(space, state, system)}"

    def long(state: SectionState) -> str:
        return f"{short(state)}, {below} to the house" if below else short(state)

    if space.kind is SpaceKind.CRAWLSPACE and tall < 110.0:
        pen.words(x, view.y(shape.bottom) + 22.0, long(state), size=15.0, anchor="middle",
                  bold=True, halo=True, moves=_UP_AND_DOWN, shows=("text", long))  # fmt: skip
        return
    if space.kind is SpaceKind.KNEE_WALL_ATTIC:
        peak = max(y for _, y in shape.outline)
        pen.words(x, view.y(peak) - 9.0, long(state), size=13.0, anchor="middle", bold=True,
                  moves=((0.0, -16.0), (60.0, 0.0), (-60.0, 0.0)),
                  shows=("text", long))  # fmt: skip
        return
    middle = 0.5 * (view.y(shape.top) + view.y(shape.bottom))
    lines = [Line(short(state), 15.0, bold=True, shows=("text", short))]
    if below:
        lines.append(Line(f"{below} to the house", 13.0, pen.ink.soft))
    pen.lines(x, middle, lines, anchor="middle", moves=_AROUND, within=_inside(view, shape))


def _inside(view: View, shape: Shape) -> Box:
    """Return where words of a space should stay; low under a roof there is room to the sides."""
    if shape.is_under_roof:
        (left, base), (right, _), _ = shape.outline
        inset = _EAVES * (right - left)
        return Box(view.x(left + inset), view.y(shape.top), view.x(right - inset), view.y(base))
    return Box(view.x(shape.left), view.y(shape.top), view.x(shape.right), view.y(shape.bottom))


def label_insulation(
    pen: Pen, view: View, layout: Layout, drawn: list[Drawn], system: DisplaySystem
) -> None:
    """Write what insulation does, in the margins, with a line to it.

    Parameters
    ----------
    pen : Pen
        Writes.
    view : View
        Of the layout.
    layout : Layout
        Where the house begins and ends.
    drawn : list of Drawn
        The insulation.
    system : DisplaySystem
        Units of the labels.
    """
    left, right = view.x(layout.left), view.x(layout.right)
    written: set[tuple[str, bool]] = set()
    for one in drawn:
        is_left = one.left[0] < left + 60.0
        is_right = one.right[0] > right - 130.0 and one.right[0] > 0.6 * WIDTH
        if not (is_left or is_right) or (one.word, is_left) in written:
            continue
        written.add((one.word, is_left))
        resistance = show(one.resistance, Kind.THERMAL_RESISTANCE, system, digits=2)
        at = one.left if is_left else one.right
        x = EDGE - 16.0 if is_left else WIDTH - EDGE + 16.0
        y = at[1] + {"ceiling": -52.0, "floor": 30.0}.get(one.word, -4.0)
        box = pen.words(x, y, f"{resistance} {one.word}", size=13.0,
                        anchor="start" if is_left else "end",
                        moves=_UP_AND_DOWN)  # fmt: skip
        start = box.right + 4.0 if is_left else box.left - 4.0
        pen.line(start, box.bottom - 6.0, at[0], at[1], stroke=pen.ink.ink, stroke_width=0.9,
                 stroke_linecap="round")  # fmt: skip


def draw_neutral_level(
    pen: Pen, view: View, layout: Layout, house: House, state: SectionState
) -> None:
    """Draw where the main room has outdoor pressure, where that is within the house.

    Parameters
    ----------
    pen : Pen
        Draws.
    view : View
        Of the layout.
    layout : Layout
        Where the spaces stand.
    house : House
        Whose main room is meant.
    state : SectionState
        With the level.
    """
    main = layout.shapes[max(house.living_spaces, key=lambda space: space.volume).id]

    def height(state: SectionState) -> float | None:
        level = state.neutral_level
        is_in_house = level is not None and main.bottom < level < layout.top
        return view.y(level) if level is not None and is_in_house else None

    y, left = height(state), view.x(main.left)
    if y is None:
        return

    def lower(state: SectionState) -> float | None:
        there = height(state)
        return None if there is None else round(there - y, 1)

    drawn = pen.line(left - 38.0, y, view.x(main.right), y, stroke=pen.ink.ink, stroke_width=1.2,
                     stroke_dasharray="3 6", stroke_linecap="round")  # fmt: skip
    pen.shows(drawn, ("level", lower))
    if pen.is_still:
        x, down, anchor = left - 44.0, 4.0, "end"
        moves: tuple[Move, ...] = ((0.0, 12.0), (0.0, -10.0))
    else:  # in the margin it would come upon other words on its way
        x, down, anchor, moves = left + 0.3 * (view.x(main.right) - left), -6.0, "end", ()
    pen.words(x, y + down, "neutral level", size=12.0, anchor=anchor, color=pen.ink.soft,
              halo=True, moves=moves, shows=("level", lower))  # fmt: skip
    pen.reserve(left - 38.0, y - 2.0, view.x(main.right), y + 2.0)


def draw_heading(pen: Pen, heading: str, state: SectionState, system: DisplaySystem) -> None:
    """Write what the section shows, and when.

    Parameters
    ----------
    pen : Pen
        Writes.
    heading : str
        What it shows.
    state : SectionState
        When.
    system : DisplaySystem
        Units of the weather.
    """
    size = min(24.0, 24.0 * (WIDTH - 2.0 * EDGE) / (0.46 * 24.0 * max(1, len(heading))))
    pen.words(EDGE, 42.0, heading, size=size, bold=True)
    pen.words(
        EDGE,
        68.0,
        f"Section through the house. {conditions(state, system)}",
        size=14.0,
        color=pen.ink.soft,
    )


def conditions(state: SectionState, system: DisplaySystem) -> str:
    """Say when a state is, what the weather is then, and how to read the arrows.

    Parameters
    ----------
    state : SectionState
        When.
    system : DisplaySystem
        Units of the weather.

    Returns
    -------
    str
    """
    outdoors = to_the_degree(state.outdoor_temperature, system)
    wind = show(state.wind_speed, Kind.SPEED, system, digits=1)
    return f"{state.when}: {outdoors} outside, wind {wind}. The wider an arrow, the more air."


def draw_legend(pen: Pen, y: float, note: str) -> None:
    """Draw the legend, with a note at its right end.

    Parameters
    ----------
    pen : Pen
        Draws.
    y : float
        Its level.
    note : str
        Such as that the house is invented.
    """
    x = EDGE
    for color, text in (
        (pen.ink.cool, "air coming in"),
        (pen.ink.warm, "house air going out"),
    ):
        pen.line(x, y, x + 34.0, y, stroke=color, stroke_width=6.0, stroke_linecap="round")
        x = pen.words(x + 44.0, y + 5.0, text, size=13.0).right + _BETWEEN
    pen.box(x, y - 8.0, 40.0, 14.0, fill="url(#batt)", stroke=pen.ink.ink, stroke_width=0.7)
    x = pen.words(x + 50.0, y + 5.0, "insulation, as thick as it works", size=13.0).right + _BETWEEN
    pen.box(x, y - 8.0, 30.0, 14.0, fill="none", stroke=pen.ink.warm, stroke_width=1.4,
            stroke_dasharray="4 3")  # fmt: skip
    pen.words(x + 40.0, y + 5.0, "missing", size=13.0)
    if note:
        pen.words(WIDTH - EDGE, y + 5.0, note, size=12.0, anchor="end", color=pen.ink.soft)
