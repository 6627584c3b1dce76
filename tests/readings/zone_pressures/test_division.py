"""Check the division of a pressure between two leaks in series."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.openings import opening_flow, series_coefficient
from rooftree.readings.zone_pressures.division import hole_to_open, leakage_ratio, path_share

PRESSURES = [5, 10, 12.5, 20, 25, 30, 37.5, 40, 41, 45, 48, 49]


@pytest.mark.parametrize(
    ("pressure", "ratio"),
    list(
        zip(
            PRESSURES,
            [0.240, 0.406, 0.490, 0.768, 1.000, 1.302, 2.042, 2.462, 2.679, 4.171, 7.891, 12.550],
            strict=True,
        )
    ),
)
def test_ratio_table(pressure: float, ratio: float) -> None:
    """The table of ratios at 50 Pa for the exponent 0.65, worked by hand, to 0.002."""
    assert leakage_ratio(pressure, 50, 0.65) == pytest.approx(ratio, abs=0.002)


@pytest.mark.parametrize(
    ("pressure", "share"),
    list(
        zip(
            PRESSURES,
            [0.224, 0.351, 0.406, 0.551, 0.637, 0.717, 0.829, 0.865, 0.879, 0.934, 0.974, 0.987],
            strict=True,
        )
    ),
)
def test_share_table(pressure: float, share: float) -> None:
    """The table of path shares at 50 Pa for the exponent 0.65, worked by hand, to 0.002."""
    assert path_share(pressure, 50, 0.65) == pytest.approx(share, abs=0.002)


pressures = st.floats(0.5, 49.5)
exponents = st.floats(0.5, 1.0)


@given(pressures, exponents)
def test_ratio_turns_round_with_the_zone(pressure: float, exponent: float) -> None:
    """Seen from outdoors the ratio is the inverse."""
    there, back = leakage_ratio(pressure, 50, exponent), leakage_ratio(50 - pressure, 50, exponent)
    assert there * back == pytest.approx(1.0)


@given(pressures, exponents, st.floats(1e-3, 1.0))
def test_share_is_the_series_path(pressure: float, exponent: float, house: float) -> None:
    """The share is the series of both leaks over the house side alone."""
    outdoors = house * leakage_ratio(pressure, 50, exponent)
    both = series_coefficient(house, outdoors, exponent)
    assert both / house == pytest.approx(path_share(pressure, 50, exponent))


@given(st.floats(1.0, 49.0), st.floats(1.0, 49.0), exponents)
def test_proposed_hole_brings_the_target(pressure: float, target: float, exponent: float) -> None:
    """With the proposed hole open, the zone's air balances at the wanted pressure."""
    area = hole_to_open(pressure, target, 50, exponent, 0.01)
    from_house = 0.01 * math.pow(target, exponent)
    to_outdoors = 0.01 * leakage_ratio(pressure, 50, exponent) * math.pow(50 - target, exponent)
    if target < pressure:
        from_house += opening_flow(area, target)
    else:
        to_outdoors += opening_flow(area, 50 - target)
    assert from_house == pytest.approx(to_outdoors, rel=1e-6)


@pytest.mark.parametrize("pressure", [0.0, 50.0, -1.0, 51.0])
def test_ends_cannot_be_divided(pressure: float) -> None:
    """A zone at 0 or at the house pressure has no ratio."""
    with pytest.raises(
        OutOfRangeError, match=rf"^pressure is {pressure:g} Pa; the method covers 0 to 50 Pa$"
    ):
        leakage_ratio(pressure, 50.0, 0.65)
