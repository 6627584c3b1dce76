"""The flue sample that counts, and what it holds without excess air."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.propagation import COVERAGE, Propagated, factor_limits
from rooftree.readings.combustion.flue_gas import (
    HANDBOOK_OXYGEN,
    HIGHEST_OXYGEN,
    LOWEST_CARBON_DIOXIDE,
    OXYGEN_OF_AIR,
    ULTIMATE_CARBON_DIOXIDE,
    air_free_by_carbon_dioxide,
    air_free_carbon_monoxide,
    excess_air,
    ultimate_carbon_dioxide,
)

if TYPE_CHECKING:
    from rooftree.readings.combustion.readings import CombustionTest

ULTIMATE_SPREAD = 0.02
"""Standard uncertainty of the ultimate carbon dioxide of a fuel as burnt, relative [0-1]; ours:
supplies of natural gas differ by about that."""


@dataclass(frozen=True, slots=True)
class FlueGas:
    """What the sample that counts tells.

    Attributes
    ----------
    measured : float or None
        Carbon monoxide as measured [ppm].
    oxygen, carbon_dioxide : float or None
        In the same sample [0-1].
    seconds : float or None
        Since fire-up [s].
    air_free : Propagated or None
        Carbon monoxide without excess air [ppm]; None where it cannot be told.
    by : str
        ``"oxygen"``, ``"carbon dioxide"`` or empty.
    excess_air : float or None
        Air beyond what the fuel needs, over that [-].
    ultimate : Propagated or None
        Carbon dioxide without excess air, from both gases [0-1].
    """

    measured: float | None
    oxygen: float | None
    carbon_dioxide: float | None
    seconds: float | None
    air_free: Propagated | None
    by: str
    excess_air: float | None
    ultimate: Propagated | None


def flue_gas_of(test: CombustionTest) -> FlueGas:
    """Return what the flue sample that counts tells: the last one logged.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    FlueGas

    Examples
    --------
    >>> from rooftree.readings.combustion.readings import CombustionTest
    >>> heater = CombustionTest(
    ...     "water heater", "natural draft", 0.0, 100.0, 0.09, -0.5, -1.5, "dryer on",
    ...     30.0, -2.5, False, 283.15,
    ... )
    >>> round(flue_gas_of(heater).air_free.value, 1)
    175.6
    """
    measured, oxygen, dioxide = test.flue_co, test.flue_oxygen, test.flue_carbon_dioxide
    seconds = test.sample_seconds
    if test.flue_samples:
        last = max(test.flue_samples, key=lambda sample: sample.seconds)
        measured, seconds = last.carbon_monoxide, last.seconds
        oxygen, dioxide = last.oxygen, last.carbon_dioxide
    free, by = _air_free(test, measured, oxygen, dioxide)
    ultimate = ULTIMATE_CARBON_DIOXIDE[test.fuel]
    carbon = _as_carbon_dioxide(oxygen, dioxide, ultimate)
    excess = (
        excess_air(carbon, ultimate)
        if carbon is not None and LOWEST_CARBON_DIOXIDE <= carbon <= ultimate
        else None
    )
    return FlueGas(
        measured, oxygen, dioxide, seconds, free, by, excess, _ultimate(test, oxygen, dioxide)
    )


def _as_carbon_dioxide(
    oxygen: float | None, dioxide: float | None, ultimate: float
) -> float | None:
    if dioxide is not None or oxygen is None:
        return dioxide
    return ultimate * (1.0 - oxygen / HANDBOOK_OXYGEN)


def _air_free(
    test: CombustionTest, measured: float | None, oxygen: float | None, dioxide: float | None
) -> tuple[Propagated | None, str]:
    """Return the air-free carbon monoxide with its first-order uncertainty (JCGM 100, eq. 10)."""
    if measured is None or measured < 0.0:
        return None, ""
    of_reading, of_gas = test.concentration_uncertainty, test.gas_uncertainty
    if oxygen is not None and 0.0 <= oxygen <= HIGHEST_OXYGEN:
        relative = math.hypot(of_reading, of_gas / (OXYGEN_OF_AIR - oxygen))
        return factor_limits(air_free_carbon_monoxide(measured, oxygen), relative), "oxygen"
    ultimate = ULTIMATE_CARBON_DIOXIDE[test.fuel]
    if dioxide is not None and LOWEST_CARBON_DIOXIDE <= dioxide <= ultimate:
        relative = math.hypot(of_reading, of_gas / dioxide, ULTIMATE_SPREAD)
        free = air_free_by_carbon_dioxide(measured, dioxide, test.fuel)
        return factor_limits(free, relative), "carbon dioxide"
    return None, ""


def _ultimate(
    test: CombustionTest, oxygen: float | None, dioxide: float | None
) -> Propagated | None:
    if oxygen is None or dioxide is None or dioxide < LOWEST_CARBON_DIOXIDE:
        return None
    if not 0.0 <= oxygen <= HIGHEST_OXYGEN:
        return None
    value = ultimate_carbon_dioxide(dioxide, oxygen)
    of_gas = test.gas_uncertainty
    standard = value * math.hypot(of_gas / dioxide, of_gas / (HANDBOOK_OXYGEN - oxygen))
    return Propagated(value, standard, value - COVERAGE * standard, value + COVERAGE * standard)
