"""Pressure pans: whether the truth is in the range."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from covered.method import Method
from known_air import Path, hold
from rooftree.readings.duct_pans import DuctPanTest, PanReading, reduce_duct_pans

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

    from covered.method import Ranged

GAUGE = 0.2
"""Standard uncertainty of one pressure reading [Pa]."""


def draw_run(random: Generator) -> tuple[float, tuple[Path, ...]]:
    """Draw the run of one register: holes to outdoors over holes to the house, and its paths."""
    n, m = (min(max(float(random.normal(0.6, 0.05)), 0.5), 1.0) for _ in range(2))
    ratio = math.exp(random.normal(math.log(0.25), 0.8))
    inside = 0.05
    return ratio, (
        Path(0, 2, 0.7 / 50.0**0.65, 0.65),
        Path(0, 1, inside / 50.0**n, n),
        Path(1, 2, ratio * inside / 50.0**m, m),
    )


def shown_pressure(paths: tuple[Path, ...], house: float) -> float:
    """Return the pressure between house and duct under the pan."""
    _, shown = hold(2, paths, house)
    return abs(float(shown[0] - shown[1]))


def _pan(result: str) -> Callable[[Generator], tuple[float, Ranged] | None]:
    def trial(random: Generator) -> tuple[float, Ranged] | None:
        ratio, paths = draw_run(random)
        house = float(random.uniform(25.0, 50.0))
        read = shown_pressure(paths, -house + random.normal(0.0, GAUGE))
        pan = PanReading("one", round(float(read + random.normal(0.0, GAUGE)), 1))
        found = reduce_duct_pans(DuctPanTest(-house, (pan,))).pans
        if result == "ratio":
            value = found[0].ratio if found else None
            return (ratio, value) if value else None
        return (shown_pressure(paths, -50.0), found[0].normalized) if found else None

    return trial


DRAWS = "house held at 25 to 50 Pa, gauge ± 0.2 Pa, both exponents from 0.6 ± 0.05"

METHODS = (
    Method("pan pressure brought to a house at 50 Pa", _pan("normalized"), DRAWS),
    Method("holes to outdoors over holes to the house", _pan("ratio"), DRAWS),
)
