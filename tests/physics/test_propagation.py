"""Check the carrying of uncertainty against formulas whose answer is known."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.propagation import Propagated, propagate, propagate_positive

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


@given(some, st.floats(0.1, 10.0), st.floats(0.01, 0.98))
def test_limits_widen_with_the_probability(value: float, standard: float, share: float) -> None:
    """More certainty needs wider limits, evenly round the value; 95 % lies just inside two."""
    result = Propagated(value, standard, value - 2 * standard, value + 2 * standard)
    low, high = result.limits(share)
    wider = result.limits(share + 0.01)
    assert wider[0] < low < value < high < wider[1]
    assert low + high == pytest.approx(2 * value, abs=1e-9)
    assert result.limits(0.95)[1] - value == pytest.approx(1.95996 * standard, rel=1e-4)


def test_limits_of_a_positive_result_stay_positive() -> None:
    """Where limits go by a factor, they do so at every probability."""
    ratio = propagate_positive(lambda a, b: a / b, [10.0, 2.0], [3.0, 0.9])
    low, high = ratio.limits(0.99)
    assert 0.0 < low < ratio.low
    assert low * high == pytest.approx(ratio.value**2)


def test_few_degrees_of_freedom_widen_limits() -> None:
    """An uncertainty from four observations asks for Student's t."""
    few = Propagated(0.0, 1.0, -2.0, 2.0, degrees_of_freedom=3.0)
    assert few.limits(0.95)[1] == pytest.approx(3.182, abs=0.001)


def test_a_probability_of_one_has_no_limits() -> None:
    """Certainty is refused."""
    with pytest.raises(OutOfRangeError, match=r"^probability is 1 \[0-1\]; the method"):
        propagate(lambda x: x, [1.0], [1.0]).limits(1.0)
