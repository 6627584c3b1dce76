"""What each defect costs: the insulation as it was meant to be, spoilt step by step."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.insulation.readings import Contact
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


def spoil_in_steps(terms: PatchTerms) -> tuple[float, ...]:
    """Return what a patch lets through with no defect, then with one more each time.

    Parameters
    ----------
    terms : PatchTerms
        The patch.

    Returns
    -------
    tuple of float
        Of its whole area [W/K], one more than :data:`STEPS`.
    """
    counted = EVERYTHING - {name for name, _ in STEPS}
    through = [terms.patch.area * transmittance(terms, counted)]
    for name, _ in STEPS:
        counted |= {name}
        spoilt = terms.patch.area * transmittance(terms, counted) if _has(terms, name) else None
        through.append(through[-1] if spoilt is None else spoilt)
    return tuple(through)


def _has(terms: PatchTerms, name: str) -> bool:
    """Return whether a patch has a defect at all, so that the others cost no time."""
    patch = terms.patch
    if name in terms.inputs:
        return terms.inputs[name][0] != 0.0
    return {
        "depth": terms.has_label,
        "unevenness": float(np.ptp(terms.depths)) > 0.0,
        "gap": patch.contact is Contact.OPEN_GAP,
        "wind": patch.washed_share > 0.0,
    }[name]


def defect_costs(spoilt: Sequence[Sequence[float]], area: float) -> tuple[DefectCost, ...]:
    """Return what each defect costs.

    Parameters
    ----------
    spoilt : sequence of sequence of float
        For one patch, or each of a place, the steps of :func:`spoil_in_steps` [W/K].
    area : float
        Of them together [m²].

    Returns
    -------
    tuple of DefectCost
        In the order of :data:`STEPS`, those that cost something. Each is counted after
        those before it, so that the conductances add up to the whole; in another order the
        parts would differ, the whole would not.
    """
    through = [sum(step) for step in zip(*spoilt, strict=True)]
    costs = [
        DefectCost(
            words, area / before - area / after, after - before, (after - before) / through[-1]
        )
        for (_, words), before, after in zip(STEPS, through[:-1], through[1:], strict=True)
    ]
    return tuple(cost for cost in costs if abs(cost.share) >= WORTH_TELLING)
