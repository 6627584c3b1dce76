"""Batts squeezed into less depth than they are made for.

Sources
-------
[JLC] Journal of Light Construction, questions on compressing fiberglass batts: table of
    resistances in common cavities, and the rule that x % of compression costs x/2 % (quoted).
"""

from __future__ import annotations

import math
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.readings.insulation.materials import PACKAGE
from rooftree.tables.rows import table_rows
from rooftree.units import Kind, parse

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

R = parse("R-1", Kind.THERMAL_RESISTANCE)
INCH = 0.0254

TABLE_DOUBT = 1.0 * R / math.sqrt(3.0)
"""Standard uncertainty of the table [m²·K/W]: charts differ by R-1 either way."""

ALIKE = 0.10
"""How far label and thickness may be from a row of the table to be that batt [0-1]."""


@cache
def _curves() -> tuple[tuple[float, float, tuple[float, ...], tuple[float, ...]], ...]:
    """Return label resistance, label depth, depths and resistances of each charted batt."""
    found: dict[tuple[float, float], list[tuple[float, float]]] = {}
    for row in table_rows(PACKAGE, "batts.csv"):
        key = (float(row["label_r"]) * R, float(row["label_in"]) * INCH)
        found.setdefault(key, []).append((float(row["depth_in"]) * INCH, float(row["r"]) * R))
    curves = []
    for (label, depth), points in found.items():
        depths, resistances = zip(*sorted(points), strict=True)
        curves.append((label, depth, depths, resistances))
    return tuple(curves)


def compressed_resistance(
    label_resistance: float, label_depth: float, depth: ArrayLike
) -> NDArray[np.float64]:
    """Return what a batt resists in the depth that it was given.

    Parameters
    ----------
    label_resistance : float
        As printed [m²·K/W], > 0.
    label_depth : float
        Thickness for which it is printed [m], > 0.
    depth : array_like
        Thickness as it lies [m], >= 0.

    Returns
    -------
    ndarray
        Resistance [m²·K/W]; a batt deeper than its label has no more than the label.

    Raises
    ------
    OutOfRangeError
        If label or thickness is not above zero.

    Notes
    -----
    Straight lines between the charted depths of the batt whose label is nearest [JLC]_, as
    a share of its label; below the least charted depth in proportion to the depth. For a
    batt that is on no chart, x % of compression costs x/2 % [JLC]_, and below half its
    depth the resistance falls in proportion.

    References
    ----------
    .. [JLC] Journal of Light Construction, questions on compressing fiberglass batts.

    Examples
    --------
    An R-19 batt, 6 1/4 in, in a wall of 3 1/2 in.

    >>> round(float(compressed_resistance(3.346, 0.15875, 0.0889)) / R, 1)
    14.0
    """
    for name, value, unit in (
        ("label resistance", label_resistance, "m²·K/W"),
        ("label depth", label_depth, "m"),
    ):
        if not value > 0.0:
            raise OutOfRangeError(name, value, 0.0, math.inf, unit)
    thickness = np.minimum(np.asarray(depth, dtype=np.float64), label_depth) / label_depth
    charted = _charted(label_resistance, label_depth)
    if charted is None:
        return label_resistance * np.where(thickness >= 0.5, 0.5 + 0.5 * thickness, 1.5 * thickness)
    label, made, depths, resistances = charted
    shares = [0.0, *(each / made for each in depths)]
    parts = [0.0, *(each / label for each in resistances)]
    return label_resistance * np.interp(thickness, shares, parts)


def is_charted(label_resistance: float, label_depth: float) -> bool:
    """Tell whether a batt is on the charts.

    Parameters
    ----------
    label_resistance : float
        As printed [m²·K/W].
    label_depth : float
        Thickness for which it is printed [m].

    Returns
    -------
    bool
    """
    return _charted(label_resistance, label_depth) is not None


def _charted(
    label_resistance: float, label_depth: float
) -> tuple[float, float, tuple[float, ...], tuple[float, ...]] | None:
    def distance(curve: tuple[float, float, tuple[float, ...], tuple[float, ...]]) -> float:
        return max(
            abs(math.log(label_resistance / curve[0])), abs(math.log(label_depth / curve[1]))
        )

    nearest = min(_curves(), key=distance)
    return nearest if distance(nearest) <= ALIKE and len(nearest[2]) > 1 else None
