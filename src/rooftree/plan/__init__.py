"""Measures, packages, stages and money."""

from rooftree.plan.measures import KINDS, apply_measure, apply_measures
from rooftree.plan.model import (
    Comparison,
    Effect,
    Measure,
    PackageResult,
    Plan,
    PlanSettings,
    Stage,
    Step,
    Worth,
)
from rooftree.plan.money import likely_range
from rooftree.plan.planner import compare_measures, make_plan
from rooftree.plan.years import PlanCancelledError

__all__ = [
    "KINDS",
    "Comparison",
    "Effect",
    "Measure",
    "PackageResult",
    "Plan",
    "PlanCancelledError",
    "PlanSettings",
    "Stage",
    "Step",
    "Worth",
    "apply_measure",
    "apply_measures",
    "compare_measures",
    "likely_range",
    "make_plan",
]
