"""Check the choice of a package against exact answers of small problems."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import PlanError
from rooftree.plan.model import PackageResult, PlanSettings
from rooftree.plan.offers import Offers
from rooftree.plan.packages import (
    Clause,
    choose_package,
    escalation_of,
    present_savings,
    simulate_packages,
)
from rooftree.plan.years import Years

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.bills import Tariff
    from rooftree.house import House
    from rooftree.plan.model import Measure

    MakeMeasure = Callable[..., Measure]

ITEMS = {"A": (3.0, 4.0), "B": (4.0, 5.0), "C": (2.0, 3.0), "D": (5.0, 9.0)}
"""Cost and worth of four things."""


def knapsack(*needs: tuple[str, str]) -> dict[int, PackageResult]:
    """Return every set of the four things in which what is needed comes along."""
    found = {}
    names = list(ITEMS)
    for count in range(5):
        for chosen in combinations(names, count):
            if all(one not in chosen or other in chosen for one, other in needs):
                bits = sum(1 << names.index(name) for name in chosen)
                cost = sum(ITEMS[name][0] for name in chosen)
                worth = sum(ITEMS[name][1] for name in chosen)
                found[bits] = PackageResult(frozenset(chosen), cost, worth, 0.0, worth, 0)
    return found


@pytest.mark.parametrize(
    ("needs", "best", "chosen"),
    [
        ((), 14.0, {"B", "D"}),
        ((("D", "C"),), 12.0, {"C", "D"}),
        ((("D", "C"), ("D", "A")), 12.0, {"A", "B", "C"}),
    ],
)
def test_a_knapsack_with_what_must_come_along(
    needs: tuple[tuple[str, str], ...], best: float, chosen: set[str]
) -> None:
    """Four things and a budget of nine: the exact best, the cheaper of two that tie."""
    packages = knapsack(*needs)
    choice = choose_package(packages, PlanSettings(budget=9.0))
    assert packages[choice.bits].net_saving == best
    assert packages[choice.bits].measures == chosen


results = st.dictionaries(
    st.integers(0, 63),
    st.builds(
        PackageResult,
        st.just(frozenset()),
        st.integers(0, 100).map(float),
        st.just(0.0),
        st.integers(-50, 50).map(float),
        st.integers(-50, 50).map(float),
        st.just(0),
    ),
    min_size=1,
)


@given(results, st.integers(0, 100))
def test_no_package_within_the_budget_is_better(
    packages: dict[int, PackageResult], budget: int
) -> None:
    """The choice is within the budget if any is, and none within it saves more."""
    choice = choose_package(packages, PlanSettings(budget=budget))
    within = [package for package in packages.values() if package.cost <= budget]
    if within:
        assert choice.over_budget == 0.0
        assert packages[choice.bits].net_saving == max(p.net_saving for p in within)
    else:
        assert packages[choice.bits].cost == min(p.cost for p in packages.values())
        assert choice.over_budget == packages[choice.bits].cost - budget


@given(results)
def test_the_objective_can_be_emissions(packages: dict[int, PackageResult]) -> None:
    """Another objective chooses by another figure."""
    choice = choose_package(packages, PlanSettings(objective="emissions saved"))
    best = max(package.emissions_saved for package in packages.values())
    assert packages[choice.bits].emissions_saved == best


def test_what_must_be_done_comes_before_the_budget() -> None:
    """Safety is met even beyond the budget, as cheaply as can be; wishes are not."""
    packages = knapsack()
    must = Clause("no D", lambda bits: bool(bits & 0b1000))
    wish = Clause("no A", lambda bits: bool(bits & 0b0001))
    choice = choose_package(packages, PlanSettings(budget=4.0), must=[must], wanted=[wish])
    assert packages[choice.bits].measures == {"D"}
    assert choice.over_budget == pytest.approx(1.0)
    assert choice.unmet == ()
    assert choice.refused == ("no A",)


def test_wishes_come_before_worth_within_the_budget() -> None:
    """What the owner wants is in, and the rest is the best beside it."""
    packages = knapsack()
    wish = Clause("C", lambda bits: bool(bits & 0b0100))
    choice = choose_package(packages, PlanSettings(budget=9.0), wanted=[wish])
    assert packages[choice.bits].net_saving == 12.0
    assert "C" in packages[choice.bits].measures


def test_what_cannot_be_met_is_named() -> None:
    """A clause that no package meets is reported, and narrows nothing."""
    never = Clause("moon", lambda _: False)
    choice = choose_package(knapsack(), PlanSettings(budget=9.0), must=[never])
    assert choice.unmet == ("moon",)
    assert choice.bits == 0b1010


def test_an_unknown_objective_is_refused() -> None:
    """The message lists what there is."""
    with pytest.raises(
        PlanError,
        match=r"^objective is 'fame'; it may be: net saving, money saved, emissions saved$",
    ):
        choose_package(knapsack(), PlanSettings(objective="fame"))


def test_nothing_to_choose_from_is_refused() -> None:
    """There is always the house as found; without it something is wrong."""
    with pytest.raises(PlanError, match=r"^no package is feasible, not even the house as found$"):
        choose_package({}, PlanSettings())


def test_fuels_may_escalate_differently() -> None:
    """A fuel that grows dearer is worth more to save; one that is not named stays."""
    settings = PlanSettings(escalation={"natural gas": 0.02}, horizon=20, discount_rate=0.03)
    assert escalation_of("electricity", settings) == 0.0
    gas = present_savings({"natural gas": 100.0}, settings)
    electricity = present_savings({"electricity": 100.0}, settings)
    assert gas > electricity == pytest.approx(1487.747, abs=1e-3)


def test_a_package_is_valued_against_the_house_as_found(
    house: House, measure: MakeMeasure, tariff: Tariff, linear: object
) -> None:
    """Nothing done saves nothing and costs nothing."""
    offers = Offers(house, [measure("windows")], PlanSettings(), 0.25)
    years = Years(object(), linear)  # type: ignore[arg-type]
    packages = simulate_packages(offers, [0, 1], years, tariff)
    assert packages[0] == PackageResult(frozenset(), 0.0, 0.0, 0.0, 0.0, packages[0].unmet_hours)
    assert packages[1].money_saved > 0.0
    assert packages[1].cost == 1000.0


def test_houses_that_are_alike_are_simulated_once(
    house: House, measure: MakeMeasure, tariff: Tariff, linear: object
) -> None:
    """Repairing the flue changes no load: four packages, two houses."""
    offers = Offers(house, [measure("windows"), measure("flue-repair")], PlanSettings(), 0.25)
    years = Years(object(), linear)  # type: ignore[arg-type]
    packages = simulate_packages(offers, [0, 1, 2, 3], years, tariff)
    assert len(packages) == 4
    assert linear.count == years.simulated == 2  # type: ignore[attr-defined]
