"""Which sets of measures may be built: rules, gates, fresh air and flues as constraints.

A constraint looks only at the measures in its scope. Sets are grown one measure at a
time in the order of work, and a constraint is asked as soon as all of its scope is
decided, so that most of the sets that break it are never made.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError, PlanError
from rooftree.finding import Severity
from rooftree.plan.combustion import is_pulled_too_far
from rooftree.plan.places import condition_holds
from rooftree.plan.rules import Opening, exclusions, needs, openings
from rooftree.survey import Gate, gate_rules

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from rooftree.house import House
    from rooftree.plan.model import Measure
    from rooftree.plan.offers import Offers

IMPLIED = {
    "crawl-burner": "no burner on room air in the crawlspace",
    "attic-burner": "no burner on room air in the attic",
}
"""Gates that the record of the house sets by itself, with the condition under which not."""

TOO_TIGHT = (
    "It tightens the house below its need of fresh air, and no whole-house ventilation goes with it"
)
TOO_MUCH_PULL = (
    "With it, the exhaust fans would pull on a flue beyond its limit; replace the burner by one "
    "that takes no air from the house, in the same stage"
)


@dataclass(frozen=True, slots=True)
class Constraint:
    """Something that a set of measures must obey.

    Attributes
    ----------
    scope : int
        Measures that it looks at.
    holds : callable
        Whether a set obeys.
    about : int
        Measures that are out if it cannot be obeyed; 0 for the set as a whole.
    helpers : int
        Measures that may help those to obey.
    reason : str
        Why, in one sentence.
    """

    scope: int
    holds: Callable[[int], bool]
    about: int
    helpers: int
    reason: str


def implied_gates(house: House, gates: Iterable[Gate]) -> tuple[Gate, ...]:
    """Return the gates that stand, with those that the house sets by itself.

    Parameters
    ----------
    house : House
        The house as found.
    gates : iterable of Gate
        From observations and tests.

    Returns
    -------
    tuple of Gate
        The given ones first.
    """
    given = tuple(gates)
    codes = {gate.code for gate in given}
    added = tuple(
        Gate(gate_rules()[code], Severity.GATE, ())
        for code, free in IMPLIED.items()
        if code not in codes and not condition_holds(free, house)
    )
    return given + added


def is_open(offers: Offers, gate: Gate, bits: int) -> bool:
    """Tell whether a set of measures opens a gate.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    gate : Gate
        One that stands.
    bits : int
        Measures done before, or in the same stage.

    Returns
    -------
    bool
        Whether some of them remove its cause, with the proof that the rule asks for.
    """
    solvers = bits & offers.of_kind(*gate.solved_by)
    if not solvers:
        return False
    opening = openings().get(gate.code, Opening(gate.code, "", frozenset(), False, ""))
    if any(measure.kind in opening.sure for measure in offers.chosen(solvers)):
        return True
    return not opening.proof or condition_holds(opening.proof, offers.house_of(solvers))


def gate_reason(gate: Gate) -> str:
    """Return why a gate holds a measure back.

    Parameters
    ----------
    gate : Gate
        One that stands.

    Returns
    -------
    str
        Title, danger and remedy.
    """
    rule = gate.rule
    return f"{rule.title}: {_lower(rule.why)} {rule.remedy}"


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def constraints_of(offers: Offers, gates: tuple[Gate, ...]) -> tuple[Constraint, ...]:
    """Return every constraint on sets of the measures on offer.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    gates : tuple of Gate
        All that stand.

    Returns
    -------
    tuple of Constraint
        Those that cost least to ask come first.
    """
    return (
        *_alternatives(offers),
        *_exclusions(offers),
        *_needs(offers),
        *_gates(offers, gates),
        _fresh_air(offers),
        _flues(offers),
    )


def _alternatives(offers: Offers) -> list[Constraint]:
    made = []
    for kind in {measure.kind for measure in offers.measures}:
        mask = offers.of_kind(kind)
        if mask.bit_count() > 1:
            reason = "Another offer of the same kind is in the plan."
            made.append(Constraint(mask, _at_most_one(mask), 0, 0, reason))
    return made


def _at_most_one(mask: int) -> Callable[[int], bool]:
    return lambda bits: (bits & mask).bit_count() <= 1


def _exclusions(offers: Offers) -> list[Constraint]:
    made = []
    for rule in exclusions():
        masks = [offers.of_kind(kind) for kind in rule.kinds]
        if all(masks):
            made.append(Constraint(masks[0] | masks[1], _not_both(*masks), 0, 0, rule.reason))
    return made


def _not_both(one: int, other: int) -> Callable[[int], bool]:
    return lambda bits: not (bits & one and bits & other)


def _needs(offers: Offers) -> list[Constraint]:
    made = []
    for rule in needs():
        mask, needed = offers.of_kind(rule.kind), offers.of_kind(*rule.needs)
        if mask and (needed or rule.must) and condition_holds(rule.where, offers.house):
            made.append(
                Constraint(mask | needed, _with_one(mask, needed), mask, needed, rule.reason)
            )
    return made


def _with_one(mask: int, needed: int) -> Callable[[int], bool]:
    return lambda bits: not bits & mask or bool(bits & needed)


def _gates(offers: Offers, gates: tuple[Gate, ...]) -> list[Constraint]:
    made = []
    for gate in gates:
        blocked, solvers = offers.of_kind(*gate.blocks), offers.of_kind(*gate.solved_by)
        if blocked:
            holds = _opened(offers, gate, blocked, solvers)
            made.append(Constraint(blocked | solvers, holds, blocked, solvers, gate_reason(gate)))
    return made


def _opened(offers: Offers, gate: Gate, blocked: int, solvers: int) -> Callable[[int], bool]:
    known: dict[int, bool] = {}

    def holds(bits: int) -> bool:
        if not bits & blocked:
            return True
        key = bits & solvers
        if key not in known:
            known[key] = is_open(offers, gate, key)
        return known[key]

    return holds


def _fresh_air(offers: Offers) -> Constraint:
    scope = offers.leak_mask | offers.fan_mask
    known: dict[int, bool] = {}

    def holds(bits: int) -> bool:
        key = bits & scope
        if key not in known:
            known[key] = not offers.tightens(key) or offers.ventilation(key).is_enough
        return known[key]

    burners = offers.touching("heating", "water_heater")
    about = offers.leak_mask & ~burners
    return Constraint(scope, holds, about, offers.of_kind("ventilation"), TOO_TIGHT)


def _flues(offers: Offers) -> Constraint:
    known: dict[int, bool] = {}

    def holds(bits: int) -> bool:
        key = bits & offers.flue_mask
        if key not in known:
            known[key] = not is_pulled_too_far(offers.pulls(0), offers.pulls(key))
        return known[key]

    burners = offers.touching("heating", "water_heater")
    about = (offers.leak_mask | offers.fan_mask) & ~burners
    return Constraint(offers.flue_mask, holds, about, burners, TOO_MUCH_PULL)


def cannot_be_built(offers: Offers, bits: int | None = None) -> dict[str, str]:
    """Return what the house cannot take at all, with the reason.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    bits : int or None
        Measures to try; all of them where None.

    Returns
    -------
    dict from str to str
        Reason by the measure's id.
    """
    reasons = {}
    for measure in offers.measures if bits is None else offers.chosen(bits):
        try:
            offers.house_of(offers.bit(measure))
        except (PlanError, OutOfRangeError) as refusal:
            reasons[measure.id] = f"{refusal}."
    return reasons


def never_allowed(
    offers: Offers, constraints: tuple[Constraint, ...], out: dict[str, str]
) -> dict[str, str]:
    """Return what no set can hold because some gate or need cannot be met.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    constraints : tuple of Constraint
        All of them.
    out : dict from str to str
        What is out already, with the reason.

    Returns
    -------
    dict from str to str
        Reasons by id, those given included: what needs something that is out, is out.
    """
    reasons = dict(out)
    while True:
        allowed = offers.bits(m.id for m in offers.measures if m.id not in reasons)
        found = {
            measure.id: constraint.reason
            for measure in offers.chosen(allowed)
            for constraint in reversed(constraints)
            if _is_hopeless(offers, measure, allowed, constraint)
        }
        if not found:
            return reasons
        reasons |= found


def _is_hopeless(offers: Offers, measure: Measure, allowed: int, constraint: Constraint) -> bool:
    """Return whether a measure breaks a constraint whatever else of its scope is done."""
    bit = offers.bit(measure)
    if not constraint.about & bit:
        return False
    helpers = constraint.helpers & allowed & ~bit
    return not any(constraint.holds(bit | subset) for subset in subsets(helpers))


def subsets(mask: int) -> Iterator[int]:
    """Return every subset of a set, the whole first.

    Parameters
    ----------
    mask : int
        The set.

    Yields
    ------
    int
        Each subset, the empty one last.
    """
    part = mask
    while True:
        yield part
        if part == 0:
            return
        part = (part - 1) & mask


def feasible_sets(
    offers: Offers, constraints: tuple[Constraint, ...], allowed: int, most: int
) -> tuple[int, ...]:
    """Return every set of allowed measures that obeys all constraints.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    constraints : tuple of Constraint
        All of them.
    allowed : int
        Measures that may be in a set.
    most : int
        More sets than this are refused.

    Returns
    -------
    tuple of int
        The empty set first.

    Raises
    ------
    PlanError
        If there are more than `most`.
    """
    order = [1 << k for k in range(len(offers.measures)) if allowed >> k & 1]
    due: list[list[Constraint]] = [[] for _ in order]
    for constraint in constraints:
        places = [k for k, bit in enumerate(order) if constraint.scope & bit]
        if places:
            due[places[-1]].append(constraint)
    sets = [0]
    for bit, asked in zip(order, due, strict=True):
        grown = [each | more for each in sets for more in (0, bit)]
        sets = [each for each in grown if all(c.holds(each) for c in asked)]
        if len(sets) > most:
            raise PlanError(
                f"the {len(order)} measures make more than {most} packages: put some aside, or "
                "merge those that are always done together"
            )
    return tuple(sorted(sets))
