"""Limits that building codes set on the air leakage of dwellings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal, cast

from rooftree.tables import load_table

Role = Literal["limit", "alternative", "cap"]
Quantity = Literal["air_changes", "flow_per_envelope"]

CFM_PER_SQUARE_FOOT = 0.3048 / 60.0
"""One cubic foot per minute through each square foot [m³/(s·m²)]."""


@dataclass(frozen=True, slots=True)
class AirLeakageLimit:
    """One limit of one edition of one code.

    Attributes
    ----------
    code : str
        Code and edition, such as ``"IECC 2021"``.
    first_zone, last_zone : int
        Climate zones it holds for, both included.
    is_small_only : bool
        Whether it holds only for attached or small dwellings.
    role : {"limit", "alternative", "cap"}
        Must be met; may be met instead of the limit; or is one of those of which one holds
        on every path.
    quantity : {"air_changes", "flow_per_envelope"}
        What it limits at 50 Pa.
    limit : float
        Largest value: air changes [1/h], or flow per envelope area [m³/(s·m²)].
    is_strict : bool
        Whether the value itself already fails.
    clause, note, source : str
        Where it stands, what qualifies it, and where we saw it.
    is_recalled : bool
        Nobody has read it yet: it never decides alone.
    """

    code: str
    first_zone: int
    last_zone: int
    is_small_only: bool
    role: Role
    quantity: Quantity
    limit: float
    is_strict: bool
    clause: str
    note: str
    source: str
    is_recalled: bool


def air_leakage_limits(code: str, zone: int) -> tuple[AirLeakageLimit, ...]:
    """Return every limit that one edition sets in one climate zone.

    Parameters
    ----------
    code : str
        Code and edition, one of :func:`codes_with_limits`.
    zone : int
        Number of the climate zone [-], 0 to 8.

    Returns
    -------
    tuple of AirLeakageLimit
        In the order of the table; empty if the edition says nothing about the zone.

    Raises
    ------
    LookupError
        If the table has no such code; the message lists those it has.
    """
    known = codes_with_limits()
    if code not in known:
        raise LookupError(f"no air leakage limits for {code!r}; choose one of {', '.join(known)}")
    return tuple(
        limit
        for limit in _all_limits()
        if limit.code == code and limit.first_zone <= zone <= limit.last_zone
    )


def codes_with_limits() -> tuple[str, ...]:
    """Return the names of the codes and editions that the table holds."""
    return tuple(dict.fromkeys(limit.code for limit in _all_limits()))


@cache
def _all_limits() -> tuple[AirLeakageLimit, ...]:
    return tuple(
        AirLeakageLimit(
            code=row["code"],
            first_zone=int(row["first_zone"]),
            last_zone=int(row["last_zone"]),
            is_small_only=row["only"] == "small",
            role=cast("Role", row["role"]),
            quantity=cast("Quantity", row["quantity"]),
            limit=float(row["limit"]) * (1.0 if row["unit"] == "1/h" else CFM_PER_SQUARE_FOOT),
            is_strict=row["strict"] == "yes",
            clause=row["clause"],
            note=row["note"],
            source=row["source"],
            is_recalled=row["read"] == "recalled",
        )
        for row in load_table("air_leakage_limits")
    )
