"""From what was read at each duct pressure to one flow at 25 Pa.

Sources
-------
[E1554] ASTM E1554, methods B and C: leakage at 25 Pa, exponent 0.6 by default (recalled).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.air import STANDARD_PRESSURE, moist_air_density
from rooftree.physics.fan_calibration import (
    calibrated_flow,
    distance_from_band,
    nearest_band,
)
from rooftree.physics.propagation import Propagated, factor_limits
from rooftree.readings.duct_leakage.flow import (
    HIGHEST_PRESSURE,
    LOWEST_PRESSURE,
    REFERENCE_PRESSURE,
)

if TYPE_CHECKING:
    from rooftree.readings.duct_leakage.readings import (
        DuctFanBand,
        DuctFanReading,
        DuctLeakageTest,
    )

STANDARD_DENSITY = 1.2041
"""Of the air for which a fan's calibration or gauge is right [kg/m³]: 20 °C at sea level."""

REPEATS = 0.01
"""Standard uncertainty with which one fan flow repeats [0-1], relative; ours."""


@dataclass(frozen=True, slots=True)
class DuctFanFlow:
    """One fan reading, reduced.

    Attributes
    ----------
    reading : DuctFanReading
        As read.
    flow : float
        At the density of its calibration [m³/s].
    band : DuctFanBand or None
        Calibration of its configuration.
    outside_band : float
        How far the fan pressure lies outside the band [Pa].
    shown_over_calibrated : float or None
        Flow shown over flow by calibration [-], where both are known.
    relative_uncertainty : float
        Of `flow`, from the fan pressure alone [0-1].
    """

    reading: DuctFanReading
    flow: float
    band: DuctFanBand | None
    outside_band: float
    shown_over_calibrated: float | None
    relative_uncertainty: float


@dataclass(frozen=True, slots=True)
class DuctStation:
    """All fans at one duct pressure.

    Attributes
    ----------
    pressure : float
        Of the ducts, as read [Pa].
    flow : float
        Of all fans, corrected to the density of the air [m³/s].
    relative_uncertainty : float
        Of the flow at 25 Pa from this station, without calibration and exponent [0-1];
        infinite for a station without a pressure or a flow.
    fans : tuple of DuctFanFlow
        Each fan.
    """

    pressure: float
    flow: float
    relative_uncertainty: float
    fans: tuple[DuctFanFlow, ...]

    @property
    def is_used(self) -> bool:
        """Whether the way to 25 Pa can be gone from here."""
        return LOWEST_PRESSURE <= abs(self.pressure) <= HIGHEST_PRESSURE and self.flow > 0.0


@dataclass(frozen=True, slots=True)
class DuctLine:
    """The line through the stations, in logarithms about 25 Pa.

    Attributes
    ----------
    flow_25 : float
        [m³/s].
    relative_uncertainty : float
        Of `flow_25`, calibration included [0-1].
    exponent : float
        Of the line [-].
    misfit : float
        Sum of the squared residuals over their uncertainties, the exponent's included [-].
    freedom : int
        Stations beyond the first [-].
    """

    flow_25: float
    relative_uncertainty: float
    exponent: float
    misfit: float
    freedom: int

    @property
    def correction(self) -> float:
        """Leakage over what the duct fan alone gives: all of it [-]."""
        return 1.0

    def over(self, divisor: float, relative: float) -> Propagated:
        """Return the leakage over something else, with a relative uncertainty of its own.

        Parameters
        ----------
        divisor : float
            What it is held against [any unit], > 0.
        relative : float
            Standard uncertainty of `divisor` [0-1], relative.
        """
        return factor_limits(
            self.flow_25 / divisor, math.hypot(self.relative_uncertainty, relative)
        )


def reduce_stations(
    test: DuctLeakageTest, readings: tuple[DuctFanReading, ...] | None = None
) -> tuple[DuctStation, ...]:
    """Sum the fans at each duct pressure.

    Parameters
    ----------
    test : DuctLeakageTest
        Readings.
    readings : tuple of DuctFanReading or None
        Taken in place of those of the test.

    Returns
    -------
    tuple of DuctStation
        In the order in which the pressures were first read.

    Notes
    -----
    ``Q = Q_c sqrt(rho_c / rho)`` of a pressure-sensing flow device calibrated at ``rho_c``
    [E1554]_ (recalled), here 1.2041 kg/m³ (20 °C, sea level).

    References
    ----------
    .. [E1554] ASTM E1554, section 8 (recalled).
    """
    groups: dict[float, list[DuctFanFlow]] = {}
    for reading in test.readings if readings is None else readings:
        groups.setdefault(reading.duct_pressure, []).append(_fan_flow(test, reading))
    density = math.sqrt(STANDARD_DENSITY / _density(test))
    return tuple(_station(test, p, tuple(fans), density) for p, fans in groups.items())


def _density(test: DuctLeakageTest) -> float:
    if test.air_temperature is None and test.barometric_pressure == STANDARD_PRESSURE:
        return STANDARD_DENSITY
    return moist_air_density(test.air_temperature or 293.15, test.barometric_pressure, 0.0)


def _fan_flow(test: DuctLeakageTest, reading: DuctFanReading) -> DuctFanFlow:
    own = [band for band in test.calibration if band.fan == reading.fan]
    pressure = reading.fan_pressure
    band = None if pressure is None else nearest_band(own, reading.configuration, pressure)
    by_band = None if band is None or pressure is None else calibrated_flow(band, pressure)
    flow = reading.flow if reading.flow is not None else by_band
    relative = REPEATS
    if band and pressure and reading.flow is None:
        relative = math.hypot(relative, band.exponent * test.pressure_uncertainty / abs(pressure))
    return DuctFanFlow(
        reading,
        flow or 0.0,
        band,
        distance_from_band(band, pressure) if band and pressure is not None else 0.0,
        reading.flow / by_band if reading.flow is not None and by_band else None,
        relative,
    )


def _station(
    test: DuctLeakageTest, pressure: float, fans: tuple[DuctFanFlow, ...], density: float
) -> DuctStation:
    flow = math.fsum(fan.flow for fan in fans)
    spread = math.hypot(*(fan.flow * fan.relative_uncertainty for fan in fans))
    gauge = test.exponent * test.pressure_uncertainty / abs(pressure) if pressure else math.inf
    relative = math.hypot(spread / flow, gauge) if flow > 0.0 else math.inf
    return DuctStation(pressure, flow * density, relative, fans)


def fit_line(test: DuctLeakageTest, stations: tuple[DuctStation, ...]) -> DuctLine | None:
    """Bring all stations to 25 Pa.

    Parameters
    ----------
    test : DuctLeakageTest
        Exponent and calibration.
    stations : tuple of DuctStation
        Those that can be used are.

    Returns
    -------
    DuctLine or None
        None where there is no station to use.

    Notes
    -----
    ``ln Q = ln Q25 + n ln(P / 25)`` [E1554]_ by weighted least squares, where the assumed
    exponent with its uncertainty counts as one more observation: one station leaves it as
    it is, several over a wide range settle it. The uncertainty of the calibration is common
    to all stations and is added at the end.

    References
    ----------
    .. [E1554] ASTM E1554, methods B and C (recalled).
    """
    used = [station for station in stations if station.is_used]
    if not used:
        return None
    x = np.array([math.log(abs(s.pressure) / REFERENCE_PRESSURE) for s in used])
    y = np.array([math.log(s.flow) for s in used])
    weight = np.array([s.relative_uncertainty**-2.0 for s in used])
    prior = max(test.exponent_uncertainty, 1e-9) ** -2.0
    matrix = np.array(
        [[weight.sum(), weight @ x], [weight @ x, weight @ (x * x) + prior]], dtype=float
    )
    right = np.array([weight @ y, weight @ (x * y) + prior * test.exponent])
    constant, exponent = np.linalg.solve(matrix, right)
    variance = float(np.linalg.inv(matrix)[0, 0])
    misfit = float(weight @ (y - constant - exponent * x) ** 2)
    misfit += float(prior * (exponent - test.exponent) ** 2)
    return DuctLine(
        math.exp(constant),
        math.hypot(math.sqrt(variance), test.flow_uncertainty),
        float(exponent),
        misfit,
        len(used) - 1,
    )
