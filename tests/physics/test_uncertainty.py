"""Check the combination of uncertainties against the guide's example and its own laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.uncertainty import (
    Estimate,
    UncertaintyTerm,
    combined_uncertainty,
    coverage_factor,
    relative_limits,
)

terms = st.lists(
    st.builds(
        UncertaintyTerm,
        st.just("x"),
        st.floats(1e-4, 1.0),
        st.floats(1.0, 100.0) | st.just(math.inf),
    ),
    min_size=1,
    max_size=8,
)


@pytest.mark.published(
    source="ASTM E779, annex; table of Student's t",
    where="t for 95 %, two-sided, 1 to 10 degrees of freedom",
    read="memory",
)
@pytest.mark.parametrize(
    ("degrees", "expected"),
    list(
        enumerate([12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228], start=1)
    ),
)
def test_coverage_factor_matches_the_table(degrees: int, expected: float) -> None:
    """The table is printed to three decimals."""
    assert coverage_factor(degrees) == pytest.approx(expected, abs=5e-4)


@pytest.mark.published(
    source="JCGM 100:2008 (GUM), example H.1, end-gauge calibration",
    where="combined uncertainty 32 nm, 16 degrees of freedom, t(99 %) = 2.92",
    read="memory",
)
def test_end_gauge_example() -> None:
    """The guide rounds the combined uncertainty to whole nm and truncates the degrees."""
    parts = (
        UncertaintyTerm("reference", 25.0, 18.0),
        UncertaintyTerm("difference", 9.7, 25.6),
        UncertaintyTerm("expansion", 2.9, 50.0),
        UncertaintyTerm("temperature", 16.6, 2.0),
    )
    both = combined_uncertainty(parts)
    assert both.standard == pytest.approx(32.0, abs=0.5)
    assert math.floor(both.degrees_of_freedom) == 16
    assert coverage_factor(16, 0.99) == pytest.approx(2.92, abs=5e-3)


@given(terms)
def test_combining_never_shrinks_and_never_exceeds_the_sum(parts: list[UncertaintyTerm]) -> None:
    """The whole lies between its largest part and the plain sum."""
    whole = combined_uncertainty(parts).standard
    assert max(p.standard for p in parts) <= whole * (1 + 1e-12)
    assert whole <= sum(p.standard for p in parts) * (1 + 1e-12)


@given(terms)
def test_degrees_of_freedom_lie_between_fewest_and_sum(parts: list[UncertaintyTerm]) -> None:
    """Effective degrees of freedom are at least the fewest, at most all together."""
    degrees = combined_uncertainty(parts).degrees_of_freedom
    assert degrees >= min(p.degrees_of_freedom for p in parts) * (1 - 1e-9)
    assert degrees <= sum(p.degrees_of_freedom for p in parts) * (1 + 1e-9)


def test_nothing_uncertain_stays_certain() -> None:
    """Terms of zero combine to zero without dividing by it."""
    assert combined_uncertainty([UncertaintyTerm("a", 0.0, 3.0)]).standard == 0.0
    assert combined_uncertainty([]).standard == 0.0


@given(st.floats(1e-6, 1e6), st.floats(0.0, 2.0), st.floats(1.0, 100.0))
def test_limits_surround_the_value(value: float, standard: float, degrees: float) -> None:
    """The value is the geometric middle of its limits, and both are above zero."""
    limits = relative_limits(value, UncertaintyTerm("x", standard, degrees))
    assert limits.low <= limits.value <= limits.high
    assert math.sqrt(limits.low) * math.sqrt(limits.high) == pytest.approx(value)


def test_many_degrees_of_freedom_approach_the_normal_curve() -> None:
    """With endless readings the factor is the normal curve's 1.96."""
    assert coverage_factor(math.inf) == pytest.approx(1.959964, abs=1e-6)
    assert coverage_factor(1_000) > coverage_factor(math.inf)


def test_another_unit_moves_all_three_numbers() -> None:
    """A factor scales value and limits alike."""
    assert Estimate(2, 1, 3).times(10) == Estimate(20, 10, 30)


@pytest.mark.parametrize("degrees", [0.0, 0.99, float("nan")])
def test_too_few_degrees_are_refused(degrees: float) -> None:
    """Less than one degree of freedom gives no limits."""
    with pytest.raises(OutOfRangeError, match=r"^degrees of freedom is .* covers 1 to inf \[-\]$"):
        coverage_factor(degrees)


@pytest.mark.parametrize("probability", [0.0, 1.0, 95])
def test_impossible_probability_is_refused(probability: float) -> None:
    """A probability typed in percent is refused."""
    with pytest.raises(OutOfRangeError, match=r"^probability is .* covers 0 to 1 \[0-1\]$"):
        coverage_factor(5, probability)
