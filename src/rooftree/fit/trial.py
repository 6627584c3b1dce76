"""A fan test simulated again and again with other sizes of cracks, until it fits."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq, least_squares

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.engine.gauges import GaugedHouse
    from rooftree.engine.paths import Paths

REFERENCE_PRESSURE = 50.0
"""Pressure at which the measured flow is given back [Pa]."""

LOW_PRESSURE = 10.0
"""Second pressure: the exponent is that of the curve between the two [Pa]."""

USUAL_EXPONENT = 0.65
"""Exponent where only the flow at one pressure is known [-]."""

EXPONENT_UNCERTAINTY, SHIFT_PRIOR = 0.005, 0.1
"""Standard deviations of the exponent to meet, and of the shift before any reading [-]."""

LARGEST = math.log(3000.0)
"""Logarithm of the largest factor by which cracks are scaled, up or down [-]."""


@dataclass(frozen=True, slots=True)
class ZoneReading:
    """What was read at one buffer space, without signs.

    Attributes
    ----------
    zone : int
        Index of the space.
    group : int
        Which group of cracks it settles.
    house, between : float
        House to outdoors and house to zone [Pa].
    uncertainty : float
        Standard uncertainty of `between` [Pa].
    """

    zone: int
    group: int
    house: float
    between: float
    uncertainty: float


@dataclass(frozen=True, slots=True)
class Solution:
    """Sizes of cracks that fit best.

    Attributes
    ----------
    scale : tuple of float
        Factor of each group on the flow at 50 Pa [-].
    shift : float
        Of the exponents of the cracks [-].
    spread : tuple of float
        Standard deviation of the logarithm of each reading's group over the common
        factor [-].
    between : tuple of float
        Simulated house-to-zone pressure of each reading [Pa].
    exponent : float
        Simulated between 10 and 50 Pa [-].
    """

    scale: tuple[float, ...]
    shift: float
    spread: tuple[float, ...]
    between: tuple[float, ...]
    exponent: float


@dataclass(frozen=True, slots=True, eq=False)
class Trial:
    """A house, its groups of cracks, and the fan test that they have to meet.

    Attributes
    ----------
    gauged : GaugedHouse
        The house laid out for the test.
    groups : tuple of ndarray of int
        Indices of the paths in each group.
    flow : float
        Measured at 50 Pa [m³/s].
    exponent : float or None
        Of the measured curve [-]; None where only the flow is known.
    """

    gauged: GaugedHouse
    groups: tuple[NDArray[np.int64], ...]
    flow: float
    exponent: float | None

    def curve(self, pressure: float) -> float:
        """Return the measured flow [m³/s] at a pressure [Pa]."""
        exponent = USUAL_EXPONENT if self.exponent is None else self.exponent
        return self.flow * math.pow(pressure / REFERENCE_PRESSURE, exponent)

    def resized(self, logarithms: NDArray[np.float64], shift: float) -> Paths:
        """Return the paths with each group scaled and the exponents of all shifted."""
        paths = self.gauged.paths
        coefficient, exponent = paths.coefficient.copy(), paths.exponent.copy()
        for group, logarithm in zip(self.groups, logarithms, strict=True):
            shifted = np.clip(exponent[group] + shift, 0.5, 1.0)
            at_reference = REFERENCE_PRESSURE ** (exponent[group] - shifted)
            coefficient[group] *= np.exp(logarithm) * at_reference
            exponent[group] = shifted
        return replace(paths, coefficient=coefficient, exponent=exponent)

    def drawn(self, paths: Paths, flow: float) -> NDArray[np.float64]:
        """Return how far below outdoors each space is [Pa] while the fan draws `flow` [m³/s]."""
        gauged = replace(self.gauged, paths=paths)
        return -gauged.with_fan(-flow * float(gauged.density[gauged.fan]))

    def common(self, relative: NDArray[np.float64], shift: float) -> float:
        """Return the logarithm of the one factor that meets the measured flow.

        Where no factor does, the largest or the smallest that is tried.
        """

        def excess(logarithm: float) -> float:
            drawn = self.drawn(self.resized(relative + logarithm, shift), self.flow)
            return math.log(float(drawn[self.gauged.fan]) / REFERENCE_PRESSURE)

        if excess(-LARGEST) <= 0.0:
            return -LARGEST
        if excess(LARGEST) >= 0.0:
            return LARGEST
        return float(brentq(excess, -LARGEST, LARGEST, xtol=1e-13, rtol=1e-13))

    def simulated_exponent(self, paths: Paths) -> float:
        """Return the exponent of the simulated curve between 10 and 50 Pa [-]."""
        low, high = self.curve(LOW_PRESSURE), self.flow
        fan = self.gauged.fan
        ratio = float(self.drawn(paths, high)[fan] / self.drawn(paths, low)[fan])
        return math.log(high / low) / math.log(ratio)

    def simulated_between(self, paths: Paths, reading: ZoneReading) -> float:
        """Return the simulated house-to-zone pressure of a reading [Pa]."""
        drawn = self.drawn(paths, self.curve(reading.house))
        house = float(drawn[self.gauged.fan])
        return (house - float(drawn[reading.zone])) / house * reading.house


def solve_trial(trial: Trial, readings: tuple[ZoneReading, ...], prior_spread: float) -> Solution:
    """Find the sizes of cracks that fit best.

    Parameters
    ----------
    trial : Trial
        House and fan test.
    readings : tuple of ZoneReading
        Zone pressures, each of another group.
    prior_spread : float
        Standard deviation of the logarithm of a group over the common factor, before any
        reading [-].

    Returns
    -------
    Solution
    """
    with_shift = trial.exponent is not None

    def spell_out(unknown: NDArray[np.float64]) -> tuple[NDArray[np.float64], float]:
        relative = np.zeros(len(trial.groups))
        for reading, value in zip(readings, unknown, strict=False):
            relative[reading.group] = value
        shift = float(unknown[-1]) if with_shift else 0.0
        return relative + trial.common(relative, shift), shift

    def residuals(unknown: NDArray[np.float64]) -> NDArray[np.float64]:
        paths = trial.resized(*spell_out(unknown))
        off = [
            (trial.simulated_between(paths, each) - each.between) / each.uncertainty
            for each in readings
        ]
        off.extend(unknown[: len(readings)] / prior_spread)
        if trial.exponent is not None:
            off.append((trial.simulated_exponent(paths) - trial.exponent) / EXPONENT_UNCERTAINTY)
            off.append(unknown[-1] / SHIFT_PRIOR)
        return np.array(off)

    unknown, spread = np.zeros(len(readings) + with_shift), np.zeros(0)
    if unknown.size:
        reach = np.array([LARGEST] * len(readings) + [0.5] * with_shift)
        found = least_squares(residuals, unknown, jac="3-point", bounds=(-reach, reach))
        unknown = found.x
        slopes = np.asarray(found.jac)
        spread = np.sqrt(np.diag(np.linalg.inv(slopes.T @ slopes)))
    logarithms, shift = spell_out(unknown)
    paths = trial.resized(logarithms, shift)
    return Solution(
        scale=tuple(float(each) for each in np.exp(logarithms)),
        shift=shift,
        spread=tuple(float(each) for each in spread[: len(readings)]),
        between=tuple(trial.simulated_between(paths, each) for each in readings),
        exponent=trial.simulated_exponent(paths),
    )
