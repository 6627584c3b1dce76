"""Mistakes made with insulation, and whether the reduction notices them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.insulation import (
    DepthPoint,
    Grade,
    InsulationPatch,
    InsulationSurvey,
    Material,
    Position,
    Spot,
    reduce_insulation,
)

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.finding import Finding

R, INCH = 0.1761101837, 0.0254
KINDS = {
    Material.LOOSE_CELLULOSE: (3.4, 28.0),
    Material.LOOSE_ROCK_WOOL: (2.55, 27.0),
    Material.GLASS_BATT: (3.35, 11.0),
}
"""Resistance of an inch and density of what attics are found with [R/in], [kg/m³]."""


def clean(random: Generator) -> InsulationSurvey:
    """Read an attic as it should be: depths spread over it, graded, areas that agree."""
    material = list(KINDS)[int(random.integers(len(KINDS)))]
    scatter = random.uniform(0.05, 0.25) * (0.5 if material is Material.GLASS_BATT else 1.0)
    middle = random.uniform(4.0, 14.0)
    number = int(random.integers(4, 9))
    depths = [middle * math.exp(scatter * random.standard_normal()) for _ in range(number)]
    area = random.uniform(40.0, 150.0)
    each, density = KINDS[material]
    patch = InsulationPatch(
        "all",
        area * random.uniform(0.975, 1.025),
        material,
        density=density * random.uniform(0.95, 1.05),
        void_share=random.uniform(0.0, 0.04),
        grade=Grade.NOT_GRADED,
        claimed_resistance=each * middle * random.uniform(0.85, 1.05) * R,
    )
    points = tuple(DepthPoint("all", round(4.0 * depth) / 4.0 * INCH) for depth in depths)
    return InsulationSurvey("the attic", Position.ATTIC_FLOOR, (patch,), points, area=area)


def found(survey: InsulationSurvey) -> tuple[Finding, ...]:
    """Return the findings of a survey."""
    return reduce_insulation(survey).findings


def _patch(survey: InsulationSurvey, **changes: object) -> InsulationSurvey:
    return replace(survey, patches=(replace(survey.patches[0], **changes),))


def hatch_only(survey: InsulationSurvey, random: Generator) -> InsulationSurvey:
    """Read all depths standing on the ladder."""
    points = survey.depths[: int(random.integers(3, 5))]
    return replace(survey, depths=tuple(replace(p, spot=Spot.HATCH) for p in points))


def one_depth(survey: InsulationSurvey, random: Generator) -> InsulationSurvey:
    """Read one or two depths and call it done."""
    return replace(survey, depths=survey.depths[: int(random.integers(1, 3))])


def ungraded(survey: InsulationSurvey, random: Generator) -> InsulationSurvey:
    """Leave gaps and grade out."""
    del random
    return _patch(survey, void_share=None)


def claimed(survey: InsulationSurvey, random: Generator) -> InsulationSurvey:
    """Believe a listing that says two to four times what lies there."""
    whole = survey.patches[0].claimed_resistance or 0.0
    return _patch(survey, claimed_resistance=whole * random.uniform(2.0, 4.0))


def slipped_unit(survey: InsulationSurvey, random: Generator) -> InsulationSurvey:
    """Type one depth in centimeters for inches, or the other way round, or in feet."""
    factor = (2.54, 1.0 / 2.54, 12.0)[int(random.integers(3))]
    k = int(random.integers(len(survey.depths)))
    points = list(survey.depths)
    points[k] = replace(points[k], depth=points[k].depth * factor)
    return replace(survey, depths=tuple(points))


def copied(survey: InsulationSurvey, random: Generator) -> InsulationSurvey:
    """Read one depth of blown insulation and write it down for all."""
    del random
    loose = _patch(survey, material=Material.LOOSE_CELLULOSE, density=None)
    first = survey.depths[0]
    return replace(loose, depths=tuple(replace(p, depth=first.depth) for p in survey.depths))


def slipped_area(survey: InsulationSurvey, random: Generator) -> InsulationSurvey:
    """Slip in the area: a wing forgotten, or counted twice."""
    factor = random.uniform(1.15, 1.8)
    area = survey.patches[0].area * (factor if random.random() < 0.5 else 1.0 / factor)
    return _patch(survey, area=area)


def _mistake(number: int, name: str, code: str, spoil: object, *, twice: bool = False) -> Mistake:
    codes = tuple(f"insulation/{each}" for each in code.split())
    return Mistake(number, name, codes, clean, spoil, found, factor_of_two=twice)  # type: ignore[arg-type]


MISTAKES = (
    _mistake(27, "Depths read at the hatch only", "hatch-only", hatch_only),
    _mistake(27, "One or two depths for the whole attic", "few-depths", one_depth),
    _mistake(27, "Gaps and grade ignored", "not-graded", ungraded),
    _mistake(27, "A claim of 2 to 4 times what lies there", "claim", claimed, twice=True),
    _mistake(27, "One depth copied for all", "same-depths", copied),
    _mistake(28, "Area of a wing forgotten or counted twice", "area", slipped_area),
    _mistake(29, "One depth in another unit", "odd-depth too-deep", slipped_unit),
)
