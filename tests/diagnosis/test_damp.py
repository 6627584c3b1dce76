"""Check which places get wet, against hours worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagnosis.held import HOURS, all_year, held_year
from diagnosis.ranch_year import ranch_year
from engine.houses import make_house, make_space
from rooftree.diagnosis.damp import DampPlace, diagnose_damp
from rooftree.diagnosis.materials import UNKNOWN, material_kind
from rooftree.diagnosis.places import Where, find_places
from rooftree.house import OUTDOORS, AirHandler, DuctRun, House, Layer, Surface, Window
from rooftree.physics.dew_point import dew_point
from rooftree.physics.moist_series import vapor_pressures
from rooftree.physics.mould_index import Sensitivity
from rooftree.units import DisplaySystem, told

BOARD = Layer("gypsum board", 0.0127, 0.16, 800.0, 1090.0)
BATT = Layer("batt", 0.089, 0.0445, 10.0, 840.0, role="insulation")
SHEATHING = Layer("plywood sheathing", 0.0127, 0.127, 500.0, 1630.0)
DEW = dew_point(float(vapor_pressures(0.005, 101325.0)))


def walled(layers: tuple[Layer, ...] = (BOARD, BATT, SHEATHING), **changes: object) -> House:
    """Return a room with one wall of these layers."""
    wall = Surface("wall", "north wall", "wall", "room", OUTDOORS, 10.0, 90.0, 0.0, layers)
    return replace(make_house(make_space("room")), surfaces=(wall,), **changes)


def place(year: object, where: Where, words: str = "") -> DampPlace:
    """Return the one place of a kind whose name has these words."""
    found = diagnose_damp(year)  # type: ignore[arg-type]
    (one,) = [p for p in found.places if p.place.where is where and words in p.place.name]
    return one


def test_a_face_is_wet_below_the_dew_point_by_hand() -> None:
    """A tenth of a kelvin below the dew point in January is wet, above it dry."""
    face = all_year(DEW + 0.1)
    face[: 31 * 24] = DEW - 0.1
    found = place(held_year(walled(), face_inside=face), Where.FACE)
    assert found.wet_hours == 31 * 24
    assert found.wet_months.tolist() == [31 * 24, *(0,) * 11]
    assert found.coldest_margin == pytest.approx(-0.1, abs=0.01)


@pytest.mark.parametrize(
    ("inside", "codes"), [(BOARD, ["diagnosis/wet-face"]), (SHEATHING, [])], ids=["board", "wood"]
)
def test_dew_of_two_hours_a_night_wets_board_and_not_wood(inside: Layer, codes: list[str]) -> None:
    """Wood takes up what condenses in a short time, and is judged by its moisture instead."""
    face = all_year(DEW + 10.0)
    face[: 31 * 24].reshape(31, 24)[:, 5:7] = DEW - 0.1
    year = held_year(walled((inside,)), face_inside=face)
    assert place(year, Where.FACE).wet_hours == 62
    assert [finding.code for finding in diagnose_damp(year).findings] == codes


def test_sheathing_lies_between_the_faces_by_resistance() -> None:
    """Behind 0.079 and 2.0 of 2.179 m²K/W, the sheathing is nearly as cold as outdoors."""
    year = held_year(walled(), face_inside=all_year(293.15), face_outside=all_year(263.15))
    within = [p for p in find_places(year) if p.where is Where.WITHIN]
    behind, before = within
    share = (0.0127 / 0.16 + 2.0) / (0.0127 / 0.16 + 2.0 + 0.1)
    assert behind.temperature[0] == pytest.approx(293.15 - 30.0 * share)
    assert before.temperature[0] == pytest.approx(293.15 - 30.0 * 0.0127 / 0.16 / 2.179375)
    assert (behind.space, before.space) == ("room", OUTDOORS)
    assert not behind.is_sure
    assert behind.material.sensitivity is Sensitivity.SENSITIVE
    vapor = vapor_pressures([0.005, 0.003], 101325.0)
    assert [behind.vapor[0], before.vapor[0]] == pytest.approx(vapor.tolist())


def test_walls_without_insulation_have_nothing_behind_it() -> None:
    """A bare wall has an inside face and no more; a partition is seen from both sides."""
    assert [p.where for p in find_places(held_year(walled((BOARD,))))] == [Where.FACE]
    spaces = (make_space("room"), make_space("car", kind="garage"))
    wall = Surface("wall", "wall", "wall", "room", "car", 10.0, 90.0, 0.0, (BOARD, BATT, SHEATHING))
    house = replace(make_house(*spaces), surfaces=(wall,))
    near, far = find_places(held_year(house))
    assert (near.space, far.space) == ("room", "car")
    assert far.material.is_wood


def test_thirty_days_of_damp_fail_by_hand() -> None:
    """60 days at 90 % and the rest at 50 %, at 20 °C: means of 30 days rise and fall."""
    humid = np.full((HOURS, 1), 0.50)
    humid[: 60 * 24] = 0.90
    saturated = 2338.8
    vapor = humid * saturated
    ratio = 0.621945 * vapor / (101325.0 - vapor)
    found = place(held_year(walled((SHEATHING,)), humidity_ratio=ratio), Where.FACE)
    assert found.highest_mean == pytest.approx(0.90, abs=1e-3)
    # 22.5 of 30 days at 90 % and 7.5 at 50 % are 80 %: hours 22.5 to 67.5 days fail.
    assert found.failing_hours == pytest.approx(45 * 24, abs=3)
    assert found.wood_moisture == pytest.approx(0.205, abs=0.005)


def test_frost_and_heat_do_not_count_in_the_criterion() -> None:
    """At 0 °C a saturated face has no 30 days that fail."""
    cold = held_year(walled((SHEATHING,)), face_inside=all_year(273.15))
    found = place(cold, Where.FACE)
    assert found.wet_hours == HOURS
    assert found.failing_hours == 0
    assert found.index == 0.0


def test_wet_wood_grows_mould_and_says_so() -> None:
    """Plywood that is always wet at 15 °C has visible mould; the finding cautions."""
    year = held_year(
        walled((SHEATHING,)), temperature=288.15, humidity_ratio=np.full((HOURS, 1), 0.0107)
    )
    found = diagnose_damp(year)
    assert found.places[0].index > 3.0
    (finding,) = found.findings
    assert finding.code == "diagnosis/mould"
    assert "Mould can make people ill" in finding.says
    assert finding.about == "wall"


def test_glass_is_told_to_need_warmer_glass_or_drier_air() -> None:
    """A cold window is a place of its own, and alike ones share a finding.

    Both are wet all year; a little more grows on the one that is less cold.
    """
    panes = tuple(
        Window(name, f"{name} window", "room", 2.0, 90.0, azimuth, 3.0, 0.6)
        for name, azimuth in (("north", 0.0), ("south", 180.0))
    )
    cold = all_year(293.15, DEW - 2.0, DEW - 1.0)
    year = held_year(walled(windows=panes), face_inside=cold)
    (finding,) = [f for f in diagnose_damp(year).findings if f.code == "diagnosis/wet-face"]
    assert finding.says.startswith("Glass of south window (and one more like it) is below")
    assert "warmer glass" in finding.says


def ducted(resistance: float) -> House:
    """Return a room over a crawlspace with one supply run."""
    run = DuctRun("supply", "supply duct", "supply", "crawl", 10.0, resistance, 0.0)
    house = make_house(make_space("room"), make_space("crawl", kind="crawlspace"))
    return replace(house, ducts=(run,), air_handler=AirHandler("crawl", 0.4, 300.0))


def cooled_year(resistance: float, humidity: float) -> DampPlace:
    """Return the jacket of a duct with air of 13 °C in a crawlspace of 26 °C in summer."""
    cooling = all_year(0.0, 0.0)
    supply, runtime = np.full(HOURS, np.nan), np.zeros(HOURS)
    summer = slice(181 * 24, 243 * 24)
    cooling[summer, 0], supply[summer], runtime[summer] = 3000.0, 286.15, 0.4
    year = held_year(
        ducted(resistance), temperature=299.15, cooling=cooling, supply_temperature=supply,
        runtime=runtime, humidity_ratio=all_year(0.009, humidity),
    )  # fmt: skip
    return place(year, Where.JACKET)


def test_a_bare_duct_sweats_while_it_runs() -> None:
    """Bare metal of 13 °C in air of 20 °C dew point sweats 0.4 of every hour of two months."""
    found = cooled_year(0.155, 0.0147)
    assert found.wet_hours == pytest.approx(0.4 * 62 * 24)
    assert found.wet_months[6:8] == pytest.approx([0.4 * 31 * 24] * 2)
    # The jacket: 26 - 13 * 0.12 / 0.155.
    assert found.place.temperature[200 * 24] == pytest.approx(299.15 - 13.0 * 0.12 / 0.155)


def test_a_wrapped_duct_stays_dry() -> None:
    """With R-6 the jacket is 1.3 K colder than the crawlspace, and 20 °C is 6 K away."""
    found = cooled_year(6.68 * 0.1761, 0.0147)
    assert found.wet_hours == 0.0
    assert found.coldest_margin == pytest.approx(6.0 - 13.0 * 0.12 / (6.68 * 0.1761), abs=0.15)


def test_sweating_duct_is_told_with_its_space() -> None:
    """The finding says how far below the dew point, in either system of units."""
    cooling, supply = all_year(3000.0, 0.0), np.full(HOURS, 286.15)
    year = held_year(
        ducted(0.155), temperature=299.15, cooling=cooling, supply_temperature=supply,
        runtime=np.ones(HOURS), humidity_ratio=all_year(0.009, 0.0147),
    )  # fmt: skip
    (finding,) = [f for f in diagnose_damp(year).findings if f.code == "diagnosis/duct-sweats"]
    assert "The crawl" in finding.says
    assert "°F" in told(finding.says, DisplaySystem.IP)
    assert "°C" in told(finding.says, DisplaySystem.SI)


@pytest.mark.parametrize(
    ("name", "sensitivity", "is_wood"),
    [
        ("gypsum board 1/2 in", "sensitive", False),
        ("fibreboard sheathing", "sensitive", True),
        ("board subfloor", "sensitive", True),
        ("concrete block 8 in", "medium resistant", False),
        ("batts hanging from joists", "sensitive", True),
        ("rough-sawn deck", "very sensitive", True),
        ("asphalt shingles", "resistant", False),
        ("closed-cell polyurethane", "resistant", False),
    ],
)
def test_materials_are_told_by_their_names(name: str, sensitivity: str, is_wood: bool) -> None:
    """The longest word of the table decides."""
    kind = material_kind(name)
    assert (kind.sensitivity.value, kind.is_wood) == (sensitivity, is_wood)


def test_unknown_material_is_sensitive() -> None:
    """A name that tells nothing is taken to be on the safe side."""
    assert material_kind("something") is UNKNOWN


@given(st.floats(0.002, 0.014), st.floats(0.0, 0.002))
def test_damper_air_wets_no_fewer_hours(ratio: float, more: float) -> None:
    """More vapor never gives fewer wet hours, a lower mean or less mould."""
    face = 278.15 + 15.0 * np.sin(np.arange(HOURS) / HOURS * 6.0)[:, None] ** 2
    less, wetter = (
        place(
            held_year(walled((BOARD,)), face_inside=face, humidity_ratio=all_year(each)), Where.FACE
        )
        for each in (ratio, ratio + more)
    )
    assert wetter.wet_hours >= less.wet_hours
    assert wetter.highest_mean >= less.highest_mean - 1e-12
    assert wetter.index >= less.index - 1e-9


def test_ranch_has_few_sentences_and_each_place_once() -> None:
    """Places that fail alike share a finding: a dozen at most for a house of 60 surfaces."""
    found = diagnose_damp(ranch_year())
    assert 1 <= len(found.findings) <= 12
    assert len({(p.place.where, p.place.name, p.place.id) for p in found.places}) == len(
        found.places
    )
