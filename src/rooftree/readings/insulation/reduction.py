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
from rooftree.physics.propagation import COVERAGE, Propagated, propagate_positive
from rooftree.readings.insulation.costs import defect_costs
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
from rooftree.units import Kind, both, both_range

if TYPE_CHECKING:
    from collections.abc import Sequence

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
    _require_shares(survey)
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


def _require_shares(survey: InsulationSurvey) -> None:
    for patch in survey.patches:
        for name, share in (
            ("covered share", patch.covered_share),
            ("void share", patch.void_share or 0.0),
            ("framing share", patch.framing_share or 0.0),
            ("washed share", patch.washed_share),
        ):
            if not 0.0 <= share <= 1.0:
                raise OutOfRangeError(f"{name} of {patch.name}", share, 0.0, 1.0, "[0-1]")


class _Patch:
    """What one patch lets through, as a formula of the steps of what it is unsure of."""

    def __init__(self, terms: PatchTerms) -> None:
        self.terms = terms
        self.keys = tuple(sorted({key for _, doubt, key in terms.inputs.values() if doubt}))
        number = len(self.keys)
        steps = np.vstack([np.zeros(number), np.eye(number), -np.eye(number)])
        moved = {
            name: value + doubt * steps[:, self.keys.index(key)]
            for name, (value, doubt, key) in terms.inputs.items()
            if doubt
        }
        through = transmittances(terms, EVERYTHING, moved)
        self._known = dict(zip(map(tuple, steps.tolist()), through.tolist(), strict=True))

    def transmittance(self, *deviates: float) -> float:
        """Return what it lets through with one of its keys one off, or none [W/(m²·K)]."""
        return float(self._known[deviates])

    def resistance(self) -> Propagated:
        """Return its resistance from air to air [m²·K/W]."""
        none, one = [0.0] * len(self.keys), [1.0] * len(self.keys)
        return propagate_positive(lambda *off: 1.0 / self.transmittance(*off), none, one)


class _Place:
    """What all patches let through, as a formula of all that they are unsure of."""

    def __init__(self, patches: Sequence[_Patch]) -> None:
        self.patches = tuple(patches)
        self.area = sum(each.terms.patch.area for each in patches)
        self.keys = tuple(dict.fromkeys(key for each in patches for key in each.keys))
        places = {key: k for k, key in enumerate(self.keys)}
        self._own = [tuple(places[key] for key in each.keys) for each in patches]

    def conductance(self, *deviates: float) -> float:
        """Return what they let through with each key that far off [W/K]."""
        return sum(
            each.terms.patch.area * each.transmittance(*(deviates[k] for k in own))
            for each, own in zip(self.patches, self._own, strict=True)
        )

    def resistance(self) -> Propagated:
        """Return the resistance from air to air [m²·K/W]."""
        none, one = [0.0] * len(self.keys), [1.0] * len(self.keys)
        return propagate_positive(lambda *off: self.area / self.conductance(*off), none, one)

    def least_known(self) -> str:
        """Return the key that gives the result most of its doubt."""

        def moved(k: int) -> float:
            above, below = [0.0] * len(self.keys), [0.0] * len(self.keys)
            above[k], below[k] = 1.0, -1.0
            return abs(self.conductance(*above) - self.conductance(*below))

        return self.keys[max(range(len(self.keys)), key=moved)]


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
    formulas = [_Patch(terms) for terms in patches]
    together, around = _Place(formulas), _around(survey)
    area, total = together.area, together.resistance()
    results = tuple(_patch_result(each, around) for each in formulas)
    intended = area / sum(r.area / (around + r.intended) for r in results) - around
    resistance, costs = _less(total, around), defect_costs(patches)
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
        least_known=together.least_known(),
        patches=results,
        says=_in_words(survey, resistance, intended, costs),
        findings=findings,
    )


def _patch_result(formula: _Patch, around: float) -> PatchResult:
    terms, total = formula.terms, formula.resistance()
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
        costs=defect_costs((terms,)),
    )


def _by_method(survey: InsulationSurvey, patches: list[PatchTerms]) -> ByMethod:
    area = sum(terms.patch.area for terms in patches)

    def resistance(weight: float) -> float:
        return area / sum(
            t.patch.area * transmittance(t, inputs={"weight": weight}) for t in patches
        )

    try:
        corrected = [_corrected(survey, terms) for terms in patches]
    except OutOfRangeError:
        return ByMethod(resistance(0.0), resistance(1.0), None, None)
    iso = sum(terms.patch.area * u for terms, (u, _) in zip(patches, corrected, strict=True))
    return ByMethod(resistance(0.0), resistance(1.0), area / iso, max(e for _, e in corrected))


def _corrected(survey: InsulationSurvey, terms: PatchTerms) -> tuple[float, float]:
    """Return transmittance of a patch and its relative error by ISO 6946."""
    whole = EVERYTHING - {"voids"}
    upper = 1.0 / transmittance(terms, whole, {"weight": 0.0})
    lower = 1.0 / transmittance(terms, whole, {"weight": 1.0})
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
