"""Parts of the section that can be pressed: each lies where it is drawn and says what it is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import pytest

from demo_job import demo_text
from rooftree.papers.section.layout import lay_out
from rooftree.papers.section.links import spots, with_links
from rooftree.papers.section.view import view_of
from rooftree.records.document import read_document

if TYPE_CHECKING:
    from rooftree.house import House
    from rooftree.papers.section.links import Spot

HEAD = 96.0
SVG = '<svg xmlns="http://www.w3.org/2000/svg" role="img"><title>A house</title></svg>'


@pytest.fixture(scope="module")
def house() -> House:
    """Return the demo's house."""
    return read_document(demo_text()).to_core().house


def found(house: House, kind: str) -> list[Spot]:
    """Return the spots of one kind."""
    return [one for one in spots(house, HEAD) if one.kind == kind]


def test_every_space_can_be_pressed_where_it_is_drawn(house: House) -> None:
    """Its outline is that of the drawing, and its name is told."""
    layout = lay_out(house)
    view = view_of(layout, HEAD)
    outlines = {one.parts[0]: one.corners for one in found(house, "space")}
    assert set(outlines) == {space.id for space in house.spaces}
    for key, shape in layout.shapes.items():
        assert outlines[key] == tuple(view.points(shape.outline))
    assert {one.words for one in found(house, "space")} == {one.name for one in house.spaces}


def test_surfaces_lie_on_the_edges_of_their_space(house: House) -> None:
    """Each belongs to the space whose edge it is; several behind each other are all named."""
    inside = {one.id: one.inside for one in house.surfaces}
    names = {one.id: one.name for one in house.surfaces}
    strips = found(house, "surface")
    assert strips
    for strip in strips:
        assert len({inside[one] for one in strip.parts}) == 1
        assert all(names[one] in strip.words for one in strip.parts)
    assert ("ceiling",) in {one.parts for one in strips}
    assert any(len(one.parts) > 1 for one in strips)


def test_ducts_and_burners_can_be_pressed(house: House) -> None:
    """Every run of duct and every burner that is drawn, each once."""
    runs = [run for one in found(house, "duct") for run in one.parts]
    assert sorted(runs) == sorted(run.id for run in house.ducts)
    assert [one.words for one in found(house, "water heater")] == [
        "water heater in the living space"
    ]
    bare = replace(house, water_heater=None, ducts=())
    assert found(bare, "water heater") == []
    assert found(bare, "duct") == []


def test_a_drawing_with_links_is_a_group_of_named_links(house: House) -> None:
    """Its words may hold anything; each link leads where it was told."""
    odd = replace(house, spaces=(replace(house.spaces[0], name='a & "b" <c>'), *house.spaces[1:]))
    svg = with_links(SVG, odd, HEAD, lambda kind, parts: f"/{kind}?id={'+'.join(parts)}&x")
    root = ET.fromstring(svg)  # noqa: S314 - our own
    assert root.get("role") == "group"
    links = root.findall("{*}a")
    assert len(links) == len(spots(odd, HEAD))
    assert links[0].get("href") == f"/space?id={spots(odd, HEAD)[0].parts[0]}&x"
    words = [link.findtext("{*}title") for link in links]
    assert 'a & "b" <c>' in words
    assert all(words)
