"""Doubts about an insulation survey, with how sure they are and what to do about them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import sureness
from rooftree.readings.insulation.doubt import doubt
from rooftree.readings.insulation.judge_depths import LEAST_POINTS, judge_depths
from rooftree.readings.insulation.materials import material_table, settling_ahead
from rooftree.readings.insulation.readings import Grade, Material
from rooftree.units import Kind, both, both_range

if TYPE_CHECKING:
    from rooftree.readings.insulation.patch import PatchTerms
    from rooftree.readings.insulation.readings import (
        DepthPoint,
        InsulationPatch,
        InsulationSurvey,
    )
    from rooftree.readings.insulation.results import ByMethod

AREA_MARGIN = 0.05
"""How far the patches may differ from the place [0-1]; ours."""

MOST_VOIDS = 0.05
"""Share of voids beyond which they must be a patch of their own [0-1]; recalled:
ANSI/RESNET/ICC 301."""

FULL = 0.70
"""Least depth over the intended one that a grade I or II allows [0-1]
(ANSI/RESNET/ICC 301, appendix A, as reproduced by an insulation trade association)."""

GRADES = "ANSI/RESNET/ICC 301, appendix A, as reproduced by an insulation trade association"


def judge_survey(survey: InsulationSurvey) -> tuple[Finding, ...]:
    """Judge what concerns the whole survey, and rows that cannot be used.

    Parameters
    ----------
    survey : InsulationSurvey
        As found.

    Returns
    -------
    tuple of Finding
    """
    return (*_depth_rows(survey), *_patch_rows(survey), *_area(survey), *_vermiculite(survey))


def judge_patch(
    survey: InsulationSurvey, terms: PatchTerms, points: tuple[DepthPoint, ...]
) -> tuple[Finding, ...]:
    """Judge one patch that can be used.

    Parameters
    ----------
    survey : InsulationSurvey
        As found.
    terms : PatchTerms
        The patch in numbers.
    points : tuple of DepthPoint
        Its depths.

    Returns
    -------
    tuple of Finding
    """
    return (
        *judge_depths(survey, terms, points),
        *_grade(terms),
        *_material(survey, terms),
    )


def judge_spread(by_method: ByMethod) -> tuple[Finding, ...]:
    """Judge whether the methods for framing agree.

    Parameters
    ----------
    by_method : ByMethod
        Resistances by each method.

    Returns
    -------
    tuple of Finding
    """
    if by_method.iso_6946 is not None:
        return ()
    return (
        doubt(
            "limits-apart",
            "Parallel paths and isothermal planes differ by more than a factor of 1.5, as they"
            " do round metal framing: the mean of both does not apply, and the range given"
            " reaches from one to the other. Have it computed with its sideways flow.",
            value=by_method.parallel / by_method.planes,
            limit=1.5,
            unit="-",
            source="recalled: ISO 6946, combined method",
        ),
    )


def _depth_rows(survey: InsulationSurvey) -> tuple[Finding, ...]:
    names = {patch.name for patch in survey.patches}
    found = []
    for number, point in enumerate(survey.depths, start=1):
        if not 0.0 <= point.depth < math.inf:
            found.append(
                doubt(
                    "negative-depth",
                    f"Depth {number} is below zero: almost certain to be a slip of the pen. It"
                    " is left out; write 0 where there is no insulation.",
                    value=point.depth,
                    limit=0.0,
                    unit="m",
                    about=point.patch,
                )
            )
        known = point.patch in names or (not point.patch and len(names) == 1)
        if not known:
            found.append(
                doubt(
                    "unknown-patch",
                    f'Depth {number} belongs to "{point.patch}", and there is no such patch.'
                    " It is left out; name one of the patches.",
                    about=point.patch,
                )
            )
    return tuple(found)


def _patch_rows(survey: InsulationSurvey) -> tuple[Finding, ...]:
    found = []
    for patch in survey.patches:
        if not patch.area > 0.0:
            found.append(
                doubt(
                    "no-area",
                    f"{patch.name} has no area and is left out. Measure it.",
                    value=patch.area,
                    limit=0.0,
                    unit="m²",
                    about=patch.name,
                )
            )
        only = len(survey.patches) == 1
        if any(point.patch == patch.name or (only and not point.patch) for point in survey.depths):
            continue
        left = (
            "It is left out of the result"
            if patch.label_depth is None
            else "The thickness on its label stands in, with a wide range"
        )
        found.append(
            doubt(
                "no-depth",
                f"No depth was read of {patch.name}. {left}; read three depths or more, spread"
                " over it, or look into a closed cavity with a probe.",
                value=0.0,
                limit=float(LEAST_POINTS),
                unit="-",
                source="common practice",
                about=patch.name,
            )
        )
    return tuple(found)


def _area(survey: InsulationSurvey) -> tuple[Finding, ...]:
    if survey.area is None or not survey.area > 0.0:
        return ()
    together = sum(max(patch.area, 0.0) for patch in survey.patches)
    if abs(together / survey.area - 1.0) <= AREA_MARGIN:
        return ()
    sure = sureness(min(0.99, 0.5 + 5.0 * abs(math.log(max(together, 1e-6) / survey.area))))
    return (
        doubt(
            "area",
            f"The patches come to {both(together, Kind.AREA)}, the whole place to"
            f" {both(survey.area, Kind.AREA)}: a patch that is missing, counted twice or typed"
            f" wrongly is {sure}. Compare them with the plan.",
            value=together,
            limit=survey.area,
            unit="m²",
            about=survey.where,
        ),
    )


def _vermiculite(survey: InsulationSurvey) -> tuple[Finding, ...]:
    return tuple(
        Finding(
            code="insulation/vermiculite",
            severity=Severity.STOP,
            says=(
                f"{patch.name} is vermiculite, which may hold asbestos: do not touch, rake or"
                " drill it, do not depressurize the house, and leave the attic. Asbestos"
                " fibers cause fatal disease; an accredited inspector samples it under the"
                " local rules."
            ),
            source="Weatherization Program Notice 17-7; recalled: not to disturb or depressurize",
            about=patch.name,
        )
        for patch in survey.patches
        if patch.material is Material.VERMICULITE
    )


def _grade(terms: PatchTerms) -> tuple[Finding, ...]:
    patch, found = terms.patch, []
    if patch.grade is Grade.NOT_GRADED and patch.void_share is None:
        found.append(
            doubt(
                "not-graded",
                f"Nobody wrote down how well {patch.name} was put in; 2 % of voids are assumed."
                " Look for gaps, squeezed batts and bare spots, and give it a grade or a share.",
                source=GRADES,
                about=patch.name,
            )
        )
    voids = patch.void_share or 0.0
    if voids > MOST_VOIDS:
        found.append(
            doubt(
                "voids",
                f"{both(voids, Kind.FRACTION, digits=2)} of {patch.name} is voids: with so much,"
                " make the empty part a patch"
                " of its own.",
                value=voids,
                limit=MOST_VOIDS,
                unit="[0-1]",
                source="recalled: ANSI/RESNET/ICC 301, appendix A",
                about=patch.name,
            )
        )
    found += _contradiction(terms, voids)
    return tuple(found)


def _contradiction(terms: PatchTerms, voids: float) -> list[Finding]:
    patch = terms.patch
    most = {Grade.I: 0.005, Grade.II: 0.02, Grade.III: MOST_VOIDS}.get(patch.grade)
    if most is not None and voids > most:
        why, value, limit = f"{both(voids, Kind.FRACTION, digits=2)} of voids", voids, most
    elif patch.grade in (Grade.I, Grade.II) and patch.label_depth:
        thin = float(np.mean(terms.depths < FULL * patch.label_depth))
        limit = 0.02 if patch.grade is Grade.I else 0.10
        why, value = (
            f"{both(thin, Kind.FRACTION, digits=2)} of the depths below 70 % of the label",
            thin,
        )
        if thin <= limit:
            return []
    else:
        return []
    return [
        doubt(
            "grade",
            f"{patch.name} is called {patch.grade} and has {why}: that the grade is too good is"
            " likely. Grade it again; what was seen counts here.",
            value=value,
            limit=limit,
            unit="[0-1]",
            source=GRADES,
            about=patch.name,
        )
    ]


def _material(survey: InsulationSurvey, terms: PatchTerms) -> tuple[Finding, ...]:
    patch = terms.patch
    return (*_density(patch), *_cold_air(survey, patch), *_settling(patch))


def _density(patch: InsulationPatch) -> tuple[Finding, ...]:
    row = material_table()[patch.material]
    if patch.density is None or row.densities is None:
        return ()
    low, high = row.densities
    if 0.8 * low <= patch.density <= 1.25 * high:
        return ()
    return (
        doubt(
            "density",
            f"{patch.name} weighs {both(patch.density, Kind.DENSITY, digits=2)},"
            f" and {patch.material} is published for"
            f" {both_range(low, high, Kind.DENSITY, digits=2)}: another material, or a slip"
            " in the weight, is likely. Look again.",
            value=patch.density,
            limit=low if patch.density < low else high,
            unit="kg/m³",
            source=row.source,
            about=patch.name,
        ),
    )


def _cold_air(survey: InsulationSurvey, patch: InsulationPatch) -> tuple[Finding, ...]:
    if (
        patch.material is not Material.LOOSE_GLASS
        or patch.air_covered
        or survey.temperature_difference is not None
    ):
        return ()
    return (
        doubt(
            "cold-air",
            f"{patch.name} is loose glass fiber with nothing over it: when the attic is"
            f" {both(39.0, Kind.TEMPERATURE_DIFFERENCE, digits=2)} colder than the room, air moves"
            " in it and a third to a half of its resistance is gone. A cover of batts or film, or"
            " cellulose over it, stops that.",
            source="Wilkes and Childs, ORNL, Thermal Performance of Fiberglass and Cellulose"
            " Attic Insulations (abstract)",
            about=patch.name,
        ),
    )


def _settling(patch: InsulationPatch) -> tuple[Finding, ...]:
    ahead = settling_ahead(patch.material, patch.age)[0]
    if ahead <= 0.02:
        return ()
    return (
        doubt(
            "settles",
            f"{patch.name} is new and will lose about {both(ahead, Kind.FRACTION, digits=2)} of"
            " its depth; the result is"
            " what is left then.",
            value=ahead,
            unit="[0-1]",
            source="recalled: ASHRAE/DOE and the cellulose trade",
            about=patch.name,
        ),
    )
