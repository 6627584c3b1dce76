"""How far fans may pull on a flue: limits by kind of flue, all recalled.

A screen and never a verdict: newer editions judge by spillage and carbon monoxide.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rooftree.tables import load_table


@dataclass(frozen=True, slots=True)
class DepressurizationLimit:
    """One row of the table.

    Attributes
    ----------
    appliance : str
        To which it applies; ``"any"`` for all.
    draft : str
        How the smoke leaves.
    shares_flue : bool
        Whether another burner uses the same flue.
    value : float
        Zone below outdoors, baseline taken off [Pa], > 0.
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    """

    appliance: str
    draft: str
    shares_flue: bool
    value: float
    source: str


@cache
def depressurization_limits() -> tuple[DepressurizationLimit, ...]:
    """Return every limit of the table."""
    return tuple(
        DepressurizationLimit(
            appliance=row["appliance"],
            draft=row["draft"],
            shares_flue=row["shares_flue"] == "yes",
            value=float(row["limit_pa"]),
            source=f"recalled: {row['source']}" if row["read"] == "recalled" else row["source"],
        )
        for row in load_table("depressurization_limits")
    )


def depressurization_limit(
    appliance: str, draft: str, *, shares_flue: bool | None = None
) -> DepressurizationLimit | None:
    """Return the strictest limit that fits a burner.

    Parameters
    ----------
    appliance, draft : str
        Of the burner.
    shares_flue : bool or None
        Whether another burner uses its flue; None where that is not known.

    Returns
    -------
    DepressurizationLimit or None
        Of the same kind of flue where the appliance has no row of its own; None where
        the table says nothing about the draft.
    """
    of_draft = [
        limit
        for limit in depressurization_limits()
        if limit.draft == draft and shares_flue in (None, limit.shares_flue)
    ]
    named = [limit for limit in of_draft if limit.appliance == appliance] or of_draft
    return min(named, key=lambda limit: limit.value, default=None)
