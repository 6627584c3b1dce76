"""The plan in words: steps, stages, and why it is safe to stop after each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.finding import Severity
from rooftree.papers.report.words import (
    capitalised,
    dollars,
    first_sentence,
    likely_saving_words,
    money_range,
)
from rooftree.plan.combustion import CAUTION
from rooftree.plan.money import likely_range

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.finding import Finding
    from rooftree.plan.model import Effect, Plan, Stage, Step

NOT_CERTIFIED = (
    "This report certifies nothing that a licensed trade or a building official must certify. It "
    "does not replace an inspection of structure, wiring, chimney, radon, asbestos or lead. "
    "Savings are estimates for typical weather; what people do and real weather move them."
)
"""Limits of the report."""

_FOR_THE_ANNEX = ("plan/moisture", "plan/comfort-heating", "plan/comfort-cooling")
"""Notes of a check that the plan leaves to the annex."""

_ABOUT_THE_PLAN = ("plan/budget-short", "plan/not-met", "plan/interaction")


def step_rows(steps: Iterable[Step], *, calibrated: bool, start: int = 1) -> list[dict[str, Any]]:
    """Return steps in words.

    Parameters
    ----------
    steps : iterable of Step
        In order.
    calibrated : bool
        Whether the house was fitted to its bills.
    start : int
        Number of the first.

    Returns
    -------
    list of dict
        With number, title, why, short, cost, trade, basis, alone and in_place.
    """
    rows = []
    for number, step in enumerate(steps, start=start):
        measure = step.measure
        rows.append(
            {
                "number": number,
                "title": measure.title,
                "why": step.why_here,
                "short": first_sentence(step.why_here),
                "cost": money_range(measure.cost_low, measure.cost_high),
                "trade": measure.trade,
                "basis": measure.cost_basis,
                "alone": likely_saving_words(*likely_range(step.alone, calibrated)),
                "in_place": likely_saving_words(*likely_range(step.in_place, calibrated)),
            }
        )
    return rows


def stage_rows(plan: Plan, *, calibrated: bool) -> list[dict[str, Any]]:
    """Return the stages with their steps and the checks that a reader needs.

    Parameters
    ----------
    plan : Plan
        Staged.
    calibrated : bool
        Whether the house was fitted to its bills.

    Returns
    -------
    list of dict
        With number, name, cost, steps, is_safe, checks, and the number of the stage whose
        other checks still hold word for word (0 for none).
    """
    rows: list[dict[str, Any]] = []
    done, said = 0, set[str]()
    for number, stage in enumerate(plan.stages, start=1):
        checks = [c for c in stage.checks if c not in kept_for_annex(stage)]
        new = [c for c in checks if c.severity is not Severity.NOTE or c.says not in said]
        rows.append(
            {
                "number": number,
                "name": stage.name,
                "cost": money_range(stage.cost_low, stage.cost_high),
                "steps": step_rows(stage.steps, calibrated=calibrated, start=done + 1),
                "is_safe": _is_safe(stage),
                "checks": _said_once(check_rows(new)),
                "same_as": number - 1 if len(new) < len(checks) else 0,
            }
        )
        said = {check.says for check in checks}
        done += len(stage.steps)
    return rows


def kept_for_annex(stage: Stage) -> list[Finding]:
    """Return the checks that the plan leaves to the annex: notes on damp air and comfort.

    Parameters
    ----------
    stage : Stage
        Any.

    Returns
    -------
    list of Finding
    """
    return [check for check in stage.checks if check.code in _FOR_THE_ANNEX]


def _said_once(rows: list[dict[str, str]]) -> list[dict[str, str]]:
    """Return checks with the caution about burners at the last of those that carry it."""
    carrying = [row for row in rows if row["says"].endswith(CAUTION)]
    for row in carrying[:-1]:
        row["says"] = row["says"].removesuffix(CAUTION).rstrip()
    return rows


def _is_safe(stage: Stage) -> bool:
    return all(check.severity is Severity.NOTE for check in stage.checks)


def check_rows(checks: Iterable[Finding]) -> list[dict[str, str]]:
    """Return checks in words, gravest first.

    Parameters
    ----------
    checks : iterable of Finding
        Of one stage.

    Returns
    -------
    list of dict
        With severity, says and source.
    """
    order = [Severity.STOP, Severity.GATE, Severity.NOTE]
    return [
        {
            "severity": check.severity.value,
            "says": check.says,
            "source": capitalised(check.source),
        }
        for check in sorted(checks, key=lambda check: order.index(check.severity))
    ]


def about_plan(plan: Plan) -> list[str]:
    """Return what is to be said about the plan as a whole.

    Parameters
    ----------
    plan : Plan
        Any.

    Returns
    -------
    list of str
        Sentences.
    """
    sentences = [f.says for f in plan.findings if f.code in _ABOUT_THE_PLAN]
    if len(plan.packages) > 1:
        sentences.append(
            f"{len(plan.packages):,} sets of measures that can safely stand together were each "
            "computed through a whole year; this one does best."
        )
    return sentences


def anyway_sentence(plan: Plan) -> str:
    """Return how much of the cost is due in any case; empty where none is.

    Parameters
    ----------
    plan : Plan
        Any.

    Returns
    -------
    str
    """
    due = sum(step.measure.anyway_cost for step in plan.steps)
    if due <= 0.0:
        return ""
    return (
        f"About {dollars(due)} of this is due in any case, for equipment near the end of its life."
    )


def likely_whole(plan: Plan, calibrated: bool) -> tuple[Effect, Effect]:
    """Return the range in which the effect of the whole plan will likely come true.

    Parameters
    ----------
    plan : Plan
        Any.
    calibrated : bool
        Whether the house was fitted to its bills.

    Returns
    -------
    tuple of Effect
        Least and most money saved; the least and the most effective outcome of uncertain
        measures are in it.
    """
    outcomes = [e for e in (plan.whole, plan.whole_low, plan.whole_high) if e is not None]
    ends = [end for effect in outcomes for end in likely_range(effect, calibrated)]
    return (
        min(ends, key=lambda effect: effect.money_saved),
        max(ends, key=lambda effect: effect.money_saved),
    )
