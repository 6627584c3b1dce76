"""Installation grades: how much of the insulation counts as missing."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from rooftree.physics.heat_paths import VoidLevel
from rooftree.readings.insulation.materials import PACKAGE
from rooftree.readings.insulation.readings import Grade
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from rooftree.readings.insulation.readings import InsulationPatch

SEEN_DOUBT = 0.3
"""Standard uncertainty of a share of voids that somebody estimated by eye [0-1]; ours."""


@dataclass(frozen=True, slots=True)
class GradeRow:
    """One grade.

    Attributes
    ----------
    grade : Grade
        Which.
    void_share, uncertainty : float
        Share of the insulated cavities taken as missing, and its standard uncertainty [0-1].
    level : VoidLevel
        For the correction of ISO 6946; our pairing.
    source : str
        Of the share.
    """

    grade: Grade
    void_share: float
    uncertainty: float
    level: VoidLevel
    source: str


@cache
def grade_table() -> dict[Grade, GradeRow]:
    """Return the table of grades.

    Returns
    -------
    dict of Grade to GradeRow
    """
    return {
        Grade(row["grade"]): GradeRow(
            Grade(row["grade"]),
            float(row["void_share"]),
            float(row["uncertainty"]),
            VoidLevel(int(row["level"])),
            row["source"],
        )
        for row in table_rows(PACKAGE, "grades.csv")
    }


def voids_of(patch: InsulationPatch) -> tuple[float, float]:
    """Return the share of voids of a patch.

    Parameters
    ----------
    patch : InsulationPatch
        With what was seen.

    Returns
    -------
    tuple of float
        The share and its standard uncertainty [0-1]: what was seen, or the grade's.
    """
    if patch.void_share is not None:
        return patch.void_share, SEEN_DOUBT * patch.void_share
    row = grade_table()[patch.grade]
    return row.void_share, row.uncertainty
