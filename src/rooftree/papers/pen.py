"""A pen for SVG: shapes and words in drawing units, looks from the tokens.

Only presentation attributes are written, no style sheets, so that the same drawing works
under a strict content security policy and in a PDF.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    Shows = tuple[str, Callable[[Any], Any]]

FONT = "'Source Sans 3', sans-serif"
"""Quoted: without quotes the digit makes the whole list invalid and text vanishes."""

Move = tuple[float, float]

_WIDTHS = {
    0.26: "ijl|',.:;I·’ ",
    0.32: "!()[]{}-f",
    0.37: "tr°/\\²³",
    0.44: "*?zsc",
    0.85: "%mMW@½w",
    0.66: "OQGHNUDAB&",
}
_WIDTH_OF = {sign: width for width, signs in _WIDTHS.items() for sign in signs}
_FURTHER: tuple[Move, ...] = tuple(
    (0.0, sign * 13.0 * step) for step in range(1, 9) for sign in (-1.0, 1.0)
)
"""Where words that may move go when all their own places are taken."""

_RISE, _DROP = 0.8, 0.25
"""How far letters reach above and below their level [em]."""

_USUAL_WIDTH = 0.56
"""Advance widths of the semibold face [em], rounded up: labels must not touch."""


def width_of(text: str, size: float) -> float:
    """Return how wide words come out at most [drawing units]."""
    return size * sum(_WIDTH_OF.get(sign, _USUAL_WIDTH) for sign in text)


@dataclass(frozen=True, slots=True)
class Ink:
    """Colors of one variant of the look."""

    paper: str
    room: str
    ink: str
    faint: str
    soft: str
    fill: str
    cool: str
    warm: str


LIGHT = Ink("#faf8f3", "#ffffff", "#22262b", "#b9b4a8", "#4c4a44", "#efeadf", "#1f6f8b", "#b5541c")
DARK = Ink("#16181b", "#1d2023", "#ece8de", "#4a4d52", "#b0aca2", "#24272c", "#6fb7cf", "#e59a63")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of words; `shows` is as in `Pen.shows`."""

    text: str
    size: float
    color: str | None = None
    bold: bool = False
    shows: Shows | None = None


@dataclass(frozen=True, slots=True)
class Box:
    """A place that something takes up."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Return whether two boxes share some place."""
        return self.overlap(other) > 0.0

    def holds(self, other: Box) -> bool:
        """Return whether the other box lies in this one."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.top <= other.top
            and other.bottom <= self.bottom
        )

    def overlap(self, other: Box) -> float:
        """Return how much place two boxes share."""
        width = min(self.right, other.right) - max(self.left, other.left)
        height = min(self.bottom, other.bottom) - max(self.top, other.top)
        return max(0.0, width) * max(0.0, height)


class Pen:
    """Draws on one SVG element and keeps labels off each other and off what is drawn."""

    is_still = True
    """Whether the drawing shows one state only, so that what is drawn stays where it is."""

    def __init__(
        self,
        width: float,
        height: float,
        ink: Ink,
        title: str,
        text: str,
        letters: float = 1.0,
    ) -> None:
        self.ink = ink
        self.letters = letters
        self.width, self.height = width, height
        self.labels: list[tuple[str, Box]] = []
        self._drawn: list[Box] = []
        self.root = ET.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "viewBox": f"0 0 {width:g} {height:g}",
                "font-family": FONT,
                "role": "img",
                "aria-label": f"{title}. {text}",
            },
        )
        ET.SubElement(self.root, "title").text = title
        ET.SubElement(self.root, "desc").text = text
        self._definitions()

    def _definitions(self) -> None:
        definitions = ET.SubElement(self.root, "defs")
        wave = {"d": "M0 7 q3.5 -9 7 0 t7 0", "fill": "none", "stroke": self.ink.ink,
                "stroke-width": "0.8", "opacity": "0.55"}  # fmt: skip
        hatch = {"d": "M0 12 L12 0", "stroke": self.ink.faint, "stroke-width": "1"}
        self._pattern(definitions, "batt", 14, wave)
        self._pattern(definitions, "soil", 12, hatch)
        for name, color in (("cool", self.ink.cool), ("warm", self.ink.warm)):
            look = {"id": f"head-{name}", "viewBox": "0 0 10 10", "refX": "3", "refY": "5",
                    "markerWidth": "2.4", "markerHeight": "2.4", "orient": "auto"}  # fmt: skip
            marker = ET.SubElement(definitions, "marker", look)
            ET.SubElement(marker, "path", {"d": "M0 0 L10 5 L0 10 z", "fill": color})

    @staticmethod
    def _pattern(definitions: ET.Element, name: str, side: int, stroke: dict[str, str]) -> None:
        size = {"width": f"{side}", "height": f"{side}", "patternUnits": "userSpaceOnUse"}
        pattern = ET.SubElement(definitions, "pattern", {"id": name, **size})
        ET.SubElement(pattern, "path", stroke)

    def shape(self, points: Sequence[Move], **look: str | float) -> None:
        """Draw a closed shape."""
        text = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self._add("polygon", {"points": text}, look)

    def box(self, x: float, y: float, width: float, height: float, **look: str | float) -> None:
        """Draw a rectangle."""
        place = {"x": x, "y": y, "width": width, "height": height}
        self._add("rect", {key: f"{value:.1f}" for key, value in place.items()}, look)

    def line(self, x1: float, y1: float, x2: float, y2: float, **look: str | float) -> ET.Element:
        """Draw a straight line."""
        place = {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
        return self._add("line", {key: f"{value:.1f}" for key, value in place.items()}, look)

    def path(self, d: str, **look: str | float) -> ET.Element:
        """Draw a path given in SVG's own words."""
        return self._add("path", {"d": d}, look)

    def shows(self, element: ET.Element, shows: Shows) -> None:
        """Take note of what an element would show in another state: what of it, and how much.

        A drawing that stands still needs no note; a moving one keeps it.
        """

    def reserve(self, left: float, top: float, right: float, bottom: float) -> None:
        """Keep words out of a place where something is drawn."""
        box = Box(min(left, right), min(top, bottom), max(left, right), max(top, bottom))
        self._drawn.append(box)

    def words(
        self,
        x: float,
        y: float,
        text: str,
        *,
        size: float = 13.0,
        anchor: str = "start",
        color: str | None = None,
        bold: bool = False,
        halo: bool = False,
        moves: Sequence[Move] = (),
        shows: Shows | None = None,
    ) -> Box:
        """Write words at a place, or at the first of the `moves` from it that is free.

        Where none is free they go where they cover least. The place they take is returned.
        """
        line = Line(text, size, color, bold, shows)
        return self.lines(x, y, (line,), anchor=anchor, halo=halo, moves=moves)

    def lines(
        self,
        x: float,
        y: float,
        lines: Sequence[Line],
        *,
        anchor: str = "start",
        halo: bool = False,
        moves: Sequence[Move] = (),
        within: Box | None = None,
    ) -> Box:
        """Write lines under each other, all at a place or all moved; return what they take.

        `within` is where they should stay, if any place there will do.
        """
        own = [(x + right, y + down) for right, down in ((0.0, 0.0), *moves)]
        block = self._best(own, lines, anchor, within)
        if moves and self._over_words(block):
            further = [(x + right, y + down) for right, down in _FURTHER]
            block = self._best([*own, *further], lines, anchor, within)
        for line, box in zip(lines, block, strict=True):
            self._write(line, box, anchor, halo=halo)
        return Box(
            min(box.left for box in block),
            block[0].top,
            max(box.right for box in block),
            block[-1].bottom,
        )

    def _write(self, line: Line, box: Box, anchor: str, *, halo: bool) -> None:
        self.labels.append((line.text, box))
        size = line.size * self.letters
        look: dict[str, str | float] = {
            "font_size": size,
            "fill": line.color or self.ink.ink,
            "text_anchor": anchor,
            "font_weight": 600 if line.bold else 400,
        }
        if halo:
            look |= {"stroke": self.ink.paper, "stroke_width": 4.0, "paint_order": "stroke",
                     "stroke_linejoin": "round"}  # fmt: skip
        x = {"start": box.left, "middle": 0.5 * (box.left + box.right), "end": box.right}[anchor]
        place = {"x": f"{x:.1f}", "y": f"{box.bottom - _DROP * size:.1f}"}
        element = self._add("text", place, look)
        element.text = line.text
        if line.shows is not None:
            self.shows(element, line.shows)

    def _boxes(self, x: float, y: float, lines: Sequence[Line], anchor: str) -> list[Box]:
        boxes: list[Box] = []
        for line in lines:
            size = line.size * self.letters
            if boxes:
                y = boxes[-1].bottom + _RISE * size
            width = width_of(line.text, size)
            left = {"start": x, "middle": x - 0.5 * width, "end": x - width}[anchor]
            boxes.append(Box(left, y - _RISE * size, left + width, y + _DROP * size))
        return boxes

    def _best(
        self, places: Sequence[Move], lines: Sequence[Line], anchor: str, within: Box | None
    ) -> list[Box]:
        """Return the lines at the place where they cover least, words before anything else."""
        blocks = [self._boxes(x, y, lines, anchor) for x, y in places]
        paper = Box(0.0, 0.0, self.width, self.height)
        for frame in (paper, within):
            if frame is not None:
                inside = [block for block in blocks if all(frame.holds(box) for box in block)]
                blocks = inside or blocks
        return min(blocks, key=lambda block: (self._over_words(block), self._over_lines(block)))

    def _over_words(self, boxes: Sequence[Box]) -> float:
        return sum(box.overlap(other) for box in boxes for _, other in self.labels)

    def _over_lines(self, boxes: Sequence[Box]) -> float:
        return sum(box.overlap(other) for box in boxes for other in self._drawn)

    def _add(self, name: str, place: dict[str, str], look: dict[str, str | float]) -> ET.Element:
        attributes = place | {
            key.replace("_", "-"): f"{value:g}" if isinstance(value, float) else str(value)
            for key, value in look.items()
        }
        return ET.SubElement(self.root, name, attributes)

    def svg(self) -> str:
        """Return the drawing."""
        return ET.tostring(self.root, encoding="unicode")
