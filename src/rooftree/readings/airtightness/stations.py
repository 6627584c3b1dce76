"""From what was read at each station to induced pressure and flow through the enclosure.

Sources
-------
[ISO9972] ISO 9972:2015, [E779] ASTM E779 (both recalled), [TSL2] ATTMA Technical Standard
L2, appendix A, which restates their corrections.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from statistics import fmean, stdev
from typing import TYPE_CHECKING

from rooftree.physics.air import moist_air_density
from rooftree.readings.airtightness.readings import Direction

if TYPE_CHECKING:
    from rooftree.readings.airtightness.readings import Fan, FanBand, FanReading, FanTest, Station

LARGEST_BASELINE = 5.0
"""Largest baseline that ISO 9972 accepts [Pa]; a baseline that was not read lies within it."""

LARGEST_DRIFT = 2.0
"""Largest change of the baseline during a test [Pa]; our own choice."""


class LeftOut(StrEnum):
    """Why a station takes no part in the fit."""

    NO = ""
    WRONG_WAY = "the pressure does not lie beyond the baseline as it does at the other stations"
    NO_FLOW = "no flow above zero was read"
    NO_FAN = "the fan is not in the list of instruments"
    NO_CALIBRATION = "the fan has no calibration for the configuration noted"


@dataclass(frozen=True, slots=True)
class Baseline:
    """Pressure of the house with the fan sealed.

    Attributes
    ----------
    before, after : float or None
        Means of the readings [Pa]; None where there are none.
    pressure : float
        Taken off every station [Pa].
    uncertainty : float
        Standard uncertainty of `pressure` [Pa].
    """

    before: float | None
    after: float | None
    pressure: float
    uncertainty: float


@dataclass(frozen=True, slots=True)
class Densities:
    """Densities of the two airs.

    Attributes
    ----------
    indoor, outdoor : float
        [kg/m³].
    at_fan, at_leaks : float
        Of the air through the fan and through the leaks [kg/m³].
    """

    indoor: float
    outdoor: float
    at_fan: float
    at_leaks: float


@dataclass(frozen=True, slots=True)
class FanFlow:
    """Flow of one fan at one station.

    Attributes
    ----------
    fan : str
        Id of the fan.
    flow : float
        As the fan's own calibration or gauge has it, at the density it holds for [m³/s].
    relative_uncertainty : float
        Standard uncertainty [0-1].
    fan_pressure : float or None
        As read [Pa].
    band : FanBand or None
        The calibration used.
    is_outside_band : bool
        Whether the fan pressure lies outside that band.
    shown_over_calibrated : float or None
        Flow shown over flow by calibration [-], where both are known.
    left_out : LeftOut
        Why it has no flow, if it has none.
    configuration : str
        As noted.
    """

    fan: str
    flow: float
    relative_uncertainty: float
    fan_pressure: float | None
    band: FanBand | None
    is_outside_band: bool
    shown_over_calibrated: float | None
    left_out: LeftOut
    configuration: str = ""


@dataclass(frozen=True, slots=True)
class StationResult:
    """One station, reduced.

    Attributes
    ----------
    number : int
        From 1, in the order read.
    pressure : float
        House with reference to outdoors, as read [Pa].
    induced_pressure : float
        Baseline taken off, positive in the sense in which the fan pushed the stations [Pa].
    fan_flow : float
        Of all fans together, density at the fan corrected [m³/s].
    flow : float
        Through the enclosure, at the density of the air in the leaks [m³/s].
    pressure_uncertainty : float
        Standard uncertainty of `induced_pressure` [Pa].
    flow_uncertainty : float
        Standard uncertainty of `flow` [m³/s].
    fans : tuple of FanFlow
        Each fan that ran.
    left_out : LeftOut
        Why it takes no part in the fit; ``LeftOut.NO`` if it does.
    fitted_flow : float or None
        Of the fitted curve at `induced_pressure` [m³/s].
    residual : float or None
        ln(flow / fitted flow) [0-1], relative.
    """

    number: int
    pressure: float
    induced_pressure: float
    fan_flow: float
    flow: float
    pressure_uncertainty: float
    flow_uncertainty: float
    fans: tuple[FanFlow, ...]
    left_out: LeftOut = LeftOut.NO
    fitted_flow: float | None = None
    residual: float | None = None

    @property
    def is_used(self) -> bool:
        """Whether the station takes part in the fit."""
        return self.left_out is LeftOut.NO

    @property
    def is_flow_shown(self) -> bool:
        """Whether every flow in it was read off a gauge, not reckoned from a fan pressure."""
        return all(
            part.fan_pressure is None or part.shown_over_calibrated is not None
            for part in self.fans
        )


def mean_baseline(before: tuple[float, ...], after: tuple[float, ...]) -> Baseline:
    """Average the baseline readings, signs kept.

    Parameters
    ----------
    before, after : tuple of float
        House with reference to outdoors with the fan sealed [Pa]; may be empty.

    Returns
    -------
    Baseline

    Notes
    -----
    ``(dp_01 + dp_02)/2`` of the two means [ISO9972]_ [E779]_. Where one was not read the
    other stands alone; where neither was, zero does, with the largest baseline that
    ISO 9972 accepts as the half-width of what it may have been. The uncertainty is our own:
    standard error of each mean, and the baseline anywhere between before and after
    (half-width over √3).

    Examples
    --------
    >>> round(mean_baseline((-1.6,), (-1.2,)).pressure, 3)
    -1.4
    """
    means = [fmean(group) if group else None for group in (before, after)]
    known = [mean for mean in means if mean is not None]
    if not known:
        return Baseline(None, None, 0.0, LARGEST_BASELINE / math.sqrt(3.0))
    drift = abs(known[-1] - known[0]) if len(known) == 2 else LARGEST_DRIFT
    errors = [stdev(g) / math.sqrt(len(g)) for g in (before, after) if len(g) > 1]
    noise = math.hypot(*errors) / len(known)
    return Baseline(
        means[0], means[1], fmean(known), math.hypot(noise, drift / (2.0 * math.sqrt(3.0)))
    )


def densities(test: FanTest) -> Densities:
    """Return the densities of the air indoors, outdoors, in the fan and in the leaks.

    Parameters
    ----------
    test : FanTest
        Temperatures, pressure, humidity and direction are used.

    Returns
    -------
    Densities

    Notes
    -----
    A fan that depressurizes moves indoor air while the leaks admit outdoor air; one that
    pressurizes does the reverse.
    """
    indoor, outdoor = (
        moist_air_density(temperature, test.barometric_pressure, test.relative_humidity)
        for temperature in (test.indoor_temperature, test.outdoor_temperature)
    )
    if test.direction is Direction.DEPRESSURIZE:
        return Densities(indoor, outdoor, at_fan=indoor, at_leaks=outdoor)
    return Densities(indoor, outdoor, at_fan=outdoor, at_leaks=indoor)


def fan_flow(reading: FanReading, fan: Fan | None, pressure_uncertainty: float) -> FanFlow:
    """Return the flow of one fan as its gauge or its calibration has it.

    Parameters
    ----------
    reading : FanReading
        What was read on it.
    fan : Fan or None
        The instrument; None if the test does not list it.
    pressure_uncertainty : float
        Standard uncertainty of the fan pressure [Pa].

    Returns
    -------
    FanFlow
        With a reason instead of a flow where there is none.

    Notes
    -----
    The flow shown is used where there is one. Otherwise ``flow = C · fan_pressure ^ n`` of
    the configuration noted; outside the pressure band of the calibration the nearest band
    of that configuration is carried on, which is told. The sign of the fan pressure is
    left out, since it depends on which side of the sensor the hose is on.
    """
    band = (
        nearest_band(fan, reading.configuration, abs(reading.fan_pressure))
        if fan and reading.fan_pressure is not None
        else None
    )
    calibrated = _calibrated_flow(reading, band)
    flow = reading.flow if reading.flow is not None else calibrated
    both = flow is not None and reading.flow is not None and calibrated is not None
    relative = fan.flow_uncertainty if fan else 0.0
    if band and reading.flow is None and reading.fan_pressure:
        gauge = band.exponent * pressure_uncertainty / abs(reading.fan_pressure)
        relative = math.hypot(relative, gauge)
    return FanFlow(
        fan=reading.fan,
        flow=flow or 0.0,
        relative_uncertainty=relative,
        fan_pressure=reading.fan_pressure,
        band=band,
        is_outside_band=band is not None and _distance(band, reading.fan_pressure) > 0.0,
        shown_over_calibrated=(flow or 0.0) / calibrated if both and calibrated else None,
        left_out=_why_without_flow(reading, fan, band, flow),
        configuration=reading.configuration,
    )


def reduce_station(
    number: int, station: Station, test: FanTest, baseline: Baseline, air: Densities
) -> StationResult:
    """Reduce one station to induced pressure and flow through the enclosure.

    Parameters
    ----------
    number : int
        Of the station, from 1.
    station : Station
        What was read.
    test : FanTest
        The test it belongs to.
    baseline : Baseline
        Of the test.
    air : Densities
        Of the test.

    Returns
    -------
    StationResult
        Not yet compared with the other stations.

    Notes
    -----
    Fan: ``Q_m = Q_c sqrt(rho_c / rho_m)`` for a pressure-sensing flow device calibrated at
    ``rho_c`` [TSL2]_ A.1.3 eq. 4 (the root recalled); the flow shown by a gauge is corrected
    the same way, since the gauge computes it for the density of its calibration.
    Several fans: their flows add. Enclosure: ``Q_env = Q_m rho_m / rho_leaks``, that is
    ``rho_i/rho_e`` depressurizing (eq. 6) and ``rho_e/rho_i`` pressurizing (eq. 5).
    """
    by_id = {fan.id: fan for fan in test.fans}
    parts = tuple(
        fan_flow(reading, by_id.get(reading.fan), test.pressure_uncertainty)
        for reading in station.fans
    )
    at_fans = [
        part.flow * math.sqrt(by_id[part.fan].calibration_density / air.at_fan)
        if part.left_out is LeftOut.NO
        else 0.0
        for part in parts
    ]
    through_fans = math.fsum(at_fans)
    to_leaks = air.at_fan / air.at_leaks
    doubts = [part.left_out for part in parts if part.left_out is not LeftOut.NO]
    spread = math.hypot(
        *(q * part.relative_uncertainty for q, part in zip(at_fans, parts, strict=True))
    )
    sense = -1.0 if test.direction is Direction.DEPRESSURIZE else 1.0
    return StationResult(
        number=number,
        pressure=station.pressure,
        induced_pressure=sense * (station.pressure - baseline.pressure),
        fan_flow=through_fans,
        flow=through_fans * to_leaks,
        pressure_uncertainty=math.hypot(test.pressure_uncertainty, baseline.uncertainty),
        flow_uncertainty=spread * to_leaks,
        fans=parts,
        left_out=doubts[0] if doubts else LeftOut.NO if through_fans > 0.0 else LeftOut.NO_FLOW,
    )


def nearest_band(fan: Fan, configuration: str, fan_pressure: float) -> FanBand | None:
    """Return the band of a configuration in which a fan pressure lies, or lies nearest to.

    Parameters
    ----------
    fan : Fan
        The instrument.
    configuration : str
        The user's own name for it.
    fan_pressure : float
        Without sign [Pa].

    Returns
    -------
    FanBand or None
        None where the fan has no calibration for the configuration.
    """
    bands = [band for band in fan.bands if band.configuration == configuration]
    return min(bands, key=lambda band: _distance(band, fan_pressure)) if bands else None


def _distance(band: FanBand, fan_pressure: float | None) -> float:
    p = abs(fan_pressure or 0.0)
    return max(band.low - p, p - band.high, 0.0)


def _calibrated_flow(reading: FanReading, band: FanBand | None) -> float | None:
    if band is None or not reading.fan_pressure:
        return None
    return band.coefficient * math.pow(abs(reading.fan_pressure), band.exponent)


def _why_without_flow(
    reading: FanReading, fan: Fan | None, band: FanBand | None, flow: float | None
) -> LeftOut:
    if fan is None:
        return LeftOut.NO_FAN
    if flow is not None and flow >= 0.0:  # a second fan may stand still
        return LeftOut.NO
    if reading.flow is None and reading.fan_pressure is not None and band is None:
        return LeftOut.NO_CALIBRATION
    return LeftOut.NO_FLOW
