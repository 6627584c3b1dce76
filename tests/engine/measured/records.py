"""Read the records of measured houses, and say how far a model is from them."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.engine import Hourly, YearResult

MEASURED = Path(__file__).parents[4] / "shared" / "measured"
"""Open measured data beside the checkout; what needs it is skipped where it is absent."""

ZERO = 273.15
"""0 °C [K]."""


@cache
def columns(path: Path) -> Mapping[str, NDArray[np.float64]]:
    """Return the numeric columns of a file; columns of dates are left out."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {
        name: np.array([float(row[name]) for row in rows])
        for name in rows[0]
        if not name.startswith("t_")
    }


def between_stamps(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return means of the hours between the moments of a record, one fewer than there are."""
    return np.asarray(0.5 * (values[1:] + values[:-1]))


def day_means(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the mean of each whole day."""
    whole = values.size // 24 * 24
    return np.asarray(values[:whole].reshape(-1, 24).mean(axis=1))


@dataclass(frozen=True, slots=True)
class Comparison:
    """How far a model is from what was measured; every value in the unit of the quantity."""

    measured: float
    bias: float
    spread: float
    largest: float

    @classmethod
    def of(cls, model: NDArray[np.float64], measured: NDArray[np.float64]) -> Comparison:
        """Return mean measured, mean error, root mean square and largest error."""
        off = model - measured
        worst = off[np.argmax(np.abs(off))]
        return cls(
            float(measured.mean()),
            float(off.mean()),
            float(np.sqrt((off**2).mean())),
            float(worst),
        )


def hours_of(result: YearResult) -> Hourly:
    """Return the hours of a result that was asked to keep them."""
    assert result.hourly is not None
    return result.hourly
