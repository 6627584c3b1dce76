"""What pressures of rooms and house are held against, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rooftree.tables.rows import table_rows


@dataclass(frozen=True, slots=True)
class PressureLimit:
    """One row of the table.

    Attributes
    ----------
    name : str
        What it limits.
    value : float
        [Pa], without sign.
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    """

    name: str
    value: float
    source: str


@cache
def pressure_limits() -> tuple[PressureLimit, ...]:
    """Return every limit of the table."""
    return tuple(
        PressureLimit(
            row["name"],
            float(row["value_pa"]),
            f"recalled: {row['source']}" if row["read"] == "memory" else row["source"],
        )
        for row in table_rows("rooftree.readings.room_pressures", "limits.csv")
    )


def pressure_limit(name: str) -> PressureLimit:
    """Return one limit.

    Parameters
    ----------
    name : str
        Of its row in ``limits.csv``.

    Returns
    -------
    PressureLimit
    """
    return next(limit for limit in pressure_limits() if limit.name == name)


def source_of_allowed(pressure: float) -> str:
    """Return the document that a chosen limit for closed rooms comes from.

    Parameters
    ----------
    pressure : float
        Allowed [Pa].

    Returns
    -------
    str
        ``"chosen for this job"`` where the table has no such limit.
    """
    rooms = (limit for limit in pressure_limits() if limit.name.startswith("closed room"))
    return next(
        (limit.source for limit in rooms if abs(limit.value - pressure) < 1e-6),
        "chosen for this job",
    )
