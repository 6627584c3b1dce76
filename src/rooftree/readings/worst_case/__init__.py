"""Worst case of an appliance zone: which fans and doors pull deepest on its flue."""

from rooftree.known import Answer
from rooftree.readings.worst_case.balance import Envelope, zone_pressure
from rooftree.readings.worst_case.nets import StateResult
from rooftree.readings.worst_case.prediction import Leakage, predict_state
from rooftree.readings.worst_case.readings import Hearth, WorstCaseTest, ZoneState
from rooftree.readings.worst_case.reduction import (
    CAUTIONS,
    WorstCaseResult,
    reduce_worst_case,
)
from rooftree.readings.worst_case.search import NextState, Stage, next_state
from rooftree.readings.worst_case.switches import Combination, combination_of

__all__ = [
    "CAUTIONS",
    "Answer",
    "Combination",
    "Envelope",
    "Hearth",
    "Leakage",
    "NextState",
    "Stage",
    "StateResult",
    "WorstCaseResult",
    "WorstCaseTest",
    "ZoneState",
    "combination_of",
    "next_state",
    "predict_state",
    "reduce_worst_case",
    "zone_pressure",
]
