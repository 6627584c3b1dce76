"""Check the places of a traverse against profiles whose mean is known."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.air_handler import DuctShape, TraverseRule, traverse_places
from rooftree.readings.air_handler.traverse import duct_area, mean_speed, speed_of

ROUND, RECTANGULAR = DuctShape.ROUND, DuctShape.RECTANGULAR


def from_wall(place: float) -> float:
    """Return the distance from the nearer wall over half the width."""
    return 2.0 * min(place, 1.0 - place)


@pytest.mark.parametrize(
    ("shape", "rule", "counts"),
    [
        (ROUND, TraverseRule.LOG_LINEAR, (6, 8, 10)),
        (RECTANGULAR, TraverseRule.LOG_TCHEBYCHEFF, (5, 6, 7)),
        (RECTANGULAR, TraverseRule.EQUAL_AREA, (1, 4, 5)),
        (ROUND, TraverseRule.EQUAL_AREA, (2, 6)),
    ],
)
def test_places_mirror_each_other(
    shape: DuctShape, rule: TraverseRule, counts: tuple[int, ...]
) -> None:
    """The places rise from one wall to the other and mirror about the middle."""
    for count in counts:
        places = traverse_places(shape, rule, count)
        assert len(places) == count
        assert list(places) == sorted(places)
        assert all(a + b == pytest.approx(1.0) for a, b in zip(places, places[::-1], strict=True))


@pytest.mark.parametrize("power", [6.0, 7.0, 9.0])
@pytest.mark.parametrize("count", [6, 8, 10])
def test_log_linear_gives_the_mean_of_a_turbulent_profile(power: float, count: int) -> None:
    """In a round duct the rule finds the mean of a power law within 1 %.

    The speed falls as the n-th root of the distance from the wall; its mean is
    2 n² / ((n + 1) (2 n + 1)) of that at the middle.
    """
    true = 2.0 * power**2 / ((power + 1.0) * (2.0 * power + 1.0))
    places = traverse_places(ROUND, TraverseRule.LOG_LINEAR, count)
    assert mean_speed([from_wall(x) ** (1.0 / power) for x in places]) == pytest.approx(
        true, rel=0.01
    )


@pytest.mark.parametrize("count", [5, 6, 7])
def test_log_tchebycheff_gives_the_mean_of_a_turbulent_profile(count: int) -> None:
    """In a rectangular duct the rule finds the mean of such a profile within 1.5 %."""
    places = traverse_places(RECTANGULAR, TraverseRule.LOG_TCHEBYCHEFF, count)
    grid = [(from_wall(x) * from_wall(y)) ** (1.0 / 7.0) for x in places for y in places]
    assert mean_speed(grid) == pytest.approx((7.0 / 8.0) ** 2, rel=0.015)


def test_equal_areas_read_too_much() -> None:
    """Without the slower air at the walls the mean is too high, as practice knows."""
    places = traverse_places(RECTANGULAR, TraverseRule.EQUAL_AREA, 4)
    grid = [(from_wall(x) * from_wall(y)) ** (1.0 / 7.0) for x in places for y in places]
    assert 1.01 < mean_speed(grid) / (7.0 / 8.0) ** 2 < 1.06


@pytest.mark.parametrize(
    ("shape", "rule", "count", "low", "high"),
    [
        (ROUND, TraverseRule.LOG_LINEAR, 7, "6", "10"),
        (RECTANGULAR, TraverseRule.LOG_LINEAR, 6, "6", "10"),
        (RECTANGULAR, TraverseRule.LOG_TCHEBYCHEFF, 4, "5", "7"),
        (ROUND, TraverseRule.EQUAL_AREA, 3, "2", "inf"),
    ],
)
def test_other_counts_are_refused(
    shape: DuctShape, rule: TraverseRule, count: int, low: str, high: str
) -> None:
    """A rule says nothing about numbers of points that it has no places for."""
    with pytest.raises(
        OutOfRangeError,
        match=rf"^count is {count} points; the method covers {low} to {high} points$",
    ):
        traverse_places(shape, rule, count)


@given(st.floats(0.0, 500.0), st.floats(0.9, 1.3))
def test_speed_and_velocity_pressure_are_one(pressure: float, density: float) -> None:
    """Half the density times the speed squared is the velocity pressure again."""
    assert 0.5 * density * speed_of(pressure, density) ** 2 == pytest.approx(pressure)


def test_negative_velocity_pressure_is_refused() -> None:
    """No speed follows from a pressure below zero."""
    with pytest.raises(
        OutOfRangeError, match=r"^velocity_pressure is -1 Pa; the method covers 0 to inf Pa$"
    ):
        speed_of(-1.0, 1.2)


@pytest.mark.parametrize(
    ("diameter", "flow", "speed"), [(6.0, 100.0, 509.3), (8.0, 200.0, 573.0), (10.0, 400.0, 733.4)]
)
def test_speed_is_flow_over_area(diameter: float, flow: float, speed: float) -> None:
    """Speeds of 100, 200 and 400 cfm in ducts of 6, 8 and 10 in, by arithmetic."""
    area = duct_area(ROUND, diameter * 0.0254, None, None)
    assert area is not None
    assert flow * 4.719474e-4 / area / 0.3048 * 60.0 == pytest.approx(speed, abs=0.2)


def test_a_missing_measure_gives_no_area() -> None:
    """A rectangular duct needs both sides, a round one its diameter."""
    assert duct_area(RECTANGULAR, 0.3, 0.4, None) is None
    assert duct_area(ROUND, 0.0, 0.4, 0.3) is None
    assert duct_area(ROUND, 2, None, None) == pytest.approx(math.pi)
