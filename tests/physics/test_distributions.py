"""Drawing from distributions, against the worked examples of the guides."""

from __future__ import annotations

import math
from statistics import fmean

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.distributions import (
    Drawn,
    Shape,
    does_first_order_hold,
    propagate_by_draws,
)
from rooftree.physics.propagation import Propagated, propagate
from rooftree.physics.uncertainty import (
    UncertaintyTerm,
    combined_uncertainty,
    coverage_factor,
)

GAUGE_LENGTH = 50_000_623.0
"""Of the standard [nm]."""


def gauge_length(
    standard: float,
    difference: float,
    expansion: float,
    mean_offset: float,
    swing: float,
    expansion_difference: float,
    temperature_difference: float,
) -> float:
    """Return the length of the end gauge [nm]; GUM H.1, eq. H.2 with the offset in two parts."""
    offset = mean_offset + swing
    return (
        standard
        + difference
        - standard * (expansion_difference * offset + expansion * temperature_difference)
    )


def comparator() -> UncertaintyTerm:
    """Return the uncertainty of the difference read by the comparator [nm]."""
    return combined_uncertainty(
        [
            UncertaintyTerm("repeated", 5.8, 24.0),
            UncertaintyTerm("random", 3.9, 5.0),
            UncertaintyTerm("systematic", 6.7, 8.0),
        ]
    )


INPUTS = (
    Drawn(GAUGE_LENGTH, 25.0),
    Drawn(215.0, 9.7),
    Drawn(11.5e-6, 2e-6 / math.sqrt(3.0), Shape.RECTANGULAR),
    Drawn(-0.1, 0.2),
    Drawn(0.0, 0.5 / math.sqrt(2.0), Shape.ARCSINE),
    Drawn(0.0, 1e-6 / math.sqrt(3.0), Shape.RECTANGULAR),
    Drawn(0.0, 0.05 / math.sqrt(3.0), Shape.RECTANGULAR),
)


@pytest.mark.published(
    source="JCGM 100:2008, H.1", where="u(d) and its degrees of freedom", read="quoted in METAS"
)
def test_end_gauge_comparator() -> None:
    """The comparator's three terms make 9.7 nm with 25.6 degrees of freedom.

    The guide puts the rounded 9.7 into the formula of the degrees of freedom.
    """
    term = comparator()
    assert term.standard == pytest.approx(9.7, abs=0.05)
    rounded = term.degrees_of_freedom * (9.7 / term.standard) ** 4
    assert rounded == pytest.approx(25.6, abs=0.05)


@pytest.mark.published(
    source="JCGM 100:2008, H.1", where="combined uncertainty, 32 nm", read="quoted in METAS"
)
def test_end_gauge_first_order() -> None:
    """First-order propagation of the end gauge gives 32 nm and 16 degrees of freedom."""
    result = propagate(gauge_length, [i.value for i in INPUTS], [i.standard for i in INPUTS])
    assert result.standard == pytest.approx(32.0, abs=0.5)
    assert result.value == pytest.approx(GAUGE_LENGTH + 215.0)
    terms = [
        UncertaintyTerm("standard", 25.0, 18.0),
        comparator(),
        UncertaintyTerm("expansion", GAUGE_LENGTH * 0.1e-6 / math.sqrt(3.0), 50.0),
        UncertaintyTerm("temperature", GAUGE_LENGTH * 11.5e-6 * 0.05 / math.sqrt(3.0), 2.0),
    ]
    assert math.floor(combined_uncertainty(terms).degrees_of_freedom) == 16


def test_end_gauge_value_of_the_first_order() -> None:
    """Unrounded, the first order is 31.66 nm."""
    uncertainties = [i.standard for i in INPUTS]
    uncertainties[1] = comparator().standard
    result = propagate(gauge_length, [i.value for i in INPUTS], uncertainties)
    assert result.standard == pytest.approx(31.66, abs=0.005)


@pytest.mark.published(
    source="JCGM 100:2008, H.1.7", where="second-order terms, 34 nm", read="quoted in METAS"
)
def test_end_gauge_by_draws() -> None:
    """Draws see the product of two doubtful inputs that the first order does not: 34 nm."""
    drawn = propagate_by_draws(gauge_length, INPUTS, draws=200_000)
    assert drawn.standard == pytest.approx(34.0, abs=0.5)
    first = propagate(gauge_length, [i.value for i in INPUTS], [i.standard for i in INPUTS])
    assert not does_first_order_hold(first, drawn)


@pytest.mark.published(source="JCGM 100:2008, H.1.6", where="U99 = 93 nm", read="memory")
def test_end_gauge_expanded_uncertainty() -> None:
    """The 99 % limits with 16 degrees of freedom lie 93 nm away."""
    result = Propagated(0.0, 32.0, -64.0, 64.0, degrees_of_freedom=16.0)
    assert result.limits(0.99)[1] == pytest.approx(93.0, abs=0.5)


@pytest.mark.published(
    source="JCGM 100:2008, G.4", where="0.57 (9) with 0.25 (infinite)", read="quoted in METAS"
)
def test_welch_satterthwaite() -> None:
    """A term with 9 degrees of freedom and a stated one make 12.8."""
    both = combined_uncertainty([UncertaintyTerm("a", 0.57, 9.0), UncertaintyTerm("b", 0.25)])
    assert both.degrees_of_freedom == pytest.approx(12.8, abs=0.05)


def total(*parts: float) -> float:
    """Return the sum of all inputs."""
    return sum(parts)


@pytest.mark.published(
    source="JCGM 101:2008, 9.2.2", where="table 2", read="quoted in a national laboratory's data"
)
def test_four_normal_inputs() -> None:
    """Four normal inputs make 2.0 with 95 % limits of 3.92; the first order holds."""
    drawn = propagate_by_draws(total, [Drawn(0.0, 1.0)] * 4, draws=1_000_000)
    low, high = drawn.limits(0.95)
    assert drawn.value == pytest.approx(0.0, abs=0.01)
    assert drawn.standard == pytest.approx(2.0, abs=0.005)
    assert (low, high) == pytest.approx((-3.92, 3.92), abs=0.015)
    first = propagate(total, [0.0] * 4, [1.0] * 4)
    assert does_first_order_hold(first, drawn)


@pytest.mark.published(
    source="JCGM 101:2008, 9.2.3", where="table 3", read="quoted in a national laboratory's data"
)
def test_four_rectangular_inputs() -> None:
    """Four rectangular inputs make 2.0 with 95 % limits of 3.88."""
    inputs = [Drawn(0.0, 1.0, Shape.RECTANGULAR)] * 4
    drawn = propagate_by_draws(total, inputs, draws=1_000_000)
    assert drawn.standard == pytest.approx(2.0, abs=0.005)
    assert drawn.limits(0.95) == pytest.approx((-3.88, 3.88), abs=0.015)


@settings(max_examples=15)
@given(st.sampled_from(Shape), st.floats(1.0, 100.0), st.floats(0.001, 0.05))
def test_each_shape_has_its_mean_and_spread(shape: Shape, value: float, share: float) -> None:
    """Drawn values have the mean and standard deviation that were asked for."""
    standard = share * value
    drawn = propagate_by_draws(lambda x: x, [Drawn(value, standard, shape)], draws=20_000)
    assert drawn.value == pytest.approx(value, abs=0.05 * standard)
    assert drawn.standard == pytest.approx(standard, rel=0.03)


@settings(max_examples=15)
@given(st.floats(0.01, 100.0), st.floats(0.001, 0.2), st.floats(0.1, 1000.0))
def test_draws_do_not_mind_the_unit(value: float, share: float, factor: float) -> None:
    """The result in another unit is the result times the factor, limits too."""
    one = propagate_by_draws(lambda x: x**0.65, [Drawn(value, share * value)], draws=500)
    other = propagate_by_draws(lambda x: factor * x**0.65, [Drawn(value, share * value)], draws=500)
    assert other.value == pytest.approx(factor * one.value)
    assert other.limits(0.9) == pytest.approx([factor * limit for limit in one.limits(0.9)])


def test_the_same_readings_give_the_same_limits() -> None:
    """Draws are repeatable, and another seed gives others."""
    inputs = [Drawn(1.0, 0.1), Drawn(2.0, 0.1)]
    one = propagate_by_draws(total, inputs)
    assert one == propagate_by_draws(total, inputs)
    assert one != propagate_by_draws(total, inputs, seed=5)


def test_correlated_inputs_cancel_in_a_difference() -> None:
    """Two readings wrong the same way have a sure difference; opposite ways, a doubtful one."""
    inputs = [Drawn(10.0, 1.0), Drawn(8.0, 1.0)]
    same = propagate_by_draws(lambda a, b: a - b, inputs, correlation=[[1.0, 1.0], [1.0, 1.0]])
    other = propagate_by_draws(lambda a, b: a - b, inputs, correlation=[[1, -0.5], [-0.5, 1]])
    assert same.standard == pytest.approx(0.0, abs=1e-6)
    assert other.standard == pytest.approx(math.sqrt(3.0), rel=0.03)


def test_few_observations_have_long_tails() -> None:
    """An input from three observations is drawn from Student's t."""
    drawn = propagate_by_draws(
        lambda x: x, [Drawn(0.0, 1.0, degrees_of_freedom=3.0)], draws=100_000
    )
    assert drawn.limits(0.95)[1] == pytest.approx(coverage_factor(3.0), rel=0.05)


def test_limits_between_the_kept_quantiles_are_near() -> None:
    """A probability between those kept is interpolated; one beyond them is refused."""
    drawn = propagate_by_draws(lambda x: x, [Drawn(0.0, 1.0)], draws=400_000)
    assert drawn.limits(0.68)[1] == pytest.approx(coverage_factor(math.inf, 0.68), rel=0.01)
    with pytest.raises(OutOfRangeError, match=r"^probability is 0.999 \[0-1\]; the method"):
        drawn.limits(0.999)


def test_what_cannot_be_drawn_is_refused() -> None:
    """Too few draws, impossible inputs and formulas without a value are refused."""
    with pytest.raises(OutOfRangeError, match=r"^number of draws is 10 \[-\]; the method"):
        propagate_by_draws(total, [Drawn(1.0, 1.0)], draws=10)
    with pytest.raises(OutOfRangeError, match=r"^uncertainty is -1 \(input's unit\); "):
        Drawn(1.0, -1.0)
    with pytest.raises(OutOfRangeError, match=r"^log-normal input is 0 \(its unit\); "):
        Drawn(0.0, 1.0, Shape.LOGNORMAL)
    with pytest.raises(OutOfRangeError, match=r"^degrees of freedom is 0 \[-\]; "):
        Drawn(0.0, 1.0, degrees_of_freedom=0.0)
    with pytest.raises(OutOfRangeError, match=r"^lowest eigenvalue of the correlation is -1 "):
        propagate_by_draws(total, [Drawn(0.0, 1.0)] * 2, correlation=[[1.0, 2.0], [2.0, 1.0]])
    with (
        np.errstate(invalid="ignore"),
        pytest.raises(NotEnoughDataError, match=r"^the formula has no value at \d+ of 10000 draws"),
    ):
        propagate_by_draws(np.sqrt, [Drawn(0.0, 1.0)])


def test_a_sure_result_holds_at_first_order() -> None:
    """Without uncertainty there is nothing to disagree about."""
    sure = propagate(lambda x: 2.0 * x, [3.0], [0.0])
    drawn = propagate_by_draws(lambda x: 2.0 * x, [Drawn(3.0, 0.0)])
    assert does_first_order_hold(sure, drawn)
    assert fmean(drawn.limits(0.9)) == 6.0
