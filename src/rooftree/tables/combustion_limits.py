"""Limits of combustion tests: what was read decides, what is recalled only adds caution."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rooftree.tables import load_table


@dataclass(frozen=True, slots=True)
class CombustionLimit:
    """One row of the table.

    Attributes
    ----------
    protocol : str
        Whose limit it is; ``"any"`` for what holds whatever protocol is chosen.
    quantity : str
        ``"ambient-co"``, ``"flue-co"`` or ``"spillage"``.
    appliance, draft, vent : str
        To which it applies; ``"any"`` for all. `vent` is ``"warm"`` or ``"cold"`` at
        fire-up.
    basis : str
        ``"as measured"``, ``"air-free"``, ``"larger"`` of both, or ``"time"``.
    value : float
        The limit, in `unit` [ppm] or [s].
    unit : str
        Unit of `value`.
    demands : str
        What to do beyond it; ``"caution"`` for what decides nothing, ``"fail"`` for what
        the protocol decides by, where the value was recalled only.
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    recalled : bool
        Whether the value was recalled only.
    """

    protocol: str
    quantity: str
    appliance: str
    draft: str
    vent: str
    basis: str
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
            protocol=row["protocol"],
            quantity=row["quantity"],
            appliance=row["appliance"],
            draft=row["draft"],
            vent=row["vent"],
            basis=row["basis"],
            value=float(row["value"]),
            unit=row["unit"],
            demands=row["demands"],
            source=_source(row["source"], row["read"], row["quoted"]),
            recalled=row["read"] == "recalled",
        )
        for row in load_table("combustion_limits")
    )


def _source(document: str, read: str, quoted: str) -> str:
    if read == "recalled":
        return f"recalled: {document}"
    return document if read == "source" else f"{document}, {quoted}"


def combustion_limit(
    quantity: str,
    demands: str,
    *,
    protocol: str = "any",
    appliance: str = "any",
    draft: str = "any",
    vent: str = "any",
) -> CombustionLimit | None:
    """Return the limit that was read for a quantity, the one for this appliance first.

    Parameters
    ----------
    quantity, demands : str
        As in the table.
    protocol : str
        Whose limits are asked for, beside those that hold for any.
    appliance, draft, vent : str
        Of the burner.

    Returns
    -------
    CombustionLimit or None
        None where the table has only recalled limits, or none, for it.
    """
    fitting = [
        limit
        for limit in _fitting(quantity, protocol, appliance, draft, vent)
        if limit.demands == demands and not limit.recalled
    ]
    return max(fitting, key=lambda limit: limit.appliance != "any", default=None)


def recalled_limits(
    quantity: str,
    *,
    protocol: str = "any",
    appliance: str = "any",
    draft: str = "any",
    vent: str = "any",
) -> tuple[CombustionLimit, ...]:
    """Return the limits that are only recalled: they may add a caution to a sentence.

    Parameters
    ----------
    quantity : str
        As in the table.
    protocol : str
        Whose limits are asked for, beside those that hold for any.
    appliance, draft, vent : str
        Of the burner.

    Returns
    -------
    tuple of CombustionLimit
        Lowest first.
    """
    found = [
        limit for limit in _fitting(quantity, protocol, appliance, draft, vent) if limit.recalled
    ]
    return tuple(sorted(found, key=lambda limit: limit.value))


def _fitting(
    quantity: str, protocol: str, appliance: str, draft: str, vent: str
) -> list[CombustionLimit]:
    return [
        limit
        for limit in combustion_limits()
        if limit.quantity == quantity
        and limit.protocol in ("any", protocol)
        and limit.appliance in ("any", appliance)
        and limit.draft in ("any", draft)
        and limit.vent in ("any", vent)
    ]
