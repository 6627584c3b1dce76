"""From depths and defects to what the insulation of a place really does."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.physics.heat_paths import (
    combined_resistance,
    corrected_transmittance,
    void_correction,
)
from rooftree.physics.propagation import COVERAGE, Propagated
from rooftree.readings.insulation.costs import defect_costs, spoil_in_steps
from rooftree.readings.insulation.grades import grade_table
from rooftree.readings.insulation.judge import judge_patch, judge_spread, judge_survey
from rooftree.readings.insulation.patch import PatchTerms, read_patch
from rooftree.readings.insulation.readings import DepthPoint, Method
from rooftree.readings.insulation.results import ByMethod, InsulationResult, PatchResult
from rooftree.readings.insulation.surroundings import surroundings_of
from rooftree.readings.insulation.through import (
    EVERYTHING,
    sampling_doubt,
    transmittance,
    transmittances,
)
from rooftree.readings.insulation.unsure import step_patch, step_together
from rooftree.units import Kind, both, both_range

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from rooftree.finding import Finding
    from rooftree.readings.insulation.readings import InsulationPatch, InsulationSurvey
    from rooftree.readings.insulation.results import DefectCost

EMPTY = 1e-4
"""Depth that stands for none [m], so that its resistance has a logarithm."""


def reduce_insulation(
    survey: InsulationSurvey, *, method: Method = Method.COMBINED
) -> InsulationResult:
    """Reduce the insulation of one place to its effective resistance, with its range.

    Parameters
    ----------
    survey : InsulationSurvey
        As found.
    method : Method
        How framing counts; the range covers the other methods.

    Returns
    -------
    InsulationResult

    Raises
    ------
    OutOfRangeError
        If a share is not between 0 and 1, or a temperature outside what was measured.

    Notes
    -----
    Depths stand for columns, columns and patches pass their heat side by side
    (:mod:`.patch`): what is averaged is what they let through, never depths or
    resistances, since a thin spot costs more than a thick one saves. Uncertainty: every
    input stepped by its standard uncertainty (JCGM 100:2008, 5.1.3 note 2), those of one
    material, ruler or method together in all patches; few depths by their pooled spread.

    Examples
    --------
    >>> from rooftree.readings.insulation.readings import InsulationPatch, Material, Position
    >>> from rooftree.readings.insulation.readings import InsulationSurvey as Survey
    >>> patch = InsulationPatch("all", 100.0, Material.LOOSE_CELLULOSE, void_share=0.0)
    >>> depths = tuple(DepthPoint("", depth) for depth in (0.15, 0.20, 0.25, 0.30))
    >>> attic = reduce_insulation(Survey("attic", Position.ATTIC_FLOOR, (patch,), depths))
    >>> round(attic.intended, 2), round(attic.resistance.value, 2)
    (5.26, 4.68)
    """
    require_shares(survey)
    findings = judge_survey(survey)
    patches = []
    for patch in survey.patches:
        points = depths_of(survey, patch)
        if not points or not patch.area > 0.0:
            continue
        terms = read_patch(survey, patch, points, method)
        _, _, key = terms.inputs["depths"]
        terms.inputs["depths"] = (1.0, sampling_doubt(terms), key)
        findings += judge_patch(survey, terms, points)
        patches.append(terms)
    if not patches:
        says = f"{survey.where}: nothing was read from which the insulation could be worked out."
        return InsulationResult(
            survey.where, 0.0, None, None, None, None, None, None, None, (), "", (), says, findings
        )
    by_method = _by_method(survey, patches)
    findings += judge_spread(by_method)
    return _summed(survey, patches, by_method, findings)


def depths_of(survey: InsulationSurvey, patch: InsulationPatch) -> tuple[DepthPoint, ...]:
    """Return the depths that can be used for a patch.

    Parameters
    ----------
    survey : InsulationSurvey
        As found.
    patch : InsulationPatch
        One of its patches.

    Returns
    -------
    tuple of DepthPoint
        Those with its name, or all without a name where it is the only patch; the depth of
        its label where none was read; empty where that is not known either.
    """
    only = len(survey.patches) == 1
    points = tuple(
        point
        for point in survey.depths
        if 0.0 <= point.depth < math.inf
        and (point.patch == patch.name or (only and not point.patch))
    )
    if not points and patch.label_depth is not None:
        return (DepthPoint(patch.name, patch.label_depth),)
    return tuple(replace(point, depth=max(point.depth, EMPTY)) for point in points)


def require_shares(survey: InsulationSurvey) -> None:
    """Refuse a survey with a share that is not between 0 and 1.

    Parameters
    ----------
    survey : InsulationSurvey
        As found.

    Raises
    ------
    OutOfRangeError
        Naming the share and its patch.
    """
    for patch in survey.patches:
        for name, share in (
            ("covered share", patch.covered_share),
            ("void share", patch.void_share or 0.0),
            ("framing share", patch.framing_share or 0.0),
            ("washed share", patch.washed_share),
        ):
            if not 0.0 <= share <= 1.0:
                raise OutOfRangeError(f"{name} of {patch.name}", share, 0.0, 1.0, "[0-1]")


def _inverse(value: Propagated, factor: float) -> Propagated:
    """Return a factor over a positive value."""
    relative, inverse = value.standard / value.value, factor / value.value
    return Propagated(
        inverse, inverse * relative, factor / value.high, factor / value.low, is_by_factor=True
    )


def _less(value: Propagated, known: float) -> Propagated:
    """Return a value less something that both its limits have."""
    rest, spread = value.value - known, COVERAGE * value.standard
    return Propagated(rest, value.standard, rest - spread, rest + spread)


def _around(survey: InsulationSurvey) -> float:
    usual = surroundings_of(survey.position)
    others = usual.other_layers if survey.other_resistance is None else survey.other_resistance
    return usual.films + others


def _summed(
    survey: InsulationSurvey,
    patches: list[PatchTerms],
    by_method: ByMethod,
    findings: tuple[Finding, ...],
) -> InsulationResult:
    around, area = _around(survey), sum(terms.patch.area for terms in patches)
    steps = [step_patch(terms) for terms in patches]
    spoilt = [spoil_in_steps(terms) for terms in patches]
    together = step_together(steps)
    total = together.resistance(area)
    results = tuple(
        _patch_result(terms, step.resistance(terms.patch.area), each, around)
        for terms, step, each in zip(patches, steps, spoilt, strict=True)
    )
    intended = area / sum(r.area / (around + r.intended) for r in results) - around
    resistance, costs = _less(total, around), defect_costs(spoilt, area)
    return InsulationResult(
        where=survey.where,
        area=area,
        total=total,
        resistance=resistance,
        transmittance=_inverse(total, 1.0),
        conductance=_inverse(total, area),
        intended=intended,
        mean_of_patches=sum(r.area * r.resistance.value for r in results) / area,
        by_method=by_method,
        costs=costs,
        least_known=together.least_known,
        patches=results,
        says=_in_words(survey, resistance, intended, costs),
        findings=findings,
    )


def _patch_result(
    terms: PatchTerms, total: Propagated, spoilt: Sequence[float], around: float
) -> PatchResult:
    patch = terms.patch
    made = patch.label_depth if terms.has_label else None
    return PatchResult(
        name=patch.name,
        area=patch.area,
        points=terms.depths.size,
        mean_depth=terms.mean_depth,
        conductivity=made / terms.intended if made else terms.conductivity,
        intended=terms.intended + patch.underlay,
        total=total,
        resistance=_less(total, around),
        framing_share=terms.inputs["framing"][0],
        void_share=terms.inputs["voids"][0],
        bare_share=terms.inputs["bare"][0],
        costs=defect_costs([spoilt], patch.area),
    )


def _by_method(survey: InsulationSurvey, patches: list[PatchTerms]) -> ByMethod:
    area = sum(terms.patch.area for terms in patches)
    through = np.array([terms.patch.area * _both_limits(terms, EVERYTHING) for terms in patches])
    parallel, planes = (area / np.sum(through, axis=0)).tolist()
    try:
        corrected = [_corrected(survey, terms) for terms in patches]
    except OutOfRangeError:
        return ByMethod(parallel, planes, None, None)
    iso = sum(terms.patch.area * u for terms, (u, _) in zip(patches, corrected, strict=True))
    return ByMethod(parallel, planes, area / iso, max(e for _, e in corrected))


def _both_limits(terms: PatchTerms, defects: frozenset[str]) -> NDArray[np.float64]:
    """Return what a patch lets through by parallel paths and by isothermal planes."""
    return transmittances(terms, defects, {"weight": np.array([0.0, 1.0])})


def _corrected(survey: InsulationSurvey, terms: PatchTerms) -> tuple[float, float]:
    """Return transmittance of a patch and its relative error by ISO 6946."""
    whole = EVERYTHING - {"voids"}
    upper, lower = (1.0 / _both_limits(terms, whole)).tolist()
    mean = combined_resistance(upper, lower)
    plain = 1.0 / transmittance(terms, whole - {"framing"})
    layer = max(plain - _around(survey), 0.0)
    level = grade_table()[terms.patch.grade].level
    correction = void_correction(level, layer, plain)
    return corrected_transmittance(1.0 / mean, correction), (upper - lower) / (2.0 * mean)


def _in_words(
    survey: InsulationSurvey, resistance: Propagated, intended: float, costs: Sequence[DefectCost]
) -> str:
    low, high = max(resistance.low, 0.0), max(resistance.high, 0.0)
    works = both_range(low, high, Kind.THERMAL_RESISTANCE, digits=2)
    says = f"{survey.where}: the insulation works as {works}"
    if intended > resistance.high:
        meant = both(intended, Kind.THERMAL_RESISTANCE, digits=2)
        says += f", not as the {meant} of its depth or label"
    worst = max(costs, key=lambda cost: cost.share, default=None)
    if worst is None or worst.share < 0.05:
        return says + "."
    share = both(worst.share, Kind.FRACTION, digits=2)
    return f"{says}; {share} of the heat goes through because of {worst.name}."
