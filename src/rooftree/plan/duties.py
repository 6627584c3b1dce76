"""What a plan owes: what it must do, what the owner wants, and why the rest is left out."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from rooftree.finding import Severity
from rooftree.house import SpaceKind
from rooftree.plan.feasible import is_open
from rooftree.plan.measures.air import EXPECTED
from rooftree.plan.packages import Clause
from rooftree.plan.rules import exclusions, openings
from rooftree.plan.words import dollars, listed

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rooftree.plan.case import Case
    from rooftree.plan.model import Measure, PackageResult
    from rooftree.plan.offers import Offers
    from rooftree.plan.packages import Choice
    from rooftree.survey import Gate


def duties(case: Case, packages: Mapping[int, PackageResult]) -> tuple[Clause, ...]:
    """Return what the plan does whatever it costs: hazards that harm now, and fresh air.

    Parameters
    ----------
    case : Case
        The case.
    packages : mapping from int to PackageResult
        All feasible ones.

    Returns
    -------
    tuple of Clause
        Those that some package can meet, gravest first.
    """
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


def _opens(case: Case, gate: Gate) -> Callable[[int], bool]:
    return lambda bits: is_open(case.offers, gate, bits)


DAMP_SPACE = 500
"""Hours of damp air from which a plan tries to dry a space [h]; judgement."""

UNCOMFORTABLE = 200
"""Hours off the thermostat from which a plan tries to help [h]; judgement."""

HELPED = 0.5
"""What is left of those hours once they count as helped, or less [-]; judgement."""


def wishes(
    case: Case, packages: Mapping[int, PackageResult], out: Mapping[str, str]
) -> tuple[Clause, ...]:
    """Return what the plan does within the budget before it looks at money.

    Parameters
    ----------
    case : Case
        The case.
    packages : mapping from int to PackageResult
        All feasible ones.
    out : mapping from str to str
        What is out, with the reason, by id.

    Returns
    -------
    tuple of Clause
        What the owner has accepted, then damp spaces, then rooms off their thermostat;
        those that some package can meet.
    """
    clauses = (*_accepted(case.offers, out), *_dry(case), *_comfort(packages))
    return tuple(c for c in clauses if any(c.is_met(bits) for bits in packages))


def _dry(case: Case) -> tuple[Clause, ...]:
    """Return a clause for each space whose air is damper than that outdoors, or lived in."""
    made = []
    found = case.years.of(case.offers.house)
    for place, space_id in enumerate(found.space_ids):
        space, hours = case.offers.house.space(space_id), found.hours_above_80_percent[place]
        bears = 0 if space.kind is SpaceKind.LIVING else case.outdoors
        if hours > max(DAMP_SPACE, bears):
            made.append(Clause(f"Damp air in the {space.name}", _dries(case, place, int(hours))))
    return tuple(made)


def _dries(case: Case, place: int, found: int) -> Callable[[int], bool]:
    @cache
    def is_met(bits: int) -> bool:
        year = case.years.of(case.offers.house_of(bits))
        return bool(year.hours_above_80_percent[place] <= HELPED * found)

    return is_met


def _comfort(packages: Mapping[int, PackageResult]) -> tuple[Clause, ...]:
    found = packages[0].unmet_hours
    if found < UNCOMFORTABLE:
        return ()
    return (
        Clause(
            "Rooms off their thermostat",
            lambda bits: packages[bits].unmet_hours <= HELPED * found,
        ),
    )


def _accepted(offers: Offers, out: Mapping[str, str]) -> tuple[Clause, ...]:
    return tuple(
        Clause(measure.title, _holds(offers.bit(measure)))
        for measure in offers.measures
        if measure.id in offers.settings.wanted and measure.id not in out
    )


def _holds(bit: int) -> Callable[[int], bool]:
    return lambda bits: bool(bits & bit)


def why_not(
    case: Case, choice: Choice, packages: Mapping[int, PackageResult], out: Mapping[str, str]
) -> tuple[tuple[Measure, str], ...]:
    """Return every measure that is not in the plan, with the reason.

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
    tuple of (Measure, str)
        In the order of work.
    """
    return tuple(
        (measure, out.get(measure.id) or _not_chosen(case, choice, packages, measure))
        for measure in case.offers.measures
        if not choice.bits & case.offers.bit(measure)
    )


def _not_chosen(
    case: Case, choice: Choice, packages: Mapping[int, PackageResult], measure: Measure
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
    lost = [clause.name for clause in choice.met if not clause.is_met(with_it)]
    if lost:
        return f"With it, and nothing else, the plan would no longer see to: {listed(lost)}."
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
