"""Duct pressurization tests in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.duct_leakage.readings import (
    DuctFanBand,
    DuctFanReading,
    DuctLeakageTest,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class DuctFanReadingDocument(Part):
    """One duct fan at one duct pressure."""

    duct_pressure: f.Pressure
    flow: f.AirFlow | None = None
    fan_pressure: f.PressureUncertainty | None = None
    configuration: str = ""
    fan: str = ""

    def to_core(self) -> DuctFanReading:
        """Return the reading in SI."""
        return built(DuctFanReading, self)


class DuctFanBandDocument(Part):
    """Calibration of one configuration of a duct fan within a band of fan pressure."""

    configuration: str
    low: f.PressureUncertainty
    high: f.SomePressure
    coefficient: f.LeakageCoefficient
    exponent: f.FanExponent
    fan: str = ""

    def to_core(self) -> DuctFanBand:
        """Return the band in SI."""
        return built(DuctFanBand, self)


class DuctLeakageDocument(FieldTestPart):
    """One duct pressurization test."""

    readings = DuctLeakageTest
    kind: Literal["duct leakage"] = "duct leakage"
    to_outdoors: StrictBool
    duct_pressure: f.Pressure | None = None
    flow: f.AirFlow | None = None
    fan_readings: tuple[DuctFanReadingDocument, ...] = ()
    calibration: tuple[DuctFanBandDocument, ...] = ()
    air_handler_flow: f.AirFlow | None = None
    house_pressure: f.Pressure | None = None
    duct_house_pressure: f.Pressure | None = None
    space_pressure: f.Pressure | None = None
    far_pressure: f.Pressure | None = None
    registers: f.Count | None = None
    registers_sealed: f.Count | None = None
    filter_out: StrictBool | None = None
    dampers_open: StrictBool | None = None
    door_open: StrictBool | None = None
    air_temperature: f.Temperature | None = None
    barometric_pressure: f.SomePressure | None = None
    exponent: f.Exponent | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None
    air_handler_uncertainty: f.Share | None = None
