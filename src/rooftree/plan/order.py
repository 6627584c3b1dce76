"""Order of work: which stage each measure belongs to, and what comes first within it.

Rules are rows of ``order.csv``; gates, fresh air and flues pull a remedy forward into the
stage that would otherwise be unsafe to stop after.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.finding import Severity
from rooftree.plan.combustion import is_pulled_too_far
from rooftree.plan.feasible import is_open
from rooftree.plan.measures import kind_of
from rooftree.plan.places import condition_holds
from rooftree.plan.rules import Order, openings, order_rules

if TYPE_CHECKING:
    from rooftree.plan.model import Measure
    from rooftree.plan.offers import Offers
    from rooftree.survey import Gate

FIRST_STAGE = 1
"""Stage in which people are made safe."""


TIGHTER = "The work of this stage makes the house tighter, and fresh air must not wait."
STALE = "The house has too little fresh air as it is, so it is not left for later."


@dataclass(slots=True)
class Placing:
    """Where each measure of one package goes, while it is being worked out.

    Attributes
    ----------
    stage : dict from str to int
        Stage by the measure's id.
    reasons : dict from str to list of str
        Why a measure was pulled forward.
    """

    stage: dict[str, int]
    reasons: dict[str, list[str]]

    def pull(self, measure: Measure, stage: int, reason: str) -> bool:
        """Move a measure forward to a stage; return whether that changed anything."""
        if self.stage[measure.id] <= stage:
            return False
        self.stage[measure.id] = stage
        if reason not in self.reasons[measure.id]:
            self.reasons[measure.id].append(reason)
        return True


def applying_rules(offers: Offers, bits: int) -> tuple[Order, ...]:
    """Return the rules of order that concern two measures of a package.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    bits : int
        The package.

    Returns
    -------
    tuple of Order
        In the order of the table.
    """
    kinds = {measure.kind for measure in offers.chosen(bits)}
    return tuple(
        rule
        for rule in order_rules()
        if {rule.first, rule.then} <= kinds and condition_holds(rule.where, offers.house)
    )


def place_measures(offers: Offers, bits: int, gates: tuple[Gate, ...]) -> Placing:
    """Return the stage of each measure of a package.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    bits : int
        The package.
    gates : tuple of Gate
        All that stand.

    Returns
    -------
    Placing

    Notes
    -----
    Each measure starts in the stage of its kind and is only ever pulled forward: what
    must come first, what opens a gate, the fan that replaces the leaks, the burner that
    cannot bear the pull. That ends, for there are finitely many stages.
    """
    measures = offers.chosen(bits)
    placing = Placing({m.id: kind_of(m).stage for m in measures}, {m.id: [] for m in measures})
    _pull_hazards(offers, bits, gates, placing)
    while (
        _pull_by_rules(offers, bits, placing)
        or _pull_openers(offers, bits, gates, placing)
        or _pull_fans(offers, bits, placing)
        or _pull_burners(offers, bits, placing)
    ):
        pass
    return placing


def done_by(offers: Offers, bits: int, placing: Placing, stage: int) -> int:
    """Return the measures of a package that are done once a stage is.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    bits : int
        The package.
    placing : Placing
        Where each measure goes.
    stage : int
        Number of the stage.

    Returns
    -------
    int
        The set.
    """
    return sum(offers.bit(m) for m in offers.chosen(bits) if placing.stage[m.id] <= stage)


def _pull_hazards(offers: Offers, bits: int, gates: tuple[Gate, ...], placing: Placing) -> None:
    for gate in gates:
        if gate.severity is Severity.STOP:
            opening = openings().get(gate.code)
            reason = opening.reason if opening else gate.rule.why
            for measure in openers(offers, bits, gate):
                placing.pull(measure, FIRST_STAGE, f"{gate.rule.title}: {_lower(reason)}")


def openers(offers: Offers, bits: int, gate: Gate) -> tuple[Measure, ...]:
    """Return the fewest measures of a package that open a gate.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    bits : int
        The package.
    gate : Gate
        One that stands.

    Returns
    -------
    tuple of Measure
        The first in the order of work that does it alone, else all that help.
    """
    solvers = offers.chosen(bits & offers.of_kind(*gate.solved_by))
    for measure in solvers:
        if is_open(offers, gate, offers.bit(measure)):
            return (measure,)
    return solvers


def _pull_by_rules(offers: Offers, bits: int, placing: Placing) -> bool:
    return any(
        placing.pull(first, placing.stage[then.id], rule.reason)
        for rule in applying_rules(offers, bits)
        if rule.must
        for first in offers.chosen(bits & offers.of_kind(rule.first))
        for then in offers.chosen(bits & offers.of_kind(rule.then))
    )


def _pull_openers(offers: Offers, bits: int, gates: tuple[Gate, ...], placing: Placing) -> bool:
    for gate in gates:
        for blocked in offers.chosen(bits & offers.of_kind(*gate.blocks)):
            stage = placing.stage[blocked.id]
            if is_open(offers, gate, done_by(offers, bits, placing, stage)):
                continue
            reason = f"It opens the way for “{blocked.title}”: {_lower(gate.rule.why)}"
            if any(placing.pull(m, stage, reason) for m in openers(offers, bits, gate)):
                return True
    return False


def _pull_fans(offers: Offers, bits: int, placing: Placing) -> bool:
    fans = [
        fan
        for kind in ("ventilation", "local-exhaust")
        for fan in offers.chosen(bits & offers.of_kind(kind))
    ]
    for stage in sorted(set(placing.stage.values())):
        done = done_by(offers, bits, placing, stage)
        if offers.ventilation(done, whole=bits).is_enough:
            continue
        reason = TIGHTER if offers.tightens(done) else STALE
        if any(placing.pull(fan, stage, reason) for fan in fans):
            return True
    return False


def _pull_burners(offers: Offers, bits: int, placing: Placing) -> bool:
    burners = offers.chosen(bits & offers.touching("heating", "water_heater"))
    found = offers.pulls(0)
    for stage in sorted(set(placing.stage.values())):
        done = done_by(offers, bits, placing, stage)
        if not is_pulled_too_far(found, offers.pulls(done, whole=bits)):
            continue
        reason = "The work of this stage would pull on its flue beyond what it bears."
        later = [m for m in burners if placing.stage[m.id] > stage]
        for measure in (m for m in later if _helps(offers, bits, done, m)):
            return placing.pull(measure, stage, reason)
        if any(placing.pull(m, stage, reason) for m in later):
            return True
    return False


def _helps(offers: Offers, bits: int, done: int, measure: Measure) -> bool:
    with_it = offers.pulls(done | offers.bit(measure), whole=bits)
    return not is_pulled_too_far(offers.pulls(0), with_it)


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def sequence(
    offers: Offers, bits: int, placing: Placing, gates: tuple[Gate, ...]
) -> tuple[Measure, ...]:
    """Return the measures of a package in the order in which they are done.

    Parameters
    ----------
    offers : Offers
        What is on offer.
    bits : int
        The package.
    placing : Placing
        Stage of each.
    gates : tuple of Gate
        All that stand.

    Returns
    -------
    tuple of Measure
        By stage; within a stage by the rules, then by the order of work.

    Notes
    -----
    The next measure is the first, in the order of work, that waits for none that is
    left. Where rules of safety go against rules that only should hold, the latter give
    way.
    """
    ordered: list[Measure] = []
    for stage in sorted(set(placing.stage.values())):
        left = [m for m in offers.chosen(bits) if placing.stage[m.id] == stage]
        must, should = _edges(offers, bits, gates)
        while left:
            ready = [m for m in left if not _waits(m, left, must | should)]
            ready = ready or [m for m in left if not _waits(m, left, must)] or left
            ordered.append(ready[0])
            left.remove(ready[0])
    return tuple(ordered)


def _waits(measure: Measure, left: list[Measure], edges: set[tuple[str, str]]) -> bool:
    return any((other.id, measure.id) in edges for other in left)


def _edges(
    offers: Offers, bits: int, gates: tuple[Gate, ...]
) -> tuple[set[tuple[str, str]], set[tuple[str, str]]]:
    """Return which measure comes before which: what must be so, and what should."""
    must: set[tuple[str, str]] = set()
    should: set[tuple[str, str]] = set()
    for rule in applying_rules(offers, bits):
        for first in offers.chosen(bits & offers.of_kind(rule.first)):
            for then in offers.chosen(bits & offers.of_kind(rule.then)):
                (must if rule.must else should).add((first.id, then.id))
    for gate in gates:
        for blocked in offers.chosen(bits & offers.of_kind(*gate.blocks)):
            for opener in openers(offers, bits, gate):
                if opener.id != blocked.id:
                    must.add((opener.id, blocked.id))
    return must, should
