"""Zone pressures in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.zone_pressures.readings import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZoneKind,
    ZonePressureTest,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Id


class ZonePressureDocument(FieldTestPart):
    """Pressure of one buffer space while the fan holds the house."""

    readings = ZonePressureTest
    kind: Literal["zone pressure"] = "zone pressure"
    space: Id
    zone: ZoneKind | None = None
    house_pressure: f.Pressure
    zone_pressure: f.Pressure
    again_pressure: f.Pressure | None = None
    outdoor_pressure: f.Pressure | None = None
    vent_area: f.OpeningArea | None = None
    exponent: f.Exponent | None = None
    outdoor_exponent: f.Exponent | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None


class AddedHoleDocument(FieldTestPart):
    """A buffer space read before and after a measured hole was opened."""

    readings = AddedHoleTest
    kind: Literal["added hole"] = "added hole"
    space: Id
    zone: ZoneKind | None = None
    house_pressure: f.Pressure
    zone_pressure: f.Pressure
    boundary: Boundary
    area: f.HoleArea
    pressure_after: f.Pressure
    house_pressure_after: f.Pressure | None = None
    area_before: f.OpeningArea | None = None
    discharge: f.Discharge | None = None
    area_uncertainty: f.Share | None = None
    closed: StrictBool | None = None
    pressure_closed: f.Pressure | None = None
    exponent: f.Exponent | None = None
    outdoor_exponent: f.Exponent | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None


class OpenedHatchDocument(FieldTestPart):
    """A buffer space and the fan's flow, read before and after a hatch or door was opened."""

    readings = OpenedHatchTest
    kind: Literal["opened hatch"] = "opened hatch"
    space: Id
    zone: ZoneKind | None = None
    boundary: Boundary | None = None
    house_pressure: f.Pressure
    zone_pressure: f.Pressure
    pressure_after: f.Pressure
    house_pressure_after: f.Pressure | None = None
    flow_before: f.AirFlow
    flow_after: f.AirFlow
    area: f.HoleArea | None = None
    discharge: f.Discharge | None = None
    area_uncertainty: f.Share | None = None
    closed: StrictBool | None = None
    pressure_closed: f.Pressure | None = None
    repeatability: f.Share | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    exponent: f.Exponent | None = None
    outdoor_exponent: f.Exponent | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None
