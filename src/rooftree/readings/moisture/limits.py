"""Limits and material properties of moisture readings, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rooftree.tables.rows import table_rows

PACKAGE = "rooftree.readings.moisture"


@dataclass(frozen=True, slots=True)
class MoistureLimit:
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
def moisture_limits() -> tuple[MoistureLimit, ...]:
    """Return every limit of the table."""
    return tuple(
        MoistureLimit(row["quantity"], row["rule"], float(row["value"]), row["unit"], row["source"])
        for row in table_rows(PACKAGE, "limits.csv")
    )


@cache
def moisture_limit(quantity: str, rule: str) -> MoistureLimit:
    """Return one limit.

    Parameters
    ----------
    quantity, rule : str
        As in the table.

    Returns
    -------
    MoistureLimit
    """
    return next(
        limit for limit in moisture_limits() if (limit.quantity, limit.rule) == (quantity, rule)
    )


@cache
def emissivities() -> dict[str, float]:
    """Return the emissivity [0-1] of each finish, near room temperature."""
    return {
        row["finish"]: float(row["emissivity"]) for row in table_rows(PACKAGE, "emissivity.csv")
    }


@cache
def sorption(wood: str) -> tuple[tuple[float, float], ...]:
    """Return the measured moisture content of a wood panel by relative humidity.

    Parameters
    ----------
    wood : str
        As in the table.

    Returns
    -------
    tuple of tuple of float
        Relative humidity [0-1] and moisture content [0-1], driest first; empty for solid
        wood.
    """
    return tuple(
        (float(row["relative_humidity"]), float(row["moisture_content"]))
        for row in table_rows(PACKAGE, "sorption.csv")
        if row["wood"] == wood
    )
