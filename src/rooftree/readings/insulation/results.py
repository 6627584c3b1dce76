"""What the insulation of a place comes to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated


@dataclass(frozen=True, slots=True)
class DefectCost:
    """What one defect costs, after those before it in the list.

    Attributes
    ----------
    name : str
        Of the defect.
    resistance : float
        Lost of the resistance from air to air [m²·K/W].
    conductance : float
        More heat that passes [W/K].
    share : float
        Part of all the heat that passes [0-1].
    """

    name: str
    resistance: float
    conductance: float
    share: float


@dataclass(frozen=True, slots=True)
class ByMethod:
    """Resistance from air to air by each method for framing [m²·K/W].

    Attributes
    ----------
    parallel, planes : float
        Upper and lower limit, every other defect counted [m²·K/W].
    iso_6946 : float or None
        Mean of both limits, with voids as a correction rather than as paths [m²·K/W]; None
        where the limits are too far apart for the method.
    iso_error : float or None
        Largest error of that mean [0-1], relative.
    """

    parallel: float
    planes: float
    iso_6946: float | None
    iso_error: float | None


@dataclass(frozen=True, slots=True)
class PatchResult:
    """What one patch comes to.

    Attributes
    ----------
    name : str
        Of the patch.
    area : float
        [m²].
    points : int
        Depths that were used.
    mean_depth : float
        Of the insulation [m].
    conductivity : float
        Of the material [W/(m·K)]; that of the label where there is one.
    intended : float
        Resistance of the insulation, were it whole and even [m²·K/W].
    total : Propagated
        From air to air, as it works [m²·K/W].
    resistance : Propagated
        What the insulation and its framing add to films and other layers [m²·K/W].
    framing_share, void_share, bare_share : float
        As counted [0-1].
    costs : tuple of DefectCost
        From `intended` to `total`.
    """

    name: str
    area: float
    points: int
    mean_depth: float
    conductivity: float
    intended: float
    total: Propagated
    resistance: Propagated
    framing_share: float
    void_share: float
    bare_share: float
    costs: tuple[DefectCost, ...]


@dataclass(frozen=True, slots=True)
class InsulationResult:
    """What the insulation of one place comes to.

    Attributes
    ----------
    where : str
        Which.
    area : float
        Of the patches together [m²].
    total : Propagated or None
        Resistance from air to air, as it works [m²·K/W]; None where nothing could be used.
    resistance : Propagated or None
        What insulation and framing add to films and other layers [m²·K/W].
    transmittance : Propagated or None
        [W/(m²·K)].
    conductance : Propagated or None
        Heat that passes for each kelvin [W/K].
    intended : float or None
        Resistance of the insulation, were it whole and even everywhere [m²·K/W].
    mean_of_patches : float or None
        What averaging the resistances of the patches by area would have said [m²·K/W];
        too much, and never to be used.
    by_method : ByMethod or None
        The three methods beside each other.
    costs : tuple of DefectCost
        What each defect costs over the whole place, from `intended` to `total`.
    least_known : str
        What makes the result most unsure.
    patches : tuple of PatchResult
        In the order of the survey.
    says : str
        The same in plain sentences.
    findings : tuple of Finding
        Doubts with their remedy.
    """

    where: str
    area: float
    total: Propagated | None
    resistance: Propagated | None
    transmittance: Propagated | None
    conductance: Propagated | None
    intended: float | None
    mean_of_patches: float | None
    by_method: ByMethod | None
    costs: tuple[DefectCost, ...]
    least_known: str
    patches: tuple[PatchResult, ...]
    says: str
    findings: tuple[Finding, ...]
