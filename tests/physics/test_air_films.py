"""Check films of air against textbook examples, tables and limits."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.air_films import (
    air_conductivity,
    forced_film,
    friction_factor,
    natural_film_round,
    radiation_film,
)


@pytest.mark.published(
    source="Textbook of heat transfer, horizontal cylinder in still air",
    where="pipe of 0.1 m at 165 °C in a room at 23 °C, emissivity 0.85: 763 W/m",
    read="memory",
)
def test_hot_pipe_in_a_room() -> None:
    """Convection and radiation together, within 1 %."""
    surface, room = 438.15, 296.15
    film = natural_film_round(0.1, surface, room) + radiation_film(0.85, surface, room)
    assert math.pi * 0.1 * film * (surface - room) == pytest.approx(763.0, rel=0.01)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 26",
    where="Table 10, still air at emittance 0.90: 6.13 (heat down) to 9.26 W/(m²·K) (heat up)",
    read="source",
)
def test_film_of_a_duct_lies_within_those_of_plane_faces() -> None:
    """A round duct is up, side and down at once: its film lies between the plane ones."""
    film = natural_film_round(0.3, 294.0, 299.6) + radiation_film(0.9, 294.0, 299.6)
    assert 6.13 < film < 9.26


@pytest.mark.published(
    source="Property tables of air at atmospheric pressure",
    where="thermal conductivity 0.0243 at 0 °C, 0.0257 at 20 °C, 0.0271 W/(m·K) at 40 °C",
    read="memory",
)
@pytest.mark.parametrize(("celsius", "expected"), [(0, 0.0243), (20, 0.0257), (40, 0.0271)])
def test_conductivity_of_air(celsius: float, expected: float) -> None:
    """Within 1 % of the tables."""
    assert air_conductivity(celsius + 273.15) == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize(
    ("reynolds", "roughness", "expected"),
    [(1e5, 0.0, 0.0180), (1e5, 0.001, 0.0222), (1e4, 0.0, 0.0309)],
)
def test_friction_by_the_chart(reynolds: float, roughness: float, expected: float) -> None:
    """The Colebrook equation solved by hand, within 1 %."""
    assert friction_factor(reynolds, roughness) == pytest.approx(expected, rel=0.01)


@given(st.floats(100.0, 1e6), st.floats(0.0, 0.05))
def test_friction_solves_its_equation(reynolds: float, roughness: float) -> None:
    """In turbulent flow the factor satisfies the equation it was found from."""
    factor = friction_factor(reynolds, roughness)
    assert factor > 0.0
    if reynolds >= 4000.0:
        root = 1.0 / math.sqrt(factor)
        assert root == pytest.approx(-2.0 * math.log10(roughness / 3.7 + 2.51 * root / reynolds))


@given(st.floats(0.1, 10.0), st.floats(0.1, 0.6))
def test_faster_air_has_a_thicker_exchange(speed: float, diameter: float) -> None:
    """The film never falls with speed, through the change of flow too."""
    slow, fast = (forced_film(v, diameter, 290.0) for v in (speed, 1.1 * speed))
    assert fast >= slow - 1e-9


def test_smooth_turbulent_film_against_the_power_law() -> None:
    """At Reynolds 40,000 the older law Nu = 0.023 Re^0.8 Pr^0.4 is within 10 %."""
    film = forced_film(3.0, 0.2, 288.0)
    reynolds = 1.225 * 3.0 * 0.2 / 1.79e-5
    power_law = 0.023 * math.pow(reynolds, 0.8) * math.pow(0.71, 0.4) * 0.0253 / 0.2
    assert film == pytest.approx(power_law, rel=0.10)


def test_still_duct_is_laminar() -> None:
    """Without flow the film is that of laminar flow, 3.66 k/D."""
    assert forced_film(0, 0.2, 293.15) == pytest.approx(3.66 * air_conductivity(293.15) / 0.2)


def test_no_film_for_what_is_no_duct() -> None:
    """A diameter or a speed that no duct has is refused by name."""
    with pytest.raises(OutOfRangeError, match=r"^diameter is 0 m; the method covers 0 to 5 m$"):
        forced_film(1.0, 0.0, 290.0)
    with pytest.raises(OutOfRangeError, match=r"^air speed is -1 m/s; .* 0 to 50 m/s$"):
        forced_film(-1.0, 0.2, 290.0)
    with pytest.raises(OutOfRangeError, match=r"^temperature is 600 K; .* 200 to 500 K$"):
        air_conductivity(600.0)


def test_radiation_between_equal_temperatures_is_four_sigma_t_cubed() -> None:
    """The limit of no difference."""
    assert radiation_film(1.0, 300.0, 300.0) == pytest.approx(4.0 * 5.670374e-8 * 300.0**3)
