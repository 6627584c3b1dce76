"""Fan tests in the job file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StrictBool

from rooftree.readings.airtightness.readings import (
    Direction,
    Fan,
    FanBand,
    FanReading,
    FanTest,
    Standard,
    Station,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Id, Part, built


class FanBandDocument(Part):
    """Calibration of one fan configuration within a band of fan pressure."""

    configuration: str
    low: f.PressureUncertainty
    high: f.SomePressure
    coefficient: f.LeakageCoefficient
    exponent: f.FanExponent

    def to_core(self) -> FanBand:
        """Return the band."""
        return built(FanBand, self)


class FanOfTestDocument(Part):
    """One test fan."""

    id: Id
    bands: tuple[FanBandDocument, ...] = ()
    calibration_density: f.SomeDensity | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None

    def to_core(self) -> Fan:
        """Return the fan."""
        return built(Fan, self)


class FanReadingDocument(Part):
    """One fan at one station."""

    fan: Id
    flow: f.AirFlow | None = None
    fan_pressure: f.PressureUncertainty | None = None
    configuration: str = ""

    def to_core(self) -> FanReading:
        """Return the reading."""
        return built(FanReading, self)


class StationDocument(Part):
    """One pressure station."""

    pressure: f.Pressure
    fans: Annotated[tuple[FanReadingDocument, ...], Field(min_length=1)]

    def to_core(self) -> Station:
        """Return the station."""
        return built(Station, self)


class FanTestDocument(FieldTestPart):
    """One direction of one fan pressurization test."""

    readings = FanTest
    kind: Literal["fan test"] = "fan test"
    direction: Direction
    standard: Standard
    baseline_before: tuple[f.Pressure, ...] = ()
    baseline_after: tuple[f.Pressure, ...] = ()
    stations: Annotated[tuple[StationDocument, ...], Field(min_length=1)]
    fans: Annotated[tuple[FanOfTestDocument, ...], Field(min_length=1)]
    indoor_temperature: f.Temperature
    outdoor_temperature: f.Temperature
    barometric_pressure: f.SomePressure | None = None
    relative_humidity: f.Share | None = None
    wind_speed: f.WindSpeed | None = None
    height: f.SomeLength | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    interior_doors_open: StrictBool | None = None
    air_handler_off: StrictBool | None = None
    exhaust_fans_off: StrictBool | None = None
    openings_closed: StrictBool | None = None
    embers: StrictBool | None = None
    room_pressure: f.Pressure | None = None
