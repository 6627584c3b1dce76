"""The walk through a combustion test: what to look at in which order, and where it ends.

Each step judges its own readings. The walk ends at the first step that demands a stop;
what the later steps say is still reported, for a reading that was taken is not hidden.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from rooftree.finding import Severity
from rooftree.readings.combustion.judge import (
    judge_ambient,
    judge_draft,
    judge_flue_gas,
    judge_gas,
    judge_spillage,
    judge_zone,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.finding import Finding
    from rooftree.readings.combustion.readings import CombustionTest


class Step(StrEnum):
    """Steps of the test, in the order of the procedure."""

    AMBIENT = "air of the room"
    GAS = "gas leak"
    ZONE = "worst-case pressure"
    SPILLAGE = "spillage"
    FLUE_GAS = "flue gas"
    DRAFT = "draft"


class Ending(StrEnum):
    """Where the walk can end, gravest first; each has a sentence."""

    LEAVE = "leave"
    SHUT_OFF = "shut off"
    REPAIR_FIRST = "repair first"
    INCOMPLETE = "incomplete"
    PASSED = "passed"


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
    Ending.INCOMPLETE: (
        "Nothing dangerous was read, but the test is not complete: take the missing reading"
        " before anything makes the house tighter."
    ),
    Ending.PASSED: (
        "This burner passed today. Repeat the test after each day of work that makes the house"
        " tighter or pulls more air out of it, and at the end."
    ),
}
"""What each ending says."""

JUDGES: dict[Step, Callable[[CombustionTest], tuple[Finding, ...]]] = {
    Step.AMBIENT: judge_ambient,
    Step.GAS: judge_gas,
    Step.ZONE: judge_zone,
    Step.SPILLAGE: judge_spillage,
    Step.FLUE_GAS: judge_flue_gas,
    Step.DRAFT: judge_draft,
}
"""The judge of each step."""

MISSING = frozenset({"combustion/flue-co-missing", "combustion/flue-diluted"})
"""Findings that leave the test incomplete."""


@dataclass(frozen=True, slots=True)
class StepResult:
    """One step with what it found.

    Attributes
    ----------
    step : Step
        Which one.
    findings : tuple of Finding
        Empty where it passed.
    """

    step: Step
    findings: tuple[Finding, ...]

    def demands(self, severity: Severity) -> bool:
        """Return whether a finding of this severity is among its findings."""
        return any(finding.severity is severity for finding in self.findings)


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
        One or two plain sentences.
    """

    ending: Ending
    at: Step | None
    says: str


def walk_steps(test: CombustionTest) -> tuple[StepResult, ...]:
    """Judge every step of a combustion test, in the order of the procedure.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of StepResult
        One for each step.
    """
    return tuple(StepResult(step, judge(test)) for step, judge in JUDGES.items())


def outcome_of(steps: tuple[StepResult, ...]) -> Outcome:
    """Return where the walk through some steps ends.

    Parameters
    ----------
    steps : tuple of StepResult
        In the order of the procedure.

    Returns
    -------
    Outcome
        Of the first step that demands a stop; otherwise of the first that demands a
        repair; otherwise of the first that lacks a reading; otherwise passed.
    """
    for step in steps:
        if step.demands(Severity.STOP):
            out = step.step in (Step.AMBIENT, Step.GAS)
            return _ended(Ending.LEAVE if out else Ending.SHUT_OFF, step.step)
    for step in steps:
        if step.demands(Severity.GATE):
            return _ended(Ending.REPAIR_FIRST, step.step)
    for step in steps:
        if any(finding.code in MISSING for finding in step.findings):
            return _ended(Ending.INCOMPLETE, step.step)
    return _ended(Ending.PASSED, None)


def _ended(ending: Ending, at: Step | None) -> Outcome:
    where = f" It ended at: {at.value}." if at else ""
    return Outcome(ending, at, SENTENCES[ending] + where)
