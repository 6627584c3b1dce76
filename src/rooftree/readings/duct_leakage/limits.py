"""Limits of model codes on the leakage of new ducts, by edition."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Literal

from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

CFM = 0.471947e-3
"""One cubic foot a minute [m³/s]."""

CFM_PER_100_FT2 = CFM / 9.290304
"""One cfm for each 100 ft² of floor [m³/(s·m²)]."""

When = Literal["finished", "rough-in", "rough-in without air handler", "all inside", "altered"]
"""State of the work: new ducts at the end of work or before the finish, new ducts and air
handler wholly inside the insulated enclosure, or an existing system that was altered."""


@dataclass(frozen=True, slots=True)
class DuctLimit:
    """One row of the table.

    Attributes
    ----------
    edition : str
        Year of the model code, or name and year of another one.
    to_outdoors : bool
        Whether it limits leakage to outdoors; total leakage otherwise.
    when : str
        State of the work, one of `When`.
    per_floor_area : float or None
        Highest leakage at 25 Pa for each conditioned floor area [m³/(s·m²)].
    source : str
        Clause; begins with ``"recalled: "`` where the text was not read.
    recalled : bool
        Whether the value was recalled only.
    share : float or None
        Highest leakage at 25 Pa over the air handler's flow [0-1].
    flow : float or None
        Highest leakage at 25 Pa [m³/s].
    """

    edition: str
    to_outdoors: bool
    when: str
    per_floor_area: float | None
    source: str
    recalled: bool
    share: float | None = None
    flow: float | None = None


@cache
def duct_limits() -> tuple[DuctLimit, ...]:
    """Return every limit, oldest edition first."""
    return tuple(
        DuctLimit(
            edition=row["edition"],
            to_outdoors=row["leakage"] == "outdoors",
            when=row["when"],
            per_floor_area=_limit(row, "cfm/100 ft2", CFM_PER_100_FT2),
            share=_limit(row, "share of fan flow", 1.0),
            flow=_limit(row, "cfm", CFM),
            source=_source(row["source"], row["read"]),
            recalled=row["read"] == "memory",
        )
        for row in table_rows("rooftree.readings.duct_leakage", "limits.csv")
    )


def _limit(row: Mapping[str, str], unit: str, size: float) -> float | None:
    return float(row["limit"]) * size if row["unit"] == unit else None


def _source(clause: str, read: str) -> str:
    if read == "source":
        return clause
    return f"recalled: {clause}" if read == "memory" else f"{clause}, {read}"


def duct_limit(edition: str, *, to_outdoors: bool, when: When = "finished") -> DuctLimit | None:
    """Return the limit of one edition, or None where it has none of that kind.

    Parameters
    ----------
    edition : str
        Such as ``"2012"``.
    to_outdoors : bool
        Whether leakage to outdoors was tested; total leakage otherwise.
    when : {"finished", "rough-in", "rough-in without air handler", "all inside", "altered"}
        State of the work.

    Returns
    -------
    DuctLimit or None
    """
    wanted = (edition, to_outdoors, when)
    return next(
        (
            limit
            for limit in duct_limits()
            if (limit.edition, limit.to_outdoors, limit.when) == wanted
        ),
        None,
    )
