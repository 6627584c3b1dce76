"""Check films and the exchange of radiation."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.engine.films import convection, radiant_share, view_of_sky, wind_convection


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals 2021, chapter 26",
    where="effective emittance of an air space",
    read="quoted in a working summary",
)
@pytest.mark.parametrize(("one", "other", "effective"), [(0.9, 0.9, 0.82), (0.05, 0.9, 0.05)])
def test_two_plates_exchange_by_effective_emittance(
    one: float, other: float, effective: float
) -> None:
    """Two equal faces exchange with the handbook's effective emittance, to two digits."""
    first, second = radiant_share([1.0, 1.0], [one, other])
    assert first * second / (first + second) == pytest.approx(effective, abs=0.005)


@given(
    st.lists(st.floats(1.0, 100.0), min_size=4, max_size=12),
    st.floats(0.05, 0.95),
)
def test_exchange_lies_between_emittance_and_two_plates(
    areas: list[float], emittance: float
) -> None:
    """No face exchanges less than alone in a large room, nor more than between plates."""
    share = radiant_share(areas, np.full(len(areas), emittance))
    assert np.all(share >= emittance - 1e-9)
    assert np.all(share <= 1.0 / (0.5 + (1.0 - emittance) / emittance) + 1e-9)


@pytest.mark.parametrize("tilt", [0.0, 18.4, 45.0, 135.0, 180.0])
def test_warm_air_rises(tilt: float) -> None:
    """Heat that flows up is carried better than heat that flows down."""
    up, down = convection(tilt)
    assert up > down > 0.0


def test_upright_faces_know_no_up_or_down() -> None:
    """At upright faces the two laws meet in a third, from which they differ by 1 %."""
    assert convection(90.0) == (1.31, 1.31)
    assert convection(88.0) == pytest.approx((1.31, 1.31), rel=0.03)


def test_sky_fills_the_view_of_a_roof_only() -> None:
    """A level roof sees only sky, a floor none, a wall part of it."""
    assert view_of_sky(0.0) == pytest.approx((1.0, 0.0))
    assert view_of_sky(180.0)[0] == pytest.approx(0.0)
    assert view_of_sky(90.0)[0] == pytest.approx(0.5**1.5)


def test_wind_cools_the_windward_side_more() -> None:
    """A storm from the west cools a west wall more than an east wall; calm cools neither."""
    west, east = (wind_convection([0.0, 10.0], 270.0, 90.0, side) for side in (270.0, 90.0))
    assert west[0] == east[0] == 0.0
    assert west[1] > east[1] > 0.0
