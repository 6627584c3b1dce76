"""Duct runs: what arrives at the register, what is lost, what sweats, what comes first."""

from rooftree.readings.duct_heat.limits import DuctHeatLimit, duct_heat_limit, duct_heat_limits
from rooftree.readings.duct_heat.readings import (
    Cover,
    DuctHeatTest,
    DuctKind,
    DuctRunReading,
    Jacket,
)
from rooftree.readings.duct_heat.reduction import reduce_duct_heat
from rooftree.readings.duct_heat.results import CAUTIONS, DuctHeatResult, RunResult
from rooftree.readings.duct_heat.standing import Burst

__all__ = [
    "CAUTIONS",
    "Burst",
    "Cover",
    "DuctHeatLimit",
    "DuctHeatResult",
    "DuctHeatTest",
    "DuctKind",
    "DuctRunReading",
    "Jacket",
    "RunResult",
    "duct_heat_limit",
    "duct_heat_limits",
    "reduce_duct_heat",
]
