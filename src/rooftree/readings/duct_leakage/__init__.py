"""Duct leakage by duct pressurization."""

from rooftree.readings.duct_leakage.limits import DuctLimit, duct_limit, duct_limits
from rooftree.readings.duct_leakage.readings import (
    DuctFanBand,
    DuctFanReading,
    DuctLeakageTest,
)
from rooftree.readings.duct_leakage.reduction import (
    DuctLeakageResult,
    compare_duct_tests,
    reduce_duct_leakage,
)

__all__ = [
    "DuctFanBand",
    "DuctFanReading",
    "DuctLeakageResult",
    "DuctLeakageTest",
    "DuctLimit",
    "compare_duct_tests",
    "duct_limit",
    "duct_limits",
    "reduce_duct_leakage",
]
