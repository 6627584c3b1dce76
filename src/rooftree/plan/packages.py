"""Packages: every feasible set of measures, simulated and valued, and the choice of one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import PlanError
from rooftree.plan.model import PackageResult
from rooftree.plan.money import annuity_value, investment_of
from rooftree.plan.years import effect_of, money_saved_by_fuel

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from rooftree.bills import Tariff
    from rooftree.engine.results import YearResult
    from rooftree.plan.model import PlanSettings
    from rooftree.plan.offers import Offers
    from rooftree.plan.years import Years

OBJECTIVES: Mapping[str, Callable[[PackageResult], float]] = {
    "net saving": lambda package: package.net_saving,
    "money saved": lambda package: package.money_saved,
    "emissions saved": lambda package: package.emissions_saved,
}
"""What a package may be chosen for; more is better."""

CENT = 0.01
"""Packages this close in what they are chosen for count as equal [$ or kg]."""


def present_savings(by_fuel: Mapping[str, float], settings: PlanSettings) -> float:
    """Return the present value of yearly savings over the horizon.

    Parameters
    ----------
    by_fuel : mapping from str to float
        Savings at today's prices, by the fuel's name [$/year].
    settings : PlanSettings
        Horizon, discount rate and escalation.

    Returns
    -------
    float
        [$].
    """
    return sum(
        saved
        * annuity_value(settings.discount_rate, settings.horizon, escalation_of(fuel, settings))
        for fuel, saved in by_fuel.items()
    )


def escalation_of(fuel: str, settings: PlanSettings) -> float:
    """Return the growth of one fuel's price.

    Parameters
    ----------
    fuel : str
        Its name.
    settings : PlanSettings
        With one growth for all fuels, or one for each.

    Returns
    -------
    float
        [1/year]; 0 for a fuel that is not named.
    """
    growth = settings.escalation
    return growth if isinstance(growth, (int, float)) else growth.get(fuel, 0.0)


def investment_in(offers: Offers, bits: int) -> float:
    """Return the present value of what a set of measures costs beyond what is due anyway.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    bits : int
        The set.

    Returns
    -------
    float
        [$].
    """
    settings = offers.settings
    return sum(
        investment_of(measure, rate=settings.discount_rate, years=settings.horizon)
        for measure in offers.chosen(bits)
    )


def value_package(
    offers: Offers, bits: int, before: YearResult, after: YearResult, tariff: Tariff
) -> PackageResult:
    """Return what one set of measures saves and is worth.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    bits : int
        The set.
    before, after : YearResult
        The house as found and with the set, through one year.
    tariff : Tariff
        Prices and emissions.

    Returns
    -------
    PackageResult
    """
    effect = effect_of(before, after, tariff)
    savings = present_savings(money_saved_by_fuel(before, after, tariff), offers.settings)
    return PackageResult(
        offers.ids(bits),
        offers.cost(bits),
        effect.money_saved,
        effect.emissions_saved,
        savings - investment_in(offers, bits),
        after.unmet_heating_hours + after.unmet_cooling_hours,
    )


def simulate_packages(
    offers: Offers, sets: Sequence[int], years: Years, tariff: Tariff
) -> dict[int, PackageResult]:
    """Simulate every set of measures; sets that make the same house share a year.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    sets : sequence of int
        Feasible sets.
    years : Years
        What simulates.
    tariff : Tariff
        Prices and emissions.

    Returns
    -------
    dict from int to PackageResult
        By set, in the order given.
    """
    keys = years.learn(offers.house_of(bits) for bits in (0, *sets))
    before = years.at(keys[0])
    return {
        bits: value_package(offers, bits, before, years.at(key), tariff)
        for bits, key in zip(sets, keys[1:], strict=True)
    }


@dataclass(frozen=True, slots=True)
class Clause:
    """Something that a plan should do if any feasible package can.

    Attributes
    ----------
    name : str
        What it is about, in plain words.
    is_met : callable
        Whether a set does it.
    """

    name: str
    is_met: Callable[[int], bool]


@dataclass(frozen=True, slots=True)
class Choice:
    """The package that was chosen.

    Attributes
    ----------
    bits : int
        The set.
    unmet : tuple of str
        Duties that no feasible package meets together with those before.
    refused : tuple of str
        Wishes that no package within the budget meets together with those before.
    over_budget : float
        What it costs beyond the budget [$]; 0 where within.
    met : tuple of Clause
        Duties and wishes that narrowed the choice.
    """

    bits: int
    unmet: tuple[str, ...]
    refused: tuple[str, ...]
    over_budget: float
    met: tuple[Clause, ...] = ()


def choose_package(
    packages: Mapping[int, PackageResult],
    settings: PlanSettings,
    *,
    must: Sequence[Clause] = (),
    wanted: Sequence[Clause] = (),
) -> Choice:
    """Choose the best package by looking at all of them.

    Parameters
    ----------
    packages : mapping from int to PackageResult
        All feasible ones.
    settings : PlanSettings
        Budget and objective.
    must : sequence of Clause
        What is done whatever it costs, gravest first.
    wanted : sequence of Clause
        What the owner asks for, within the budget.

    Returns
    -------
    Choice

    Raises
    ------
    PlanError
        If there is no such objective, or no package.

    Notes
    -----
    The clauses that must be met are met first, even beyond the budget, and then as
    cheaply as can be. Within the budget what is wanted comes next and then the
    objective; among equals the cheaper package, and the one with fewer measures. Looking
    at all of them makes the choice exact: see [KELLERER2004]_ for the problem in general.

    References
    ----------
    [KELLERER2004] Kellerer, Pferschy and Pisinger, "Knapsack Problems", 2004 (recalled).
    """
    if settings.objective not in OBJECTIVES:
        raise PlanError(f"objective is {settings.objective!r}; it may be: {', '.join(OBJECTIVES)}")
    if not packages:
        raise PlanError("no package is feasible, not even the house as found")
    left, unmet = _narrow(tuple(packages), must)
    budget = settings.budget
    within = tuple(bits for bits in left if budget is None or packages[bits].cost <= budget + CENT)
    if not within:
        cheapest = min(left, key=lambda bits: (packages[bits].cost, bits.bit_count()))
        over = packages[cheapest].cost - (budget or 0.0)
        return Choice(cheapest, unmet, _missed(cheapest, wanted), over, tuple(must))
    within, refused = _narrow(within, wanted)
    worth = OBJECTIVES[settings.objective]
    best = max(worth(packages[bits]) for bits in within)
    equals = [bits for bits in within if worth(packages[bits]) >= best - CENT]
    bits = min(equals, key=lambda bits: (packages[bits].cost, bits.bit_count(), bits))
    met = tuple(clause for clause in (*must, *wanted) if clause.is_met(bits))
    return Choice(bits, unmet, refused, 0.0, met)


def _narrow(
    sets: tuple[int, ...], clauses: Sequence[Clause]
) -> tuple[tuple[int, ...], tuple[str, ...]]:
    """Return the sets that meet each clause in turn, and the clauses that would leave none."""
    unmet = []
    for clause in clauses:
        met = tuple(bits for bits in sets if clause.is_met(bits))
        if met:
            sets = met
        else:
            unmet.append(clause.name)
    return sets, tuple(unmet)


def _missed(bits: int, clauses: Sequence[Clause]) -> tuple[str, ...]:
    return tuple(clause.name for clause in clauses if not clause.is_met(bits))
