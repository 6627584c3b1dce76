"""From what was found of the insulation of a place to the layers of its surface.

A survey tells depths, squeezed batts, voids, bare patches, framing and wind
(:mod:`rooftree.readings.insulation`); a surface has one layer of insulation and the shares
of its area in which framing, voids and wind defeat it. Each defect stays apart, so that a
measure can put right one of them and leave the others.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.errors import NotEnoughDataError
from rooftree.house.model import Layer
from rooftree.known import How, Known
from rooftree.physics.heat_paths import parallel_paths
from rooftree.readings.insulation import Method, Position
from rooftree.readings.insulation.patch import read_patch
from rooftree.readings.insulation.reduction import depths_of, require_shares
from rooftree.readings.insulation.surroundings import WOOD, surroundings_of
from rooftree.readings.insulation.through import EVERYTHING, transmittance

if TYPE_CHECKING:
    from rooftree.house.model import Surface
    from rooftree.readings.insulation import InsulationSurvey
    from rooftree.readings.insulation.patch import PatchTerms

AREAS = frozenset({"framing", "wind", "voids", "bare"})
"""Defects that are shares of the area; the others make all of the insulation resist less."""

CLOSED_VOID, OPEN_VOID, STILL_FILM = 0.16, 0.0, 0.12
"""What the engine leaves of insulation in a void between layers, in one that lies open, and
where wind blows through [m²·K/W]; the same as in :mod:`rooftree.engine.conduction`."""

FILMS = 0.15
"""Both films as the engine counts them when it puts paths side by side [m²·K/W]."""

OPEN_POSITIONS = (Position.ATTIC_FLOOR, Position.KNEE_WALL, Position.FLOOR)
"""Where insulation lies open on its cold side."""

LEAST, MOST = 1e-3, 0.99
"""Least resistance of insulation [m²·K/W], and the largest share of the area that one defect
can have [0-1]."""

LOOSE_DENSITY, HEAT = 20.0, 1000.0
"""Density of insulation that nobody weighed, and its specific heat [kg/m³], [J/(kg·K)]; it
stores next to nothing either way."""


@dataclass(frozen=True, slots=True)
class _Sums:
    """Resistance of insulation: clear, with one defect each, and with all [m²·K/W]."""

    clear: float
    framing: float
    wind: float
    missing: float
    whole: float
    thickness: float


def insulated_as_found(surface: Surface, survey: InsulationSurvey) -> Surface:
    """Return a surface with its insulation as a survey found it.

    Parameters
    ----------
    surface : Surface
        As it was described; its other layers are kept.
    survey : InsulationSurvey
        What was found of its insulation.

    Returns
    -------
    Surface
        With one layer of insulation, and new shares of framing, voids and wind.

    Raises
    ------
    NotEnoughDataError
        If no patch of the survey has an area and a depth.
    OutOfRangeError
        If a share of the survey is not between 0 and 1.

    Notes
    -----
    The layer resists what the patches together would without framing, voids, bare spots
    and wind: uneven depths, squeezing, settling, cold air that moves in loose fill and air
    behind the insulation are in it. Its thickness is the mean depth after settling.

    Each of the other defects adds what it adds in the survey
    (:func:`rooftree.readings.insulation.through.transmittances`), told as the share of the
    area in which the engine's law for it would lose as much: wind that the survey takes to
    halve what insulation resists becomes a smaller share that has lost all of it, framing
    that lies buried a smaller share of framing as deep as the insulation, a void in an open
    attic, through which air turns over, a larger share of still voids. So shares are not
    those that were seen. Because defects overlap, all shares are then taken by one factor
    near 1, with which the whole resists as in the survey by parallel paths; where framing
    spreads heat sideways the survey's own mean of both limits is up to a tenth lower.

    Examples
    --------
    >>> from rooftree.house import OUTDOORS, Layer, Surface
    >>> from rooftree.readings.insulation import DepthPoint, InsulationPatch, Material
    >>> from rooftree.readings.insulation import InsulationSurvey as Survey
    >>> board = (Layer("gypsum board", 0.0127, 0.16),)
    >>> ceiling = Surface("c", "ceiling", "ceiling", "room", "attic", 90.0, 0.0, 0.0, board)
    >>> patch = InsulationPatch("all", 90.0, Material.LOOSE_CELLULOSE, void_share=0.02)
    >>> depths = tuple(DepthPoint("", depth) for depth in (0.15, 0.20, 0.25, 0.30))
    >>> found = insulated_as_found(ceiling, Survey("attic", Position.ATTIC_FLOOR, (patch,), depths))
    >>> round(found.layers[-1].resistance, 1), found.void_fraction > 0.02
    (4.9, True)
    """
    require_shares(survey)
    known = sum(layer.resistance for layer in surface.layers if layer.role != "insulation")
    given = replace(survey, other_resistance=known) if survey.other_resistance is None else survey
    sums = _sums(given)
    is_open = survey.position in OPEN_POSITIONS
    void = OPEN_VOID if is_open else min(CLOSED_VOID, sums.clear)
    layer = Layer(
        _name(survey), sums.thickness, sums.thickness / sums.clear, _density(survey), HEAT,
        "insulation",
    )  # fmt: skip

    paths = (min(sums.thickness / WOOD, sums.clear), void, min(STILL_FILM, void))
    around = known + FILMS
    alone = tuple(
        _share(around, sums.clear, spoilt, path)
        for spoilt, path in zip((sums.framing, sums.missing, sums.wind), paths, strict=True)
    )
    framing, missing, washed = _fitted(around, sums, alone, paths)
    note = f"insulation of {survey.where} as found"
    return replace(
        surface,
        layers=_laid(surface, layer, is_open=is_open),
        framing_fraction=framing,
        void_fraction=missing,
        washed_fraction=washed,
        known=dict(surface.known)
        | {
            name: Known(How.MEASURED, note)
            for name in ("layers", "framing_fraction", "void_fraction", "washed_fraction")
        },
    )


def _sums(survey: InsulationSurvey) -> _Sums:
    terms = [
        read_patch(survey, patch, points, Method.PARALLEL)
        for patch in survey.patches
        if patch.area > 0.0 and (points := depths_of(survey, patch))
    ]
    if not terms:
        message = (
            f"{survey.where}: no patch has an area and a depth; read a depth in one, or give it "
            "the thickness on its label"
        )
        raise NotEnoughDataError(message)
    area = sum(each.patch.area for each in terms)
    clear = EVERYTHING - AREAS

    around = surroundings_of(survey.position).films + (survey.other_resistance or 0.0)

    def resistance(*defects: str) -> float:
        through = [transmittance(each, clear | {*defects}) for each in terms]
        shares = [each.patch.area / area for each in terms]
        total = parallel_paths(shares, [1.0 / u for u in through])
        return max(total - around, LEAST)

    return _Sums(
        clear=resistance(),
        framing=resistance("framing"),
        wind=resistance("wind"),
        missing=resistance("voids", "bare"),
        whole=resistance(*AREAS),
        thickness=sum(each.patch.area / area * _thickness(each) for each in terms),
    )


def _share(around: float, clear: float, spoilt: float, path: float) -> float:
    """Return the share of a path with which insulation resists as a defect leaves it [0-1]."""
    plain, less, through = (1.0 / (around + each) for each in (clear, spoilt, path))
    if through <= plain:
        return 0.0
    return min(max((less - plain) / (through - plain), 0.0), MOST)


def _fitted(
    around: float, sums: _Sums, alone: tuple[float, ...], paths: tuple[float, ...]
) -> tuple[float, ...]:
    """Return the shares, all by one factor, with which they come to the whole together.

    Defects overlap in the survey and in the engine differently: the factor is near 1.
    """
    wanted = 1.0 / (around + sums.whole)

    def through(factor: float) -> float:
        framing, missing, washed = (min(factor * share, MOST) for share in alone)
        filled = (1.0 - framing) * (1.0 - missing)
        weights = (framing, (1.0 - framing) * missing, filled * washed)
        spoilt = sum(w / (around + path) for w, path in zip(weights, paths, strict=True))
        return spoilt + filled * (1.0 - washed) / (around + sums.clear)

    low, high = 0.0, 2.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if through(middle) < wanted else (low, middle)
    return tuple(min(high * share, MOST) for share in alone)


def _thickness(terms: PatchTerms) -> float:
    settled = 1.0 - terms.inputs["settling"][0]
    return max(terms.mean_depth * settled, 1e-3)


def _laid(surface: Surface, layer: Layer, *, is_open: bool) -> tuple[Layer, ...]:
    """Return the layers of a surface with this one in the place of its insulation."""
    first = next((k for k, old in enumerate(surface.layers) if old.role == "insulation"), None)
    others = [old for old in surface.layers if old.role != "insulation"]
    if first is None:
        first = len(others) if is_open else 1
    return (*others[:first], layer, *others[first:])


def _name(survey: InsulationSurvey) -> str:
    largest = max(survey.patches, key=lambda patch: patch.area)
    return f"{largest.material.value}, as found"


def _density(survey: InsulationSurvey) -> float:
    weighed = [patch.density for patch in survey.patches if patch.density is not None]
    return sum(weighed) / len(weighed) if weighed else LOOSE_DENSITY
