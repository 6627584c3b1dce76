"""Forms of the parts of a house: what they show, what they give back, what they mark."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from demo_job import demo_text
from records.test_house_document import full_job
from rooftree.records.document import read_document
from rooftree.records.document.field_tests.shapes import shapes_of_part
from rooftree.records.document.house_parts import HOUSE_PARTS, part_problems
from rooftree.units import DisplaySystem
from rooftree.web.house import HOUSE_SHEETS
from rooftree.web.house.days import FROM, day_of, periods_of
from rooftree.web.house.form import HouseForm, fields_of, form_of
from rooftree.web.sheets.layout import Rows

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from rooftree.house import House

IP, SI = DisplaySystem.IP, DisplaySystem.SI


def houses() -> Iterator[tuple[House, dict[str, Any]]]:
    """Yield the demo's house and one with every field there is, as core and as in the file."""
    for text in (demo_text(), json.dumps(full_job())):
        document = read_document(text)
        yield document.to_core().house, document.plain()["house"]


def parts(raw: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield kind and entry of every part of a house."""
    for kind, about in HOUSE_PARTS.items():
        found = raw.get(about.key)
        members = found if about.is_list else [found]
        yield from ((kind, one) for one in members or () if one)


def form(
    kind: str, entry: Mapping[str, Any], changes: Mapping[str, str], system: DisplaySystem = IP
) -> HouseForm:
    """Return the form of a part of the full house in which something was typed."""
    house = read_document(json.dumps(full_job())).to_core().house
    sheet = HOUSE_SHEETS[kind]
    return form_of(sheet, fields_of(sheet, entry, system) | dict(changes), entry, house, system)


def part(kind: str) -> dict[str, Any]:
    """Return the first part of a kind of the full house."""
    return next(entry for of, entry in parts(full_job()["house"]) if of == kind)


@pytest.mark.parametrize("system", [IP, SI])
def test_what_is_not_changed_stays_word_by_word(system: DisplaySystem) -> None:
    """Every part of two houses through its form, whatever the reader's units: the same entry."""
    for house, raw in houses():
        for kind, entry in parts(raw):
            sheet = HOUSE_SHEETS[kind]
            shown = form_of(sheet, fields_of(sheet, entry, system), entry, house, system)
            assert shown.entry == entry
            assert not shown.own_mistakes


def test_every_field_of_the_file_has_a_field_in_a_form() -> None:
    """Nothing of a part can only be changed in the file; its id is made, not typed."""
    for kind, about in HOUSE_PARTS.items():
        fields = {
            f"{one.name}.{column.name}".rstrip(".") if column.name not in (FROM, "value")
            else one.name
            for one in HOUSE_SHEETS[kind].parts
            if isinstance(one, Rows)
            for column in one.columns
        } | {one.name for g in HOUSE_SHEETS[kind].parts if not isinstance(g, Rows) for one in g.fields}  # fmt: skip  # noqa: E501
        shapes = {
            name
            for name in shapes_of_part(about.model)
            if name.rpartition(".")[2] not in ("id", "how", "note") and "known" not in name
        }
        # Where a machine of one room stands is said once, for the unit.
        assert shapes - fields <= {"heating.space"}, kind


def test_quantities_are_shown_in_the_readers_units() -> None:
    """What was typed in feet is read in metres by who reads metres; a share as a percentage."""
    entry = part("space")
    assert form("space", entry, {}).fields["volume"] == "8,000 ft3"
    assert form("space", entry, {}, SI).fields["height"] == "2.438 m"
    assert form("window", part("window"), {}).fields["solar_heat_gain_coefficient"] == "40 %"


@pytest.mark.parametrize(
    ("kind", "path", "typed", "kept"),
    [
        ("space", "height", "9", "9 ft"),
        ("space", "height", "2.7 m", "2.7 m"),
        ("space", "height", "8 ft 6 in", "8 ft 6 in"),
        ("space", "supply_share", "30", "30 %"),
        ("space", "supply_share", "0.3", "0.3"),
        ("window", "u_value", "0.3", "0.3 Btu/(h·ft²·°F)"),
        ("surface", "azimuth", "SW", "SW"),
        ("heating", "efficiency", "95 %", "95 %"),
        ("use", "people", "5", "5"),
    ],
)
def test_a_number_alone_gets_the_unit_of_its_field(
    kind: str, path: str, typed: str, kept: str
) -> None:
    """Whatever has a unit stays as it was typed; the record takes all of them."""
    entry = form(kind, part(kind), {path: typed}).entry
    value = entry[path]["value"] if isinstance(entry[path], dict) else entry[path]
    assert value == kept
    assert part_problems(kind, entry) == ()


def test_a_resistance_alone_is_an_r_value() -> None:
    """As the trade writes it."""
    entry = form("surface", part("surface"), {"layers[1].resistance": "30"}).entry
    assert entry["layers"][1]["resistance"] == {"value": "R-30", "known": "observed"}


def test_how_a_value_is_known_stands_beside_it() -> None:
    """For a quantity as an object, for a kind in the map of the part; a note alone assumes."""
    entry = form(
        "surface",
        part("surface"),
        {
            "area.known": "not seen", "area.note": "closed wall",
            "tilt.note": "usual",
            "known.kind.how": "told", "known.kind.note": "owner",
        },
    ).entry  # fmt: skip
    assert entry["area"] == {"value": "1,000 ft2", "known": "not seen", "note": "closed wall"}
    assert entry["tilt"] == {"value": "0°", "known": "assumed", "note": "usual"}
    assert entry["known"]["kind"] == {"how": "told", "note": "owner"}
    assert entry["known"]["layers"] == {"how": "observed", "note": "from the hatch"}


def test_what_is_emptied_is_left_out_with_how_it_was_known() -> None:
    """An optional field without a value leaves nothing behind."""
    entry = form("space", part("space"), {"buffering": "", "floor_area": ""}).entry
    assert "buffering" not in entry
    assert "floor_area" not in entry
    assert part_problems("space", entry)[0].path == "floor_area"


def test_layers_are_moved_and_left_out_with_everything_they_say() -> None:
    """The order from inside to outside is the order of the file."""
    entry = part("surface")
    up = form("surface", entry, {"up": "layers 1"}).entry
    assert [one["name"] for one in up["layers"]] == ["loose fill", "gypsum board"]
    assert up["layers"][0] == entry["layers"][1]
    out = form("surface", entry, {"out": "layers 0"}).entry
    assert out["layers"] == [entry["layers"][1]]


def test_a_day_is_typed_as_periods() -> None:
    """From ten at night until six it is cooler; the record has 24 hours."""
    changes = {
        "heating_setpoint[0].from": "6", "heating_setpoint[0].value": "68",
        "heating_setpoint[1].from": "10 pm", "heating_setpoint[1].value": "62 F",
    }  # fmt: skip
    entry = form("use", part("use"), changes).entry
    night, day = ["62 F"] * 6, ["68 °F"] * 16
    assert entry["heating_setpoint"] == [*night, *day, "62 F", "62 F"]
    # One value had told beside it; 24 have told in the map of the part.
    assert entry["known"]["heating_setpoint"] == {"how": "told"}
    assert part_problems("use", entry) == ()


@pytest.mark.parametrize(
    ("rows", "path", "says"),
    [
        ([{"from": "six", "value": "1"}], "[0].from", 'is "six"'),
        ([{"from": "6", "value": "1"}, {"from": "", "value": "2"}], "[1].from", "is missing"),
        ([{"from": "6", "value": "1"}, {"from": "6:00", "value": "2"}], "[1].from", "twice"),
        ([{"from": "6", "value": ""}], "[0].value", "is missing"),
    ],
)
def test_periods_that_make_no_day_are_told(
    rows: list[dict[str, str]], path: str, says: str
) -> None:
    """The field in which the mistake stands, and what to write."""
    day, mistakes, _ = day_of(rows)
    assert day is None
    assert says in mistakes[path]


@pytest.mark.parametrize("day", ["68 F", ["1"] * 24, [*"aaabbbcccddd", *"aaaaaaaaabbb"]])
def test_a_day_survives_being_periods(day: Any) -> None:
    """Back to the same hours, however they change."""
    again, mistakes, _ = day_of(periods_of(day))
    assert not mistakes
    assert (again if isinstance(again, list) else [again] * 24) == (
        day if isinstance(day, list) else [day] * 24
    )


def test_mistakes_stand_at_the_field_that_shows_them() -> None:
    """Of an hour at its period, of a layer at its row, of the whole list above it."""
    use = form("use", part("use"), {"sensible_gain[0].value": "much"})
    marked = use.marked({"sensible_gain": '"much" is not a number'})
    assert marked.mistakes == {"sensible_gain[0].value": '"much" is not a number'}
    wall = form("surface", part("surface"), {})
    marked = wall.marked({"layers[1]": "has both", "area": "is 0", "house.spaces": "no living"})
    assert set(marked.mistakes) == {"layers[1].resistance", "area", "house.spaces"}
    assert marked.others == (("house.spaces", "no living"),)


def test_a_leak_without_a_side_of_the_house_says_so() -> None:
    """The file wants it stated that no wind reaches it."""
    assert form("leak", part("leak"), {"azimuth": ""}).entry["azimuth"] is None
