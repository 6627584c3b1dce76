"""Check that a surface loses what the survey of its insulation says, defect by defect."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.insulation.making import INCH, R, patch, survey
from rooftree.engine import conduction
from rooftree.engine.conduction import interrupted_layers, resistance_between_faces
from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.house import OUTDOORS, Layer, Surface, defects
from rooftree.house.defects import insulated_as_found
from rooftree.known import How
from rooftree.readings.insulation import (
    Contact,
    Grade,
    InsulationSurvey,
    Material,
    Method,
    Position,
    reduce_insulation,
)
from rooftree.readings.insulation.surroundings import surroundings_of

BOARD = Layer("gypsum board", 0.0127, 0.16, 800.0, 1090.0)
SHEATHING = Layer("sheathing", 0.0127, 0.12, 500.0, 1630.0)
OLD = Layer("batt", 0.089, 0.042, 10.0, 840.0, role="insulation")


def ceiling(*layers: Layer) -> Surface:
    """Return a ceiling under an attic."""
    return Surface("c", "ceiling", "ceiling", "room", "attic", 100.0, 0.0, 0.0, layers or (BOARD,))


def wall() -> Surface:
    """Return an outside wall with batts."""
    layers = (BOARD, OLD, SHEATHING)
    return Surface("w", "wall", "wall", "room", OUTDOORS, 40.0, 90.0, 0.0, layers)


def engine_total(surface: Surface, position: Position) -> float:
    """Return the resistance from air to air that the engine gives it, with the table's films."""
    layers = interrupted_layers(
        surface.layers, surface.framing_fraction, surface.void_fraction, surface.washed_fraction
    )
    return resistance_between_faces(layers) + surroundings_of(position).films


def survey_total(of: InsulationSurvey, surface: Surface) -> float:
    """Return the resistance from air to air that the survey finds, by parallel paths."""
    others = sum(layer.resistance for layer in surface.layers if layer.role != "insulation")
    found = reduce_insulation(replace(of, other_resistance=others), method=Method.PARALLEL)
    assert found.total is not None
    return found.total.value


def test_the_laws_are_those_of_the_engine() -> None:
    """The resistances that are left are the engine's own."""
    for name in ("CLOSED_VOID", "OPEN_VOID", "STILL_FILM"):
        assert getattr(defects, name) == getattr(conduction, name)


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"void_share": 0.05},
        {"washed_share": 0.2},
        {"covered_share": 0.9},
        {"framing_share": 0.10},
        {"void_share": None, "grade": Grade.III, "framing_share": 0.10, "washed_share": 0.1},
        {"material": Material.LOOSE_GLASS, "framing_share": 0.07},
        {"contact": Contact.OPEN_GAP, "gap": 0.02},
    ],
)
def test_attic_loses_what_the_survey_says(changes: dict[str, Any]) -> None:
    """Each defect alone and several together: what the survey finds by parallel paths."""
    of = survey((10.0, 9.0, 11.5, 6.0), part=patch(**changes), temperature_difference=35.0)
    found = insulated_as_found(ceiling(), of)
    assert engine_total(found, Position.ATTIC_FLOOR) == pytest.approx(
        survey_total(of, ceiling()), rel=2e-3
    )


@pytest.mark.parametrize(
    "changes",
    [
        {"framing_share": 0.25},
        {"framing_share": 0.23, "void_share": 0.05},
        {"framing_share": 0.23, "void_share": None, "grade": Grade.II, "washed_share": 0.05},
    ],
)
def test_wall_with_batts_loses_what_the_survey_says(changes: dict[str, Any]) -> None:
    """A batt of R-19 squeezed into 3 1/2 inches, with framing, voids and wind."""
    batt = {
        "material": Material.GLASS_BATT, "label_resistance": 19.0 * R,
        "label_depth": 6.25 * INCH, "framing_depth": 3.5 * INCH,
    }  # fmt: skip
    of = survey((3.5, 3.5, 3.5), position=Position.WALL, part=patch(**batt, **changes))
    found = insulated_as_found(wall(), of)
    assert engine_total(found, Position.WALL) == pytest.approx(survey_total(of, wall()), rel=2e-3)
    assert [layer.name for layer in found.layers[::2]] == ["gypsum board", "sheathing"]
    assert found.layers[1].thickness == pytest.approx(3.5 * INCH)


@pytest.mark.published(
    source="Journal of Light Construction, on compressing fiberglass batts",
    where="R-19 in 3 1/2 in has R-14, other charts say 13",
    read="quoted in a working summary",
)
def test_squeezed_batt_has_less_than_its_label() -> None:
    """A batt labelled R-19 in a 2x4 wall becomes a layer of R-13 to R-14."""
    batt = patch(material=Material.GLASS_BATT, label_resistance=19.0 * R, label_depth=6.25 * INCH)
    of = survey((3.5, 3.5, 3.5), position=Position.WALL, part=batt)
    assert 12.9 <= insulated_as_found(wall(), of).layers[1].resistance / R <= 14.1


def test_each_defect_stays_apart() -> None:
    """Wind sets the washed share only, voids the void share only, framing its own."""
    plain = insulated_as_found(ceiling(), survey())
    assert (plain.framing_fraction, plain.void_fraction, plain.washed_fraction) == (0.0, 0.0, 0.0)
    for name, changes in (
        ("washed_fraction", {"washed_share": 0.2}),
        ("void_fraction", {"void_share": 0.05}),
        ("framing_fraction", {"framing_share": 0.1}),
    ):
        found = insulated_as_found(ceiling(), survey(part=patch(**changes)))
        changed = {
            field for field in ("framing_fraction", "void_fraction", "washed_fraction")
            if getattr(found, field) > 0.0
        }  # fmt: skip
        assert changed == {name}
        assert found.layers == plain.layers


def test_insulation_takes_the_place_of_the_old() -> None:
    """Old insulation is replaced where it was; an attic floor without any gets it on top."""
    found = insulated_as_found(ceiling(BOARD, OLD), survey())
    assert [layer.role for layer in found.layers] == ["structure", "insulation"]
    assert "cellulose" in found.layers[1].name
    bare = insulated_as_found(ceiling(BOARD), survey())
    assert bare.layers == found.layers
    assert found.known["layers"].how is How.MEASURED
    assert "the attic" in found.known["layers"].note


def test_two_patches_are_one_surface() -> None:
    """Half with R-10 and half with R-50 lets through the mean, not the mean resistance."""
    halves = tuple(patch(name=name, area=50.0) for name in ("thin", "thick"))
    of = replace(
        survey(),
        patches=halves,
        depths=tuple(
            replace(point, patch=name, depth=depth * INCH)
            for point in survey().depths[:1]
            for name, depth in (("thin", 3.0), ("thick", 14.0))
        ),
    )
    found = insulated_as_found(ceiling(), of)
    assert engine_total(found, Position.ATTIC_FLOOR) == pytest.approx(
        survey_total(of, ceiling()), rel=1e-3
    )
    assert found.layers[-1].thickness == pytest.approx(8.5 * INCH)


@given(
    st.floats(0.0, 0.3), st.floats(0.0, 0.2), st.floats(0.0, 0.5), st.floats(0.3, 1.0),
    st.floats(2.0, 20.0),
)  # fmt: skip
def test_shares_stay_shares(
    framing: float, void: float, washed: float, covered: float, depth: float
) -> None:
    """Whatever was found, the engine can take it, and worse insulation never insulates more."""
    part = patch(framing_share=framing, void_share=void, washed_share=washed, covered_share=covered)
    found = insulated_as_found(ceiling(), survey((depth,) * 3, part=part))
    for share in (found.framing_fraction, found.void_fraction, found.washed_fraction):
        assert 0.0 <= share <= 1.0
    plain = insulated_as_found(ceiling(), survey((depth,) * 3))
    whole = engine_total(plain, Position.ATTIC_FLOOR)
    assert engine_total(found, Position.ATTIC_FLOOR) <= whole * (1.0 + 1e-9)


def test_nothing_read_is_refused() -> None:
    """Without any depth there is nothing to lay, and the remedy is named."""
    with pytest.raises(NotEnoughDataError, match="read a depth in one"):
        insulated_as_found(ceiling(), survey(()))


def test_shares_above_one_are_refused() -> None:
    """A share of the survey that is no share is refused by name."""
    with pytest.raises(OutOfRangeError, match="washed share of all"):
        insulated_as_found(ceiling(), survey(part=patch(washed_share=1.5)))
