"""Check air-free carbon monoxide and the least draft."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.combustion.flue_gas import air_free_carbon_monoxide, least_draft


@pytest.mark.published(
    source="field convention of 20.9 % oxygen", where="CO air-free = CO 20.9/(20.9 - O2)",
    read="memory",
)  # fmt: skip
@pytest.mark.parametrize(
    ("measured", "oxygen", "air_free"),
    [(100, 0.09, 175.6), (50, 0.12, 117.4), (30, 0.16, 128.0), (75, 0.14, 227.2)],
)
def test_air_free_carbon_monoxide(measured: float, oxygen: float, air_free: float) -> None:
    """The excess air is taken out, to 0.1 ppm."""
    assert air_free_carbon_monoxide(measured, oxygen) == pytest.approx(air_free, abs=0.1)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 28",
    where="oxygen of air 20.95 % in combustion formulas",
    read="source",
)
@given(st.floats(0.0, 0.12))
def test_field_convention_agrees_with_the_handbook(oxygen: float) -> None:
    """20.9 instead of 20.95 % changes less than 0.6 % up to 12 % oxygen."""
    handbook = 100.0 * 0.2095 / (0.2095 - oxygen)
    assert air_free_carbon_monoxide(100.0, oxygen) == pytest.approx(handbook, rel=0.006)


@given(st.floats(1.0, 1000.0), st.floats(0.0, 0.189))
def test_thinner_gas_means_more_carbon_monoxide(measured: float, oxygen: float) -> None:
    """More oxygen in the sample never lowers the air-free value, and it never lies below it."""
    there = air_free_carbon_monoxide(measured, oxygen)
    assert measured * (1.0 - 1e-12) <= there <= air_free_carbon_monoxide(measured, oxygen + 0.01)


@pytest.mark.parametrize("oxygen", [-0.01, 0.201, 0.209, float("nan")])
def test_sample_of_air_is_refused(oxygen: float) -> None:
    """From a sample that is nearly all air nothing can be told."""
    with pytest.raises(OutOfRangeError, match=r"^oxygen is .* covers 0 to 0\.2 \(share of the"):
        air_free_carbon_monoxide(100.0, oxygen)


@pytest.mark.published(
    source="BPI Building Analyst standard, older edition",
    where="least draft by outdoor temperature",
    read="memory",
)
@pytest.mark.parametrize(
    ("fahrenheit", "draft"),
    [(-20, -2.5), (10, -2.5), (30, -2.0), (50, -1.5), (70, -1.0), (90, -0.5), (110, -0.5)],
)
def test_least_draft(fahrenheit: float, draft: float) -> None:
    """Less draft is asked for in warm weather, with a floor at each end."""
    assert least_draft((fahrenheit - 32.0) / 1.8 + 273.15) == pytest.approx(draft)
