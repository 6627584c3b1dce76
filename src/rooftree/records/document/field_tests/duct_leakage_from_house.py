"""Duct leakage from fan tests of the house in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.duct_leakage_from_house.readings import (
    DeltaQTest,
    DuctSubtractionTest,
    HouseFlow,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class DuctSubtractionDocument(FieldTestPart):
    """Two fan tests at one pressure, registers open and sealed."""

    readings = DuctSubtractionTest
    kind: Literal["duct subtraction"] = "duct subtraction"
    house_pressure: f.Pressure
    flow_open: f.AirFlow
    flow_sealed: f.AirFlow
    duct_pressure: f.Pressure | None = None
    air_handler_flow: f.AirFlow | None = None
    repeatability: f.Share | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent: f.Exponent | None = None
    exponent_uncertainty: f.Share | None = None


class HouseFlowDocument(Part):
    """The fan's flow at one house pressure."""

    air_handler: StrictBool
    house_pressure: f.Pressure
    flow: f.SignedFlow

    def to_core(self) -> HouseFlow:
        """Return the reading in SI."""
        return built(HouseFlow, self)


class DeltaQDocument(FieldTestPart):
    """The fan's flow over several pressures, air handler off and on."""

    readings = DeltaQTest
    kind: Literal["delta q"] = "delta q"
    supply_pressure: f.StaticPressure
    return_pressure: f.StaticPressure
    flows: tuple[HouseFlowDocument, ...] = ()
    air_handler_flow: f.AirFlow | None = None
    baseline: f.Pressure | None = None
    repeatability: f.Share | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    exponent: f.Exponent | None = None
    exponent_uncertainty: f.Share | None = None
    duct_pressure_uncertainty: f.Share | None = None
