"""Check the carrying of uncertainty against formulas whose answer is known."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.propagation import propagate, propagate_positive

some = st.floats(-100.0, 100.0)
small = st.floats(0.0, 10.0)


@given(some, some, small, small)
def test_sums_add_in_quadrature(a: float, b: float, ua: float, ub: float) -> None:
    """The uncertainty of a sum is exact, whatever the sizes."""
    both = propagate(lambda x, y: x + y, [a, b], [ua, ub])
    assert both.standard == pytest.approx(math.hypot(ua, ub), abs=1e-9)
    assert both.high - both.value == pytest.approx(2.0 * both.standard)


def test_powers_multiply_relative_uncertainty() -> None:
    """A power of n carries n times the relative uncertainty."""
    area = propagate_positive(lambda x: math.pow(x, 0.65), [50.0], [0.5])
    assert area.standard / area.value == pytest.approx(0.65 * 0.01, rel=1e-3)


@given(st.floats(1.0, 100.0), st.floats(1.0, 100.0))
def test_ratio_and_inverse_have_the_same_limits(a: float, b: float) -> None:
    """Turning a ratio round turns its limits round."""
    one = propagate_positive(lambda x, y: x / y, [a, b], [0.1, 0.2])
    other = propagate_positive(lambda x, y: y / x, [a, b], [0.1, 0.2])
    assert other.low == pytest.approx(1.0 / one.high)
    assert other.high == pytest.approx(1.0 / one.low)


def test_sure_inputs_give_a_sure_result() -> None:
    """Without uncertainty the limits close on the value; whole numbers are taken."""
    sure = propagate(lambda x: 2 * x, [3], [0])
    assert (sure.low, sure.value, sure.high) == (6, 6, 6)


def test_negative_uncertainty_is_refused() -> None:
    """An uncertainty is a size."""
    with pytest.raises(OutOfRangeError, match=r"^uncertainty is -1 \(input's unit\); the method"):
        propagate(lambda x: x, [1.0], [-1.0])
