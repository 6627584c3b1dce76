"""The walk through a combustion test as a machine of states, each stop a sentence.

A state is a step of the procedure or an ending. Each step judges its own readings and gives
a verdict; the table of moves says where that verdict leads. What later steps say is still
reported, for a reading that was taken is not hidden.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from rooftree.finding import Severity
from rooftree.readings.combustion.judge import (
    judge_ambient,
    judge_gas,
    judge_left,
    judge_look,
)
from rooftree.readings.combustion.judge_flue import judge_flue_gas
from rooftree.readings.combustion.judge_vent import (
    judge_draft,
    judge_natural_spillage,
    judge_spillage,
    judge_zone,
)
from rooftree.readings.combustion.procedure import Step, asked_steps, procedure_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.finding import Finding
    from rooftree.readings.combustion.readings import CombustionTest


class Ending(StrEnum):
    """Where the walk can end, gravest first; each has a sentence."""

    LEAVE = "leave"
    SHUT_OFF = "shut off"
    REPAIR_FIRST = "repair first"
    CONFIRM = "confirm the limit"
    INCOMPLETE = "incomplete"
    PUT_BACK = "put back"
    PASSED = "passed"


class Verdict(StrEnum):
    """What one step says, gravest first."""

    STOPS = "stops"
    FAILS = "fails"
    FAILS_AS_RECALLED = "fails by a recalled limit"
    LACKS = "lacks a reading"
    NOT_PUT_BACK = "not put back"
    SCREENED = "screened only"
    PASSES = "passes"


SENTENCES = {
    Ending.LEAVE: (
        "Stop here: the air of the house is dangerous or gas escapes. Nobody stays inside, and"
        " nothing is switched, until those who are licensed for it have made it safe."
    ),
    Ending.SHUT_OFF: (
        "This burner stays off until a licensed technician has repaired or replaced it, and the"
        " test is repeated."
    ),
    Ending.REPAIR_FIRST: (
        "This burner may run as it did, but nothing may make the house tighter or pull more air"
        " out of it before the burner is repaired or replaced and the test is repeated."
    ),
    Ending.CONFIRM: (
        "No limit that we have read was exceeded, but one that we only recall was: look it up in"
        " your copy of the protocol, and take the burner as failed until you have."
    ),
    Ending.INCOMPLETE: (
        "Nothing dangerous was read, but the test is not complete: take the missing reading"
        " before anything makes the house tighter."
    ),
    Ending.PUT_BACK: (
        "This burner passed, but not everything is as it was found: put it back before you leave."
    ),
    Ending.PASSED: (
        "This burner passed today. Repeat the test after each day of work that makes the house"
        " tighter or pulls more air out of it, and at the end."
    ),
}
"""What each ending says."""

REASONS = {
    (Step.AMBIENT, Verdict.STOPS): "There is too much carbon monoxide in the air of the room.",
    (Step.AMBIENT, Verdict.FAILS): "Carbon monoxide in the room has a source not yet found.",
    (Step.GAS, Verdict.STOPS): "Gas escapes at this burner.",
    (Step.LOOK, Verdict.STOPS): "The flame or the burner looks dangerous.",
    (Step.SPILLAGE, Verdict.STOPS): "Flue gas went on spilling into the room in the worst case.",
    (Step.SPILLAGE, Verdict.FAILS): "Flue gas spilled for too long in the worst case.",
    (Step.SPILLAGE, Verdict.FAILS_AS_RECALLED): "Flue gas spilled for longer than we recall the"
    " protocol to allow.",
    (Step.SPILLAGE, Verdict.LACKS): "The time of spillage means nothing as it was taken.",
    (Step.NATURAL, Verdict.STOPS): "Flue gas went on spilling even with the fans off.",
    (Step.NATURAL, Verdict.FAILS): "Flue gas spilled for too long even with the fans off.",
    (Step.NATURAL, Verdict.FAILS_AS_RECALLED): "With the fans off, flue gas spilled for longer"
    " than we recall the protocol to allow.",
    (Step.FLUE_GAS, Verdict.STOPS): "The burner makes far too much carbon monoxide.",
    (Step.FLUE_GAS, Verdict.FAILS): "The burner makes too much carbon monoxide.",
    (Step.FLUE_GAS, Verdict.FAILS_AS_RECALLED): "The burner makes more carbon monoxide than we"
    " recall the protocol to allow.",
    (Step.FLUE_GAS, Verdict.LACKS): "Carbon monoxide in undiluted flue gas is not known.",
    (Step.DRAFT, Verdict.FAILS): "The flue does not draw.",
    (Step.AS_LEFT, Verdict.NOT_PUT_BACK): "Something is not as it was found.",
}
"""Why the walk ends, for every step and verdict that can end it."""

ENDINGS = {
    Verdict.STOPS: Ending.SHUT_OFF,
    Verdict.FAILS: Ending.REPAIR_FIRST,
    Verdict.FAILS_AS_RECALLED: Ending.CONFIRM,
    Verdict.LACKS: Ending.INCOMPLETE,
    Verdict.NOT_PUT_BACK: Ending.PUT_BACK,
}
"""Where a verdict leads at the latest; stops in the room's air lead out of the house."""

JUDGES: dict[Step, Callable[[CombustionTest], tuple[Finding, ...]]] = {
    Step.AMBIENT: judge_ambient,
    Step.GAS: judge_gas,
    Step.LOOK: judge_look,
    Step.ZONE: judge_zone,
    Step.SPILLAGE: judge_spillage,
    Step.NATURAL: judge_natural_spillage,
    Step.FLUE_GAS: judge_flue_gas,
    Step.DRAFT: judge_draft,
    Step.AS_LEFT: judge_left,
}
"""The judge of each step."""

MISSING = frozenset(
    {
        "combustion/flue-co-missing",
        "combustion/flue-diluted",
        "combustion/probe-after-dilution",
        "combustion/above-range",
    }
)
"""Findings that leave the test incomplete."""

WRONG_START = "combustion/timer-start"


@dataclass(frozen=True, slots=True)
class StepResult:
    """One step with what it found.

    Attributes
    ----------
    step : Step
        Which one.
    findings : tuple of Finding
        Empty where it passed.
    verdict : Verdict
        What it says.
    """

    step: Step
    findings: tuple[Finding, ...]
    verdict: Verdict = Verdict.PASSES


@dataclass(frozen=True, slots=True)
class Outcome:
    """Where the walk ended.

    Attributes
    ----------
    ending : Ending
        How it ended.
    at : Step or None
        The step at which it ended; None where all were passed.
    says : str
        Two or three plain sentences.
    path : tuple of Step
        The steps that were walked, in order; after a stop there are none.
    protocol : str
        Document and edition by which it was decided.
    """

    ending: Ending
    at: Step | None
    says: str
    path: tuple[Step, ...] = ()
    protocol: str = ""


def walk_steps(
    test: CombustionTest, *, zone_pressure: float | None = None
) -> tuple[StepResult, ...]:
    """Judge every step that the protocol asks of a burner, in its order.

    Parameters
    ----------
    test : CombustionTest
        Readings.
    zone_pressure : float or None
        Worst case that the search of the zone found, baseline taken off [Pa].

    Returns
    -------
    tuple of StepResult
        One for each step that makes sense for the burner.
    """
    results = []
    for step in asked_steps(test):
        judged = judge_zone(test, zone_pressure) if step is Step.ZONE else JUDGES[step](test)
        findings = _screened(judged) if step in procedure_of(test).screens else judged
        results.append(StepResult(step, findings, _verdict(test, step, findings)))
    return tuple(results)


def _screened(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return what a step says that neither passes nor fails a burner: notes only."""
    return tuple(replace(finding, severity=Severity.NOTE) for finding in findings)


def _verdict(test: CombustionTest, step: Step, findings: tuple[Finding, ...]) -> Verdict:
    severities = {finding.severity for finding in findings}
    if Severity.STOP in severities:
        return Verdict.STOPS
    if Severity.GATE in severities:
        return Verdict.NOT_PUT_BACK if step is Step.AS_LEFT else Verdict.FAILS
    codes = {finding.code for finding in findings}
    if any(code.endswith("-recalled") for code in codes):
        return Verdict.FAILS_AS_RECALLED
    if codes & MISSING or (WRONG_START in codes and test.timed_from.value.startswith("later")):
        return Verdict.LACKS
    return Verdict.SCREENED if step in procedure_of(test).screens else Verdict.PASSES


def next_state(step: StepResult, later: tuple[StepResult, ...]) -> Step | Ending:
    """Return where the walk goes from one step.

    Parameters
    ----------
    step : StepResult
        Where it stands.
    later : tuple of StepResult
        The steps after it.

    Returns
    -------
    Step or Ending
        An ending at once where the step stops the test; else the next step, and passed
        after the last. What failed on the way is remembered by :func:`outcome_of`.
    """
    if step.verdict is Verdict.STOPS:
        in_the_air = step.step in (Step.AMBIENT, Step.GAS)
        return Ending.LEAVE if in_the_air else Ending.SHUT_OFF
    return later[0].step if later else Ending.PASSED


def outcome_of(test: CombustionTest, steps: tuple[StepResult, ...]) -> Outcome:
    """Return where the walk through some steps ends.

    Parameters
    ----------
    test : CombustionTest
        Readings.
    steps : tuple of StepResult
        In the order of the procedure.

    Returns
    -------
    Outcome
        Of the first step that stops; otherwise of the gravest verdict on the way, the
        first step of them; otherwise passed.
    """
    path: list[Step] = []
    ending = Ending.PASSED
    for index, step in enumerate(steps):
        path.append(step.step)
        state = next_state(step, steps[index + 1 :])
        if isinstance(state, Ending):
            ending = state
            break
    walked = steps[: len(path)]
    if ending is not Ending.PASSED:
        return _ended(test, ending, walked[-1], path)
    verdicts = list(Verdict)
    gravest = min(walked, key=lambda step: verdicts.index(step.verdict), default=None)
    if gravest is None or gravest.verdict not in ENDINGS:
        return _ended(test, Ending.PASSED, None, path)
    return _ended(test, ENDINGS[gravest.verdict], gravest, path)


def _ended(
    test: CombustionTest, ending: Ending, step: StepResult | None, path: list[Step]
) -> Outcome:
    procedure = procedure_of(test)
    edition = f"{test.edition} (own copy)" if test.edition else procedure.edition
    says = SENTENCES[ending]
    if step is not None:
        says = f"{REASONS[step.step, step.verdict]} {says} It ended at: {step.step.value}."
    return Outcome(
        ending,
        step.step if step else None,
        says,
        tuple(path),
        f"{procedure.document}; edition: {edition}",
    )
