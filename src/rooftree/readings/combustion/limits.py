"""Limits of combustion tests: what was read decides, what is recalled only adds caution."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rooftree.tables.rows import table_rows


@dataclass(frozen=True, slots=True)
class CombustionLimit:
    """One row of the table.

    Attributes
    ----------
    quantity : str
        ``"ambient-co"``, ``"flue-co"`` or ``"spillage"``.
    appliance, draft : str
        To which it applies; ``"any"`` for all.
    value : float
        The limit, in `unit` [ppm] or [s].
    unit : str
        Unit of `value`.
    demands : str
        What to do beyond it; ``"caution"`` for what decides nothing.
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    recalled : bool
        Whether the value was recalled only.
    """

    quantity: str
    appliance: str
    draft: str
    value: float
    unit: str
    demands: str
    source: str
    recalled: bool


@cache
def combustion_limits() -> tuple[CombustionLimit, ...]:
    """Return every limit of the table."""
    return tuple(
        CombustionLimit(
            quantity=row["quantity"],
            appliance=row["appliance"],
            draft=row["draft"],
            value=float(row["value"]),
            unit=row["unit"],
            demands=row["demands"],
            source=_source(row["source"], row["read"]),
            recalled=row["read"] == "memory",
        )
        for row in table_rows("rooftree.readings.combustion", "limits.csv")
    )


def _source(document: str, read: str) -> str:
    if read == "memory":
        return f"recalled: {document}"
    return document if read == "source" else f"{document}, {read}"


def combustion_limit(
    quantity: str, demands: str, *, appliance: str = "any", draft: str = "any"
) -> CombustionLimit | None:
    """Return the limit that was read for a quantity, the one for this appliance first.

    Parameters
    ----------
    quantity, demands : str
        As in the table.
    appliance, draft : str
        Of the burner.

    Returns
    -------
    CombustionLimit or None
        None where the table has only recalled limits, or none, for it.
    """
    fitting = [
        limit
        for limit in _fitting(quantity, appliance, draft)
        if limit.demands == demands and not limit.recalled
    ]
    return max(fitting, key=lambda limit: limit.appliance != "any", default=None)


def recalled_limits(quantity: str, *, appliance: str, draft: str) -> tuple[CombustionLimit, ...]:
    """Return the limits that are only recalled: they may add a caution to a sentence.

    Parameters
    ----------
    quantity : str
        As in the table.
    appliance, draft : str
        Of the burner.

    Returns
    -------
    tuple of CombustionLimit
        Lowest first.
    """
    found = [limit for limit in _fitting(quantity, appliance, draft) if limit.recalled]
    return tuple(sorted(found, key=lambda limit: limit.value))


def _fitting(quantity: str, appliance: str, draft: str) -> list[CombustionLimit]:
    return [
        limit
        for limit in combustion_limits()
        if limit.quantity == quantity
        and limit.appliance in ("any", appliance)
        and limit.draft in ("any", draft)
    ]
