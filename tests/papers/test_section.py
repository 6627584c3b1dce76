"""Check the section drawing of houses of every shape, and the text that stands for it."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree as ET

import pytest

from papers.houses import (
    HOUSES,
    garage_beside_house,
    make_state,
    room_over_garage_house,
    slab_house,
    split_house,
    storey_and_a_half_house,
    two_storey_house,
)
from rooftree.house import OUTDOORS, House, Layer, Surface
from rooftree.papers.pen import DARK, LIGHT, Pen
from rooftree.papers.section import (
    SectionPressures,
    describe_section,
    draw_section,
    measured_pressures,
)
from rooftree.papers.section.arrows import SMALLEST_FLOW
from rooftree.papers.section.draw import draw_on
from rooftree.papers.section.insulation import draw_insulation, effective_resistance
from rooftree.papers.section.layout import lay_out
from rooftree.papers.section.view import WIDTH, view_of
from rooftree.readings.combustion import CombustionTest
from rooftree.readings.zone_pressures import ZonePressureTest
from rooftree.units import DisplaySystem, Kind, show

SVG = "{http://www.w3.org/2000/svg}"
IP, SI = DisplaySystem.IP, DisplaySystem.SI

every_house = pytest.mark.parametrize("name", HOUSES)
every_system = pytest.mark.parametrize("system", DisplaySystem)


def pressures_of(house: House) -> SectionPressures:
    """Return a pressure for every buffer space and both burners."""
    living = {space.id for space in house.living_spaces}
    zones = {space.id: 41.0 for space in house.spaces if space.id not in living}
    return SectionPressures(zones, {"water heater": -4.1, "furnace": -1.2})


def drawn(house: House, system: DisplaySystem = IP, letters: float = 1.0) -> Pen:
    """Return the pen after it drew a house."""
    layout = lay_out(house)
    view = view_of(layout, 96.0)
    pen = Pen(WIDTH, view.height + 56.0, LIGHT, "title", "text", letters)
    draw_on(pen, view, layout, house, make_state(house), system, pressures_of(house))
    return pen


@every_house
@every_system
def test_drawing_is_plain_svg_with_words_for_it(name: str, system: DisplaySystem) -> None:
    """The drawing is well formed, has title and description, and no style, script or link."""
    house = HOUSES[name]()
    root = ET.fromstring(draw_section(house, make_state(house), system=system))  # noqa: S314
    assert root.tag == f"{SVG}svg"
    assert root.find(f"{SVG}title") is not None
    description = root.find(f"{SVG}desc")
    assert description is not None
    assert description.text == describe_section(house, make_state(house), system)
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags.isdisjoint({"style", "script", "image", "a", "use", "foreignObject"})
    names = {key for element in root.iter() for key in element.attrib}
    assert not {key for key in names if key == "style" or key.startswith("on") or "href" in key}


@every_house
@every_system
@pytest.mark.parametrize("letters", [1.0, 1.3])
def test_labels_do_not_cover_each_other(name: str, system: DisplaySystem, letters: float) -> None:
    """No two labels share any place, whatever the shape of the house."""
    labels = drawn(HOUSES[name](), system, letters).labels
    covered = [
        (first, second)
        for (first, one), (second, other) in combinations(labels, 2)
        if one.meets(other)
    ]
    assert covered == []


@every_house
def test_labels_stay_on_the_paper(name: str) -> None:
    """No label runs over the edge of the drawing."""
    pen = drawn(HOUSES[name]())
    for text, box in pen.labels:
        assert box.left >= 0.0, text
        assert box.right <= pen.width, text
        assert box.top >= 0.0, text
        assert box.bottom <= pen.height, text


@every_house
def test_every_space_is_drawn_once_and_none_overlap(name: str) -> None:
    """Each space has a shape; rooms and cellars do not lie in each other."""
    house = HOUSES[name]()
    shapes = lay_out(house).shapes
    assert set(shapes) == {space.id for space in house.spaces}
    solid = [shape for shape in shapes.values() if not shape.is_under_roof]
    for one, other in combinations(solid, 2):
        is_apart = (
            one.right <= other.left + 1e-9
            or other.right <= one.left + 1e-9
            or one.top <= other.bottom + 1e-9
            or other.top <= one.bottom + 1e-9
        )
        assert is_apart, (one.space.id, other.space.id)


@every_house
@every_system
def test_text_tells_every_flow_of_a_living_space(name: str, system: DisplaySystem) -> None:
    """Every pair of neighbours that exchanges air with a living space is in the text."""
    house = HOUSES[name]()
    state = make_state(house)
    text = describe_section(house, state, system)
    living = {space.id for space in house.living_spaces}
    names = {space.id: space.name for space in house.spaces} | {OUTDOORS: "outdoors"}
    told = 0
    for (source, target), amount in state.flow.items():
        if amount > SMALLEST_FLOW and {source, target} & living:
            figure = show(amount, Kind.FLOW, system, digits=2)
            assert f"{figure} from {names[source]} to {names[target]}" in text
            told += 1
    assert text.count(" from ") == told


@every_house
def test_text_tells_every_space(name: str) -> None:
    """Every space is named with its temperature."""
    house = HOUSES[name]()
    state = make_state(house)
    text = describe_section(house, state, IP)
    for space in house.spaces:
        warmth = show(state.temperature[space.id], Kind.TEMPERATURE, IP, digits=2)
        assert f"{space.name} {warmth}" in text


def test_small_flows_are_neither_drawn_nor_told() -> None:
    """A trickle does not clutter drawing and text."""
    house = split_house()
    state = make_state(house, flow=0.25 * SMALLEST_FLOW)
    assert "Hardly any air moves." in describe_section(house, state, IP)
    svg = draw_section(house, state, system=IP)
    assert "marker-end" not in svg


@pytest.mark.parametrize("name", ["slab", "garage beside", "split", "small"])
def test_an_arrow_for_every_large_flow(name: str) -> None:
    """Where the section cuts every boundary, each flow has its arrow and its figure."""
    house = HOUSES[name]()
    state = make_state(house)
    root = ET.fromstring(draw_section(house, state, system=IP))  # noqa: S314
    living = {space.id for space in house.living_spaces}
    crossing = [ends for ends in state.flow if len(living & set(ends)) == 1]
    arrows = [path for path in root.iter(f"{SVG}path") if "marker-end" in path.attrib]
    assert len(arrows) == len(crossing)


def test_arrows_grow_with_the_flow() -> None:
    """More air makes a wider arrow."""
    house = slab_house()
    state = replace(
        make_state(house),
        flow={("living", "attic"): 0.04, (OUTDOORS, "living"): 0.02, ("attic", "living"): 0.01},
    )
    root = ET.fromstring(draw_section(house, state, system=IP))  # noqa: S314
    widths = [
        float(path.attrib["stroke-width"])
        for path in root.iter(f"{SVG}path")
        if "marker-end" in path.attrib
    ]
    assert len(widths) == 3
    assert widths == sorted(set(widths), reverse=True)


def test_words_are_escaped() -> None:
    """A name with signs of markup comes back as it was given."""
    house = slab_house()
    name = 'attic <b> & "kids"'
    house = replace(house, spaces=(house.spaces[0], replace(house.spaces[1], name=name)))
    svg = draw_section(house, make_state(house), system=IP, title=f"Through {name}")
    root = ET.fromstring(svg)  # noqa: S314
    assert root.findtext(f"{SVG}title") == f"Through {name}"
    assert name in (root.findtext(f"{SVG}desc") or "")


def test_dark_drawing_differs_only_in_colors() -> None:
    """The variant for dark rooms has the same shapes and words in its own colors."""
    house = two_storey_house()
    light = draw_section(house, make_state(house), system=IP)
    dark = draw_section(house, make_state(house), system=IP, dark=True)
    for one, other in zip(
        (LIGHT.paper, LIGHT.room, LIGHT.ink, LIGHT.faint, LIGHT.soft, LIGHT.fill, LIGHT.cool,
         LIGHT.warm),
        (DARK.paper, DARK.room, DARK.ink, DARK.faint, DARK.soft, DARK.fill, DARK.cool, DARK.warm),
        strict=True,
    ):  # fmt: skip
        assert one not in dark
        light = light.replace(one, other)
    assert light == dark


def test_font_family_is_quoted() -> None:
    """Unquoted, the digit in the family's name would make all text vanish."""
    house = slab_house()
    root = ET.fromstring(draw_section(house, make_state(house), system=IP))  # noqa: S314
    assert root.attrib["font-family"].startswith("'Source Sans 3'")


def test_heading_is_left_to_the_paper_when_asked() -> None:
    """Without its heading the drawing is lower, and its title is still in the text for it."""
    house = slab_house()
    with_heading = draw_section(house, make_state(house), system=IP, title="What it shows")
    without = draw_section(house, make_state(house), system=IP, title="What it shows", headed=False)
    heights = [float(svg.split('viewBox="0 0 ')[1].split('"')[0].split()[1])
               for svg in (with_heading, without)]  # fmt: skip
    assert heights[1] < heights[0]
    assert with_heading.count("What it shows") == without.count("What it shows") + 1


def test_pressures_are_drawn_and_told() -> None:
    """Zone pressures stand in their spaces and the worst case beside its burner."""
    house = two_storey_house()
    pressures = SectionPressures({"attic": 46.0}, {"water heater": -4.1})
    svg = draw_section(house, make_state(house), system=IP, pressures=pressures)
    root = ET.fromstring(svg)  # noqa: S314
    words = [element.text for element in root.iter(f"{SVG}text")]
    assert "46 of 50 Pa to the house" in words
    assert "−4.1 Pa worst case" in words
    description = root.findtext(f"{SVG}desc") or ""
    assert "With the test fan at 50 Pa the attic was 46 Pa from the house." in description
    assert "In the worst case the water heater stood at −4.1 Pa." in description


def test_measured_pressures_come_from_the_readings() -> None:
    """Zones are brought to 50 Pa, the baseline is taken off, unknown spaces are left out."""
    burner = CombustionTest("water heater", "natural draft", 0.0, None, None, -0.6, -4.7, "dryer",
                            30.0, None, False, 275.0)  # fmt: skip
    readings = (
        ZonePressureTest("attic", -40.0, -32.0),
        ZonePressureTest("nowhere", -50.0, -10.0),
        burner,
    )
    found = measured_pressures(two_storey_house(), readings)
    assert found.zones == pytest.approx({"attic": 40.0})
    assert found.appliances == pytest.approx({"water heater": -4.1})


def test_neutral_level_outside_the_house_is_not_drawn() -> None:
    """A level under the floor, or none at all, leaves no line."""
    house = slab_house()
    for level, count in ((1.5, 1), (-3.0, 0), (None, 0)):
        svg = draw_section(house, make_state(house, neutral_level=level), system=IP)
        assert svg.count("neutral level") == count


def test_basement_lies_in_the_ground_and_rooms_above_it() -> None:
    """Levels of the record are levels of the drawing."""
    shapes = lay_out(two_storey_house()).shapes
    assert shapes["basement"].bottom == -2.0
    assert shapes["basement"].top == shapes["ground-floor"].bottom == 0.5
    assert shapes["ground-floor"].top == shapes["upper-floor"].bottom == 3.2


def test_garage_stands_beside_and_knee_walls_around_the_room() -> None:
    """The garage is right of the house; the room in the roof is cut and lies over it."""
    layout = lay_out(room_over_garage_house())
    garage, room = layout.shapes["garage"], layout.shapes["bonus-room"]
    assert garage.left >= layout.shapes["living"].right
    assert room.is_cut
    assert room.bottom >= garage.top - 0.31
    assert garage.left < room.left < room.right < garage.right


@pytest.mark.parametrize("build", [room_over_garage_house, storey_and_a_half_house])
def test_room_in_the_roof_fits_under_it(build: object) -> None:
    """Every corner of a room between knee walls is under the roof."""
    layout = lay_out(build())  # type: ignore[operator]
    room = next(shape for shape in layout.shapes.values() if shape.is_cut)
    roof = next(shape for shape in layout.shapes.values()
                if shape.is_under_roof and shape.left <= room.middle <= shape.right)  # fmt: skip
    (left, base), (right, _), (middle, peak) = roof.outline
    for x, y in room.outline:
        reach = 0.5 * (right - left)
        assert y < base + (peak - base) * (1.0 - abs(x - middle) / reach)


def test_free_walls_are_those_without_a_neighbour() -> None:
    """The garage side of the house is not outdoors."""
    layout = lay_out(garage_beside_house())
    living, garage = layout.shapes["living"], layout.shapes["garage"]
    assert layout.is_free(living, left=True)
    assert not layout.is_free(living, left=False)
    assert layout.is_free(garage, left=False)


def wall(resistance: float, void: float = 0.0, framing: float = 0.0) -> Surface:
    """Return a wall with one layer of insulation."""
    layer = Layer("batt", 0.1, 0.1 / resistance, role="insulation")
    return Surface("w", "w", "wall", "living", OUTDOORS, 10.0, 90.0, 0.0, (layer,),
                   framing_fraction=framing, void_fraction=void)  # fmt: skip


def test_whole_insulation_works_as_rated() -> None:
    """Without voids and framing the effective resistance is that of the layers."""
    assert effective_resistance(wall(3.0)) == pytest.approx(3.0)


def test_gaps_cost_more_than_their_share() -> None:
    """A tenth of voids takes away far more than a tenth."""
    assert effective_resistance(wall(3.0, void=0.1)) < 0.3 * 3.0 + 0.6


def test_nothing_but_voids_is_an_air_gap() -> None:
    """Insulation that is missing everywhere leaves the resistance of the air gap."""
    assert effective_resistance(wall(3.0, void=1.0)) == pytest.approx(0.1)


def test_bare_surface_has_no_insulation() -> None:
    """A surface without an insulation layer draws nothing."""
    bare = replace(wall(3.0), layers=(Layer("board", 0.02, 0.12),))
    assert effective_resistance(bare) == 0.0


def test_better_insulation_is_drawn_thicker() -> None:
    """What works better is thicker, up to what there is room for."""
    heights = []
    for thickness in (0.05, 0.1, 0.2, 5.0, 50.0):
        house = slab_house()
        batt = Layer("batt", thickness, 0.05, role="insulation")
        surfaces = tuple(
            replace(s, layers=(batt,), void_fraction=0.0, framing_fraction=0.0)
            if s.kind == "ceiling"
            else s
            for s in house.surfaces
        )
        house = replace(house, surfaces=surfaces)
        layout = lay_out(house)
        pen = Pen(WIDTH, 600.0, LIGHT, "", "")
        ceiling = next(d for d in draw_insulation(pen, view_of(layout, 0.0), layout, house)
                       if d.word == "ceiling")  # fmt: skip
        top = view_of(layout, 0.0).y(layout.shapes["living"].top)
        heights.append(top - ceiling.left[1])
    assert heights == sorted(heights)
    assert heights[0] < heights[2]
    assert heights[-1] == heights[-2]
