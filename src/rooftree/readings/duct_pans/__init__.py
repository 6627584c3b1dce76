"""Pressure pans: which registers are on runs that leak to outdoors."""

from rooftree.readings.duct_pans.readings import DuctPanTest, DuctSide, PanReading
from rooftree.readings.duct_pans.reduction import (
    DuctPansResult,
    PanResult,
    reduce_duct_pans,
)
from rooftree.readings.duct_pans.standing import Standing

__all__ = [
    "DuctPanTest",
    "DuctPansResult",
    "DuctSide",
    "PanReading",
    "PanResult",
    "Standing",
    "reduce_duct_pans",
]
