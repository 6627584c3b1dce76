"""Check the section in motion: each moment shows what a still drawing of it would."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from papers.houses import HOUSES, make_state
from rooftree.errors import OutOfRangeError
from rooftree.papers.section import (
    MovingSection,
    SectionState,
    draw_section,
    sequence_names,
    sequence_of,
)
from rooftree.papers.section.moving import PLACE, WHAT
from rooftree.papers.section.sequences import COLDEST, HOTTEST, YEAR
from rooftree.records.weather_files import open_year
from rooftree.units import DisplaySystem

SVG = "{http://www.w3.org/2000/svg}"
IP = DisplaySystem.IP

every_house = pytest.mark.parametrize("name", HOUSES)


def widest(state: SectionState) -> SectionState:
    """Return a state with twice the flow, both ways, in hot and damp air."""
    flow = {
        ends: 2.0 * amount
        for (source, target), amount in state.flow.items()
        for ends in ((source, target), (target, source))
    }
    return replace(
        state,
        temperature=dict.fromkeys(state.temperature, 330.0),
        relative_humidity=dict.fromkeys(state.relative_humidity, 1.0),
        flow=flow,
    )


def parsed(svg: str) -> ET.Element:
    """Return a drawing of our own as its elements."""
    return ET.fromstring(svg)  # noqa: S314


def words_of(svg: str) -> list[str]:
    """Return all words that can be seen in a drawing, in alphabetical order."""
    texts = parsed(svg).iter(f"{SVG}text")
    return sorted(each.text for each in texts if each.text and each.get("visibility") != "hidden")


@every_house
@pytest.mark.parametrize("system", DisplaySystem)
def test_a_moment_says_what_a_still_drawing_says(name: str, system: DisplaySystem) -> None:
    """Temperatures, humidities and names are those of the drawing made for that state alone."""
    house = HOUSES[name]()
    state = make_state(house)
    section = MovingSection(house, state, system=system)
    moving = section.svg(section.moment(state))
    still = draw_section(house, state, system=system, headed=False)
    assert words_of(moving) == words_of(still)


@every_house
def test_only_changing_parts_change(name: str) -> None:
    """Between two moments nothing moves but texts, widths of arrows and the neutral level."""
    house = HOUSES[name]()
    state = make_state(house)
    section = MovingSection(house, widest(state), system=IP)
    warmer = replace(
        state,
        temperature={key: t + 5.0 for key, t in state.temperature.items()},
        flow={ends: 0.4 * amount for ends, amount in state.flow.items()},
    )
    changing = {"stroke-width", "visibility", "transform", "aria-label"}
    one, other = (
        list(parsed(section.svg(section.moment(each))).iter()) for each in (state, warmer)
    )
    for left, right in zip(one, other, strict=True):
        differ = {k for k in {*left.attrib, *right.attrib} if left.get(k) != right.get(k)}
        assert differ <= changing
        if left.text != right.text:
            assert left.get(WHAT) == "text" or left.tag.endswith(("title", "desc"))


def test_every_value_has_its_place() -> None:
    """Places are numbered without a gap, and each knows what of it changes."""
    house = HOUSES[next(iter(HOUSES))]()
    state = make_state(house)
    section = MovingSection(house, widest(state), system=IP)
    moment = section.moment(state)
    found = [e for e in parsed(section.svg(moment)).iter() if PLACE in e.attrib]
    assert sorted(int(e.attrib[PLACE]) for e in found) == list(range(len(moment.values)))
    assert {e.attrib[WHAT] for e in found} <= {"text", "width", "level"}


def test_air_that_stands_still_has_no_arrow() -> None:
    """Without flow every arrow is hidden and no flow is written."""
    house = HOUSES[next(iter(HOUSES))]()
    state = make_state(house)
    section = MovingSection(house, widest(state), system=IP)
    svg = section.svg(section.moment(replace(state, flow={})))
    arrows = [e for e in parsed(svg).iter() if e.get(WHAT) == "width"]
    assert arrows
    assert {e.get("visibility") for e in arrows} == {"hidden"}
    assert "cfm" not in " ".join(words_of(svg))


def test_a_neutral_level_outside_the_house_is_not_drawn() -> None:
    """The level goes with its value, and vanishes where there is none."""
    house = HOUSES[next(iter(HOUSES))]()
    state = replace(make_state(house), neutral_level=1.2)
    section = MovingSection(house, state, system=IP)
    for level, expected in ((1.2, "visible"), (None, "hidden"), (90.0, "hidden")):
        svg = section.svg(section.moment(replace(state, neutral_level=level)))
        levels = [e for e in parsed(svg).iter() if e.get(WHAT) == "level"]
        assert levels
        assert {e.get("visibility") for e in levels} == {expected}


def test_a_day_has_its_24_hours() -> None:
    """A day of the year is its hours one by one, with words for each."""
    sequence = sequence_of("day-36", open_year("greensboro"))
    assert sequence.words == "5 February"
    assert [hours.tolist() for _, hours in sequence.moments] == [[840 + k] for k in range(24)]
    assert sequence.moments[0][0] == "5 February, midnight"
    assert sequence.moments[19][0] == "5 February, 7 p.m."


def test_months_take_every_hour_of_the_year_once() -> None:
    """The months of the year, and the typical days of the months, leave nothing out."""
    weather = open_year("greensboro")
    names = sequence_names(weather)
    year = np.concatenate([hours for _, hours in sequence_of(YEAR, weather).moments])
    days = [sequence_of(name, weather) for name in names if name not in (YEAR, COLDEST, HOTTEST)]
    typical = np.concatenate([hours for day in days for _, hours in day.moments])
    for each in (year, typical):
        assert sorted(each.tolist()) == list(range(8760))
    assert [len(day.moments) for day in days] == [24] * 12


def test_the_coldest_day_holds_the_coldest_hour() -> None:
    """The extreme days are those of the extreme hours."""
    weather = open_year("greensboro")
    for name, hour in (
        (COLDEST, int(weather.temperature.argmin())),
        (HOTTEST, int(weather.temperature.argmax())),
    ):
        hours = np.concatenate([hours for _, hours in sequence_of(name, weather).moments])
        assert hour in hours


def test_unknown_sequences_are_refused() -> None:
    """A name that is none, and a day that is none of the year."""
    weather = open_year("greensboro")
    for name in ("smarch", "day-", "day-x", "day--1"):
        with pytest.raises(KeyError):
            sequence_of(name, weather)
    for name in ("day-0", "day-366"):
        with pytest.raises(OutOfRangeError, match=r"^day is \d+ of the year; .* 1 to 365"):
            sequence_of(name, weather)
