"""Round trips of the volume of rooms over what burners need."""

from __future__ import annotations

from typing import TYPE_CHECKING

from covered.method import Method
from rooftree.readings.combustion_air import (
    AirSpace,
    CombustionAirTest,
    Joined,
    RoomBurner,
    known_air_volume,
    reduce_combustion_air,
    standard_volume,
)

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.physics.propagation import Propagated

LENGTH = 0.03


def _share(rng: Generator, changes: float | None) -> tuple[float, Propagated] | None:
    rate = float(rng.uniform(8e3, 40e3))
    spaces, volume = [], 0.0
    for joined in (Joined.ITSELF, Joined.OPENING):
        long, wide, high = rng.uniform(2.0, 8.0), rng.uniform(2.0, 6.0), rng.uniform(2.2, 2.7)
        volume += float(long * wide * high)
        read = [value + LENGTH * rng.normal() for value in (long, wide, high)]
        spaces.append(AirSpace(joined.value, float(read[0] * read[1]), float(read[2]), joined))
    if changes is None:
        needed, shown = standard_volume(rate), None
    else:
        needed = known_air_volume(rate, changes, fan_assisted=False)
        shown = float(changes * (1.0 + 0.2 * rng.normal()))
        if shown <= 0.0:
            return None
    test = CombustionAirTest(
        "room", tuple(spaces), (RoomBurner("furnace", rate),), air_changes=shown,
        length_uncertainty=LENGTH,
    )  # fmt: skip
    found = reduce_combustion_air(test).share
    return (volume / needed, found) if found else None


METHODS = (
    Method("volume over need, standard method", lambda rng: _share(rng, None),
           "two rooms, lengths to 3 cm"),
    Method("volume over need, known infiltration",
           lambda rng: _share(rng, float(rng.uniform(0.10, 0.30))),
           "the same, air changes to a fifth"),
)  # fmt: skip
