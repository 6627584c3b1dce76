"""Insulation surveys that tests are built from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.insulation import (
    DepthPoint,
    InsulationPatch,
    InsulationSurvey,
    Material,
    Position,
)

if TYPE_CHECKING:
    from collections.abc import Iterable
    from typing import Any

R = 0.1761101837
INCH = 0.0254


def patch(**changes: Any) -> InsulationPatch:
    """Return a patch of loose cellulose without framing or voids, with some things changed."""
    plain: dict[str, Any] = {
        "name": "all",
        "area": 100.0,
        "material": Material.LOOSE_CELLULOSE,
        "void_share": 0.0,
        "framing_share": 0.0,
    }
    return InsulationPatch(**(plain | changes))


def survey(
    depths: Iterable[float] = (10.0, 10.5, 9.5, 10.0),
    *,
    position: Position = Position.ATTIC_FLOOR,
    part: InsulationPatch | None = None,
    **changes: Any,
) -> InsulationSurvey:
    """Return a survey of one patch with depths in inches."""
    points = tuple(DepthPoint("", depth * INCH) for depth in depths)
    return InsulationSurvey("the attic", position, (part or patch(),), points, **changes)
