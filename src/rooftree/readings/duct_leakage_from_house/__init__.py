"""Duct leakage to outdoors from fan tests of the house: by subtraction, and by the air handler."""

from rooftree.readings.duct_leakage_from_house.readings import (
    DeltaQTest,
    DuctSubtractionTest,
    HouseFlow,
)
from rooftree.readings.duct_leakage_from_house.running import DeltaQResult, reduce_delta_q
from rooftree.readings.duct_leakage_from_house.subtraction import (
    DuctSubtractionResult,
    reduce_duct_subtraction,
)

__all__ = [
    "DeltaQResult",
    "DeltaQTest",
    "DuctSubtractionResult",
    "DuctSubtractionTest",
    "HouseFlow",
    "reduce_delta_q",
    "reduce_duct_subtraction",
]
