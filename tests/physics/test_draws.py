"""Check propagation by drawing against formulas whose spread is known."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.draws import draw_inputs, propagate_by_drawing, propagate_draws
from rooftree.physics.propagation import propagate


@given(st.floats(-5.0, 5.0), st.floats(0.01, 2.0), st.floats(-3.0, 3.0), st.floats(0.01, 2.0))
def test_linear_formula_agrees_with_stepping(a: float, u: float, b: float, v: float) -> None:
    """Of a sum, draws and steps give the same uncertainty to 3 %."""
    drawn = propagate_by_drawing(lambda x, y: x + 2.0 * y, [a, b], [u, v])
    stepped = propagate(lambda x, y: x + 2.0 * y, [a, b], [u, v])
    assert drawn.value == pytest.approx(stepped.value)
    assert drawn.standard == pytest.approx(stepped.standard, rel=0.03)
    for one, other in zip(drawn.limits(0.9), stepped.limits(0.9), strict=True):
        assert one == pytest.approx(other, abs=0.06 * stepped.standard)


def test_bent_formula_keeps_its_skew() -> None:
    """The limits of an exponential are those of its argument, carried through."""
    grown = propagate_by_drawing(lambda x: np.exp(x), [0.0], [1.0])
    low, high = grown.limits(0.90)
    assert grown.value == 1.0
    assert low == pytest.approx(math.exp(-1.645), rel=0.05)
    assert high == pytest.approx(math.exp(1.645), rel=0.05)


def test_draws_are_the_same_each_time() -> None:
    """Nothing flickers: two calls draw alike, and no input moves its own mean."""
    one, other = draw_inputs([1.0, 2.0], [0.5, 0.0]), draw_inputs([1.0, 2.0], [0.5, 0.0])
    assert np.array_equal(one, other)
    assert one.mean(axis=1) == pytest.approx([1.0, 2.0])
    assert set(one[1]) == {2.0}


def test_unbounded_draws_leave_an_infinite_limit() -> None:
    """Where a twentieth of the draws has no bound, neither has the limit."""
    draws = np.linspace(1.0, 2.0, 2000)
    draws[-100:] = math.inf
    found = propagate_draws(1.5, draws)
    assert found.high == math.inf
    assert found.low == pytest.approx(1.025, abs=0.01)
    assert math.isfinite(found.standard)


def test_all_unbounded_draws_leave_an_infinite_uncertainty() -> None:
    """Draws without any bound give no standard uncertainty."""
    draws = np.full(1000, math.inf)
    draws[0] = 1.0
    assert propagate_draws(1.5, draws).standard == math.inf


def test_too_few_draws_are_refused() -> None:
    """Limits cannot be read off a handful of draws."""
    with pytest.raises(
        NotEnoughDataError,
        match=r"^999 draws, or one without a value; limits need 1000 numbers or more$",
    ):
        propagate_draws(1.0, np.ones(999))


def test_negative_uncertainty_is_refused() -> None:
    """A spread below nothing is no spread."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^uncertainty is -1 \(input's unit\); the method covers 0 to inf \(input's unit\)$",
    ):
        draw_inputs([1.0], [-1.0])
