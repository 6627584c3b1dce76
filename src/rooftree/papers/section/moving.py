"""The section in motion: drawn once, then told what each changing part of it shows.

Nothing but the changing parts changes from one moment to the next, so that the page sends
a few numbers a moment and nothing jumps: every arrow and every word has its place, chosen
for the state that needs the most room.
"""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET

from rooftree.papers.pen import DARK, LIGHT, Ink, Pen
from rooftree.papers.section.alternative import describe_section
from rooftree.papers.section.degrees import to_the_degree
from rooftree.papers.section.draw import FOOT, NO_HEAD, draw_on
from rooftree.papers.section.labels import draw_legend
from rooftree.papers.section.layout import lay_out
from rooftree.papers.section.state import breathing_sentence
from rooftree.papers.section.view import WIDTH, view_of
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.house import House
    from rooftree.papers.pen import Shows
    from rooftree.papers.section.pressures import SectionPressures
    from rooftree.papers.section.state import SectionState

PLACE, WHAT = "data-place", "data-what"
"""Attributes of a changing element: its place among the values of a moment, and what of it
changes: its ``"text"``, the ``"width"`` of its line or its ``"level"``."""


@dataclass(frozen=True, slots=True)
class Moment:
    """What the section shows at one moment.

    Attributes
    ----------
    when : str
        Such as ``"7 a.m. on 14 January"``.
    weather : str
        Temperature outdoors and wind, in words.
    says : str
        Where the air comes from, as a sentence.
    alternative : str
        The section in words, for who cannot see it.
    values : tuple
        Of each changing element by its place: a text; the width of a line, 0 where it is
        not drawn; how far a level lies below where it is drawn, None where it is not.
    """

    when: str
    weather: str
    says: str
    alternative: str
    values: tuple[str | float | None, ...]


class _MovingPen(Pen):
    """A pen that takes note of what its elements would show in another state."""

    is_still = False

    def __init__(self, height: float, ink: Ink) -> None:
        super().__init__(WIDTH, height, ink, "", "")
        self.moving: list[Callable[[Any], Any]] = []

    def shows(self, element: ET.Element, shows: Shows) -> None:
        what, told = shows
        element.set(PLACE, str(len(self.moving)))
        element.set(WHAT, what)
        self.moving.append(told)


class MovingSection:
    """A section that can show any state of a house.

    Parameters
    ----------
    house : House
        What to draw.
    widest : SectionState
        The state that needs the most room, as `widest_state` gives it.
    system : DisplaySystem
        Units of the labels.
    dark : bool
        For dark rooms and attics.
    note : str
        Shown at the foot, such as that the house is invented.
    pressures : SectionPressures or None
        Measured pressures to show.
    """

    def __init__(
        self,
        house: House,
        widest: SectionState,
        *,
        system: DisplaySystem,
        dark: bool = False,
        note: str = "",
        pressures: SectionPressures | None = None,
    ) -> None:
        self._house, self._system, self._pressures = house, system, pressures
        layout = lay_out(house)
        view = view_of(layout, NO_HEAD)
        height = view.height + FOOT
        pen = _MovingPen(height, DARK if dark else LIGHT)
        draw_on(pen, view, layout, house, widest, system, pressures)
        draw_legend(pen, height - 0.5 * FOOT, note)
        self._root, self._moving = pen.root, tuple(pen.moving)

    def moment(self, state: SectionState) -> Moment:
        """Return what the section shows in a state.

        Parameters
        ----------
        state : SectionState
            Of the same house.

        Returns
        -------
        Moment
        """
        outdoors = to_the_degree(state.outdoor_temperature, self._system)
        wind = show(state.wind_speed, Kind.SPEED, self._system, digits=1)
        return Moment(
            when=state.when,
            weather=f"{outdoors} outside, wind {wind}",
            says=breathing_sentence(self._house, state.flow),
            alternative=describe_section(self._house, state, self._system, self._pressures),
            values=tuple(told(state) for told in self._moving),
        )

    def svg(self, moment: Moment) -> str:
        """Return the drawing at a moment as SVG text.

        Parameters
        ----------
        moment : Moment
            Of this section.

        Returns
        -------
        str
        """
        root = deepcopy(self._root)
        root.set("aria-label", f"{moment.says}. {moment.alternative}")
        for tag, text in (("title", moment.says), ("desc", moment.alternative)):
            _child(root, tag).text = text
        for element in root.iter():
            if PLACE in element.attrib:
                _set(element, moment.values[int(element.attrib[PLACE])])
        return ET.tostring(root, encoding="unicode")


def _child(root: ET.Element, tag: str) -> ET.Element:
    found = root.find(tag)
    return ET.SubElement(root, tag) if found is None else found


def _set(element: ET.Element, value: str | float | None) -> None:
    """Let an element show a value, as the page's script does."""
    what = element.attrib[WHAT]
    if what == "text":
        element.text = str(value)
    elif what == "width":
        element.set("stroke-width", f"{value}")
        element.set("visibility", "visible" if value else "hidden")
    else:
        element.set("transform", f"translate(0 {value or 0.0})")
        element.set("visibility", "hidden" if value is None else "visible")
