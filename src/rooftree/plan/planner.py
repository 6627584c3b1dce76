"""Make the plan: every feasible package simulated, one chosen, put in order and checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.engine import simulate_many as run_houses
from rooftree.finding import Finding, Severity
from rooftree.plan.checks import check_stage, damp_hours
from rooftree.plan.feasible import (
    cannot_be_built,
    constraints_of,
    feasible_sets,
    implied_gates,
    is_open,
    never_allowed,
)
from rooftree.plan.measures.air import EXPECTED, LEAKIEST_OUTCOME, TIGHTEST_OUTCOME
from rooftree.plan.model import Comparison, Effect, Plan, PlanSettings, Stage, Step
from rooftree.plan.money import worth_of
from rooftree.plan.offers import Offers
from rooftree.plan.order import done_by, place_measures, sequence
from rooftree.plan.packages import (
    Choice,
    Clause,
    choose_package,
    investment_in,
    present_savings,
    simulate_packages,
)
from rooftree.plan.rules import exclusions, openings, stage_names
from rooftree.plan.why import Scene, why_here
from rooftree.plan.words import dollars
from rooftree.plan.years import Years, effect_of, money_saved_by_fuel
from rooftree.readings.ventilation import weather_shielding_factor

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from rooftree.bills import Tariff
    from rooftree.engine.results import YearResult
    from rooftree.house import House
    from rooftree.plan.feasible import Constraint
    from rooftree.plan.model import Measure, PackageResult, Worth
    from rooftree.plan.order import Placing
    from rooftree.plan.years import SimulateMany
    from rooftree.survey import Gate
    from rooftree.weather.year import WeatherYear

DECLINED = "The owner has declined it."
NO_PACKAGE = "No package with it keeps fresh air and flues within their limits."


@dataclass(frozen=True, slots=True)
class _Case:
    """What a plan is made from."""

    offers: Offers
    gates: tuple[Gate, ...]
    constraints: tuple[Constraint, ...]
    years: Years
    tariff: Tariff
    outdoors: int
    weather_factor: float
    weather_says: str

    def effect(self, before: House, after: House) -> Effect:
        return effect_of(self.years.of(before), self.years.of(after), self.tariff)


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
    case = _case(
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
        packages, settings, must=_must(case, packages), wanted=_wanted(offers, out)
    )
    return _plan(case, choice, packages, out)


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
    case = _case(
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


def _case(
    house: House,
    measures: Iterable[Measure],
    gates: Iterable[Gate],
    year: WeatherYear,
    tariff: Tariff,
    settings: PlanSettings,
    years: Years,
) -> _Case:
    given = settings.weather_factor
    computed = weather_shielding_factor(year) if given is None else None
    factor, says = (computed.value, computed.says) if computed else (float(given or 0.0), "")
    offers = Offers(house, measures, settings, factor)
    standing = implied_gates(house, gates)
    constraints = constraints_of(offers, standing)
    return _Case(offers, standing, constraints, years, tariff, damp_hours(year), factor, says)


def _left_out(case: _Case) -> dict[str, str]:
    """Return what no package may hold, with the reason, by id."""
    offers = case.offers
    known = {measure.id for measure in offers.measures}
    declined = dict.fromkeys(offers.settings.declined & known, DECLINED)
    return never_allowed(offers, case.constraints, {**cannot_be_built(offers), **declined})


def _allowed_part(case: _Case, bits: int) -> tuple[int, tuple[tuple[Measure, str], ...]]:
    """Return what of a set may be built, and the rest with reasons.

    The last measure in the order of work that a broken constraint is about goes first.
    """
    offers = case.offers
    impossible = cannot_be_built(offers)
    blocked = [(m, impossible[m.id]) for m in offers.chosen(bits) if m.id in impossible]
    bits &= ~offers.bits(m.id for m, _ in blocked)
    broken = _first_broken(case, bits)
    while broken is not None:
        last = offers.chosen(bits & (broken.about or broken.scope))[-1]
        blocked.append((last, broken.reason))
        bits &= ~offers.bit(last)
        broken = _first_broken(case, bits)
    return bits, tuple(blocked)


def _first_broken(case: _Case, bits: int) -> Constraint | None:
    return next((c for c in case.constraints if not c.holds(bits)), None)


def _must(case: _Case, packages: Mapping[int, PackageResult]) -> tuple[Clause, ...]:
    """Return what the plan does whatever it costs: hazards that harm now, and fresh air."""
    offers = case.offers
    clauses = [
        Clause(gate.rule.title, _opens(case, gate))
        for gate in case.gates
        if gate.solved_by and (gate.severity is Severity.STOP or _harms_now(gate))
    ]
    if not offers.ventilation(0, outcome=EXPECTED).is_enough:
        fans = offers.of_kind("ventilation")
        clauses.append(Clause("Too little fresh air", lambda bits: bool(bits & fans)))
    return tuple(c for c in clauses if any(c.is_met(bits) for bits in packages))


def _harms_now(gate: Gate) -> bool:
    opening = openings().get(gate.code)
    return opening is not None and opening.harms_now and gate.severity is not Severity.NOTE


def _opens(case: _Case, gate: Gate) -> Callable[[int], bool]:
    return lambda bits: is_open(case.offers, gate, bits)


def _wanted(offers: Offers, out: Mapping[str, str]) -> tuple[Clause, ...]:
    return tuple(
        Clause(measure.title, _holds(offers.bit(measure)))
        for measure in offers.measures
        if measure.id in offers.settings.wanted and measure.id not in out
    )


def _holds(bit: int) -> Callable[[int], bool]:
    return lambda bits: bool(bits & bit)


def _plan(
    case: _Case, choice: Choice, packages: Mapping[int, PackageResult], out: Mapping[str, str]
) -> Plan:
    offers, years, whole = case.offers, case.years, choice.bits
    placing = place_measures(offers, whole, case.gates)
    ordered = sequence(offers, whole, placing, case.gates)
    done = [0]
    for measure in ordered:
        done.append(done[-1] | offers.bit(measure))
    ends = [
        offers.house_of(whole, whole=whole, outcome=end)
        for end in (LEAKIEST_OUTCOME, TIGHTEST_OUTCOME)
    ]
    years.learn(
        [
            *(offers.house_of(bits, whole=whole) for bits in done),
            *(offers.house_of(offers.bit(measure), whole=whole) for measure in ordered),
            *ends,
        ]
    )
    steps = [
        _step(case, measure, whole, before, after, _why(case, placing))
        for measure, before, after in zip(ordered, done, done[1:], strict=False)
    ]
    effect = case.effect(offers.house, offers.house_of(whole))
    low, high = sorted(
        (case.effect(offers.house, end) for end in ends), key=lambda end: end.money_saved
    )
    alone = _sum_of([step.alone for step in steps])
    found = years.of(offers.house)
    return Plan(
        before=found,
        stages=tuple(
            _stage(case, stage, [s for s in steps if placing.stage[s.measure.id] == stage], whole,
                   done_by(offers, whole, placing, stage))
            for stage in sorted(set(placing.stage.values()))
        ),
        whole=effect,
        blocked=_why_not(case, choice, packages, out),
        packages=tuple(packages.values()),
        findings=_findings(case, choice, alone, effect),
        whole_low=low,
        whole_high=high,
        worth=_worth(case, whole),
        alone_sum=alone,
    )  # fmt: skip


def _why(case: _Case, placing: Placing) -> Callable[[Scene], str]:
    return lambda scene: why_here(scene, placing, case.gates)


def _step(
    case: _Case,
    measure: Measure,
    whole: int,
    before: int,
    after: int,
    why: Callable[[Scene], str],
) -> Step:
    offers, years = case.offers, case.years
    house_before, house_after, alone = (
        offers.house_of(bits, whole=whole) for bits in (before, after, offers.bit(measure))
    )
    found = years.of(offers.house)
    scene = Scene(measure, offers, whole, before, after, found, years.of(house_before))
    return Step(
        measure=offers.settled(offers.bit(measure), whole)[0],
        alone=case.effect(offers.house, alone),
        in_place=case.effect(house_before, house_after),
        why_here=why(scene),
    )


def _stage(case: _Case, number: int, steps: Sequence[Step], whole: int, done: int) -> Stage:
    offers = case.offers
    house = offers.house_of(done, whole=whole)
    found, year = case.years.of(offers.house), case.years.of(house)
    kinds = frozenset(step.measure.kind for step in steps)
    checks = check_stage(offers, done, whole, kinds, found, year, case.outdoors)
    return Stage(stage_names()[number], tuple(steps), house, year, checks)


def _sum_of(effects: Sequence[Effect]) -> Effect:
    fuels = dict.fromkeys(fuel for effect in effects for fuel in effect.energy_saved)
    return Effect(
        {fuel: sum(e.energy_saved.get(fuel, 0.0) for e in effects) for fuel in fuels},
        sum(effect.money_saved for effect in effects),
        sum(effect.emissions_saved for effect in effects),
    )


def _worth(case: _Case, whole: int) -> Worth | None:
    offers, settings = case.offers, case.offers.settings
    before, after = (case.years.of(house) for house in (offers.house, offers.house_of(whole)))
    by_fuel = money_saved_by_fuel(before, after, case.tariff)
    yearly, present = sum(by_fuel.values()), present_savings(by_fuel, settings)
    if not whole:
        return None
    return worth_of(
        max(investment_in(offers, whole), 0.0),
        yearly,
        rate=settings.discount_rate,
        years=settings.horizon,
        present=present,
    )


def _why_not(
    case: _Case, choice: Choice, packages: Mapping[int, PackageResult], out: Mapping[str, str]
) -> tuple[tuple[Measure, str], ...]:
    """Return every measure that is not in the plan, with the reason."""
    return tuple(
        (measure, out.get(measure.id) or _not_chosen(case, choice, packages, measure))
        for measure in case.offers.measures
        if not choice.bits & case.offers.bit(measure)
    )


def _not_chosen(
    case: _Case, choice: Choice, packages: Mapping[int, PackageResult], measure: Measure
) -> str:
    offers = case.offers
    chosen = offers.chosen(choice.bits)
    for rule in exclusions():
        for other in chosen:
            if rule.kinds == {measure.kind, other.kind}:
                return f"“{other.title}” is in the plan instead. {rule.reason}"
    if any(other.kind == measure.kind for other in chosen):
        return "Another offer of the same kind is in the plan."
    with_it = min(
        (bits for bits in packages if bits & offers.bit(measure)),
        key=lambda bits: ((bits ^ choice.bits).bit_count(), -packages[bits].net_saving),
    )
    budget, cost = offers.settings.budget, packages[with_it].cost
    if budget is not None and cost > budget:
        return f"With it the plan would cost about {dollars(cost - budget)} more than the budget."
    loss = packages[choice.bits].net_saving - packages[with_it].net_saving
    years = offers.settings.horizon
    if loss > 0.0:
        return (
            f"Over {years} years the plan would be worth {dollars(loss)} less with it than "
            "without; it may still be worth it for comfort or for something else."
        )
    return (
        f"The plan does better without it in what it was chosen for: {offers.settings.objective}."
    )


def _findings(case: _Case, choice: Choice, alone: Effect, whole: Effect) -> tuple[Finding, ...]:
    made = [gate.finding() for gate in case.gates]
    if case.weather_says:
        made.append(
            Finding(
                "plan/weather-factor",
                Severity.NOTE,
                f"The credit for leaks rests on a weather factor that is {case.weather_says}.",
                case.weather_factor,
                unit="1/h",
                source="computed from the year of weather",
            )
        )
    if choice.over_budget > 0.0:
        made.append(
            Finding(
                "plan/budget-short",
                Severity.GATE,
                f"What must be done costs about {dollars(choice.over_budget)} more than the "
                "budget: safety comes first, and nothing else is planned. Raise the budget, or "
                "do the stages in their order as far as the money goes.",
                choice.over_budget,
                0.0,
                "$",
            )
        )
    made.extend(
        Finding(
            "plan/not-met",
            Severity.GATE,
            f"“{name}” could not be met together with the rest of the plan.",
        )
        for name in choice.unmet
    )
    if choice.bits.bit_count() > 1:
        made.append(_interaction(alone, whole))
    return tuple(made)


def _interaction(alone: Effect, whole: Effect) -> Finding:
    one, other = dollars(alone.money_saved), dollars(whole.money_saved)
    says = (
        f"Each step alone, added up, would save {one} a year; together they save {other}, because "
        "a saving counts only on what the steps before it have left."
        if alone.money_saved > whole.money_saved
        else f"Each step alone, added up, would save {one} a year; together they save {other}, "
        "because some steps let others do more."
    )
    return Finding("plan/interaction", Severity.NOTE, says, whole.money_saved,
                   alone.money_saved, "$/year", "the simulated years")  # fmt: skip
