"""Zone pressures in the job file."""

from __future__ import annotations

from typing import Literal

from rooftree.readings.zone_pressures.readings import ZonePressureTest
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Id


class ZonePressureDocument(FieldTestPart):
    """Pressure of one buffer space while the fan holds the house."""

    readings = ZonePressureTest
    kind: Literal["zone pressure"] = "zone pressure"
    space: Id
    house_pressure: f.Pressure
    zone_pressure: f.Pressure
    exponent: f.Exponent | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None
