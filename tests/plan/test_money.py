"""Check discounting against published forms and its own laws."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.plan.model import Effect, Measure
from rooftree.plan.money import (
    annuity_value,
    investment_of,
    likely_range,
    present_value,
    worth_of,
)

rates = st.floats(0.0, 0.15)
horizons = st.integers(1, 60)


def test_discount_factors() -> None:
    """Factors worked out from the handbook's forms come back to their printed digits."""
    assert present_value(0.03, 10) == pytest.approx(0.744094, abs=5e-7)
    assert annuity_value(0.03, 15) == pytest.approx(11.93794, abs=5e-6)
    assert annuity_value(0.03, 20) == pytest.approx(14.87747, abs=5e-6)
    assert annuity_value(0.03, 20, 0.01) == pytest.approx(16.38272, abs=5e-6)
    assert annuity_value(0.03, 30, 0.005) == pytest.approx(20.96505, abs=5e-6)


def test_worth_of_insulation() -> None:
    """A hundred and twenty therms a year for $1,800 give the figures worked out by hand."""
    worth = worth_of(1800.0, 120 * 1.40, rate=0.03, years=30, escalation=0.005)
    assert worth.savings == pytest.approx(3522.13, abs=0.005)
    assert worth.net_saving == pytest.approx(1722.13, abs=0.005)
    assert worth.savings_to_investment == pytest.approx(1.95674, abs=5e-6)
    assert worth.rate_of_return == pytest.approx(0.053307, abs=5e-7)
    assert worth.simple_payback == pytest.approx(10.714, abs=5e-4)
    assert worth.discounted_payback == pytest.approx(12.62, abs=0.01)


@given(rates, rates, horizons)
def test_an_annuity_is_the_sum_of_its_payments(rate: float, growth: float, years: int) -> None:
    """The closed form is the sum over the years."""
    summed = sum((1.0 + growth) ** k * present_value(rate, k) for k in range(1, years + 1))
    assert annuity_value(rate, years, growth) == pytest.approx(summed)


@given(rates, horizons)
def test_growth_at_the_discount_rate_is_worth_its_years(rate: float, years: int) -> None:
    """Where prices grow as fast as money shrinks, each year counts alike."""
    assert annuity_value(rate, years, rate) == pytest.approx(years)


@given(rates, st.floats(0.0, 50.0), st.floats(0.0, 50.0))
def test_waiting_twice_is_waiting_the_sum(rate: float, one: float, other: float) -> None:
    """Present value factors multiply over time."""
    both = present_value(rate, one) * present_value(rate, other)
    assert present_value(rate, one + other) == pytest.approx(both)


@given(st.floats(100.0, 1e5), st.floats(1.0, 1e4), rates, horizons)
def test_paying_off_within_the_horizon_is_a_net_saving(
    investment: float, saving: float, rate: float, years: int
) -> None:
    """There is a discounted payback exactly where the net saving is not below zero."""
    worth = worth_of(investment, saving, rate=rate, years=years)
    if abs(worth.net_saving) > 1e-6 * investment:
        assert (worth.discounted_payback is not None) is (worth.net_saving > 0.0)


@pytest.mark.parametrize("saving", [0.0, -10.0])
def test_what_saves_nothing_never_pays(saving: float) -> None:
    """Without a saving there is no payback and no return."""
    worth = worth_of(100.0, saving, rate=0.03, years=10)
    assert worth.simple_payback is worth.discounted_payback is worth.rate_of_return is None


def test_what_costs_nothing_has_no_ratio() -> None:
    """Nothing invested: the ratio has no meaning and the payback is at once."""
    worth = worth_of(0.0, 10.0, rate=0.03, years=10)
    assert worth.savings_to_investment is None
    assert worth.discounted_payback == 0.0


def offer(life: float, anyway: float = 0.0) -> Measure:
    """Return a measure for $1,000 with some life."""
    return Measure("m", "windows", "m", {}, 800.0, 1200.0, "invented", life, "any", anyway)


def test_a_life_as_long_as_the_horizon_is_bought_once() -> None:
    """Nothing is replaced and nothing is left."""
    assert investment_of(offer(20.0), rate=0.03, years=20) == pytest.approx(1000.0)


def test_a_longer_life_leaves_a_rest() -> None:
    """Half of the life is left at the end, and is worth half, discounted."""
    rest = 500.0 * present_value(0.03, 10)
    assert investment_of(offer(20.0), rate=0.03, years=10) == pytest.approx(1000.0 - rest)


def test_a_shorter_life_is_bought_again() -> None:
    """After ten years the same is paid once more, discounted."""
    again = 1000.0 * present_value(0.03, 10)
    assert investment_of(offer(10.0), rate=0.03, years=20) == pytest.approx(1000.0 + again)


def test_what_is_due_anyway_is_no_investment() -> None:
    """Only what exceeds the replacement that is due counts."""
    assert investment_of(offer(20.0, 900.0), rate=0.03, years=20) == pytest.approx(100.0)


@given(st.floats(1.0, 60.0))
def test_without_discounting_a_year_of_life_costs_the_same(life: float) -> None:
    """At no interest the investment is the cost for each year of life times the horizon."""
    assert investment_of(offer(life), rate=0.0, years=25) == pytest.approx(1000.0 / life * 25)


@pytest.mark.parametrize("calibrated", [False, True])
def test_the_likely_range_holds_less_than_was_computed(calibrated: bool) -> None:
    """Low is below high for savings and for extra use alike, and bills narrow it."""
    effect = Effect({"natural gas": 10.0, "electricity": -4.0}, 100.0, -50.0)
    low, high = likely_range(effect, calibrated)
    assert low.money_saved < high.money_saved
    assert low.emissions_saved < high.emissions_saved
    assert low.energy_saved["electricity"] < high.energy_saved["electricity"] < 0.0


def test_bills_narrow_the_likely_range() -> None:
    """A house fitted to its bills has a narrower band than one that is not."""
    effect = Effect({}, 100.0, 0.0)
    (low, high), (fitted_low, fitted_high) = (likely_range(effect, c) for c in (False, True))
    assert (low.money_saved, high.money_saved) == (40.0, 100.0)
    assert fitted_high.money_saved - fitted_low.money_saved < 60.0


@pytest.mark.parametrize(
    ("rate", "message"),
    [
        (1.5, r"^rate is 1\.5 1/year; the method covers -0\.5 to 1 1/year$"),
        (float("nan"), r"^rate is nan 1/year; the method covers -0\.5 to 1 1/year$"),
    ],
)
def test_a_rate_in_percent_is_refused(rate: float, message: str) -> None:
    """A rate above 1 is surely a percentage."""
    with pytest.raises(OutOfRangeError, match=message):
        present_value(rate, 10)
