"""Judge the observations themselves: what they call on, and what is missing in them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.survey.gates import gate_rules, gates_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.survey.gates import Observed


def judge_observations(observations: Iterable[Observed]) -> tuple[Finding, ...]:
    """Return the gates that the observations set, and doubts about their codes.

    Parameters
    ----------
    observations : iterable of Observed
        All observations, cleared ones too.

    Returns
    -------
    tuple of Finding
        Gates, gravest first, then observations whose code names no rule.
    """
    seen = tuple(observations)
    gates = tuple(gate.finding() for gate in gates_of(seen))
    return gates + tuple(_doubt(one) for one in seen if _names_no_rule(one))


def _names_no_rule(one: Observed) -> bool:
    unknown = bool(one.code) and one.code not in gate_rules()
    return unknown or (not one.code and one.severity is Severity.GATE)


def _doubt(one: Observed) -> Finding:
    named = f"calls on the rule {one.code!r}, which is not in the table" if one.code else ""
    return Finding(
        code="survey/no-rule",
        severity=Severity.NOTE,
        says=(
            f"The observation {named or 'is marked as a gate and calls on no rule'}, so it"
            " holds no named measure back: give it the code of the rule that fits."
        ),
        source="the table of gates",
        about=one.id,
    )
