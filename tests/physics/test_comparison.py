"""Is a change larger than the noise."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.comparison import compare_results
from rooftree.physics.propagation import Propagated

values = st.floats(1.0, 1e4)
shares = st.floats(0.005, 0.3)


def result(value: float, standard: float) -> Propagated:
    """Return a result with even limits."""
    return Propagated(value, standard, value - 2 * standard, value + 2 * standard)


@given(values, values, shares, shares, st.floats(1e-3, 1e3))
def test_the_unit_does_not_matter(a: float, b: float, ua: float, ub: float, factor: float) -> None:
    """Results in another unit change by the same share, as surely."""
    one = compare_results(result(a, ua * a), result(b, ub * b))
    other = compare_results(
        result(factor * a, factor * ua * a), result(factor * b, factor * ub * b)
    )
    assert other.difference == pytest.approx(factor * one.difference, abs=1e-9 * factor)
    assert other.probability == pytest.approx(one.probability)


@given(values, values, shares, shares, st.floats(0.0, 1.0))
def test_what_is_shared_makes_a_change_surer(
    a: float, b: float, ua: float, ub: float, part: float
) -> None:
    """An error common to both cancels to the difference of what it gives each."""
    alone = compare_results(result(a, ua * a), result(b, ub * b))
    common = part * min(ua, ub)
    shared = compare_results(result(a, ua * a), result(b, ub * b), [(common * a, common * b)])
    assert shared.standard <= alone.standard * (1.0 + 1e-9)
    expected = alone.standard**2 - 2.0 * common**2 * a * b
    assert shared.standard**2 == pytest.approx(expected, abs=1e-6 * alone.standard**2)


@given(values, values, shares, shares)
def test_either_may_come_first(a: float, b: float, ua: float, ub: float) -> None:
    """Turning the pair round turns the difference round, and nothing else."""
    one = compare_results(result(a, ua * a), result(b, ub * b))
    other = compare_results(result(b, ub * b), result(a, ua * a))
    assert one.difference == -other.difference
    assert one.probability == pytest.approx(other.probability)


def test_a_change_of_two_sigma_is_just_larger_than_the_noise() -> None:
    """The border lies at 1.96 standard uncertainties of the difference."""
    spread = math.sqrt(2.0)
    more = compare_results(result(100.0, 1.0), result(100.0 - 1.97 * spread, 1.0))
    less = compare_results(result(100.0, 1.0), result(100.0 - 1.90 * spread, 1.0))
    assert more.is_significant
    assert more.says == "3% less: larger than the noise (2.0 times its standard uncertainty)."
    assert not less.is_significant
    assert less.says.startswith("3% less: not larger than the noise (1.9 times its standard")
    assert less.least == pytest.approx(1.96 * spread, rel=1e-3)


def test_few_observations_ask_for_a_larger_change() -> None:
    """With two degrees of freedom three standard uncertainties are not enough."""
    before = Propagated(10.0, 1.0, 8.0, 12.0, degrees_of_freedom=2.0)
    sure = Propagated(13.0, 0.0, 13.0, 13.0)
    assert not compare_results(before, sure).is_significant
    assert compare_results(result(10.0, 1.0), sure).is_significant


def test_noise_alone_is_seldom_called_a_change() -> None:
    """Of pairs without a change, one in twenty passes for one."""
    random = np.random.default_rng(7)
    called = sum(
        compare_results(
            result(100.0 + common + a, math.hypot(3.0, 1.0)),
            result(100.0 + common + b, math.hypot(3.0, 1.0)),
            [(3.0, 3.0)],
        ).is_significant
        for common, a, b in zip(
            random.normal(0.0, 3.0, 2000),
            random.normal(0.0, 1.0, 2000),
            random.normal(0.0, 1.0, 2000),
            strict=True,
        )
    )
    assert called / 2000 == pytest.approx(0.05, abs=0.015)


def test_sure_results_differ_or_do_not() -> None:
    """Without uncertainty any difference counts, and none is none."""
    assert compare_results(result(0, 0), result(1, 0)).probability == 1.0
    assert (
        compare_results(result(0, 0), result(1, 0)).says
        == "A change to more, with no noise stated."
    )
    same = compare_results(result(2, 0), result(2, 0))
    assert (same.is_significant, same.says) == (False, "There is no change.")


def test_more_cannot_be_shared_than_there_is() -> None:
    """A common error larger than the whole of a result's is refused."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^shared uncertainty is 2 \(result's unit\); the method covers 0 to 1",
    ):
        compare_results(result(10.0, 1.0), result(9.0, 3.0), [(2.0, 2.0)])
