"""Pressure pans in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.duct_pans.readings import DuctPanTest, DuctSide, PanReading
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class PanReadingDocument(Part):
    """One register under the pan."""

    name: str
    pressure: f.Pressure
    side: DuctSide | None = None
    place: str = ""
    again: f.Pressure | None = None

    def to_core(self) -> PanReading:
        """Return the reading in SI."""
        return built(PanReading, self)


class DuctPanDocument(FieldTestPart):
    """All registers of one system under the pan, one at a time."""

    readings = DuctPanTest
    kind: Literal["duct pans"] = "duct pans"
    house_pressure: f.Pressure
    space_pressure: f.Pressure | None = None
    air_handler_off: StrictBool | None = None
    registers: f.Count | None = None
    pans: tuple[PanReadingDocument, ...] = ()
    exponent: f.Exponent | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent_uncertainty: f.Share | None = None
