"""Limits of duct runs, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rooftree.tables.rows import table_rows


@dataclass(frozen=True, slots=True)
class DuctHeatLimit:
    """One row of the table.

    Attributes
    ----------
    quantity, rule : str
        What is limited, and by which rule.
    value : float
        The limit, in `unit` [as `unit` says].
    unit : str
        Unit of `value`.
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    """

    quantity: str
    rule: str
    value: float
    unit: str
    source: str


@cache
def duct_heat_limits() -> tuple[DuctHeatLimit, ...]:
    """Return every limit of the table."""
    return tuple(
        DuctHeatLimit(row["quantity"], row["rule"], float(row["value"]), row["unit"], row["source"])
        for row in table_rows("rooftree.readings.duct_heat", "limits.csv")
    )


@cache
def duct_heat_limit(quantity: str, rule: str) -> DuctHeatLimit:
    """Return one limit.

    Parameters
    ----------
    quantity, rule : str
        As in the table.

    Returns
    -------
    DuctHeatLimit
    """
    return next(
        limit for limit in duct_heat_limits() if (limit.quantity, limit.rule) == (quantity, rule)
    )
