"""Limits of model codes on the leakage of new ducts, by edition."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

from rooftree.tables.rows import table_rows

CFM_PER_100_FT2 = 0.471947e-3 / 9.290304
"""One cfm for each 100 ft² of floor [m³/(s·m²)]."""

When = Literal["finished", "rough-in", "rough-in without air handler"]


@dataclass(frozen=True, slots=True)
class DuctLimit:
    """One row of the table.

    Attributes
    ----------
    edition : str
        Year of the model code.
    to_outdoors : bool
        Whether it limits leakage to outdoors; total leakage otherwise.
    when : str
        Finished work or rough-in.
    per_floor_area : float
        Highest leakage at 25 Pa for each conditioned floor area [m³/(s·m²)].
    source : str
        Clause; begins with ``"recalled: "`` where the text was not read.
    recalled : bool
        Whether the value was recalled only.
    """

    edition: str
    to_outdoors: bool
    when: str
    per_floor_area: float
    source: str
    recalled: bool


@cache
def duct_limits() -> tuple[DuctLimit, ...]:
    """Return every limit, oldest edition first."""
    return tuple(
        DuctLimit(
            edition=row["edition"],
            to_outdoors=row["leakage"] == "outdoors",
            when=row["when"],
            per_floor_area=float(row["cfm_per_100_ft2"]) * CFM_PER_100_FT2,
            source=_source(row["source"], row["read"]),
            recalled=row["read"] == "memory",
        )
        for row in table_rows("rooftree.readings.duct_leakage", "limits.csv")
    )


def _source(clause: str, read: str) -> str:
    return f"recalled: {clause}" if read == "memory" else f"{clause}, {read}"


def duct_limit(edition: str, *, to_outdoors: bool, when: When = "finished") -> DuctLimit | None:
    """Return the limit of one edition, or None where it has none of that kind.

    Parameters
    ----------
    edition : str
        Year of the model code, such as ``"2012"``.
    to_outdoors : bool
        Whether leakage to outdoors was tested; total leakage otherwise.
    when : {"finished", "rough-in", "rough-in without air handler"}
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
