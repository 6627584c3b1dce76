"""What one patch of insulation lets through: framing, depth by depth, and every defect.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapters 26 and 27.
[ISO6946] ISO 6946, combined method and correction for air voids (recalled).
[VOID] Fine Homebuilding, winter 2009, as reported in a home blog: R-38 with 0.5 and 2 %
    uncovered works as R-32 and R-22, that is, R-1 in all through the bare part.
"""

from __future__ import annotations

import math
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.heat_paths import VoidLevel, void_correction
from rooftree.physics.uncertainty import coverage_factor
from rooftree.readings.insulation.batts import R, compressed_resistance
from rooftree.readings.insulation.materials import material_table
from rooftree.readings.insulation.readings import Contact

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.readings.insulation.patch import PatchTerms

    Given = Mapping[str, NDArray[np.float64]]

OPEN_VOID = 1.0 * R
"""Resistance from air to air through a void that lies open to the cold air [m²·K/W] [VOID]_."""

CLOSED_VOID = 0.16
"""Resistance of the air that fills a void in a closed cavity [m²·K/W] [HOF2021]_, 0.15 to
0.18 as a plane air space."""

LOCATION_DOUBT = 0.25
"""Standard uncertainty of a depth that was read at the access only [0-1]; ours."""

PRIOR_POINTS = 4.0
"""Weight of the usual unevenness of a material against the spread of the depths read, in
points [-]; ours."""

EVERYTHING = frozenset(
    {"depth", "unevenness", "settling", "cold air", "framing", "gap", "wind", "voids", "bare"}
)
"""Names of what is wrong with a patch, all of it."""


def transmittance(
    terms: PatchTerms,
    defects: frozenset[str] = EVERYTHING,
    inputs: Mapping[str, float] = MappingProxyType({}),
) -> float:
    """Return what a patch lets through with some or all of its defects.

    Parameters
    ----------
    terms : PatchTerms
        The patch.
    defects : frozenset of str
        Which of :data:`EVERYTHING` to count; the others are taken as put right.
    inputs : mapping of str to float
        Values of inputs other than their best ones, each as in `terms.inputs`.

    Returns
    -------
    float
        From air to air [W/(m²·K)].
    """
    given = {name: np.array([value]) for name, value in inputs.items()}
    return float(transmittances(terms, defects, given)[0])


def transmittances(
    terms: PatchTerms, defects: frozenset[str], inputs: Given
) -> NDArray[np.float64]:
    """Return what a patch lets through, for many values of its inputs at once.

    Parameters
    ----------
    terms : PatchTerms
        The patch.
    defects : frozenset of str
        Which of :data:`EVERYTHING` to count; the others are taken as put right.
    inputs : mapping of str to ndarray, shape (n,)
        Values of inputs other than their best ones, each as in `terms.inputs`.

    Returns
    -------
    ndarray, shape (n,)
        From air to air [W/(m²·K)].

    Notes
    -----
    Depths are not averaged: each stands for a column, and what the columns let through is.
    Framing of each column lies between parallel paths and isothermal planes [HOF2021]_,
    their mean by [ISO6946]_. Voids and bare areas are wider than the insulation is
    deep, and count as paths of their own beside it. Air that moves behind the insulation
    is the correction of level 2 [ISO6946]_.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapters 26 and 27.
    .. [ISO6946] ISO 6946 (recalled).
    """
    given = _given(terms, inputs)
    clear = given["depths"] * _mean(_columns(terms, defects, given))
    washed = terms.patch.washed_share if "wind" in defects else 0.0
    if washed:
        left = {**given, "resists": given["resists"] * given["washed"]}
        clear += washed * (given["depths"] * _mean(_columns(terms, defects, left)) - clear)
    if "voids" in defects:
        clear += _lost_in_voids(terms, defects, given)
    if "bare" in defects and terms.patch.covered_share < 1.0:
        clear += given["bare"] * (_bare(terms, defects, given) - clear)
    # An input that this patch does not feel moves nothing: its values give one result each.
    return np.broadcast_to(clear[:, 0], max((each.size for each in inputs.values()), default=1))


def sampling_doubt(terms: PatchTerms) -> float:
    """Return the relative standard uncertainty of what a patch lets through, from few depths.

    Parameters
    ----------
    terms : PatchTerms
        The patch.

    Returns
    -------
    float
        Relative standard uncertainty [0-1].

    Notes
    -----
    The spread of the columns is pooled with the usual unevenness of the material, so that
    two depths that happen to agree do not promise an even attic; Student's t of the pooled
    degrees of freedom is folded in, so that limits of a normal spread hold. Depths read at
    the access only say little of the rest.
    """
    number = terms.depths.size
    through = _columns(terms, EVERYTHING, _given(terms, {}))[0]
    usual = material_table()[terms.patch.material].unevenness
    insulating = max(0.0, 1.0 - terms.around * float(np.mean(through)))
    pooled = PRIOR_POINTS * (usual * insulating) ** 2
    pooled += float(np.sum((through / np.mean(through) - 1.0) ** 2))
    freedom = PRIOR_POINTS + number - 1.0
    student = coverage_factor(freedom, 0.90) / coverage_factor(math.inf, 0.90)
    from_spread = student * math.sqrt(pooled / freedom / number)
    return math.hypot(from_spread, LOCATION_DOUBT * insulating if terms.is_local else 0.0)


def _given(terms: PatchTerms, inputs: Given) -> dict[str, NDArray[np.float64]]:
    """Return every input as a column, so that it meets the row of depths."""
    best = {name: np.array([[value]]) for name, (value, _, _) in terms.inputs.items()}
    return best | {name: values[:, None] for name, values in inputs.items()}


def _mean(columns: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(np.mean(columns, axis=1, keepdims=True))


def _columns(terms: PatchTerms, defects: frozenset[str], given: Given) -> NDArray[np.float64]:
    """Return what each column lets through, with its framing [W/(m²·K)]."""
    depths = np.maximum(terms.depths[None, :] + given["shift"], 0.0)
    if "unevenness" not in defects:
        depths = _mean(depths)
    if "settling" in defects:
        depths = depths * (1.0 - given["settling"])
    around = terms.around * given["around"]
    insulation = _resistances(terms, defects, depths, given)
    total, bypassed = around + insulation, np.zeros((1, 1))
    if "gap" in defects and terms.patch.contact is Contact.OPEN_GAP:
        layer = float(np.mean(insulation[0]))
        added = void_correction(VoidLevel.CIRCULATING, layer, layer + terms.around)
        bypassed = added * given["circulation"]
    if "framing" not in defects or terms.inputs["framing"][0] == 0.0:
        return np.asarray(1.0 / total + bypassed)
    share, wood = given["framing"], terms.framing_depth / given["wood"]
    buried = np.ones_like(depths)
    if terms.patch.covers_framing:
        buried = np.minimum(terms.framing_depth / np.maximum(depths, 1e-9), 1.0)
    above = insulation * (1.0 - buried)
    upper = 1.0 / ((1.0 - share) / total + share / (around + wood + above))
    beside = np.maximum(insulation * buried, 1e-9)
    lower = around + above + 1.0 / ((1.0 - share) / beside + share / wood)
    return np.asarray(1.0 / (upper + given["weight"] * (lower - upper)) + bypassed)


def _resistances(
    terms: PatchTerms, defects: frozenset[str], depths: NDArray[np.float64], given: Given
) -> NDArray[np.float64]:
    """Return what the insulation of each column resists [m²·K/W]."""
    patch = terms.patch
    resists = given["resists"]
    if "cold air" in defects:
        resists = resists * (1.0 - given["cold air"])
    if patch.label_resistance is None or patch.label_depth is None:
        return np.asarray(depths / terms.conductivity * resists)
    if "depth" not in defects:
        depths = np.full_like(depths, patch.label_depth)
    squeezed = compressed_resistance(patch.label_resistance, patch.label_depth, depths)
    return np.asarray(squeezed * resists)


def _lost_in_voids(terms: PatchTerms, defects: frozenset[str], given: Given) -> NDArray[np.float64]:
    cavity = 1.0 - given["framing"] if "framing" in defects else 1.0
    void = OPEN_VOID if terms.is_open else terms.around * given["around"] + CLOSED_VOID
    filled = _mean(_columns(terms, defects - {"framing"}, given))
    through = 1.0 / (void * np.exp(given["void"])) - filled
    # Where the insulation resists less than a void does, voids cost nothing.
    return np.asarray(cavity * given["voids"] * np.maximum(through, 0.0))


def _bare(terms: PatchTerms, defects: frozenset[str], given: Given) -> NDArray[np.float64]:
    around = terms.around * given["around"]
    if "framing" not in defects:
        return np.asarray(1.0 / around)
    share, wood = given["framing"], terms.framing_depth / given["wood"]
    return np.asarray((1.0 - share) / around + share / (around + wood))
