"""Check how probable it is that one uncertain value lies below another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.physics.condensation import below_probability, jacket_temperature
from rooftree.physics.propagation import Propagated


def known(value: float, standard: float) -> Propagated:
    """Return a value with a standard uncertainty."""
    return Propagated(value, standard, value - 2.0 * standard, value + 2.0 * standard)


@given(st.floats(270.0, 300.0), st.floats(270.0, 300.0), st.floats(0.05, 3.0), st.floats(0.0, 3.0))
def test_one_is_below_or_the_other(a: float, b: float, u: float, v: float) -> None:
    """Both probabilities sum to one."""
    one, other = known(a, u), known(b, v)
    assert below_probability(one, other) + below_probability(other, one) == pytest.approx(1.0)


@pytest.mark.parametrize(("distance", "share"), [(0.0, 0.5), (1.0, 0.8413), (-1.6449, 0.05)])
def test_shares_of_the_normal_spread(distance: float, share: float) -> None:
    """The distance in combined uncertainties gives the normal share, to its fourth digit."""
    low, high = known(280.0, 0.6), known(280.0 + distance, 0.8)
    assert below_probability(low, high) == pytest.approx(share, abs=1e-4)


def test_without_doubt_it_is_certain() -> None:
    """Exact values are below, above, or even."""
    one, other = known(280.0, 0.0), known(281.0, 0.0)
    assert below_probability(one, other) == 1.0
    assert below_probability(other, one) == 0.0
    assert below_probability(one, one) == 0.5


@pytest.mark.parametrize(
    ("resistance", "fahrenheit"),
    [(6.68, 86.4), (0.88, 62.95)],
)
def test_jackets_by_hand(resistance: float, fahrenheit: float) -> None:
    """55 °F air at 90 °F round it: a duct with R-6 stays above 78.9 °F, bare metal does not."""
    r = 0.1761102
    jacket = jacket_temperature(305.372, 285.928, resistance * r, film=0.68 * r)
    assert float(jacket) * 1.8 - 459.67 == pytest.approx(fahrenheit, abs=0.05)


def test_a_duct_without_resistance_is_as_cold_as_its_air() -> None:
    """A film that is all there is takes the whole difference, and never more."""
    assert float(jacket_temperature(300.0, 285.0, 0.05)) == 285.0
