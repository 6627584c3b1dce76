"""Many distinct variants of one house: every package of some measures, and an ensemble."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.plan import apply_measure

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.random import Generator

    from rooftree.house import House, Layer, Leak, Surface, Use
    from rooftree.job import Job

OFFERED = (
    "air-sealing", "bonus-floor", "knee-walls", "attic", "crawlspace", "duct-sealing",
    "duct-wrap", "walls", "windows", "water-heater", "furnace", "air-conditioner",
)  # fmt: skip
"""Measures of the demo that do not exclude each other; all their sets are 4,096 packages."""

EXPONENTS = 0.5, 1.0
"""Of a leak, least and most [-]."""


def packages(house: House, job: Job) -> tuple[House, ...]:
    """Return the house with every set of the offered measures, the empty one first.

    Parameters
    ----------
    house : House
        Of the job, as found.
    job : Job
        The demo, which offers the measures.

    Returns
    -------
    tuple of House
        All different; a measure that comes later in `OFFERED` changes less often.
    """
    measures = {measure.id: measure for measure in job.measures}
    houses = [house]
    for name in OFFERED:
        houses += [apply_measure(each, measures[name]) for each in houses]
    return tuple(houses)


def ensemble(house: House, members: int, seed: int = 1) -> tuple[House, ...]:
    """Return houses as the first might be too: every leak, layer and setpoint is drawn.

    Parameters
    ----------
    house : House
        The house.
    members : int
        How many [-].
    seed : int
        Of the draws [-]; the same gives the same houses.

    Returns
    -------
    tuple of House
        No two share a surface. One standard deviation each: leaks by a factor of e^±0.4,
        exponents by ±0.03, conductivities of all layers by e^±0.2, setpoints by ±1 K (and by no
        more than 1.5 K, so that heat stays below cold).
    """
    draws = np.random.default_rng(seed)
    return tuple(_member(house, draws) for _ in range(members))


def _member(house: House, draws: Generator) -> House:
    return replace(
        house,
        leaks=tuple(_leak(leak, draws) for leak in house.leaks),
        surfaces=tuple(_surface(surface, draws) for surface in house.surfaces),
        use=_use(house.use, draws),
    )


def _leak(leak: Leak, draws: Generator) -> Leak:
    exponent = float(np.clip(leak.exponent + draws.normal(0.0, 0.03), *EXPONENTS))
    return replace(
        leak, coefficient=leak.coefficient * draws.lognormal(0.0, 0.4), exponent=exponent
    )


def _surface(surface: Surface, draws: Generator) -> Surface:
    return replace(surface, layers=tuple(_layer(layer, draws) for layer in surface.layers))


def _layer(layer: Layer, draws: Generator) -> Layer:
    return replace(layer, conductivity=layer.conductivity * draws.lognormal(0.0, 0.2))


def _use(use: Use, draws: Generator) -> Use:
    return replace(
        use,
        heating_setpoint=_shifted(use.heating_setpoint, draws),
        cooling_setpoint=_shifted(use.cooling_setpoint, draws),
    )


def _shifted(setpoint: Sequence[float], draws: Generator) -> tuple[float, ...]:
    shift = float(np.clip(draws.normal(0.0, 1.0), -1.5, 1.5))
    return tuple(each + shift for each in setpoint)
