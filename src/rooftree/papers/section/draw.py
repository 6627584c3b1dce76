"""Draw the section of a house as SVG, for pages and papers alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.house import SpaceKind
from rooftree.papers.pen import DARK, LIGHT, Pen
from rooftree.papers.section.alternative import describe_section
from rooftree.papers.section.arrows import draw_arrows, label_arrows
from rooftree.papers.section.fittings import draw_burners, draw_ducts
from rooftree.papers.section.insulation import draw_insulation
from rooftree.papers.section.labels import (
    EDGE,
    draw_heading,
    draw_legend,
    draw_neutral_level,
    label_insulation,
    label_spaces,
)
from rooftree.papers.section.layout import Layout, lay_out
from rooftree.papers.section.state import breathing_sentence
from rooftree.papers.section.view import WIDTH, View, view_of

if TYPE_CHECKING:
    from rooftree.house import House
    from rooftree.papers.section.pressures import SectionPressures
    from rooftree.papers.section.state import SectionState
    from rooftree.units import DisplaySystem

HEAD, NO_HEAD = 96.0, 10.0
"""Room above the house, with headings and without."""

FOOT = 56.0
"""Room below the ground, for the legend."""


def draw_section(
    house: House,
    state: SectionState,
    *,
    system: DisplaySystem,
    dark: bool = False,
    title: str | None = None,
    note: str = "",
    pressures: SectionPressures | None = None,
    headed: bool = True,
    letters: float = 1.0,
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
    pressures : SectionPressures or None
        Measured pressures to show, as :func:`measured_pressures` finds them.
    headed : bool
        Whether the title stands in the drawing; a paper may set it itself.
    letters : float
        How much larger words are than usual, for a drawing that is shown small [-], > 0.

    Returns
    -------
    str
        An ``svg`` element with a text alternative and no scripts or style sheets.
    """
    heading = title or breathing_sentence(house, state.flow)
    text = describe_section(house, state, system, pressures)
    layout = lay_out(house)
    view = view_of(layout, HEAD if headed else NO_HEAD)
    height = view.height + FOOT
    pen = Pen(WIDTH, height, DARK if dark else LIGHT, heading, text, letters)
    draw_on(pen, view, layout, house, state, system, pressures)
    if headed:
        draw_heading(pen, heading, state, system)
    draw_legend(pen, height - 0.5 * FOOT, note)
    return pen.svg()


def draw_on(
    pen: Pen,
    view: View,
    layout: Layout,
    house: House,
    state: SectionState,
    system: DisplaySystem,
    pressures: SectionPressures | None = None,
) -> None:
    """Draw house and ground: first what has its place, then words around it.

    Parameters
    ----------
    pen : Pen
        Draws.
    view : View
        Of the layout.
    layout : Layout
        Where the spaces stand.
    house : House
        What to draw.
    state : SectionState
        What holds in it.
    system : DisplaySystem
        Units of the labels.
    pressures : SectionPressures or None
        Measured pressures.
    """
    pen.box(0.0, 0.0, pen.width, pen.height, fill=pen.ink.paper)
    _ground(pen, view, layout)
    _spaces(pen, view, layout)
    insulation = draw_insulation(pen, view, layout, house)
    draw_ducts(pen, view, layout, house)
    draw_neutral_level(pen, view, layout, house, state)
    draw_burners(pen, view, layout, house, pressures, system)
    arrows = draw_arrows(pen, view, layout, house, state)
    label_spaces(pen, view, layout, state, pressures, system)
    label_arrows(pen, arrows, system)
    label_insulation(pen, view, layout, insulation, system)


def _ground(pen: Pen, view: View, layout: Layout) -> None:
    top = view.y(0.0)
    bottom = view.y(layout.bottom) + 38.0
    pen.box(EDGE, top, WIDTH - 2.0 * EDGE, bottom - top, fill="url(#soil)")
    pen.line(EDGE, top, WIDTH - EDGE, top, stroke=pen.ink.ink, stroke_width=2.2,
             stroke_linecap="round")  # fmt: skip
    pen.reserve(EDGE, top - 1.0, WIDTH - EDGE, top + 1.0)
    for shape in layout.shapes.values():
        if shape.bottom > 0.0 and layout.stands_on_nothing(shape):
            pen.box(view.x(shape.left), view.y(shape.bottom), view.scale * shape.wide,
                    view.rise * shape.bottom, fill=pen.ink.fill, stroke=pen.ink.ink,
                    stroke_width=1.6)  # fmt: skip


def _spaces(pen: Pen, view: View, layout: Layout) -> None:
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
