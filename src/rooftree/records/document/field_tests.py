"""The field tests in the job file: raw readings, as the instruments showed them."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

from pydantic import Field, StrictBool

from rooftree.house import Draft
from rooftree.job import Test
from rooftree.physics.air import STANDARD_PRESSURE
from rooftree.readings.airtightness.readings import (
    Direction,
    Enclosure,
    Fan,
    FanBand,
    FanReading,
    FanTest,
    Standard,
    Station,
)
from rooftree.readings.combustion.readings import CombustionTest
from rooftree.readings.duct_leakage.readings import DuctLeakageTest
from rooftree.readings.zone_pressures.readings import ZonePressureTest
from rooftree.records.document import fields as f
from rooftree.records.document.part import Id, Part, built


class EnclosureDocument(Part):
    """The tested enclosure."""

    volume: f.SomeVolume
    floor_area: f.SomeArea
    envelope_area: f.SomeArea
    height: f.SomeLength

    def to_core(self) -> Enclosure:
        """Return the enclosure."""
        return built(Enclosure, self)


class FieldTestPart(Part):
    """What every test says beside its readings."""

    id: Id
    name: str
    visit: str
    place: str = ""
    instrument: str = ""
    note: str = ""

    def with_reading(
        self, reading: FanTest | ZonePressureTest | DuctLeakageTest | CombustionTest
    ) -> Test:
        """Return the test with its readings in SI."""
        return Test(self.id, self.name, self.visit, reading, self.place, self.instrument, self.note)


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
    flow_uncertainty: f.Share | None = None

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

    def to_core(self, barometric_pressure: float = STANDARD_PRESSURE) -> Test:
        """Return the test; the pressure [Pa] is taken where none was read."""
        return self.with_reading(self.reading(barometric_pressure))

    def reading(self, barometric_pressure: float = STANDARD_PRESSURE) -> FanTest:
        """Return the readings; the pressure [Pa] is taken where none was read."""
        read = self.barometric_pressure
        pressure = barometric_pressure if read is None else read.value
        return built(FanTest, self, barometric_pressure=pressure)


class ZonePressureDocument(FieldTestPart):
    """Pressure of one buffer space while the fan holds the house."""

    kind: Literal["zone pressure"] = "zone pressure"
    space: Id
    house_pressure: f.Pressure
    zone_pressure: f.Pressure
    exponent: f.Exponent | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None

    def to_core(self) -> Test:
        """Return the test."""
        return self.with_reading(built(ZonePressureTest, self))


class DuctLeakageDocument(FieldTestPart):
    """One duct pressurization test."""

    kind: Literal["duct leakage"] = "duct leakage"
    to_outdoors: StrictBool
    duct_pressure: f.Pressure
    flow: f.AirFlow
    air_handler_flow: f.AirFlow
    exponent: f.Exponent | None = None
    flow_uncertainty: f.Share | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None

    def to_core(self) -> Test:
        """Return the test."""
        return self.with_reading(built(DuctLeakageTest, self))


class CombustionDocument(FieldTestPart):
    """Readings at one burner."""

    kind: Literal["combustion"] = "combustion"
    appliance: Literal["water heater", "furnace", "boiler", "oven"]
    draft: Draft
    ambient_co: f.Concentration
    flue_co: f.Concentration | None = None
    flue_oxygen: f.Share | None = None
    baseline_pressure: f.Pressure
    worst_pressure: f.Pressure
    worst_case: str
    spillage_seconds: f.Duration | None = None
    draft_pressure: f.Pressure | None = None
    gas_leak: StrictBool
    outdoor_temperature: f.Temperature

    def to_core(self) -> Test:
        """Return the test."""
        return self.with_reading(built(CombustionTest, self, draft=str(self.draft)))


TestDocument: TypeAlias = Annotated[
    FanTestDocument | ZonePressureDocument | DuctLeakageDocument | CombustionDocument,
    Field(discriminator="kind"),
]
