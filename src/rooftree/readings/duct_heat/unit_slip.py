"""Was a temperature of a run typed in the other scale? The run itself must make sense.

Each explanation (all as noted; one of the temperatures, or all, in the other scale) is
weighed by how usual its temperatures are and by how well the register follows from the
entering air and the surroundings. Spreads are ours.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from rooftree.physics.sureness import probability_from_odds

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.readings.duct_heat.readings import DuctRunReading

COOLING, HEATING, STILL = (13.0, 3.5), (47.0, 9.0), (24.0, 6.0)
"""Mean and spread of supply air that cools, that heats, and of return air [°C]; ours."""

AROUND = (27.0, 19.0)
"""Mean and spread of the air round ducts outside the rooms [°C]; ours."""

SLIPS_BEFORE = 0.02
"""Share of temperatures typed in the other scale, before one is looked at [0-1]; ours."""

ODDMENTS, ODDMENT_LOW, ODDMENT_HIGH = 0.01, -40.0, 75.0
"""Share of readings far from the usual for good reasons [0-1], and between which temperatures
they can lie [°C]; ours: hotter or colder than that, air in or round a duct is not."""

NEVER = 1e-9
"""Density of readings beyond those [1/K]; ours."""

USUAL_NUMBER = 0.12
"""Conductance over capacity rate of a usual run [-], where the run itself cannot tell; ours."""


class Slip(NamedTuple):
    """Temperatures that were probably typed in the other scale."""

    which: str
    """Which of them, in plain words."""
    scale: str
    """Scale in which they were most likely meant."""
    meant: float
    """What the first of them would then be [K]."""
    probability: float
    """Of the slip [0-1]."""


def _bell(celsius: float, mean: float, spread: float) -> float:
    return math.exp(-0.5 * ((celsius - mean) / spread) ** 2) / (spread * math.sqrt(2.0 * math.pi))


def _usual(celsius: float, *spreads: tuple[float, float]) -> float:
    near = sum(_bell(celsius, *spread) for spread in spreads) / len(spreads)
    return math.log((1.0 - ODDMENTS) * near + _odd(celsius))


def _odd(celsius: float) -> float:
    if ODDMENT_LOW <= celsius <= ODDMENT_HIGH:
        return ODDMENTS / (ODDMENT_HIGH - ODDMENT_LOW)
    return NEVER


def _weight(entering: float, around: float, register: float | None, number: float) -> float:
    """Return how well three temperatures [°C] go together, as a logarithm."""
    total = _usual(entering, COOLING, HEATING, STILL) + _usual(around, AROUND)
    if register is not None:
        expected = around + (entering - around) * math.exp(-number)
        spread = math.hypot(1.5, 0.6 * (expected - entering))
        total += math.log((1.0 - ODDMENTS) * _bell(register, expected, spread) + _odd(register))
    return total


def find_slip(reading: DuctRunReading, number: float | None = None) -> Slip | None:
    """Return which temperatures of a run were probably typed in the other scale.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    number : float or None
        Its conductance over its capacity rate [-]; None where it is not known.

    Returns
    -------
    Slip or None
        None where it is more probable that all were noted as meant.
    """
    names = ("the entering air", "the surroundings", "the register")
    read = (
        reading.entering_temperature,
        reading.surroundings_temperature,
        reading.register_temperature,
    )
    noted = tuple(None if t is None else t - 273.15 for t in read)
    ntu = USUAL_NUMBER if number is None else number
    plain = _weight(noted[0] or 0.0, noted[1] or 0.0, noted[2], ntu)
    before = math.log(SLIPS_BEFORE / (1.0 - SLIPS_BEFORE))
    scales: tuple[tuple[str, Callable[[float], float], float], ...] = (
        ("°F", lambda t: (t - 32.0) / 1.8, 1.0 / 1.8),
        ("°C", lambda t: 1.8 * t + 32.0, 1.8),
    )
    given = tuple(i for i, t in enumerate(noted) if t is not None)
    best: Slip | None = None
    for scale, as_meant, stretch in scales:
        for which in (*((i,) for i in given), given):
            meant = [t if t is None or i not in which else as_meant(t) for i, t in enumerate(noted)]
            weight = _weight(meant[0] or 0.0, meant[1] or 0.0, meant[2], ntu)
            weight += len(which) * math.log(stretch)
            probability = probability_from_odds(weight - plain + before)
            if probability > 0.5 and (best is None or probability > best.probability):
                words = names[which[0]] if len(which) == 1 else "all temperatures"
                best = Slip(words, scale, (meant[which[0]] or 0.0) + 273.15, probability)
    return best
