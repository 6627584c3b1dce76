"""House parameters against tests and bills."""

from __future__ import annotations

from rooftree.fit.ducts import duct_leakage
from rooftree.fit.measured import MeasuredCurve, Read
from rooftree.fit.network import FittedNetwork, FittedReading, FittedUnknown, fit_network
from rooftree.fit.next_reading import ReadingWorth

__all__ = [
    "FittedNetwork", "FittedReading", "FittedUnknown", "MeasuredCurve", "Read", "ReadingWorth",
    "duct_leakage", "fit_network",
]  # fmt: skip
