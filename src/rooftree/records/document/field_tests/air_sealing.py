"""Logs of guided air sealing in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.air_sealing import AirSealingLog, LeakPlace, SealingRow
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class SealingRowDocument(Part):
    """One reading of the fan, after one location was sealed."""

    time: f.Duration
    location: str = ""
    house_pressure: f.Pressure
    fan_flow: f.AirFlow
    work: f.Duration | None = None
    material_cost: f.Money | None = None
    place: str = ""
    configuration: str = ""

    def to_core(self) -> SealingRow:
        """Return the row in SI."""
        return built(SealingRow, self)


class LeakPlaceDocument(Part):
    """A place where the house leaks, as guessed before sealing."""

    place: str
    share: f.Share | None = None
    flow_50: f.AirFlow | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    sealable: f.Share | None = None
    work: f.Duration | None = None
    material_cost: f.Money | None = None

    def to_core(self) -> LeakPlace:
        """Return the place in SI."""
        return built(LeakPlace, self)


class AirSealingDocument(FieldTestPart):
    """A log of guided air sealing."""

    readings = AirSealingLog
    kind: Literal["air sealing"] = "air sealing"
    rows: tuple[SealingRowDocument, ...] = ()
    places: tuple[LeakPlaceDocument, ...] = ()
    held_pressure: f.SomePressure | None = None
    baseline_pressure: f.Pressure | None = None
    exponent: f.Exponent | None = None
    exponent_uncertainty: f.ExponentUncertainty | None = None
    labor_rate: f.LaborRate | None = None
    holes_closed: StrictBool | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    repeatability: f.Share | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    pressure_repeatability: f.PressureUncertainty | None = None
