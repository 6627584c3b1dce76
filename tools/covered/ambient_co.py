"""Round trips of the trend of carbon monoxide in a room, a stirred room with a source."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from covered.method import Method
from rooftree.readings.ambient_co import AmbientReading, AmbientTest, reduce_ambient_co

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.physics.propagation import Propagated


def trend(rng: Generator) -> tuple[float, Propagated] | None:
    """Read a room that fills; the truth is the straight line through what it really held."""
    changes, fed = rng.uniform(0.2, 1.0), rng.uniform(0.5, 20.0)
    count = int(rng.integers(5, 13))
    hours = np.sort(rng.uniform(0.0, 1.5, count))
    held = fed / changes * (1.0 - np.exp(-changes * hours)) + rng.uniform(0.0, 5.0)
    truth = float(np.polyfit(hours, held, 1)[0])
    scale = 1.0 + 0.05 * rng.normal()
    shown = scale * held + rng.normal(0.0, 1.0, count)
    readings = tuple(
        AmbientReading(float(3600.0 * hour), "basement", float(ppm))
        for hour, ppm in zip(hours, shown, strict=True)
    )
    (place,) = reduce_ambient_co(AmbientTest(readings)).places
    return (truth, place.trend) if place.trend else None


METHODS = (
    Method("rise of carbon monoxide in a room", trend,
           "source, 0.2 to 1 air changes, 5 to 12 readings in an hour and a half"),
)  # fmt: skip
