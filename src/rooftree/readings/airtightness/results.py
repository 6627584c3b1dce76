"""What a reduced fan test holds."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.uncertainty import Estimate, UncertaintyTerm
    from rooftree.readings.airtightness.curve import LeakageCurve, LeakageFit
    from rooftree.readings.airtightness.explanations import Explanation
    from rooftree.readings.airtightness.readings import Direction, FanTest
    from rooftree.readings.airtightness.sizes import LeakageSizes
    from rooftree.readings.airtightness.stations import Baseline, Densities, StationResult


@dataclass(frozen=True, slots=True)
class FlowEstimate:
    """Leakage flow at one pressure, at reference conditions.

    Attributes
    ----------
    pressure : float
        Induced pressure [Pa].
    flow : float
        [m³/s].
    low, high : float
        95 % limits that the scatter of the readings alone gives, as the standards define
        them [m³/s].
    combined_low, combined_high : float
        95 % limits with every known uncertainty of the measurement [m³/s].
    is_extrapolated : bool
        Whether the pressure lies outside those reached.
    terms : tuple of UncertaintyTerm
        What the combined limits are made of, relative [0-1].
    """

    pressure: float
    flow: float
    low: float
    high: float
    combined_low: float
    combined_high: float
    is_extrapolated: bool
    terms: tuple[UncertaintyTerm, ...]


@dataclass(frozen=True, slots=True)
class FitBand:
    """Fitted line with its 95 % limits, ready to draw.

    The line is at test conditions, like the stations; both logarithmic axes make it
    straight.

    Attributes
    ----------
    pressures : tuple of float
        Evenly spaced on a logarithmic axis [Pa].
    flows, lows, highs : tuple of float
        Line and limits of the fit at each pressure [m³/s].
    """

    pressures: tuple[float, ...]
    flows: tuple[float, ...]
    lows: tuple[float, ...]
    highs: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class FanTestResult:
    """One direction of a fan test, reduced.

    Attributes
    ----------
    test : FanTest
        As read.
    baseline : Baseline
        Taken off every station.
    densities : Densities
        Of the two airs.
    stations : tuple of StationResult
        In the order read, those left out too.
    fit : LeakageFit
        The curve that the results come from, at test conditions.
    weighted : LeakageFit or None
        The curve that trusts each station by its own uncertainty, at test conditions;
        None where fewer than three stations can be used.
    curve : LeakageCurve
        `fit` brought to reference conditions.
    reference_factor : float
        Coefficient at reference conditions over that of `fit` [-].
    sizes : LeakageSizes
        Every result, with combined 95 % limits.
    uncertainties : tuple of UncertaintyTerm
        What the limits of the flow at 50 Pa are made of, relative [0-1].
    band : FitBand
        For drawing.
    findings : tuple of Finding
        Doubts, most pressing first.
    explanations : tuple of Explanation
        What would explain how the stations lie, each kind with its probability; empty with
        fewer than five stations.
    exponent : Estimate or None
        Of the curve, with combined 95 % limits [-].
    """

    test: FanTest
    baseline: Baseline
    densities: Densities
    stations: tuple[StationResult, ...]
    fit: LeakageFit
    weighted: LeakageFit | None
    curve: LeakageCurve
    reference_factor: float
    sizes: LeakageSizes
    uncertainties: tuple[UncertaintyTerm, ...]
    band: FitBand
    findings: tuple[Finding, ...]
    explanations: tuple[Explanation, ...] = ()
    exponent: Estimate | None = None

    @property
    def direction(self) -> Direction:
        """Which way the fan blew."""
        return self.test.direction

    @property
    def sense(self) -> float:
        """Sign of the pressure of most stations, baseline taken off [-]."""
        used = next(station for station in self.stations if station.is_used)
        return math.copysign(1.0, used.pressure - self.baseline.pressure)

    @property
    def flow50(self) -> Estimate:
        """Flow at 50 Pa and reference conditions [m³/s]."""
        return self.sizes.flow50


@dataclass(frozen=True, slots=True)
class AirtightnessResult:
    """Mean of the tests in both directions.

    Attributes
    ----------
    results : tuple of FanTestResult
        What it is the mean of.
    curve : LeakageCurve
        Through the mean flows at 4 and 50 Pa, at reference conditions.
    sizes : LeakageSizes
        Every result, with combined 95 % limits.
    uncertainties : tuple of UncertaintyTerm
        What the limits of the flow at 50 Pa are made of, relative [0-1].
    findings : tuple of Finding
        Doubts about the pair; those about each test are with the test.
    """

    results: tuple[FanTestResult, ...]
    curve: LeakageCurve
    sizes: LeakageSizes
    uncertainties: tuple[UncertaintyTerm, ...]
    findings: tuple[Finding, ...]

    @property
    def flow50(self) -> Estimate:
        """Flow at 50 Pa and reference conditions [m³/s]."""
        return self.sizes.flow50
