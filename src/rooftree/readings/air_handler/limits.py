"""What the readings of an air handler are held against, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

CFM = 4.719474e-4
"""One cubic foot a minute [m³/s]."""

TON = 3516.853
"""One ton of refrigeration [W]."""

WATER_INCH = 249.089
"""One inch of water [Pa]."""

_UNITS: Mapping[str, float] = {
    "cfm/ton": CFM / TON,
    "W/cfm": 1.0 / CFM,
    "in. w.c.": WATER_INCH,
    "-": 1.0,
}


@dataclass(frozen=True, slots=True)
class Limit:
    """One row of the table.

    Attributes
    ----------
    value : float
        In SI [any].
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    recalled : bool
        Whether the value was recalled only.
    """

    value: float
    source: str
    recalled: bool


@cache
def _limits() -> Mapping[str, Limit]:
    return {
        row["name"]: Limit(
            value=float(row["value"]) * _UNITS[row["unit"]],
            source=f"recalled: {row['source']}" if row["read"] == "memory" else row["source"],
            recalled=row["read"] == "memory",
        )
        for row in table_rows("rooftree.readings.air_handler", "limits.csv")
    }


def limit(name: str) -> Limit:
    """Return one limit.

    Parameters
    ----------
    name : str
        Of its row in ``limits.csv``.

    Returns
    -------
    Limit
    """
    return _limits()[name]
