"""Combustion safety tests: what one burner does to the air of the house."""

from rooftree.readings.combustion.judge import CAUTIONS, judge_predicted_pressure
from rooftree.readings.combustion.limits import CombustionLimit, combustion_limits
from rooftree.readings.combustion.outcome import Ending, Outcome, Step, StepResult
from rooftree.readings.combustion.readings import CombustionTest
from rooftree.readings.combustion.reduction import CombustionResult, reduce_combustion

__all__ = [
    "CAUTIONS",
    "CombustionLimit",
    "CombustionResult",
    "CombustionTest",
    "Ending",
    "Outcome",
    "Step",
    "StepResult",
    "combustion_limits",
    "judge_predicted_pressure",
    "reduce_combustion",
]
