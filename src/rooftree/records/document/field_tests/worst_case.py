"""The search for the worst case of an appliance zone in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.house import Draft
from rooftree.known import Answer
from rooftree.readings.worst_case.readings import Hearth, WorstCaseTest, ZoneState
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class ZoneStateDocument(Part):
    """One combination of fans and doors with its reading."""

    pressure: f.Pressure
    dryer: StrictBool | None = None
    range_hood: StrictBool | None = None
    bath_fans: StrictBool | None = None
    other_exhaust: StrictBool | None = None
    air_handler: StrictBool | None = None
    interior_doors_closed: StrictBool | None = None
    zone_door_closed: StrictBool | None = None
    gust: f.PressureUncertainty | None = None

    def to_core(self) -> ZoneState:
        """Return the reading in SI."""
        return built(ZoneState, self)


class WorstCaseDocument(FieldTestPart):
    """The search for the deepest pressure of one appliance zone."""

    readings = WorstCaseTest
    kind: Literal["worst case"] = "worst case"
    zone: str
    states: tuple[ZoneStateDocument, ...] = ()
    baseline_before: tuple[f.Pressure, ...] = ()
    baseline_after: tuple[f.Pressure, ...] = ()
    has_dryer: StrictBool | None = None
    has_range_hood: StrictBool | None = None
    has_bath_fans: StrictBool | None = None
    has_other_exhaust: StrictBool | None = None
    has_air_handler: StrictBool | None = None
    has_interior_doors: StrictBool | None = None
    has_zone_door: StrictBool | None = None
    appliance: Literal["water heater", "furnace", "boiler", "oven"] | None = None
    draft: Draft | None = None
    shares_flue: Answer | None = None
    hearth: Hearth | None = None
    closed_up: Answer | None = None
    dryer_flow: f.AirFlow | None = None
    range_hood_flow: f.AirFlow | None = None
    bath_fans_flow: f.AirFlow | None = None
    other_exhaust_flow: f.AirFlow | None = None
    air_handler_pull: f.SignedFlow | None = None
    zone_return_leak: f.AirFlow | None = None
    door_gap: f.HoleArea | None = None
    zone_share: f.Share | None = None
    height: f.SomeLength | None = None
    indoor_temperature: f.Temperature | None = None
    outdoor_temperature: f.Temperature | None = None
    fans_restored: Answer | None = None
    doors_restored: Answer | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
