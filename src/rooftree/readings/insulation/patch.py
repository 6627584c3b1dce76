"""One patch of insulation as numbers, each with what is not known of it.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapters 26 and 27; the former citing Verschoor
    1977: voids of 4 % round ceiling batts of R-19 halve what they resist.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.insulation.batts import TABLE_DOUBT, is_charted
from rooftree.readings.insulation.grades import voids_of
from rooftree.readings.insulation.materials import (
    conductivity_of,
    convection_loss,
    settling_ahead,
    temperature_factor,
)
from rooftree.readings.insulation.readings import Contact, Method, Position
from rooftree.readings.insulation.surroundings import (
    WOOD,
    WOOD_DOUBT,
    framing_share,
    gap_resistance,
    surroundings_of,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.readings.insulation.readings import (
        DepthPoint,
        InsulationPatch,
        InsulationSurvey,
    )

VOID_DOUBT = 0.23
"""Standard uncertainty of the logarithm of what resists where a void is [-]: in an open one from
R-0.73, at which voids of 4 % halve R-19 [HOF2021]_, to R-1.63 of still air and a board."""

WASHED, WASHED_DOUBT = 0.5, 0.25
"""What insulation still resists where wind blows into it, and its standard uncertainty [0-1].
Ours: anything from nothing to all of it; measured are only savings of repairs."""

CIRCULATION_DOUBT = 0.5
"""Standard uncertainty of the correction for air that moves round insulation [0-1]; ours."""

WEIGHTS = {Method.PARALLEL: 0.0, Method.COMBINED: 0.5, Method.PLANES: 1.0}
"""How far from the upper to the lower limit each method puts the resistance [0-1]."""

WEIGHT_DOUBT = 1.0 / math.sqrt(12.0)
"""The truth lies anywhere between the limits [-]."""

OTHERS_DOUBT = 0.10
"""Standard uncertainty of films and other layers together [0-1]; ours."""

LABEL_DOUBT = 0.05
"""Standard uncertainty of a printed resistance [0-1]; ours."""


@dataclass(frozen=True, slots=True, eq=False)
class PatchTerms:
    """A patch turned into numbers.

    Attributes
    ----------
    patch : InsulationPatch
        As read.
    depths : ndarray
        Read in it [m].
    is_local : bool
        Whether all were read at the access.
    around : float
        Films, other layers, gap and older insulation [m²·K/W].
    conductivity : float
        Of the insulation [W/(m·K)].
    is_open : bool
        Whether it lies open to the cold air.
    framing_depth : float
        In the direction of the heat [m].
    inputs : dict of str to (float, float, str)
        Value, standard uncertainty and key of each input of
        :func:`.through.transmittances`; inputs of one key are wrong by the same in all
        patches.
    """

    patch: InsulationPatch
    depths: NDArray[np.float64]
    is_local: bool
    around: float
    conductivity: float
    is_open: bool
    framing_depth: float
    inputs: dict[str, tuple[float, float, str]]

    @property
    def has_label(self) -> bool:
        """Whether label and thickness are known."""
        return self.patch.label_resistance is not None and self.patch.label_depth is not None

    @property
    def mean_depth(self) -> float:
        """Mean of the depths read [m]."""
        return float(np.mean(self.depths))

    @property
    def intended(self) -> float:
        """What it would resist whole and even [m²·K/W]: the label's, or the mean depth's."""
        if self.has_label:
            return float(self.patch.label_resistance or 0.0)
        return self.mean_depth / self.conductivity


def read_patch(
    survey: InsulationSurvey, patch: InsulationPatch, points: tuple[DepthPoint, ...], method: Method
) -> PatchTerms:
    """Turn a patch and its depths into numbers.

    Parameters
    ----------
    survey : InsulationSurvey
        To which it belongs.
    patch : InsulationPatch
        Which.
    points : tuple of DepthPoint
        Read in it; one or more.
    method : Method
        How framing counts.

    Returns
    -------
    PatchTerms
    """
    position, usual = survey.position, surroundings_of(survey.position)
    others = usual.other_layers if survey.other_resistance is None else survey.other_resistance
    closed = patch.contact is Contact.CLOSED_GAP
    gap = gap_resistance(position, patch.gap, reflective=patch.reflective) if closed else 0.0
    k = conductivity_of(patch.material, patch.density, survey.mean_temperature)
    depths = np.array([point.depth for point in points], dtype=np.float64)
    terms = PatchTerms(
        patch=patch,
        depths=depths,
        is_local=all(point.spot is point.spot.HATCH for point in points),
        around=usual.films + others + gap + patch.underlay,
        conductivity=k.value,
        is_open=position in (Position.ATTIC_FLOOR, Position.KNEE_WALL, Position.FLOOR),
        framing_depth=usual.framing_depth if patch.framing_depth is None else patch.framing_depth,
        inputs={},
    )
    own, material = f"{{}} of {patch.name}", f"conductivity of {patch.material}"
    framing, framing_doubt = framing_share(position, patch)
    voids, voids_doubt = voids_of(patch)
    settling, settling_doubt = settling_ahead(patch.material, patch.age)
    loss, loss_doubt = convection_loss(
        patch.material, survey.temperature_difference, air_covered=patch.air_covered
    )
    bare, moving = 1.0 - patch.covered_share, patch.contact is Contact.OPEN_GAP
    terms.inputs.update(
        {
            "resists": (*_resists(terms, survey, k.uncertainty / k.value), material),
            "depths": (1.0, 0.0, own.format("depths")),
            "shift": (0.0, survey.length_uncertainty, "the ruler"),
            "framing": (framing, framing_doubt, own.format("framing")),
            "wood": (WOOD, WOOD_DOUBT if framing else 0.0, "wood"),
            "voids": (voids, voids_doubt, own.format("voids")),
            "void": (0.0, VOID_DOUBT if voids else 0.0, "what a void resists"),
            "bare": (bare, 0.2 * bare, own.format("bare area")),
            "weight": (WEIGHTS[method], WEIGHT_DOUBT if framing else 0.0, "method for framing"),
            "settling": (settling, settling_doubt, f"settling of {patch.material}"),
            "cold air": (loss, loss_doubt, "air moving in the insulation"),
            "washed": (WASHED, WASHED_DOUBT if patch.washed_share else 0.0, "wind at the edge"),
            "circulation": (1.0, CIRCULATION_DOUBT if moving else 0.0, "air moving behind it"),
            "around": (1.0, OTHERS_DOUBT, "films and other layers"),
        }
    )
    return terms


def _resists(
    terms: PatchTerms, survey: InsulationSurvey, by_material: float
) -> tuple[float, float]:
    """Return a factor on what the material resists, and its standard uncertainty."""
    patch = terms.patch
    if not terms.has_label:
        return 1.0, by_material
    # A label tells of the tables' temperature; a conductivity has been taken there already.
    warmer = temperature_factor(patch.material, survey.mean_temperature)
    label, depth = patch.label_resistance or 1.0, patch.label_depth or 1.0
    squeezed = max(0.0, 1.0 - terms.mean_depth / depth)
    chart = TABLE_DOUBT / label if is_charted(label, depth) else 0.2 * squeezed
    return 1.0 / warmer, math.hypot(LABEL_DOUBT, chart if squeezed > 0.0 else 0.0) / warmer
