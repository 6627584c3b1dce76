"""Places, observations and the gates they set."""

from rooftree.survey.gates import (
    Gate,
    Observed,
    Rule,
    blocked_kinds,
    forbidden_tests,
    gate_rules,
    gates_of,
    standing_gates,
)
from rooftree.survey.judge import judge_observations
from rooftree.survey.kinds import Kind, measure_kinds, named_kinds, retests_after

__all__ = [
    "Gate",
    "Kind",
    "Observed",
    "Rule",
    "blocked_kinds",
    "forbidden_tests",
    "gate_rules",
    "gates_of",
    "judge_observations",
    "measure_kinds",
    "named_kinds",
    "retests_after",
    "standing_gates",
]
