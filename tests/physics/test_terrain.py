"""Check the wind over one terrain from the wind over another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.terrain import terrains, wind_ratio


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 24",
    where="Example 1: 10 m/s at an open station, 15 m over a suburb",
    read="source",
)
def test_wind_over_a_suburb() -> None:
    """Printed as 7.8 m/s."""
    assert 10.0 * wind_ratio(15.0, "suburban") == pytest.approx(7.8, abs=0.05)


@pytest.mark.parametrize(
    ("terrain", "height", "ratio"),
    [
        ("suburban", 2.5, 0.5284), ("suburban", 5.0, 0.6154), ("suburban", 7.5, 0.6728),
        ("suburban", 10.0, 0.7168), ("suburban", 15.0, 0.7837), ("city", 5.0, 0.3567),
        ("city", 10.0, 0.4484), ("open", 5.0, 0.9075),
    ],
)  # fmt: skip
def test_ratios_by_hand(terrain: str, height: float, ratio: float) -> None:
    """The equation worked by hand, to 1e-3."""
    assert wind_ratio(height, terrain) == pytest.approx(ratio, abs=1e-3)


@given(st.sampled_from(sorted(terrains())), st.floats(1.0, 150.0))
def test_wind_grows_with_height(terrain: str, height: float) -> None:
    """Higher up it blows harder, over every terrain."""
    assert wind_ratio(height + 1.0, terrain) > wind_ratio(height, terrain)


@pytest.mark.parametrize("terrain", sorted(terrains()))
def test_station_and_site_alike(terrain: str) -> None:
    """At the instrument itself the ratio is one."""
    assert wind_ratio(10, terrain, station_terrain=terrain) == pytest.approx(1.0)


def test_no_wind_below_the_ground() -> None:
    """A height of zero has no wind to give."""
    with pytest.raises(OutOfRangeError, match=r"^height is 0 m; the method covers 0 to 370 m$"):
        wind_ratio(0.0, "suburban")


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 24", where="Table 1", read="source"
)
@pytest.mark.parametrize(
    ("terrain", "exponent", "layer"),
    [("city", 0.33, 460), ("suburban", 0.22, 370), ("open", 0.14, 270), ("water", 0.10, 210)],
)
def test_layers_over_each_terrain(terrain: str, exponent: float, layer: float) -> None:
    """Exponent and thickness of the boundary layer as printed."""
    found = terrains()[terrain]
    assert (found.exponent, found.boundary_layer) == (exponent, layer)
