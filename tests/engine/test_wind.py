"""Check wind at walls against the handbook's equations and its worked example."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.houses import make_house, make_space
from rooftree.engine.wind import (
    terrain_factor,
    wall_height,
    wall_pressure_coefficient,
    wind_pressure_factor,
)
from rooftree.errors import HouseError, OutOfRangeError

HANDBOOK = "ASHRAE Handbook - Fundamentals, 2021"


@pytest.mark.published(source=HANDBOOK, where="chapter 24, example 1", read="source")
def test_wind_over_a_suburb_at_fifteen_metres() -> None:
    """10 m/s at the station is 7.8 m/s over a suburb at 15 m, to the figure printed."""
    assert 10.0 * terrain_factor(15.0, "suburban") == pytest.approx(7.8, abs=0.05)


@pytest.mark.parametrize(
    ("height", "terrain", "factor"),
    [(2.5, "suburban", 0.5284), (5.0, "suburban", 0.6154), (5.0, "city", 0.3567)],
)
def test_terrain_equation(height: float, terrain: str, factor: float) -> None:
    """Chapter 24, eq. 4 with the table's values, computed by hand."""
    assert terrain_factor(height, terrain) == pytest.approx(factor, abs=1e-4)


def test_unknown_terrain() -> None:
    """A kind of country that the table does not have is refused, with those it has."""
    with pytest.raises(
        HouseError, match=r"^terrain is forest; use one of city, suburban, open, water$"
    ):
        terrain_factor(5.0, "forest")


@pytest.mark.parametrize(
    ("angle", "coefficient"),
    [
        (0, 0.6), (30, 0.5029), (45, 0.3106), (60, 0.0080), (90, -0.65), (135, -0.3834),
        (180, -0.3),
    ],
)  # fmt: skip
def test_wall_pressure_equation(angle: float, coefficient: float) -> None:
    """Chapter 16, eq. 26 with its typical values, computed by hand."""
    assert wall_pressure_coefficient(angle) == pytest.approx(coefficient, abs=1e-4)


@given(st.floats(-720.0, 720.0))
def test_wall_pressure_is_even_and_periodic(angle: float) -> None:
    """Wind from the left presses like wind from the right, and a full turn changes nothing."""
    there = wall_pressure_coefficient(angle)
    assert wall_pressure_coefficient(-angle) == pytest.approx(there, abs=1e-9)
    assert wall_pressure_coefficient(angle + 360.0) == pytest.approx(there, abs=1e-7)


def test_pressure_factor_over_a_year_of_directions() -> None:
    """The factor is ``s² Cp (U / U_station)² / 2`` for each hour."""
    direction = np.arange(0.0, 360.0, 10.0)
    factor = wind_pressure_factor(90.0, direction, height=5.0, terrain="suburban", shelter=0.7)
    expected = 0.5 * (0.7 * 0.6154) ** 2 * wall_pressure_coefficient(direction - 90.0)
    assert factor == pytest.approx(expected, rel=1e-3)
    assert direction[np.argmax(factor)] == 90.0


def test_no_facade_no_wind() -> None:
    """A leak that opens on no facade feels no wind."""
    factor = wind_pressure_factor(None, [0.0, 90.0], height=5.0, terrain="open", shelter=1.0)
    assert factor.tolist() == [0.0, 0.0]


@pytest.mark.parametrize("shelter", [-0.1, 1.1, float("nan")])
def test_shelter_out_of_range(shelter: float) -> None:
    """A shelter factor beyond full exposure is refused."""
    with pytest.raises(OutOfRangeError, match=r"^shelter is .* -; the method covers 0 to 1 -$"):
        wind_pressure_factor(0.0, [0.0], height=5.0, terrain="open", shelter=shelter)


def test_wall_height_is_the_top_of_the_living_spaces() -> None:
    """The attic does not count as wall."""
    house = make_house(
        make_space("down", floor_level=0.5, height=2.5),
        make_space("up", floor_level=3.3, height=2.4),
        make_space("attic", kind="attic", floor_level=5.8, height=1.5),
    )
    assert wall_height(house) == pytest.approx(5.7)
