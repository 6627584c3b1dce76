"""Insulation of the demo's attic floor: old batts, read with a ruler on a board."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.job import Test
from rooftree.readings.insulation import (
    DepthPoint,
    Grade,
    InsulationPatch,
    InsulationSurvey,
    Material,
    Position,
    Spot,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

INCH, R_VALUE = 0.0254, 0.1761101837
MADE = 3.5 * INCH
"""Thickness of the batts of 1961."""


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield the attic floor; over the hall it was read from the ladder only."""
    ceiling = next(surface for surface in house.surfaces if surface.id == "ceiling")
    old = {
        "material": Material.GLASS_BATT,
        "label_resistance": 11.0 * R_VALUE,
        "label_depth": MADE,
        "framing_spacing": 16.0 * INCH,
        "framing_width": 1.5 * INCH,
        "framing_depth": 5.5 * INCH,
        "covers_framing": False,
    }
    patches = (
        InsulationPatch(
            "over the bedrooms",
            round(0.7 * ceiling.area),
            void_share=0.06,
            washed_share=0.08,
            claimed_resistance=19.0 * R_VALUE,
            **old,
        ),
        InsulationPatch(
            "over the hall", round(0.3 * ceiling.area), grade=Grade.III, covered_share=0.92, **old
        ),
    )
    yield Test(
        id="test-attic-floor",
        name="Insulation of the attic floor",
        visit="visit-1",
        reading=InsulationSurvey(
            "Attic floor",
            Position.ATTIC_FLOOR,
            patches,
            (
                *(_depth("over the bedrooms", rng, 0.06) for _ in range(5)),
                _depth("over the bedrooms", rng, 0.25, Spot.EAVE),
                *(_depth("over the hall", rng, 0.15, Spot.HATCH) for _ in range(2)),
            ),
            area=round(ceiling.area),
        ),
    )


def _depth(patch: str, rng: Generator, squeezed: float, spot: Spot = Spot.FIELD) -> DepthPoint:
    """Read to a quarter of an inch."""
    share = 1.0 - squeezed - abs(float(rng.normal(0.0, 0.08)))
    return DepthPoint(patch, round(4.0 * MADE * share / INCH) / 4.0 * INCH, spot)
