"""Check the few sums that a house knows about itself."""

from __future__ import annotations

import pytest

from engine.ranch import ranch
from rooftree.house import Layer


def test_only_living_spaces_count_as_inside() -> None:
    """Floor area and volume are those of the living spaces."""
    house = ranch()
    assert [space.id for space in house.living_spaces] == ["main", "beds", "bonus"]
    assert house.floor_area == pytest.approx(160.0)
    assert house.volume == pytest.approx(383.0)


def test_space_is_found_by_its_id() -> None:
    """A space is found by its id; an unknown id is a KeyError."""
    assert ranch().space("attic").name == "Attic"
    with pytest.raises(KeyError, match=r"^'loft'$"):
        ranch().space("loft")


def test_resistance_of_a_layer() -> None:
    """Thickness over conductivity."""
    assert Layer("board", 0.1, 0.5).resistance == pytest.approx(0.2)
