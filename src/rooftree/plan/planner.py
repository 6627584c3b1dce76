"""Make the plan: every feasible package simulated, one chosen, put in order and checked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.engine import simulate_many as run_houses
from rooftree.plan.case import Case, open_case
from rooftree.plan.checks import check_stage
from rooftree.plan.duties import duties, wishes
from rooftree.plan.feasible import cannot_be_built, feasible_sets, never_allowed
from rooftree.plan.model import Comparison, Plan, PlanSettings
from rooftree.plan.packages import choose_package, simulate_packages
from rooftree.plan.stages import lay_out
from rooftree.plan.years import Years, effect_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from rooftree.bills import Tariff
    from rooftree.engine.results import YearResult
    from rooftree.house import House
    from rooftree.plan.feasible import Constraint
    from rooftree.plan.model import Measure
    from rooftree.plan.years import SimulateMany
    from rooftree.survey import Gate
    from rooftree.weather.year import WeatherYear

DECLINED = "The owner has declined it."
NO_PACKAGE = "No package with it keeps fresh air and flues within their limits."


def make_plan(
    house: House,
    measures: Iterable[Measure],
    gates: Iterable[Gate],
    year: WeatherYear,
    tariff: Tariff,
    *,
    settings: PlanSettings | None = None,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
    simulate_many: SimulateMany = run_houses,
    workers: int | None = None,
) -> Plan:
    """Make the staged plan for a house.

    Parameters
    ----------
    house : House
        The house as found, fitted to its tests.
    measures : iterable of Measure
        What is on offer.
    gates : iterable of Gate
        Gates that stand, of :func:`rooftree.survey.gates_of`.
    year : WeatherYear
        The weather.
    tariff : Tariff
        Prices and emissions.
    settings : PlanSettings or None
        Budget, horizon, rates, edition; the defaults where None.
    progress : callable or None
        Told how many houses of how many are simulated.
    cancelled : callable or None
        Asked whether to stop.
    simulate_many : callable
        What runs houses through the year.
    workers : int or None
        Cores at work; all of them where None.

    Returns
    -------
    Plan

    Raises
    ------
    PlanError
        If measures or settings contradict each other, or there are too many packages.
    PlanCancelledError
        If it was stopped.

    Notes
    -----
    A stage is a point at which work may stop for years: after each, fresh air, flues and
    moisture are checked, and a remedy that a stage needs is part of it.
    """
    settings = settings or PlanSettings()
    case = open_case(
        house,
        measures,
        gates,
        year,
        tariff,
        settings,
        Years(year, simulate_many, workers=workers, progress=progress, cancelled=cancelled),
    )
    offers = case.offers
    out = _left_out(case)
    allowed = offers.where(lambda measure: measure.id not in out)
    sets = feasible_sets(offers, case.constraints, allowed, settings.most_packages)
    packages = simulate_packages(offers, sets, case.years, tariff)
    for measure in offers.chosen(allowed):
        if not any(bits & offers.bit(measure) for bits in sets):
            out[measure.id] = NO_PACKAGE
    choice = choose_package(
        packages, settings, must=duties(case, packages), wanted=wishes(case, packages, out)
    )
    return lay_out(case, choice, packages, out)


def compare_measures(
    house: House,
    measures: Iterable[Measure],
    chosen: Iterable[str],
    gates: Iterable[Gate],
    year: WeatherYear,
    tariff: Tariff,
    *,
    settings: PlanSettings | None = None,
    before: YearResult | None = None,
    simulate_many: SimulateMany = run_houses,
) -> Comparison:
    """Compare the house as found with the house with chosen measures.

    Parameters
    ----------
    house : House
        The house as found.
    measures : iterable of Measure
        What is on offer.
    chosen : iterable of str
        Ids of the measures that are switched on.
    gates : iterable of Gate
        Gates that stand.
    year : WeatherYear
        The weather.
    tariff : Tariff
        Prices and emissions.
    settings : PlanSettings or None
        Edition and the like; the defaults where None.
    before : YearResult or None
        The house as found through this year, if it is known already.
    simulate_many : callable
        What runs houses through the year.

    Returns
    -------
    Comparison
        Chosen measures that may not be built as chosen do not count; each says why.
    """
    case = open_case(
        house,
        measures,
        gates,
        year,
        tariff,
        settings or PlanSettings(),
        Years(year, simulate_many),
    )
    offers = case.offers
    wanted = offers.bits(chosen)
    bits, blocked = _allowed_part(case, wanted)
    after_house = offers.house_of(bits)
    if before is None:
        keys = case.years.learn((house, after_house))
        found, after = case.years.at(keys[0]), case.years.at(keys[1])
    else:
        found, after = before, case.years.of(after_house)
    done = offers.chosen(bits)
    return Comparison(
        before=found,
        after=after,
        effect=effect_of(found, after, tariff),
        cost_low=sum(measure.cost_low for measure in done),
        cost_high=sum(measure.cost_high for measure in done),
        blocked=blocked,
        checks=check_stage(
            offers, bits, bits, frozenset(m.kind for m in done), found, after, case.outdoors
        ),
        house=after_house,
    )


def _left_out(case: Case) -> dict[str, str]:
    """Return what no package may hold, with the reason, by id."""
    offers = case.offers
    known = {measure.id for measure in offers.measures}
    declined = dict.fromkeys(offers.settings.declined & known, DECLINED)
    return never_allowed(offers, case.constraints, {**cannot_be_built(offers), **declined})


def _allowed_part(case: Case, bits: int) -> tuple[int, tuple[tuple[Measure, str], ...]]:
    """Return what of a set may be built, and the rest with reasons.

    The last measure in the order of work that a broken constraint is about goes first.
    """
    offers = case.offers
    impossible = cannot_be_built(offers, bits)
    blocked = [(m, impossible[m.id]) for m in offers.chosen(bits) if m.id in impossible]
    bits &= ~offers.bits(m.id for m, _ in blocked)
    broken = _first_broken(case, bits)
    while broken is not None:
        last = offers.chosen(bits & (broken.about or broken.scope))[-1]
        blocked.append((last, broken.reason))
        bits &= ~offers.bit(last)
        broken = _first_broken(case, bits)
    return bits, tuple(blocked)


def _first_broken(case: Case, bits: int) -> Constraint | None:
    return next((c for c in case.constraints if not c.holds(bits)), None)
