"""From metres of the house to units of the drawing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.papers.section.layout import Layout, Point

WIDTH = 1120.0
"""Width of the drawing in its own units."""

MARGIN = 150.0
"""Left and right of the house: names of insulation, flows, the neutral level."""

_TALLEST = 470.0
_WIDEST_METRE = 60.0
_STRETCH = 1.6
"""Heights are stretched, as storeys are low and wide."""

_UNDER_HOUSE = 62.0


@dataclass(frozen=True, slots=True)
class View:
    """Maps metres to drawing units.

    Attributes
    ----------
    scale, rise : float
        Drawing units of one metre to the right and up.
    left, ground : float
        Where x = 0 and the level of the ground lie.
    height : float
        Of the house and the ground under it, from the top of the drawing.
    """

    scale: float
    rise: float
    left: float
    ground: float
    height: float

    def x(self, metres: float) -> float:
        """Return where a distance from the left lies."""
        return self.left + self.scale * metres

    def y(self, metres: float) -> float:
        """Return where a height above ground lies."""
        return self.ground - self.rise * metres

    def points(self, outline: tuple[Point, ...]) -> list[tuple[float, float]]:
        """Return an outline in drawing units."""
        return [(self.x(a), self.y(b)) for a, b in outline]


def view_of(layout: Layout, head: float) -> View:
    """Return the view in which a layout fills the width, with a head above it.

    Parameters
    ----------
    layout : Layout
        What to show.
    head : float
        Room for headings above it.

    Returns
    -------
    View
    """
    span = layout.right - layout.left
    scale = min((WIDTH - 2.0 * MARGIN) / span, _WIDEST_METRE)
    rise = min(_STRETCH * scale, _TALLEST / (layout.top - layout.bottom))
    left = 0.5 * WIDTH - 0.5 * scale * (layout.left + layout.right)
    ground = head + rise * layout.top + 22.0
    return View(scale, rise, left, ground, ground - rise * layout.bottom + _UNDER_HOUSE)
