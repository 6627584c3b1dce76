"""What each defect costs: the insulation as it was meant to be, spoilt step by step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.insulation.results import DefectCost
from rooftree.readings.insulation.through import EVERYTHING, transmittance

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.insulation.patch import PatchTerms

STEPS = (
    ("depth", "thinner than its label"),
    ("unevenness", "uneven depth"),
    ("settling", "settling still to come"),
    ("cold air", "air moving in it when it is cold"),
    ("framing", "framing"),
    ("gap", "air moving behind it"),
    ("wind", "wind blowing into it"),
    ("voids", "gaps and voids"),
    ("bare", "bare area"),
)
"""Defects in the order in which they are counted, with their words."""

WORTH_TELLING = 1e-9
"""Share of the heat below which a defect is left out of the list [0-1]."""


def defect_costs(patches: Sequence[PatchTerms]) -> tuple[DefectCost, ...]:
    """Return what each defect costs.

    Parameters
    ----------
    patches : sequence of PatchTerms
        One patch, or all of a place.

    Returns
    -------
    tuple of DefectCost
        In the order of :data:`STEPS`, those that cost something. Each is counted after
        those before it, so that the conductances add up to the whole; in another order the
        parts would differ, the whole would not.
    """
    area = sum(terms.patch.area for terms in patches)
    counted = [EVERYTHING - {name for name, _ in STEPS}]
    for name, _ in STEPS:
        counted.append(counted[-1] | {name})
    through = [
        sum(terms.patch.area * transmittance(terms, defects) for terms in patches)
        for defects in counted
    ]
    costs = [
        DefectCost(
            words, area / before - area / after, after - before, (after - before) / through[-1]
        )
        for (_, words), before, after in zip(STEPS, through[:-1], through[1:], strict=True)
    ]
    return tuple(cost for cost in costs if abs(cost.share) >= WORTH_TELLING)
