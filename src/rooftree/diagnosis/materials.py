"""How easily mould grows on a layer, told from what the layer is called."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rooftree.physics.mould_index import Sensitivity
from rooftree.tables.rows import table_rows


@dataclass(frozen=True, slots=True)
class MaterialKind:
    """What mould and water do to a material.

    Attributes
    ----------
    sensitivity : Sensitivity
        Class of the mould model.
    decline : float
        Speed at which mould declines, against that on pine [0-1].
    is_wood : bool
        Whether it holds water as wood does.
    source : str
        Of the class.
    """

    sensitivity: Sensitivity
    decline: float
    is_wood: bool
    source: str


UNKNOWN = MaterialKind(
    Sensitivity.SENSITIVE, 1.0, False, "ours: an unknown material is taken as sensitive"
)
"""What a layer is taken for whose name tells nothing."""


def material_kind(name: str) -> MaterialKind:
    """Return what mould and water do to a layer of this name.

    Parameters
    ----------
    name : str
        As the layer is called: ``"fiberboard sheathing"``.

    Returns
    -------
    MaterialKind
        That of the longest word of the table found in the name; `UNKNOWN` without any.

    Examples
    --------
    >>> material_kind("gypsum board 1/2 in").sensitivity.value
    'sensitive'
    >>> material_kind("board subfloor").is_wood
    True
    """
    said = name.lower()
    found = [(len(word), kind) for word, kind in _words() if word in said]
    return max(found, key=lambda pair: pair[0])[1] if found else UNKNOWN


@cache
def _words() -> tuple[tuple[str, MaterialKind], ...]:
    rows = table_rows("rooftree.diagnosis", "material_words.csv")
    return tuple(
        (
            word,
            MaterialKind(
                Sensitivity(row["sensitivity"]),
                float(row["decline"]),
                row["is_wood"] == "yes",
                row["source"],
            ),
        )
        for row in rows
        for word in row["words"].split("|")
    )
