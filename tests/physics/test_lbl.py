"""Check the LBL model against hand calculation and quoted values."""

from __future__ import annotations

import math

import pytest

from rooftree.errors import OutOfRangeError
from rooftree.physics.lbl import lbl_infiltration, lbl_stack_factor, lbl_wind_factor


def test_flow_by_hand() -> None:
    """500 cm², 5 m, half the leakage in floor and ceiling, 20 K, 4 m/s: 0.04731 m³/s."""
    stack = lbl_stack_factor(5.0, 295.0, 0.5, 0.0)
    wind = lbl_wind_factor(5.0, 0.5, shielding_class=3, terrain_class=3)
    assert stack == pytest.approx(0.16990, abs=1e-5)
    assert wind == pytest.approx(0.14096, abs=1e-5)
    assert float(lbl_infiltration(0.05, stack, wind, 20.0, 4.0)) == pytest.approx(0.04731, abs=1e-5)


@pytest.mark.published(
    source="NOAA Technical Memorandum NOS OR&R 43, 4.6",
    where="stack factor and shielding coefficients .24 sheltered, .32 unsheltered",
    read="quoted in a secondary source",
)
@pytest.mark.parametrize(("shielding", "coefficient"), [(3, 0.24), (1, 0.32)])
def test_wind_factor_of_the_quoted_classes(shielding: int, coefficient: float) -> None:
    """With no terrain in it the factor is C'(1-R)^(1/3); .32 is .324 to two figures."""
    factor = lbl_wind_factor(10.0, 0.5, shielding_class=shielding, terrain_class=2)
    assert factor == pytest.approx(coefficient * math.pow(0.5, 1 / 3), rel=0.015)


def test_same_terrain_and_height_leave_the_shielding_only() -> None:
    """Wind at the height of the station's instrument over the same ground is that wind."""
    one = lbl_wind_factor(10.0, 0.0, shielding_class=4, terrain_class=4, station_terrain_class=4)
    assert one == pytest.approx(0.185)


def test_unequal_ceiling_and_floor_weaken_the_stack() -> None:
    """Leaks all at one level feel less of the stack than leaks at both ends."""
    assert lbl_stack_factor(5.0, 295.0, 0.5, 0.5) < lbl_stack_factor(5.0, 295.0, 0.5, 0.0)


def test_class_without_a_table_is_refused() -> None:
    """The classes go from 1 to 5."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^shielding_class is 6 \(class\); the method covers 1 to 5 \(class\)$",
    ):
        lbl_wind_factor(5.0, 0.5, shielding_class=6, terrain_class=3)
