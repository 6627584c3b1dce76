"""What lies around the insulation: films, other layers, framing, air gaps.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 26, tables 1, 3 and 10; chapter 27.
[901] ANSI/ASHRAE/IES 90.1, A2.4: vented attics.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.insulation.materials import PACKAGE
from rooftree.readings.insulation.readings import Position
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from rooftree.readings.insulation.readings import InsulationPatch

WOOD, WOOD_DOUBT = 0.12, 0.006
"""Conductivity of softwood, 0.11 to 0.13, and its standard uncertainty [W/(m·K)] [HOF2021]_."""

WIDE_SPACING, WIDE_SHARE = 0.5, 0.22
"""From this spacing [m] a wall has this share of framing, as at 24 in [HOF2021]_."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the table says of a position.

    Attributes
    ----------
    films, other_layers : float
        Both films of air; boards, sheathing and cladding [m²·K/W].
    direction : str
        Of the heat in winter: ``"up"``, ``"level"`` or ``"down"``.
    framing_share : float
        Usual share of framing [0-1].
    framing_depth : float
        Usual depth of framing [m].
    source : str
        Of all of them.
    """

    films: float
    other_layers: float
    direction: str
    framing_share: float
    framing_depth: float
    source: str


@cache
def surroundings_of(position: Position) -> Surroundings:
    """Return what the table says of a position.

    Parameters
    ----------
    position : Position
        Where the insulation lies.

    Returns
    -------
    Surroundings
    """
    row = next(r for r in table_rows(PACKAGE, "positions.csv") if r["position"] == position)
    return Surroundings(
        films=float(row["warm_film"]) + float(row["cold_film"]),
        other_layers=float(row["other_layers"]),
        direction=row["direction"],
        framing_share=float(row["framing_share"]),
        framing_depth=float(row["framing_depth"]),
        source=row["source"],
    )


def gap_resistance(position: Position, thickness: float, *, reflective: bool) -> float:
    """Return the resistance of a closed, plane gap of air.

    Parameters
    ----------
    position : Position
        Where it lies, which says which way the heat flows in winter.
    thickness : float
        Of the gap [m], >= 0; beyond the table the value at its end holds, since it hardly
        changes there, and below the least thickness it falls in proportion.
    reflective : bool
        Whether clean foil faces it.

    Returns
    -------
    float
        Resistance [m²·K/W].

    Notes
    -----
    Straight lines between the thicknesses of [HOF2021]_, table 3.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 26, table 3.

    Examples
    --------
    >>> round(gap_resistance(Position.WALL, 0.020, reflective=False), 2)
    0.18
    """
    direction = surroundings_of(position).direction
    rows = [r for r in table_rows(PACKAGE, "air_spaces.csv") if r["direction"] == direction]
    column = "foil" if reflective else "plain"
    depths = [0.0, *(float(row["thickness"]) for row in rows)]
    return float(np.interp(thickness, depths, [0.0, *(float(row[column]) for row in rows)]))


def framing_share(position: Position, patch: InsulationPatch) -> tuple[float, float]:
    """Return the share of a patch that is wood.

    Parameters
    ----------
    position : Position
        Where it lies.
    patch : InsulationPatch
        With what was seen of its framing.

    Returns
    -------
    tuple of float
        The share and its standard uncertainty [0-1].

    Notes
    -----
    As seen; else in level framing the width over the spacing, in walls the usual share for
    the spacing, since plates and corners count as well [HOF2021]_; else the usual share. A
    field survey in Toronto found more wood than is assumed: a fifth is allowed either way,
    a tenth where it was seen.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 27.
    """
    usual = surroundings_of(position)
    if patch.framing_share is not None:
        return patch.framing_share, 0.1 * patch.framing_share
    share, spacing = usual.framing_share, patch.framing_spacing
    if spacing is not None and usual.direction == "level":
        share = WIDE_SHARE if spacing >= WIDE_SPACING and position is Position.WALL else share
    elif spacing is not None and patch.framing_width is not None:
        share = patch.framing_width / spacing
    return share, 0.2 * share
