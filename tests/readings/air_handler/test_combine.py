"""Check the mean of several methods, and the test whether they agree."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import NotEnoughDataError
from rooftree.physics.propagation import Propagated
from rooftree.readings.air_handler.combine import combine, odd_one_out


def known(value: float, relative: float) -> Propagated:
    """Return a value with a relative standard uncertainty."""
    return Propagated(value, relative * value, 0.0, 0.0, is_by_factor=True)


parts = st.lists(
    st.builds(known, st.floats(0.1, 2.0), st.floats(0.01, 0.2)), min_size=1, max_size=5
)


def test_one_value_is_its_own_mean() -> None:
    """A single method keeps its value and its doubt, and there is nothing to compare."""
    one = combine([known(0.5, 0.05)])
    assert one.mean.value == pytest.approx(0.5)
    assert one.mean.standard == pytest.approx(0.025)
    assert one.chance is None
    assert one.agree


def test_equal_doubts_give_the_geometric_mean() -> None:
    """Two methods of equal doubt meet in the middle, surer by the root of two."""
    both = combine([known(0.48, 0.06), known(0.52, 0.06)])
    assert both.mean.value == pytest.approx(math.sqrt(0.48 * 0.52))
    assert both.mean.standard / both.mean.value == pytest.approx(0.06 / math.sqrt(2.0))


@given(parts)
def test_the_mean_lies_between_the_parts(values: list[Propagated]) -> None:
    """No weighting leaves the span of what it weighs."""
    mean = combine(values).mean.value
    low, high = min(part.value for part in values), max(part.value for part in values)
    assert low * (1.0 - 1e-9) <= mean <= high * (1.0 + 1e-9)


@given(parts, st.floats(0.1, 10.0))
def test_a_change_of_unit_only_scales(values: list[Propagated], factor: float) -> None:
    """In another unit the mean scales and the chance stays."""
    here, there = (
        combine([known(scale * part.value, part.standard / part.value) for part in values])
        for scale in (1.0, factor)
    )
    assert there.mean.value == pytest.approx(factor * here.mean.value)
    assert there.chance == (None if here.chance is None else pytest.approx(here.chance))


def test_the_chance_is_what_it_says() -> None:
    """Of methods that scatter as they claim, one in twenty has a chance below one in twenty."""
    random = np.random.default_rng(5)
    chances = [
        combine(
            [known(math.exp(u * random.standard_normal()), u) for u in (0.03, 0.06, 0.1)]
        ).chance
        for _ in range(4000)
    ]
    below = sum(chance is not None and chance < 0.05 for chance in chances)
    assert below / 4000 == pytest.approx(0.05, abs=0.012)


def test_disagreement_widens_the_mean() -> None:
    """Methods that cannot all be right leave a wider range than each of them claims."""
    apart = combine([known(0.4, 0.03), known(0.6, 0.03)])
    assert not apart.agree
    assert apart.mean.standard > 0.03 * apart.mean.value * 3.0


def test_the_odd_one_is_found_among_three() -> None:
    """The one that keeps two others from agreeing is named; of two nobody can tell."""
    values = [known(0.5, 0.03), known(0.9, 0.03), known(0.51, 0.03)]
    assert odd_one_out(values) == 1
    assert odd_one_out(values[:2]) is None


def test_nothing_has_no_mean() -> None:
    """At least one value is needed."""
    with pytest.raises(NotEnoughDataError, match=r"^a mean needs at least one value$"):
        combine([])
