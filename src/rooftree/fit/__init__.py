"""House parameters against tests and bills."""

from __future__ import annotations

from rooftree.fit.ducts import duct_leakage, fit_duct_leakage
from rooftree.fit.leakage import FittedLeaks, fit_leaks

__all__ = ["FittedLeaks", "duct_leakage", "fit_duct_leakage", "fit_leaks"]
