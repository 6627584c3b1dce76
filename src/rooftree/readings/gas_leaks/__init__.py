"""Gas leaks: where, found how, told to whom, repaired and tested."""

from rooftree.known import Answer
from rooftree.readings.gas_leaks.readings import FoundBy, Gas, GasLeak, GasLeakTest
from rooftree.readings.gas_leaks.reduction import (
    CAUTIONS,
    EXPLOSIVE,
    GasLeakResult,
    reduce_gas_leaks,
)

__all__ = [
    "CAUTIONS",
    "EXPLOSIVE",
    "Answer",
    "FoundBy",
    "Gas",
    "GasLeak",
    "GasLeakResult",
    "GasLeakTest",
    "reduce_gas_leaks",
]
