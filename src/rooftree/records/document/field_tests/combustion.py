"""Readings at a burner in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.house import Draft
from rooftree.readings.combustion.readings import CombustionTest
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart


class CombustionDocument(FieldTestPart):
    """Readings at one burner."""

    readings = CombustionTest
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
