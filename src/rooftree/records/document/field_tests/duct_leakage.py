"""Duct pressurization tests in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.duct_leakage.readings import DuctLeakageTest
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart


class DuctLeakageDocument(FieldTestPart):
    """One duct pressurization test."""

    readings = DuctLeakageTest
    kind: Literal["duct leakage"] = "duct leakage"
    to_outdoors: StrictBool
    duct_pressure: f.Pressure
    flow: f.AirFlow
    air_handler_flow: f.AirFlow
    exponent: f.Exponent | None = None
    flow_uncertainty: f.Share | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None
