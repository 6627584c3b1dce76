"""Check what materials and squeezed batts resist against their published tables."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.insulation.making import INCH, R, patch
from rooftree.errors import OutOfRangeError
from rooftree.readings.insulation import Grade, Material, Position
from rooftree.readings.insulation.batts import compressed_resistance, is_charted
from rooftree.readings.insulation.grades import grade_table
from rooftree.readings.insulation.materials import (
    SETTLED,
    conductivity_of,
    convection_loss,
    material_table,
    settling_ahead,
)
from rooftree.readings.insulation.surroundings import (
    WOOD,
    WOOD_DOUBT,
    framing_share,
    gap_resistance,
    surroundings_of,
)

LIGHT = "No-Regrets Remodeling (1997), reprinted by LBNL"
HANDBOOK = "ASHRAE Handbook - Fundamentals 2021, chapter 26"
SUMMARY = "quoted in a working summary of the chapter"
CHARTS = "Journal of Light Construction, questions on compressing fiberglass batts"
PER_INCH = R / INCH
"""R-1 an inch [(m²·K/W)/m]."""


@pytest.mark.published(source=LIGHT, where="table of resistance an inch", read="source")
@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        (Material.LOOSE_CELLULOSE, 3.1, 3.7),
        (Material.PACKED_CELLULOSE, 3.4, 3.6),
        (Material.LOOSE_GLASS, 2.2, 2.9),
        (Material.PACKED_GLASS, 3.4, 4.2),
        (Material.LOOSE_ROCK_WOOL, 2.2, 2.9),
        (Material.GLASS_BATT, 2.9, 3.8),
        (Material.COTTON_BATT, 3.0, 3.7),
        (Material.DAMP_CELLULOSE, 2.9, 3.4),
        (Material.OPEN_FOAM, 3.6, 4.3),
        (Material.CLOSED_FOAM, 5.6, 6.2),
        (Material.EXPANDED_BOARD, 3.9, 4.2),
        (Material.EXTRUDED_BOARD, 4.8, 5.2),
        (Material.POLYISO_BOARD, 5.6, 7.0),
    ],
)
def test_resistance_of_an_inch(material: Material, low: float, high: float) -> None:
    """The range used holds that of the table, to half of its last digit."""
    row = material_table()[material]
    assert 1.0 / row.high / PER_INCH <= low + 0.05
    assert 1.0 / row.low / PER_INCH >= high - 0.05


@pytest.mark.published(
    source="US DOE insulation table", where="resistance an inch",
    read="quoted in a contractor's reprint",
)  # fmt: skip
@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        (Material.LOOSE_CELLULOSE, 3.5, 3.7),
        (Material.GLASS_BATT, 3.0, 3.8),
        (Material.LOOSE_GLASS, 2.2, 3.0),
        (Material.LOOSE_ROCK_WOOL, 2.7, 3.0),
        (Material.EXTRUDED_BOARD, 4.6, 5.0),
    ],
)
def test_resistance_of_an_inch_by_a_second_table(
    material: Material, low: float, high: float
) -> None:
    """A later table lies in the range used, to half of its last digit; unaged foams aside."""
    row = material_table()[material]
    assert 1.0 / row.high / PER_INCH <= low + 0.05
    assert 1.0 / row.low / PER_INCH >= high - 0.05


@pytest.mark.published(source=HANDBOOK, where="table 1, ranges of conductivity", read=SUMMARY)
@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        (Material.LOOSE_CELLULOSE, 0.039, 0.040),
        (Material.PACKED_CELLULOSE, 0.039, 0.040),
        (Material.PACKED_GLASS, 0.035, 0.036),
        (Material.LOOSE_ROCK_WOOL, 0.046, 0.049),
        (Material.OPEN_FOAM, 0.037, 0.042),
        (Material.CLOSED_FOAM, 0.020, 0.029),
        (Material.EXPANDED_BOARD, 0.035, 0.037),
        (Material.EXTRUDED_BOARD, 0.026, 0.029),
        (Material.POLYISO_BOARD, 0.022, 0.023),
    ],
)
def test_range_used_holds_that_of_the_handbook(material: Material, low: float, high: float) -> None:
    """What the handbook gives as a range lies within the range used."""
    row = material_table()[material]
    assert row.low <= low + 1e-9
    assert row.high >= high - 1e-9


@pytest.mark.published(
    source=HANDBOOK, where="table 1: gypsum, board, siding, deck, shingles, softwood", read=SUMMARY
)
def test_layers_round_the_insulation() -> None:
    """The layers of each position add up to the handbook's, to 0.005 m²·K/W."""
    layers = {
        Position.WALL: 0.08 + 0.11 + 0.14,
        Position.KNEE_WALL: 0.08,
        Position.SLOPE: 0.08 + 0.14 + 0.078,
        Position.FLOOR: 0.19,
    }
    for position, expected in layers.items():
        assert surroundings_of(position).other_layers == pytest.approx(expected, abs=0.005)
    assert WOOD - WOOD_DOUBT * 3**0.5 + 1e-3 >= 0.11
    assert WOOD + WOOD_DOUBT * 3**0.5 <= 0.13 + 1e-3


@pytest.mark.published(
    source="California Energy Commission, Title 24, JA4, Table 4.5.2",
    where="gypsum board 1/2 in R-0.45, asphalt shingle R-0.44",
    read="source",
)
def test_layers_of_a_second_table() -> None:
    """Board and shingles have the same resistance there, to 0.005 m²·K/W."""
    assert surroundings_of(Position.KNEE_WALL).other_layers == pytest.approx(0.45 * R, abs=0.005)
    board_and_deck = 0.08 + 0.14
    shingles = surroundings_of(Position.SLOPE).other_layers - board_and_deck
    assert shingles == pytest.approx(0.44 * R, abs=0.005)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals 2021, chapter 27",
    where="framing 0.75/0.21/0.04 at 16 in, 0.78/0.18/0.04 at 24 in",
    read=SUMMARY,
)
@pytest.mark.parametrize(("spacing", "share"), [(0.4064, 0.21 + 0.04), (0.6096, 0.18 + 0.04)])
def test_framing_of_walls(spacing: float, share: float) -> None:
    """Studs, plates and headers take a quarter of a wall, a little less at 24 in."""
    wall = patch(framing_share=None, framing_spacing=spacing)
    assert framing_share(Position.WALL, wall)[0] == pytest.approx(share)


@pytest.mark.published(
    source="ANSI/ASHRAE/IES 90.1, A2.4", where="joists and rafters 10 % of the area", read="source"
)
@pytest.mark.parametrize("position", [Position.ATTIC_FLOOR, Position.SLOPE])
def test_framing_of_attics(position: Position) -> None:
    """A tenth of a vented attic's floor is joists, and of a slope rafters."""
    assert surroundings_of(position).framing_share == 0.10


@pytest.mark.published(source=HANDBOOK, where="table 1", read=SUMMARY)
@pytest.mark.parametrize(
    ("material", "density", "low", "high"),
    [
        (Material.GLASS_BATT, 7.85, 0.046, 0.048),
        (Material.GLASS_BATT, 13.5, 0.037, 0.039),
        (Material.ROCK_WOOL_BATT, None, 0.036, 0.037),
        (Material.VERMICULITE, None, 0.063, 0.068),
    ],
)
def test_conductivities_of_the_handbook(
    material: Material, density: float | None, low: float, high: float
) -> None:
    """The middle of the handbook's range is used, and its ends are within the range given."""
    found = conductivity_of(material, density)
    assert found.value == pytest.approx(0.5 * (low + high), abs=2e-4)
    assert found.uncertainty * 3**0.5 == pytest.approx(0.5 * (high - low), abs=2e-4)


@pytest.mark.published(
    source="WAC 51-11-1007, 1007.2", where="blown loose-fill glass fiber, R-2.6", read="source"
)
@pytest.mark.published(source=HANDBOOK, where="table 1, attic loose glass", read=SUMMARY)
def test_loose_glass_of_code_and_handbook() -> None:
    """What a code computes with, and the handbook's range, lie within the range used."""
    row = material_table()[Material.LOOSE_GLASS]
    assert row.low <= 1.0 / (2.6 * PER_INCH) <= row.high
    assert row.low <= 0.052 <= 0.055 <= row.high


@pytest.mark.published(source=CHARTS, where="table", read="quoted in a working summary")
@pytest.mark.parametrize(
    ("label", "made", "depth", "left"),
    [
        (15, 3.5, 3.5, 15), (19, 6.25, 3.5, 14), (19, 6.25, 5.5, 18), (19, 6.25, 7.25, 19),
        (21, 5.5, 3.5, 15), (21, 5.5, 5.5, 21), (22, 6.625, 3.5, 15), (22, 6.625, 5.5, 20),
        (25, 8, 5.5, 20), (25, 8, 7.25, 24), (25, 8, 9.25, 25), (30, 8.25, 5.5, 22),
        (30, 8.25, 7.25, 27), (30, 9.75, 5.5, 21), (30, 9.75, 7.25, 26), (30, 9.75, 9.25, 29),
        (38, 10, 7.25, 30), (38, 10, 9.25, 36), (38, 12, 7.25, 28), (38, 12, 9.25, 33),
        (38, 12, 11.25, 37),
    ],
)  # fmt: skip
def test_squeezed_batts(label: float, made: float, depth: float, left: float) -> None:
    """A batt squeezed into a common cavity keeps what the chart says, to R-1."""
    found = float(compressed_resistance(label * R, made * INCH, depth * INCH))
    assert found / R == pytest.approx(left, abs=1.0)


@pytest.mark.published(
    source="Journal of Light Construction, B. Harley", where="R-19 in 2x4 and 2x6", read="source"
)
@pytest.mark.parametrize(("depth", "left"), [(3.5, 14.0), (5.5, 18.0)])
def test_squeezed_batt_of_a_second_source(depth: float, left: float) -> None:
    """R-19 in 3 1/2 in is about R-14 and in 5 1/2 in R-18, to R-1."""
    assert float(compressed_resistance(19 * R, 6.25 * INCH, depth * INCH)) / R == pytest.approx(
        left, abs=1.0
    )


@pytest.mark.published(
    source="a handbook of civil engineering, 9.22", where="R-19 in a 2x4 wall, R-13", read="source"
)
def test_lower_chart_is_within_the_tolerance() -> None:
    """Another chart prints R-13 for R-19 in 3 1/2 in: within the doubt of R-1."""
    found = float(compressed_resistance(19 * R, 6.25 * INCH, 3.5 * INCH))
    assert found / R == pytest.approx(13.0, abs=1.0 + 1e-6)


@pytest.mark.published(source="industry chart", where="R-13 and R-11 batts", read="memory")
@pytest.mark.parametrize(
    ("label", "depth", "left"), [(13, 2.5, 10), (13, 1.5, 6), (11, 2.5, 8.9), (11, 1.5, 5.7)]
)
def test_thin_batts(label: float, depth: float, left: float) -> None:
    """R-13 and R-11 batts of 3 1/2 in keep what the chart says, to R-1."""
    found = float(compressed_resistance(label * R, 3.5 * INCH, depth * INCH))
    assert found / R == pytest.approx(left, abs=1.0)


@pytest.mark.published(
    source=CHARTS, where="x % of compression costs x/2 %", read="quoted in a working summary"
)
def test_batt_on_no_chart_follows_the_rule() -> None:
    """A batt that no chart has loses half of the share by which it is squeezed."""
    assert not is_charted(5.0, 0.12)
    assert float(compressed_resistance(5.0, 0.12, 0.09)) == pytest.approx(5.0 * 0.875)


@given(
    st.sampled_from([(19.0, 6.25), (30.0, 9.75), (38.0, 12.0), (7.0, 2.0)]),
    st.floats(0.01, 0.99),
    st.floats(0.001, 0.2),
)
def test_squeezing_loses_resistance_and_gains_it_by_the_inch(
    batt: tuple[float, float], share: float, more: float
) -> None:
    """Less depth never resists more; resistance over depth never falls by squeezing."""
    label, made = batt[0] * R, batt[1] * INCH
    thin, thick = (
        float(compressed_resistance(label, made, made * each))
        for each in (share, min(1.0, share + more))
    )
    assert thin <= thick + 1e-12
    assert thick <= label + 1e-12


def test_batt_no_deeper_than_its_label() -> None:
    """Fluffed beyond its label, a batt counts as its label; squeezed to nothing, as nothing."""
    found = compressed_resistance(3.346, 0.159, np.array([0.0, 0.159, 0.3]))
    assert found.tolist() == pytest.approx([0.0, 3.346, 3.346])


@pytest.mark.parametrize(
    ("label", "depth", "message"),
    [
        (0, 0.1, r"^label resistance is 0 m²·K/W; the method covers 0 to inf m²·K/W$"),
        (1, -1, r"^label depth is -1 m; the method covers 0 to inf m$"),
    ],
)
def test_batt_without_size_is_refused(label: float, depth: float, message: str) -> None:
    """A label must say a resistance and a thickness above zero."""
    with pytest.raises(OutOfRangeError, match=message):
        compressed_resistance(label, depth, 0.1)


@pytest.mark.published(
    source="Wilkes and Childs, ORNL, Thermal Performance of Fiberglass and Cellulose Attic "
    "Insulations",
    where="abstract; the onset as quoted",
    read="source",
)
def test_air_moving_in_loose_glass() -> None:
    """Loose glass loses 35 to 50 % at 70 to 76 °F, nothing at 32 °F; others and covered ones none.

    The abstract gives the range of the loss and of the difference; its middle is used.
    """
    loss, doubt = convection_loss(Material.LOOSE_GLASS, 73.0 / 1.8, air_covered=False)
    assert 0.35 <= loss <= 0.50
    assert loss - 2 * doubt < 0.35 < 0.50 < loss + 2 * doubt
    assert convection_loss(Material.LOOSE_GLASS, 32.0 / 1.8, air_covered=False) == (0.0, 0.0)
    assert convection_loss(Material.LOOSE_CELLULOSE, 40.0, air_covered=False) == (0.0, 0.0)
    assert convection_loss(Material.LOOSE_GLASS, 40.0, air_covered=True) == (0.0, 0.0)


@pytest.mark.published(source=HANDBOOK, where="table 3", read=SUMMARY)
@pytest.mark.parametrize(
    ("position", "thickness", "plain", "foil"),
    [
        (Position.ATTIC_FLOOR, 0.013, 0.15, 0.36), (Position.ATTIC_FLOOR, 0.09, 0.16, 0.47),
        (Position.WALL, 0.013, 0.16, 0.45), (Position.WALL, 0.02, 0.18, 0.61),
        (Position.WALL, 0.09, 0.18, 0.60), (Position.FLOOR, 0.02, 0.18, 0.63),
        (Position.FLOOR, 0.04, 0.20, 1.04), (Position.FLOOR, 0.09, 0.22, 1.63),
    ],
)  # fmt: skip
def test_plane_air_spaces(position: Position, thickness: float, plain: float, foil: float) -> None:
    """Closed gaps have the table's resistance, to 0.01 m²·K/W, with and without foil."""
    assert gap_resistance(position, thickness, reflective=False) == pytest.approx(plain, abs=0.01)
    assert gap_resistance(position, thickness, reflective=True) == pytest.approx(foil, abs=0.01)


@pytest.mark.published(source=HANDBOOK, where="table 10", read=SUMMARY)
@pytest.mark.parametrize(
    ("position", "films"),
    [
        (Position.WALL, 0.12 + 0.030),
        (Position.KNEE_WALL, 0.12 + 0.12),
        (Position.SLOPE, 0.11 + 0.030),
        (Position.FLOOR, 0.16 + 0.16),
    ],
)
def test_films(position: Position, films: float) -> None:
    """The films of each position are the handbook's, to 0.005 m²·K/W."""
    assert surroundings_of(position).films == pytest.approx(films, abs=0.005)


@pytest.mark.published(
    source="ANSI/ASHRAE/IES 90.1, A2.4", where="films of vented attics", read="source"
)
def test_films_of_a_vented_attic() -> None:
    """A vented attic has 0.61 below and 0.46 above, and a board of 0.56 h·ft²·°F/Btu."""
    attic = surroundings_of(Position.ATTIC_FLOOR)
    assert attic.films / R == pytest.approx(0.61 + 0.46, abs=0.005)
    assert attic.other_layers / R == pytest.approx(0.56, abs=0.005)


@pytest.mark.published(
    source="RESNET 2006 / ANSI/RESNET/ICC 301, appendix A",
    where="grade II, 2 % missing",
    read="quoted by an insulation trade association",
)
def test_second_grade() -> None:
    """Grade II counts as 2 % without insulation."""
    assert grade_table()[Grade.II].void_share == 0.02


def test_settling_is_over_after_two_years() -> None:
    """Fresh cellulose has 15 to 20 % ahead of it, old or of unknown age none."""
    ahead, doubt = settling_ahead(Material.LOOSE_CELLULOSE, 0.0)
    assert (ahead, doubt) == pytest.approx((0.175, 0.025 / 3**0.5))
    assert settling_ahead(Material.LOOSE_CELLULOSE, SETTLED) == (0.0, 0.0)
    assert settling_ahead(Material.LOOSE_CELLULOSE, None) == (0.0, 0.0)
    assert settling_ahead(Material.GLASS_BATT, 0) == (0.0, 0.0)


def test_colder_fibers_conduct_less() -> None:
    """Fibers in the cold resist more than at the tables' temperature, boards as before."""
    for material, less in ((Material.LOOSE_CELLULOSE, True), (Material.POLYISO_BOARD, False)):
        cold, warm = (conductivity_of(material, None, t).value for t in (273.15, 297.0))
        assert (cold < warm) is less
        assert warm == conductivity_of(material).value


@pytest.mark.parametrize("temperature", [229.0, 341.0])
def test_temperature_out_of_range_is_refused(temperature: float) -> None:
    """A mean temperature no insulation of a house has is refused."""
    with pytest.raises(OutOfRangeError, match=r"^mean temperature is \d+ K; .* 230 to 340 K$"):
        conductivity_of(Material.GLASS_BATT, None, temperature)


def test_difference_beyond_the_measured_is_refused() -> None:
    """Colder attics than were measured are refused by name."""
    with pytest.raises(
        OutOfRangeError, match=r"^temperature difference is 60 K; the method covers 0 to 45 K$"
    ):
        convection_loss(Material.LOOSE_GLASS, 60, air_covered=False)
