"""Check AIM-2 against the handbook's tables made from it, hand calculation and its limits."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.aim2 import (
    LeakDistribution,
    aim2_eave_wind,
    aim2_infiltration,
    aim2_shelter,
    aim2_stack_factor,
    aim2_superposition,
    aim2_wind_factor,
)

HANDBOOK = "ASHRAE Handbook - Fundamentals (2021), ch. 16"
PLAIN = LeakDistribution(0.67, 0.5)


@pytest.mark.published(
    source=HANDBOOK, where="Table 8, coefficients tabulated from AIM-2, no flue", read="source"
)
@pytest.mark.parametrize(
    ("storeys", "stack", "slab", "crawlspace"),
    [(1, 0.054, 0.156, 0.128), (2, 0.078, 0.170, 0.142), (3, 0.098, 0.170, 0.151)],
)
def test_aim2_gives_the_handbooks_coefficients(
    storeys: int, stack: float, slab: float, crawlspace: float
) -> None:
    """For n 0.67, 20 °C, 2.5 m a storey, 1/2, 1/3, 1/4 in floor and ceiling: within 3 %."""
    share = 1.0 / (storeys + 1)
    for foundation, wind in (("slab", slab), ("crawlspace", crawlspace)):
        leaks = LeakDistribution(0.67, share, foundation=foundation)  # type: ignore[arg-type]
        lift = math.pow(1.2 * 9.81 * 2.5 * storeys / 293.15, 0.67)
        assert aim2_stack_factor(leaks) * lift == pytest.approx(stack, rel=0.03)
        assert aim2_wind_factor(leaks) * math.pow(0.6, 0.67) == pytest.approx(wind, rel=0.03)


@pytest.mark.published(
    source=HANDBOOK, where="Table 7, multiplier of the station's wind", read="source"
)
@pytest.mark.parametrize(("height", "ratio"), [(2.5, 0.48), (5.0, 0.59), (7.5, 0.67)])
def test_eave_wind_gives_the_handbooks_multiplier(height: float, ratio: float) -> None:
    """Printed to two figures: within one of the last digit."""
    assert float(aim2_eave_wind(1.0, height)) == pytest.approx(ratio, abs=0.006)


@pytest.mark.parametrize(
    ("leaks", "stack", "slab", "crawlspace"),
    [
        ((0.67, 0.5, 0.0, 0.0, 1.5), 0.251214, 0.221113, 0.181917),
        ((0.67, 1 / 3, 0.1, 0.0, 1.5), 0.229560, 0.227214, 0.207048),
        ((0.67, 0.5, 0.0, 0.2, 4.5 / 2.5), 0.324765, 0.189340, 0.167286),
    ],
)
def test_factors_by_hand(
    leaks: tuple[float, float, float, float, float],
    stack: float,
    slab: float,
    crawlspace: float,
) -> None:
    """The equations worked by hand, with and without a flue."""
    assert aim2_stack_factor(LeakDistribution(*leaks)) == pytest.approx(stack, abs=1e-6)
    assert aim2_wind_factor(LeakDistribution(*leaks)) == pytest.approx(slab, abs=1e-6)
    over_crawlspace = LeakDistribution(*leaks, "crawlspace")
    assert aim2_wind_factor(over_crawlspace) == pytest.approx(crawlspace, abs=1e-6)


def test_factors_with_a_flue_by_hand() -> None:
    """All leakage in walls and flue: stack factor 0.275526, wind factor 0.243365."""
    leaks = LeakDistribution(2 / 3, 0.0, 0.0, 0.2, 1.5)
    assert aim2_stack_factor(leaks) == pytest.approx(0.275526, abs=1e-6)
    assert aim2_wind_factor(leaks) == pytest.approx(0.243365, abs=1e-6)


def test_flow_by_hand() -> None:
    """One storey, 20 K, 4 m/s at the station, shelter 0.7: 0.022989 m³/s."""
    wind = aim2_eave_wind(4.0, 2.5)
    assert float(wind) == pytest.approx(1.93187, abs=1e-5)
    parts = aim2_infiltration(0.05, PLAIN, 2.5, 293.15, 273.15, wind, shelter=0.7)
    assert float(parts.stack) == pytest.approx(0.020038, abs=1e-6)
    assert float(parts.wind) == pytest.approx(0.011765, abs=1e-6)
    assert float(parts.flow) == pytest.approx(0.022989, abs=1e-6)


def test_flow_with_a_flue_by_hand() -> None:
    """5 air changes at 50 Pa, 6 m, 20 K, 2 m/s: 0.3269 changes an hour."""
    leaks = LeakDistribution(2 / 3, 0.0, 0.0, 0.2, 1.5)
    coefficient = 5.0 / math.pow(50.0, 2 / 3)
    parts = aim2_infiltration(coefficient, leaks, 6.0, 293.15, 273.15, 2.0, shelter=1.0)
    assert coefficient == pytest.approx(0.368403, abs=1e-6)
    assert float(parts.stack) == pytest.approx(0.289588, abs=1e-6)
    assert float(parts.wind) == pytest.approx(0.160715, abs=1e-6)
    assert float(parts.flow) == pytest.approx(0.326854, abs=1e-6)


@pytest.mark.parametrize(
    ("one", "other", "both"),
    [(0.020093, 0.011592, 0.022943), (0.029024, 0.016655, 0.033092)],
)
def test_superposition_by_hand(one: float, other: float, both: float) -> None:
    """A little less than in quadrature."""
    assert float(aim2_superposition(one, other, 0.67)) == pytest.approx(both, abs=2e-6)


@pytest.mark.published(source=HANDBOOK, where="Table 9, one storey with a flue", read="source")
@pytest.mark.parametrize(
    ("walls", "whole"), [(1.0, 1.10), (0.9, 1.02), (0.7, 0.86), (0.5, 0.70), (0.3, 0.54)]
)
def test_shelter_of_walls_and_flue(walls: float, whole: float) -> None:
    """A flue of a fifth of the leakage in full wind gives the one-storey column exactly."""
    assert aim2_shelter(walls, 0.2) == pytest.approx(whole, abs=1e-9)


@given(st.floats(1e-6, 1.0), st.floats(1e-6, 1.0), st.floats(0.5, 0.8))
def test_superposition_lies_between_the_greater_and_the_sum(
    one: float, other: float, exponent: float
) -> None:
    """Neither drive hides the other, and they never add up whole."""
    both = float(aim2_superposition(one, other, exponent))
    assert 0.85 * max(one, other) <= both <= one + other + 1e-12


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_ends_of_the_shares_are_allowed(share: float) -> None:
    """All leakage in the walls, or all of it in floor and ceiling, is a house."""
    leaks = LeakDistribution(0.5, share)
    assert aim2_stack_factor(leaks) > 0.0
    assert aim2_wind_factor(leaks) > 0.0


def test_flue_larger_than_the_rest_is_refused() -> None:
    """Shares cannot add up to more than the whole."""
    with pytest.raises(OutOfRangeError, match=r"^flue is 0\.6 -; the method covers 0 to 0\.5 -$"):
        LeakDistribution(0.67, 0.5, flue=0.6)
