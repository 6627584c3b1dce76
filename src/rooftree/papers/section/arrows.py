"""Arrows of air: the way it crosses the boundaries of the living spaces."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from rooftree.house import House
    from rooftree.papers.pen import Pen
    from rooftree.papers.section.layout import Layout, Shape
    from rooftree.papers.section.state import SectionState
    from rooftree.papers.section.view import View

SMALLEST_FLOW = 0.0012
"""Flows below this are not drawn [m³/s]."""

_WORTH_AN_ARROW = 0.06
"""Share of the largest flow from which an arrow is drawn; the words name smaller ones [-]."""

_REACH = 30.0
_ROOM_SHARE = 0.2
"""Most that an arrow reaches into a room, over the room's width [-]."""

_THINNEST, _THICKER = 2.0, 8.0
_WIDEST = 1.4
"""Most that a flow counts over the one whose arrow is widest [-]."""

_HEAD = 1.2
"""Half the width of an arrow's head over the width of its line."""

Flow = tuple[tuple[str, str], float]


@dataclass(frozen=True, slots=True)
class _Crossing:
    """Where an arrow crosses a boundary, and the direction of the air, in drawing units."""

    x: float
    y: float
    right: float
    down: float
    reach: float = _REACH


@dataclass(frozen=True, slots=True)
class Arrow:
    """One arrow as drawn.

    Attributes
    ----------
    ends : tuple of str
        From where the air goes, and where to.
    at : _Crossing
        Where.
    amount, largest : float
        Its flow, and the one whose arrow is widest [m³/s].
    inward : bool
        Whether it goes into a living space.
    """

    ends: tuple[str, str]
    at: _Crossing
    amount: float
    largest: float
    inward: bool

    @property
    def width(self) -> float:
        """Return the width of its line [drawing units]."""
        return self._width(self.amount)

    def width_in(self, state: SectionState) -> float:
        """Return its width in another state; 0 where so little flows that none is drawn."""
        amount = state.flow.get(self.ends, 0.0)
        least = max(SMALLEST_FLOW, _WORTH_AN_ARROW * self.largest)
        return round(self._width(amount), 1) if amount >= least else 0.0

    def told_in(self, state: SectionState, system: DisplaySystem) -> str:
        """Return its flow in words in another state; empty where none is drawn."""
        if not self.width_in(state):
            return ""
        return show(state.flow[self.ends], Kind.FLOW, system, digits=2)

    def _width(self, amount: float) -> float:
        return _THINNEST + _THICKER * math.sqrt(min(amount / self.largest, _WIDEST))


def crossing_flows(house: House, state: SectionState) -> list[Flow]:
    """Return the flows between living spaces and what is not, largest first.

    Parameters
    ----------
    house : House
        Whose spaces they are.
    state : SectionState
        With the flows.

    Returns
    -------
    list
        Each with its two ends and its amount [m³/s].
    """
    living = {space.id for space in house.living_spaces}
    return sorted(
        (
            (ends, amount)
            for ends, amount in state.flow.items()
            if amount > SMALLEST_FLOW and (ends[0] in living) != (ends[1] in living)
        ),
        key=lambda flow: -flow[1],
    )


def draw_arrows(
    pen: Pen, view: View, layout: Layout, house: House, state: SectionState
) -> list[Arrow]:
    """Draw every arrow, and return them.

    Parameters
    ----------
    pen : Pen
        Draws.
    view : View
        Of the layout.
    layout : Layout
        Where the spaces stand.
    house : House
        Whose spaces they are.
    state : SectionState
        With the flows.

    Returns
    -------
    list of Arrow
        For the labels.
    """
    living = {space.id for space in house.living_spaces}
    flows = crossing_flows(house, state)
    largest = flows[0][1] if flows else 1.0
    drawn = []
    for (source, target), amount in flows:
        if amount < _WORTH_AN_ARROW * largest:
            continue
        inward = target in living
        room, other = (target, source) if inward else (source, target)
        shape, neighbour = layout.shapes[room], layout.shapes.get(other)
        crossing = _crossing(view, layout, shape, neighbour, inward)
        if crossing is None:
            continue
        room_wide = view.scale * (shape.right - shape.left)
        crossing = replace(crossing, reach=min(_REACH, _ROOM_SHARE * room_wide))
        arrow = Arrow((source, target), crossing, amount, largest, inward)
        _draw(pen, arrow)
        drawn.append(arrow)
    return drawn


def _draw(pen: Pen, arrow: Arrow) -> None:
    at, width = arrow.at, arrow.width
    color, head = (pen.ink.cool, "cool") if arrow.inward else (pen.ink.warm, "warm")
    right, down = at.right * at.reach, at.down * at.reach
    drawn = pen.path(
        f"M{at.x - right:.1f} {at.y - down:.1f} L{at.x + right:.1f} {at.y + down:.1f}",
        fill="none",
        stroke=color,
        stroke_width=round(width, 1),
        marker_end=f"url(#head-{head})",
        opacity=0.92,
    )
    pen.shows(drawn, ("width", arrow.width_in))
    tip = 1.0 + 1.7 * width / at.reach
    wide = _HEAD * width
    pen.reserve(
        at.x - right - abs(at.down) * wide,
        at.y - down - abs(at.right) * wide,
        at.x + tip * right + abs(at.down) * wide,
        at.y + tip * down + abs(at.right) * wide,
    )


def label_arrows(
    pen: Pen,
    arrows: list[Arrow],
    system: DisplaySystem,
) -> None:
    """Write the flow of each arrow outside the room that it enters or leaves.

    Parameters
    ----------
    pen : Pen
        Writes.
    arrows : list of Arrow
        As drawn.
    system : DisplaySystem
        Units of the labels.
    """
    for arrow in arrows:
        at, width = arrow.at, arrow.width
        text = show(arrow.amount, Kind.FLOW, system, digits=2)
        color = pen.ink.cool if arrow.inward else pen.ink.warm
        sign = -1.0 if arrow.inward else 1.0  # towards the outside of the room
        if at.right:
            x = at.x + sign * at.right * (at.reach + 6.0)
            anchor = "end" if sign * at.right < 0.0 else "start"
            y = at.y - 0.5 * width - 7.0
            moves = [(0.0, step) for step in (-16.0, width + 22.0, -32.0, width + 38.0)]
        else:
            x, anchor = at.x + _HEAD * width + 6.0, "start"
            y = at.y + sign * at.down * (at.reach - 6.0) + 5.0
            left = -2.0 * (_HEAD * width + 6.0) - 52.0
            moves = [(0.0, 16.0), (0.0, -16.0), (left, 0.0), (left, 16.0), (0.0, -34.0)]
        pen.words(x, y, text, size=14.0, anchor=anchor, color=color, bold=True, halo=True,
                  moves=moves, shows=("text", partial(arrow.told_in, system=system)))  # fmt: skip


def _crossing(
    view: View, layout: Layout, room: Shape, other: Shape | None, inward: bool
) -> _Crossing | None:
    """Return where an arrow crosses the boundary; None where the section does not cut it.

    Air to and from outdoors crosses a free outside wall of the room, entering low and
    leaving high; other boundaries are crossed where the two shapes touch.
    """
    if other is None:
        return _through_wall(view, layout, room, inward)
    if other.is_under_roof or other.bottom >= room.top - 0.3:
        if room.is_cut:
            return _sideways(view, room, 0.3, inward, left=inward)
        return _upright(view, room, 0.16 if inward else 0.40, room.top, -1.0 if not inward else 1.0)
    if other.top <= room.bottom + 0.3:
        return _upright(view, room, 0.12 if inward else 0.28, room.bottom, -1.0 if inward else 1.0)
    return _beside(view, room, other, inward)


def _through_wall(view: View, layout: Layout, room: Shape, inward: bool) -> _Crossing | None:
    if room.is_cut:  # through a slope: low on the right going in, high on the left going out
        corners = room.outline
        (x1, y1), (x2, y2) = corners[2:4] if inward else corners[4:6]
        outward = 1.0 if inward else -1.0
        sign = -outward if inward else outward
        return _Crossing(view.x(0.5 * (x1 + x2)), view.y(0.5 * (y1 + y2)), sign, 0.0)
    left = layout.is_free(room, left=True)
    if not left and not layout.is_free(room, left=False):
        return None
    return _sideways(view, room, 0.22 if inward else 0.86, inward, left=left)


def _sideways(view: View, room: Shape, share: float, inward: bool, *, left: bool) -> _Crossing:
    """Return a crossing of the left or right wall, at a share of the room's height."""
    into = 1.0 if left else -1.0
    x = view.x(room.left if left else room.right)
    y = view.y(room.bottom + share * (room.top - room.bottom))
    return _Crossing(x, y, into if inward else -into, 0.0)


def _upright(view: View, room: Shape, share: float, level: float, down: float) -> _Crossing:
    x = view.x(room.left + share * (room.right - room.left))
    return _Crossing(x, view.y(level), 0.0, down)


def _beside(view: View, room: Shape, other: Shape, inward: bool) -> _Crossing | None:
    low, high = max(room.bottom, other.bottom), min(room.top, other.top)
    is_right = abs(other.left - room.right) < 0.01
    is_left = abs(other.right - room.left) < 0.01
    if high <= low or not (is_right or is_left):
        return None
    into = -1.0 if is_right else 1.0
    x = view.x(room.right if is_right else room.left)
    y = view.y(low + (0.3 if inward else 0.7) * (high - low))
    return _Crossing(x, y, into if inward else -into, 0.0)
