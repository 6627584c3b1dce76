"""Combustion safety tests: what one burner does to the air of the house."""

from rooftree.known import Answer
from rooftree.readings.combustion.judge import CAUTIONS, judge_predicted_pressure
from rooftree.readings.combustion.outcome import Ending, Outcome, StepResult, Verdict
from rooftree.readings.combustion.procedure import PROCEDURES, Procedure, Step
from rooftree.readings.combustion.readings import (
    BurnerFuel,
    CombustionTest,
    FlameLook,
    FlueSample,
    ProbePlace,
    Protocol,
    SpillageCheck,
    TimerStart,
    VentCategory,
    VentState,
)
from rooftree.readings.combustion.reduction import CombustionResult, reduce_combustion
from rooftree.tables.combustion_limits import CombustionLimit, combustion_limits

__all__ = [
    "CAUTIONS",
    "PROCEDURES",
    "Answer",
    "BurnerFuel",
    "CombustionLimit",
    "CombustionResult",
    "CombustionTest",
    "Ending",
    "FlameLook",
    "FlueSample",
    "Outcome",
    "ProbePlace",
    "Procedure",
    "Protocol",
    "SpillageCheck",
    "Step",
    "StepResult",
    "TimerStart",
    "VentCategory",
    "VentState",
    "Verdict",
    "combustion_limits",
    "judge_predicted_pressure",
    "reduce_combustion",
]
