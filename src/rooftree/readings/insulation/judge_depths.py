"""Doubts about depths: too few, at the access, copied, in another unit, or less than claimed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.insulation.doubt import doubt
from rooftree.readings.insulation.materials import material_table
from rooftree.readings.insulation.readings import Spot
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.finding import Finding
    from rooftree.readings.insulation.patch import PatchTerms
    from rooftree.readings.insulation.readings import DepthPoint, InsulationSurvey

LEAST_POINTS = 3
"""Depths that a patch needs [-]; common practice: three or more, with a ruler in the photo."""

SLIPS = {
    "inches and centimeters": 2.54,
    "feet and inches": 12.0,
    "centimeters and millimeters": 10.0,
    "inches and millimeters": 25.4,
}
"""Ratio of units that are mixed up [-]."""

SELDOM = math.log(20.0)
"""Logarithm of the odds against a slip in any one depth [-]; ours."""

CHANCE = 4.5
"""Spreads from the others beyond which a depth is odd whatever explains it [-]; ours."""

USUAL_POINTS = 3.0
"""Weight of the usual unevenness against the depths read, in points [-]; ours."""

DEEPEST = 0.9
"""Depth beyond which no house has insulation, nearly [m]; ours."""


def judge_depths(
    survey: InsulationSurvey, terms: PatchTerms, points: tuple[DepthPoint, ...]
) -> tuple[Finding, ...]:
    """Judge the depths of one patch, and what is claimed beside them.

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
        *_sampling(survey, terms, points),
        *_odd_depths(terms, points),
        *_same_depths(terms),
        *_too_deep(terms),
        *_claim(terms),
    )


def _sampling(
    survey: InsulationSurvey, terms: PatchTerms, points: tuple[DepthPoint, ...]
) -> tuple[Finding, ...]:
    patch, found = terms.patch, []
    read = [p for p in survey.depths if p.patch == patch.name or not p.patch]
    if read and len(points) < LEAST_POINTS:
        found.append(
            doubt(
                "few-depths",
                f"{len(points)} depth{'s' if len(points) > 1 else ''} of {patch.name}: too few"
                " to know how even it is, so the range is wide. Read three or more, spread"
                " over it, each with a ruler in the photo.",
                value=float(len(points)),
                limit=float(LEAST_POINTS),
                unit="-",
                source="common practice",
                about=patch.name,
            )
        )
    if read and terms.is_local:
        found.append(
            doubt(
                "hatch-only",
                f"All depths of {patch.name} were read at the access, where insulation is"
                " likely to be trodden down, pushed aside or heaped up. The range is widened;"
                " read the far corners and the eaves before you leave.",
                source="common practice",
                about=patch.name,
            )
        )
    return tuple(found)


def _odd_depths(terms: PatchTerms, points: tuple[DepthPoint, ...]) -> tuple[Finding, ...]:
    """Find a depth that another unit explains better than chance, or nothing does."""
    depths = np.array([p.depth for p in points if p.spot is Spot.FIELD and p.depth > 0.01])
    if depths.size < LEAST_POINTS:
        return ()
    logs = np.log(depths)
    found = []
    for index, each in enumerate(logs):
        others = np.delete(logs, index)
        spread = _spread_of_one(others, material_table()[terms.patch.material].unevenness)
        away = float(each - np.mean(others))
        odds, slip = _odds_of_slip(away, spread)
        if odds <= 0.0 and abs(away) < CHANCE * spread:
            continue
        found.append((max(odds, abs(away) / spread - CHANCE), index, away, spread, slip))
    return tuple(_odd(terms, depths, *each[1:]) for each in sorted(found)[-1:])


def _odd(
    terms: PatchTerms,
    depths: NDArray[np.float64],
    index: int,
    away: float,
    spread: float,
    slip: str,
) -> Finding:
    why = f" The ratio is that of {slip}." if slip else ""
    sure = sureness(probability_within(abs(away) / spread))
    return doubt(
        "odd-depth",
        f"One depth of {terms.patch.name} is {math.exp(away):.2g} times the middle of the"
        f" others.{why} A slip of the unit or the pen is {sure}; read it again, or make it a"
        " patch of its own.",
        value=float(depths[index]),
        limit=float(depths[index] / math.exp(away)),
        unit="m",
        about=terms.patch.name,
    )


def _spread_of_one(others: NDArray[np.float64], usual: float) -> float:
    """Return how far one more depth may be from the mean of the others, as a logarithm."""
    scatter = float(np.sum((others - np.mean(others)) ** 2))
    freedom = USUAL_POINTS + others.size - 1.0
    # Divided by two less than the freedom: the spread of Student's distribution.
    pooled = (USUAL_POINTS * usual**2 + scatter) / (freedom - 2.0)
    return math.sqrt(pooled * (1.0 + 1.0 / others.size))


def _odds_of_slip(away: float, spread: float) -> tuple[float, str]:
    """Return the logarithm of the odds that a unit was mixed up, and which."""
    best, name = -math.inf, ""
    for each, ratio in SLIPS.items():
        left = abs(away) - math.log(ratio)
        odds = (away**2 - left**2) / (2.0 * spread**2) - SELDOM
        if odds > best:
            best, name = odds, each
    near = min(abs(abs(away) - math.log(ratio)) for ratio in SLIPS.values())
    return (best, name) if near < CHANCE * spread else (-math.inf, "")


def _same_depths(terms: PatchTerms) -> tuple[Finding, ...]:
    form = material_table()[terms.patch.material].form
    if form != "loose" or terms.depths.size < LEAST_POINTS or np.ptp(terms.depths) > 0.0:
        return ()
    return (
        doubt(
            "same-depths",
            f"All {terms.depths.size} depths of {terms.patch.name} are the same, which blown"
            " insulation hardly ever is: that one was read and copied is likely. Read each.",
            value=0.0,
            unit="m",
            about=terms.patch.name,
        ),
    )


def _too_deep(terms: PatchTerms) -> tuple[Finding, ...]:
    patch, deepest = terms.patch, float(np.max(terms.depths))
    if deepest > DEEPEST:
        return (
            doubt(
                "too-deep",
                f"A depth of {patch.name} is {both(deepest, Kind.THICKNESS, digits=2)}, which"
                " hardly"
                " any house has: a slip of the unit is almost certain. Check inches, centimeters"
                " and"
                " feet.",
                value=deepest,
                limit=DEEPEST,
                unit="m",
                about=patch.name,
            ),
        )
    if patch.label_depth is None or terms.mean_depth <= 1.25 * patch.label_depth:
        return ()
    return (
        doubt(
            "deeper-than-label",
            f"{patch.name} is deeper than the thickness on its label: a second layer, or the"
            " wrong label, is likely. It counts as the label; enter what lies below as older"
            " insulation.",
            value=terms.mean_depth,
            limit=patch.label_depth,
            unit="m",
            about=patch.name,
        ),
    )


def _claim(terms: PatchTerms) -> tuple[Finding, ...]:
    """Hold what a paper claims against what the depth can give, whole and even."""
    patch, claimed = terms.patch, terms.patch.claimed_resistance
    if claimed is None or not claimed > 0.0:
        return ()
    depth = terms.mean_depth
    if terms.has_label and patch.label_depth:
        depth = min(depth, patch.label_depth)
        found = terms.intended * 0.5 * (1.0 + depth / patch.label_depth)
    else:
        found = depth / terms.conductivity
    found += patch.underlay
    uneven = material_table()[patch.material].unevenness
    relative = math.hypot(terms.inputs["resists"][1], uneven / math.sqrt(terms.depths.size), 0.05)
    away = math.log(claimed / max(found, 1e-6)) / relative
    if away < 2.0 or claimed < 1.15 * found:
        return ()
    return (
        doubt(
            "claim",
            f"{patch.name} is said to have {both(claimed, Kind.THERMAL_RESISTANCE, digits=2)}, and"
            f" {both(terms.mean_depth, Kind.THICKNESS, digits=2)} of {patch.material} has about"
            f" {both(found, Kind.THERMAL_RESISTANCE, digits=2)} at best: that the claim is too high"
            f" is {sureness(probability_within(away))}. Photograph a ruler in it and use the"
            " depth.",
            value=claimed,
            limit=found,
            unit="m²·K/W",
            about=patch.name,
        ),
    )
