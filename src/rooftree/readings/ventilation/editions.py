"""Editions of ASHRAE 62.2: rates and how each credits the air that leaks in."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

CFM = 0.471947e-3
"""One cubic foot a minute [m³/s]."""

SQUARE_FOOT = 0.09290304
"""One square foot [m²]."""


class Credit(StrEnum):
    """How an edition takes infiltration off the fan."""

    HALF_EXCESS = "half of the excess"
    FULL = "full"
    EXTERIOR = "exterior share"
    SUB_ADDITIVE = "sub-additive"


class Form(StrEnum):
    """The standard prints each constant twice, rounded; the two differ by about 1.5 %."""

    IP = "cfm and ft²"
    SI = "L/s and m²"


@dataclass(frozen=True, slots=True)
class Edition:
    """One edition of the standard.

    Attributes
    ----------
    year : str
        Of the edition.
    area_rate, person_rate : mapping from Form to float
        Rates for floor area [m³/(s·m²)] and for each person [m³/s].
    assumed_rate : float
        Infiltration that the rate already counts on [m³/(s·m²)].
    credit : Credit
        How infiltration is credited.
    new_dwelling_cap : float
        Largest credit in a new dwelling, as a share of the total rate [0-1].
    small_fan : float
        Fan flow below which none is needed [m³/s].
    source : str
        Document, and how it is known.
    recalled : bool
        Whether the whole row is recalled only.
    """

    year: str
    area_rate: Mapping[Form, float]
    person_rate: Mapping[Form, float]
    assumed_rate: float
    credit: Credit
    new_dwelling_cap: float
    small_fan: float
    source: str
    recalled: bool


@cache
def editions() -> Mapping[str, Edition]:
    """Return every edition by its year."""
    return MappingProxyType(
        {
            row["edition"]: _edition(row)
            for row in table_rows("rooftree.readings.ventilation", "editions.csv")
        }
    )


def _edition(row: Mapping[str, str]) -> Edition:
    recalled = row["read"] == "memory"
    by_area, by_person = float(row["area_cfm_per_ft2"]), float(row["person_cfm"])
    return Edition(
        year=row["edition"],
        area_rate={
            Form.IP: by_area * CFM / SQUARE_FOOT,
            Form.SI: float(row["area_ls_per_m2"]) / 1000.0,
        },
        person_rate={Form.IP: by_person * CFM, Form.SI: float(row["person_ls"]) / 1000.0},
        assumed_rate=float(row["assumed_cfm_per_ft2"]) * CFM / SQUARE_FOOT,
        credit=Credit(row["credit"]),
        new_dwelling_cap=float(row["new_dwelling_cap"]),
        small_fan=float(row["small_fan_cfm"]) * CFM,
        source=f"recalled: {row['source']}" if recalled else f"{row['source']}, {row['read']}",
        recalled=recalled,
    )


def edition_of(year: str) -> Edition:
    """Return one edition.

    Parameters
    ----------
    year : str
        ``"2010"``, ``"2013"``, ``"2016"``, ``"2019"`` or ``"2022"``.

    Returns
    -------
    Edition

    Raises
    ------
    OutOfRangeError
        If the table has no such edition.
    """
    found = editions().get(year)
    if found is None:
        years = sorted(float(known) for known in editions())
        asked = float(year) if year.isdigit() else 0.0
        raise OutOfRangeError("edition of 62.2", asked, years[0], years[-1], "(year in the table)")
    return found
