"""Check floors and walls against the ground."""

from __future__ import annotations

import pytest

from rooftree.engine.conduction import resistance_between_faces
from rooftree.engine.ground import floor_transmittance, layers_to_ground, wall_transmittance
from rooftree.house import GROUND, Layer, Surface

CONCRETE = (Layer("concrete", 0.1, 1.7, 2300.0, 900.0),)


@pytest.mark.published(
    source="BR 443 and CIBSE Guide A3: solid ground floors on clay",
    where="uninsulated column",
    read="memory",
)
@pytest.mark.parametrize(
    ("ratio", "u_value"),
    [
        (0.05, 0.13),
        (0.10, 0.22),
        (0.20, 0.37),
        (0.40, 0.60),
        (0.50, 0.70),
        (0.80, 0.93),
        (1.0, 1.05),
    ],
)
def test_floor_without_insulation(ratio: float, u_value: float) -> None:
    """The equation gives the tabulated U-value by perimeter over area, to two digits."""
    assert floor_transmittance(100.0, 100.0 * ratio, 0.0) == pytest.approx(u_value, abs=0.006)


def test_insulation_and_size_slow_the_loss() -> None:
    """A better insulated or a larger floor of the same shape loses less per area."""
    plain = floor_transmittance(100.0, 40.0, 0.0)
    assert floor_transmittance(100.0, 40.0, 2.0) < plain
    assert floor_transmittance(400.0, 80.0, 0.0) < plain


def test_deeper_walls_lose_less() -> None:
    """The mean U-value of a cellar wall falls with its depth."""
    assert wall_transmittance(2.4, 0.3) < wall_transmittance(1.0, 0.3)


@pytest.mark.parametrize("perimeter", [0.0, 40.0])
def test_soil_layers_add_up(perimeter: float) -> None:
    """The layers handed on have the resistance that the equations ask for."""
    slab = Surface("slab", "slab", "slab", "room", GROUND, 100.0, 180.0, 0.0, CONCRETE,
                   perimeter=perimeter)  # fmt: skip
    total = resistance_between_faces(layers_to_ground(slab, 0.0))
    own = resistance_between_faces(CONCRETE)
    expected = (
        1.0 / floor_transmittance(100.0, perimeter, own) - 0.17 if perimeter else own + 1.0 / 1.5
    )
    assert total == pytest.approx(expected)
