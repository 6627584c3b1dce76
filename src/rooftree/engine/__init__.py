"""The engine: a house through a year of weather, air, heat and moisture together."""

from __future__ import annotations

from rooftree.engine.results import Hourly, YearResult
from rooftree.engine.simulation import simulate, simulate_many

__all__ = ["Hourly", "YearResult", "simulate", "simulate_many"]
