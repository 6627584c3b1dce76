"""Insulation as found: what depths, voids, framing and wind leave of its resistance."""

from rooftree.readings.insulation.readings import (
    Contact,
    DepthPoint,
    Grade,
    InsulationPatch,
    InsulationSurvey,
    Material,
    Method,
    Position,
    Spot,
)
from rooftree.readings.insulation.reduction import reduce_insulation
from rooftree.readings.insulation.results import (
    ByMethod,
    DefectCost,
    InsulationResult,
    PatchResult,
)

__all__ = [
    "ByMethod",
    "Contact",
    "DefectCost",
    "DepthPoint",
    "Grade",
    "InsulationPatch",
    "InsulationResult",
    "InsulationSurvey",
    "Material",
    "Method",
    "PatchResult",
    "Position",
    "Spot",
    "reduce_insulation",
]
