"""A pen for SVG: shapes and words in drawing units, looks from the tokens.

Only presentation attributes are written, no style sheets, so that the same drawing works
under a strict content security policy and in a PDF.
"""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree import ElementTree as ET

FONT = "'Source Sans 3', sans-serif"
"""Quoted: without quotes the digit makes the whole list invalid and text vanishes."""


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


LIGHT = Ink("#faf8f3", "#ffffff", "#22262b", "#b9b4a8", "#5f5a4f", "#efeadf", "#1f6f8b", "#b5541c")
DARK = Ink("#16181b", "#1d2023", "#ece8de", "#4a4d52", "#b0aca2", "#24272c", "#6fb7cf", "#e59a63")


@dataclass(slots=True)
class _Box:
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: _Box) -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


class Pen:
    """Draws on one SVG element and keeps labels off each other."""

    def __init__(self, width: float, height: float, ink: Ink, title: str, text: str) -> None:
        self.ink = ink
        self.width, self.height = width, height
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
        self._taken: list[_Box] = []
        self._definitions()

    def _definitions(self) -> None:
        definitions = ET.SubElement(self.root, "defs")
        batt = ET.SubElement(
            definitions,
            "pattern",
            {"id": "batt", "width": "14", "height": "14", "patternUnits": "userSpaceOnUse"},
        )
        ET.SubElement(
            batt,
            "path",
            {
                "d": "M0 7 q3.5 -9 7 0 t7 0",
                "fill": "none",
                "stroke": self.ink.ink,
                "stroke-width": "0.8",
                "opacity": "0.55",
            },
        )
        soil = ET.SubElement(
            definitions,
            "pattern",
            {"id": "soil", "width": "12", "height": "12", "patternUnits": "userSpaceOnUse"},
        )
        ET.SubElement(
            soil,
            "path",
            {"d": "M0 12 L12 0", "stroke": self.ink.faint, "stroke-width": "1"},
        )
        for name, color in (("cool", self.ink.cool), ("warm", self.ink.warm)):
            marker = ET.SubElement(
                definitions,
                "marker",
                {
                    "id": f"head-{name}",
                    "viewBox": "0 0 10 10",
                    "refX": "3",
                    "refY": "5",
                    "markerWidth": "2.4",
                    "markerHeight": "2.4",
                    "orient": "auto",
                },
            )
            ET.SubElement(marker, "path", {"d": "M0 0 L10 5 L0 10 z", "fill": color})

    def shape(self, points: list[tuple[float, float]], **look: str | float) -> None:
        """Draw a closed shape."""
        text = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self._add("polygon", {"points": text}, look)

    def box(self, x: float, y: float, width: float, height: float, **look: str | float) -> None:
        """Draw a rectangle."""
        place = {"x": x, "y": y, "width": width, "height": height}
        self._add("rect", {key: f"{value:.1f}" for key, value in place.items()}, look)

    def line(self, x1: float, y1: float, x2: float, y2: float, **look: str | float) -> None:
        """Draw a straight line."""
        place = {"x1": x1, "y1": y1, "x2": x2, "y2": y2}
        self._add("line", {key: f"{value:.1f}" for key, value in place.items()}, look)

    def path(self, d: str, **look: str | float) -> None:
        """Draw a path given in SVG's own words."""
        self._add("path", {"d": d}, look)

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
        step: float = 0.0,
    ) -> None:
        """Write words; with a `step`, move them by it until they meet no other words."""
        box = self._box(x, y, text, size, anchor)
        for _ in range(12):
            if not step or not any(box.meets(other) for other in self._taken):
                break
            y += step
            box = self._box(x, y, text, size, anchor)
        self._taken.append(box)
        look: dict[str, str | float] = {
            "font_size": size,
            "fill": color or self.ink.ink,
            "text_anchor": anchor,
            "font_weight": 600 if bold else 400,
        }
        if halo:
            look |= {"stroke": self.ink.paper, "stroke_width": 4.0, "paint_order": "stroke",
                     "stroke_linejoin": "round"}  # fmt: skip
        element = self._add("text", {"x": f"{x:.1f}", "y": f"{y:.1f}"}, look)
        element.text = text

    def _box(self, x: float, y: float, text: str, size: float, anchor: str) -> _Box:
        # 0.5 em is the mean advance of the face; enough to keep labels apart.
        width = 0.5 * size * len(text)
        left = {"start": x, "middle": x - 0.5 * width, "end": x - width}[anchor]
        return _Box(left, y - 0.8 * size, left + width, y + 0.25 * size)

    def _add(self, name: str, place: dict[str, str], look: dict[str, str | float]) -> ET.Element:
        attributes = place | {
            key.replace("_", "-"): f"{value:g}" if isinstance(value, float) else str(value)
            for key, value in look.items()
        }
        return ET.SubElement(self.root, name, attributes)

    def svg(self) -> str:
        """Return the drawing."""
        return ET.tostring(self.root, encoding="unicode")
