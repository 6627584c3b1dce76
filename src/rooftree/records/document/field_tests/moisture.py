"""Moisture readings in the job file."""

from __future__ import annotations

from typing import Literal

from rooftree.readings.moisture import (
    AirReading,
    Finish,
    InspectionRule,
    InTheWay,
    MeterMode,
    MoistureTest,
    PlaceKind,
    Side,
    SurfaceReading,
    Thermometer,
    Wood,
    WoodReading,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class AirReadingDocument(Part):
    """Air of one place."""

    name: str
    kind: PlaceKind
    temperature: f.Temperature
    relative_humidity: f.Humidity | None = None
    wet_bulb: f.Temperature | None = None
    dew_point: f.Temperature | None = None
    earlier_temperature: f.Temperature | None = None
    earlier_humidity: f.Humidity | None = None

    def to_core(self) -> AirReading:
        """Return the reading in SI."""
        return built(AirReading, self)


class SurfaceReadingDocument(Part):
    """Temperature of one surface."""

    name: str
    temperature: f.Temperature
    place: str
    side: Side | None = None
    thermometer: Thermometer | None = None
    finish: Finish | None = None
    set_emissivity: f.Emissivity | None = None
    reflected_temperature: f.Temperature | None = None
    sunless_time: f.Duration | None = None

    def to_core(self) -> SurfaceReading:
        """Return the reading in SI."""
        return built(SurfaceReading, self)


class WoodReadingDocument(Part):
    """Moisture content of one piece of wood."""

    name: str
    moisture_content: f.WoodMoisture
    place: str
    temperature: f.Temperature | None = None
    wood: Wood | None = None
    meter_set_to: Wood | None = None
    mode: MeterMode | None = None
    in_the_way: InTheWay | None = None
    depth: f.Gap | None = None

    def to_core(self) -> WoodReading:
        """Return the reading in SI."""
        return built(WoodReading, self)


class MoistureDocument(FieldTestPart):
    """Air of places, surfaces and wood, read on one visit."""

    readings = MoistureTest
    kind: Literal["moisture"] = "moisture"
    places: tuple[AirReadingDocument, ...] = ()
    surfaces: tuple[SurfaceReadingDocument, ...] = ()
    woods: tuple[WoodReadingDocument, ...] = ()
    rule: InspectionRule | None = None
    wind_speed: f.WindSpeed | None = None
    steady_time: f.Duration | None = None
    barometric_pressure: f.SomePressure | None = None
    temperature_uncertainty: f.TemperatureStep | None = None
    humidity_uncertainty: f.Share | None = None
    surface_uncertainty: f.TemperatureStep | None = None
    emissivity_uncertainty: f.ExponentUncertainty | None = None
    wood_uncertainty: f.Share | None = None
