"""Lay a chosen package out as a plan: stages that are safe to stop after, with reasons."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.plan.checks import check_stage
from rooftree.plan.duties import why_not
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.measures.air import EXPECTED, LEAKIEST_OUTCOME, TIGHTEST_OUTCOME
from rooftree.plan.model import Effect, Plan, Stage, Step
from rooftree.plan.money import worth_of
from rooftree.plan.offers import SEALING
from rooftree.plan.order import done_by, place_measures, sequence
from rooftree.plan.packages import investment_in, present_savings
from rooftree.plan.rules import stage_names
from rooftree.plan.why import Scene, why_here
from rooftree.plan.words import dollars
from rooftree.plan.years import money_saved_by_fuel

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from rooftree.plan.case import Case
    from rooftree.plan.model import Measure, PackageResult, Worth
    from rooftree.plan.offers import Offers
    from rooftree.plan.order import Placing
    from rooftree.plan.packages import Choice


def lay_out(
    case: Case, choice: Choice, packages: Mapping[int, PackageResult], out: Mapping[str, str]
) -> Plan:
    """Return a chosen package as a plan: in order, by stages, checked after each.

    Parameters
    ----------
    case : Case
        The case.
    choice : Choice
        The package that was chosen.
    packages : mapping from int to PackageResult
        All feasible ones.
    out : mapping from str to str
        What no package holds, with the reason, by id.

    Returns
    -------
    Plan
    """
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
        blocked=why_not(case, choice, packages, out),
        packages=tuple(packages.values()),
        findings=_findings(case, choice, alone, effect),
        whole_low=low,
        whole_high=high,
        worth=_worth(case, whole),
        alone_sum=alone,
    )  # fmt: skip


def _why(case: Case, placing: Placing) -> Callable[[Scene], str]:
    return lambda scene: why_here(scene, placing, case.gates)


def _step(
    case: Case,
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
        measure=_as_built(offers, measure, whole, after),
        alone=case.effect(offers.house, alone),
        in_place=case.effect(house_before, house_after),
        why_here=why(scene),
    )


def _as_built(offers: Offers, measure: Measure, whole: int, after: int) -> Measure:
    """Return a measure with what it comes to in this plan: size of the fan, leakage to reach."""
    settled = offers.settled(offers.bit(measure), whole)[0]
    if settled.kind != SEALING:
        return settled
    low, target, high = (
        flow_at_50(offers.house_of(after, whole=whole, outcome=outcome))
        for outcome in (TIGHTEST_OUTCOME, EXPECTED, LEAKIEST_OUTCOME)
    )
    reached = {"target_flow_50": target, "low_target_flow_50": low, "high_target_flow_50": high}
    return replace(settled, settings={**settled.settings, **reached})


def _stage(case: Case, number: int, steps: Sequence[Step], whole: int, done: int) -> Stage:
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


def _worth(case: Case, whole: int) -> Worth | None:
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


def _findings(case: Case, choice: Choice, alone: Effect, whole: Effect) -> tuple[Finding, ...]:
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
    made.extend(
        Finding(
            "plan/not-within-budget",
            Severity.NOTE,
            f"“{name}” would take more than this budget allows beside what must be done.",
        )
        for name in choice.refused
    )
    if choice.bits.bit_count() > 1:
        made.append(_interaction(alone, whole))
    return tuple(made)


def _interaction(alone: Effect, whole: Effect) -> Finding:
    one, other = dollars(alone.money_saved), dollars(whole.money_saved)
    says = f"Each step alone, added up, would save {one} a year; together they save {other}"
    if one == other:
        says += ": what some take from others, others give back."
    elif alone.money_saved > whole.money_saved:
        says += ", because a saving counts only on what the steps before it have left."
    else:
        says += ", because some steps let others do more."
    return Finding("plan/interaction", Severity.NOTE, says, whole.money_saved,
                   alone.money_saved, "$/year", "the simulated years")  # fmt: skip
