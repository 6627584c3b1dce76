"""Carbon dioxide that people breathe out.

Sources
-------
[621] ASHRAE Standard 62.1, appendix (recalled): 0.31 L/min for a person at 1.2 met.
[PERSILY2017] A. Persily, L. de Jonge, "Carbon dioxide generation rates for building
    occupants", Indoor Air 27, 2017 (recalled): in proportion to the metabolic rate; body
    size, age and sex move it by about a fifth from person to person.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.readings.tracer_decay.readings import Activity
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

SEATED_RATE = 0.31e-3 / 60.0
"""Of one person at 1.2 met [m³/s], [621]."""

SEATED_METABOLISM = 1.2
"""Metabolic rate that goes with it [met]."""


@dataclass(frozen=True, slots=True)
class Generation:
    """What one person gives off.

    Attributes
    ----------
    rate : float
        Carbon dioxide [m³/s].
    uncertainty : float
        Standard uncertainty from person to person [0-1], relative.
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    """

    rate: float
    uncertainty: float
    source: str


@cache
def generation_rates() -> Mapping[Activity, Generation]:
    """Return what one person gives off, for each activity."""
    return MappingProxyType(
        {
            Activity(row["activity"]): Generation(
                SEATED_RATE * float(row["metabolic_rate"]) / SEATED_METABOLISM,
                float(row["relative_uncertainty"]),
                f"recalled: {row['source']}" if row["read"] == "memory" else row["source"],
            )
            for row in table_rows("rooftree.readings.tracer_decay", "generation.csv")
        }
    )
