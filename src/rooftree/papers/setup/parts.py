"""A little house and what stands in it during a test, to say where hoses and probes go.

The house is a cut like the section drawing: attic, rooms on one floor with a partition,
crawlspace. Hoses are drawn in the cool colour, moving air and heat in the warm one.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

from rooftree.papers.pen import LIGHT, Pen

if TYPE_CHECKING:
    from rooftree.papers.pen import Move

    Look = dict[str, Any]

WIDTH, HEIGHT = 400.0, 250.0

LEFT, RIGHT = 62.0, 318.0
CEILING, FLOOR, SOIL = 92.0, 172.0, 208.0
RIDGE = (190.0, 30.0)
PARTITION = 206.0

_WORDS = 13.0
_WALL, _LINE, _THIN = 2.6, 1.6, 1.0
_DOOR_TOP = 112.0


class Sketch:
    """One picture: the house, then whatever a test puts into it.

    Parameters
    ----------
    title : str
        What the picture shows.
    text : str
        The same for a person who cannot see it.
    """

    def __init__(self, title: str, text: str) -> None:
        self.pen = Pen(WIDTH, HEIGHT, LIGHT, title, text)
        self.ink = self.pen.ink
        self._house()

    def _house(self) -> None:
        pen, ink = self.pen, self.ink
        pen.box(LEFT, CEILING, RIGHT - LEFT, FLOOR - CEILING, fill=ink.room)
        pen.line(12.0, SOIL, WIDTH - 12.0, SOIL, stroke=ink.ink, stroke_width=_LINE)
        eaves = ((LEFT - 16.0, CEILING + 6.0), RIDGE, (RIGHT + 16.0, CEILING + 6.0))
        look: Look = {"stroke": ink.ink, "stroke_width": _WALL, "stroke_linecap": "round"}
        for start, end in pairwise(eaves):
            pen.line(*start, *end, **look)
        pen.line(LEFT, CEILING, RIGHT, CEILING, **look)
        pen.line(LEFT, FLOOR, RIGHT, FLOOR, **look)
        for x in (LEFT, RIGHT):
            pen.line(x, CEILING, x, SOIL, **look)

    def partition(self, *, is_open: bool) -> None:
        """Draw the wall between two rooms, its door open or shut."""
        look: Look = {"stroke": self.ink.ink, "stroke_width": _LINE}
        self.pen.line(PARTITION, CEILING, PARTITION, _DOOR_TOP, **look)
        if is_open:
            self.pen.line(PARTITION, _DOOR_TOP, PARTITION + 15.0, _DOOR_TOP + 6.0, **look)
            self.pen.line(PARTITION + 15.0, _DOOR_TOP + 6.0, PARTITION + 15.0, FLOOR, **look)
        else:
            self.pen.line(PARTITION, _DOOR_TOP, PARTITION, FLOOR - 3.0, **look)

    def fan(self, *, pulls: bool = True) -> None:
        """Draw the test fan in the house door, with the way the air goes."""
        pen, ink, y = self.pen, self.ink, 147.0
        pen.box(RIGHT - 5.0, _DOOR_TOP, 10.0, FLOOR - _DOOR_TOP, fill=ink.fill, stroke=ink.ink,
                stroke_width=_LINE)  # fmt: skip
        pen.path(_circle(RIGHT, y, 13.0), fill=ink.paper, stroke=ink.ink, stroke_width=_LINE)
        pen.path(f"M{RIGHT - 9:g} {y:g} q4.5 -9 9 0 t9 0", fill="none", stroke=ink.ink,
                 stroke_width=_LINE)  # fmt: skip
        ends = (RIGHT + 18.0, RIGHT + 44.0) if pulls else (RIGHT + 46.0, RIGHT + 22.0)
        self.air((ends[0], y), (ends[1], y))

    def air(self, start: Move, end: Move) -> None:
        """Draw where air goes."""
        self.pen.line(*start, *end, stroke=self.ink.warm, stroke_width=2.4,
                      marker_end="url(#head-warm)")  # fmt: skip

    def gauge(self, x: float, y: float, words: str = "gauge") -> None:
        """Draw a gauge with its two ports, input on the left and reference on the right."""
        pen, ink = self.pen, self.ink
        pen.box(x - 17.0, y - 11.0, 34.0, 22.0, rx=3.0, fill=ink.paper, stroke=ink.ink,
                stroke_width=_LINE)  # fmt: skip
        pen.words(x, y + 4.5, "Pa", size=11.5, anchor="middle", bold=True)
        for port in (x - 9.0, x + 9.0):
            pen.path(_circle(port, y + 11.0, 2.2), fill=ink.cool, stroke="none")
        pen.reserve(x - 19.0, y - 13.0, x + 19.0, y + 15.0)
        if words:
            self.note(x, y - 16.0, words)

    def hose(self, *points: Move) -> None:
        """Draw a hose through points, round at its corners, with its open end as a ring."""
        first, *rest = points
        way = [f"M{first[0]:g} {first[1]:g}"]
        for before, corner, after in zip(points, rest, rest[1:], strict=False):
            way += [_towards(corner, before), f"Q{corner[0]:g} {corner[1]:g} ",
                    _towards(corner, after, is_line=False)]  # fmt: skip
        way.append(f"L{rest[-1][0]:g} {rest[-1][1]:g}")
        self.pen.path(" ".join(way), fill="none", stroke=self.ink.cool, stroke_width=2.2)
        self.pen.path(_circle(*rest[-1], 3.2), fill=self.ink.paper, stroke=self.ink.cool,
                      stroke_width=2.0)  # fmt: skip

    def probe(self, x: float, y: float, words: str, at: Move, anchor: str = "start") -> None:
        """Mark a place where something is read, with words beside it."""
        self.pen.path(_circle(x, y, 4.2), fill=self.ink.cool, stroke=self.ink.paper,
                      stroke_width=1.4)  # fmt: skip
        self.note(x + at[0], y + at[1], words, anchor)

    def note(self, x: float, y: float, words: str, anchor: str = "middle") -> None:
        """Write words."""
        self.pen.words(x, y, words, size=_WORDS, anchor=anchor, halo=True)

    def pointer(self, start: Move, end: Move) -> None:
        """Draw a thin line from words to what they mean."""
        self.pen.line(*start, *end, stroke=self.ink.soft, stroke_width=_THIN)

    def ducts(self, *, are_taped: bool = False) -> None:
        """Draw the air handler in its closet and a supply duct with registers below."""
        pen, ink = self.pen, self.ink
        pen.box(84.0, 122.0, 26.0, 50.0, fill=ink.fill, stroke=ink.ink, stroke_width=_LINE)
        pen.line(84.0, 138.0, 110.0, 138.0, stroke=ink.ink, stroke_width=_THIN)
        pen.line(84.0, 155.0, 110.0, 155.0, stroke=ink.ink, stroke_width=_THIN)
        pen.path(f"M90 {FLOOR:g} V196 H282 V{FLOOR:g} h-12 V184 H190 V{FLOOR:g} h-12 V184 H104 "
                 f"V{FLOOR:g}", fill=ink.paper, stroke=ink.ink, stroke_width=_LINE)  # fmt: skip
        for x in (184.0, 276.0):
            if are_taped:
                pen.line(x - 10.0, FLOOR, x + 10.0, FLOOR, stroke=ink.warm, stroke_width=5.0)
            else:
                pen.line(x - 8.0, FLOOR - 1.5, x + 8.0, FLOOR - 1.5, stroke=ink.ink,
                         stroke_width=3.0, stroke_dasharray="2 2")  # fmt: skip

    def burner(self, x: float, *, has_flue: bool = True) -> None:
        """Draw a water heater with its draft hood and flue through the roof."""
        pen, ink = self.pen, self.ink
        pen.box(x - 12.0, 128.0, 24.0, 41.0, rx=3.0, fill=ink.fill, stroke=ink.ink,
                stroke_width=_LINE)  # fmt: skip
        pen.path(f"M{x - 4:g} 166 q-3 -6 4 -11 q7 5 4 11 z", fill=ink.warm, stroke="none")
        if has_flue:
            pen.path(f"M{x - 9:g} 124 L{x - 3:g} 116 V44 M{x + 9:g} 124 L{x + 3:g} 116 V44",
                     fill="none", stroke=ink.ink, stroke_width=_LINE)  # fmt: skip

    def exhaust(self, x: float) -> None:
        """Draw an exhaust fan in the ceiling with its duct through the roof."""
        pen, ink = self.pen, self.ink
        pen.box(x - 9.0, CEILING - 8.0, 18.0, 8.0, fill=ink.fill, stroke=ink.ink,
                stroke_width=_LINE)  # fmt: skip
        self.air((x, CEILING + 22.0), (x, CEILING + 6.0))

    def insulation(self, x1: float, x2: float, depth: float) -> None:
        """Draw insulation on the ceiling between two places."""
        self.pen.box(x1, CEILING - depth, x2 - x1, depth, fill="url(#batt)",
                     stroke=self.ink.faint, stroke_width=_THIN)  # fmt: skip

    def ruler(self, x: float, depth: float) -> None:
        """Draw a ruler that stands in the insulation."""
        pen, ink, top = self.pen, self.ink, CEILING - depth - 8.0
        pen.box(x - 3.0, top, 6.0, CEILING - top, fill=ink.paper, stroke=ink.ink,
                stroke_width=_THIN)  # fmt: skip
        for k in range(1, int((CEILING - top) // 5.0)):
            y = CEILING - 5.0 * k
            pen.line(x - 3.0, y, x + 1.0, y, stroke=ink.ink, stroke_width=0.8)

    def svg(self) -> str:
        """Return the picture."""
        return self.pen.svg()


def _circle(x: float, y: float, radius: float) -> str:
    return (
        f"M{x - radius:g} {y:g} a{radius:g} {radius:g} 0 1 0 {2 * radius:g} 0 "
        f"a{radius:g} {radius:g} 0 1 0 {-2 * radius:g} 0 z"
    )


def _towards(corner: Move, other: Move, radius: float = 7.0, *, is_line: bool = True) -> str:
    """Return the point a little way from a corner towards another point."""
    way = other[0] - corner[0], other[1] - corner[1]
    length = max((way[0] ** 2 + way[1] ** 2) ** 0.5, 1e-9)
    share = min(radius / length, 0.5)
    x, y = corner[0] + share * way[0], corner[1] + share * way[1]
    return f"{'L' if is_line else ''}{x:.1f} {y:.1f}"
