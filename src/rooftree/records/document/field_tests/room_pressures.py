"""Pressures of rooms and house in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.room_pressures.readings import (
    Exhaust,
    PressureReading,
    Reference,
    Room,
    RoomPressureTest,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class PressureReadingDocument(Part):
    """One pressure in one state of the house."""

    room: str = ""
    pressure: f.Pressure
    reference: Reference | None = None
    doors_closed: StrictBool | None = None
    air_handler: StrictBool | None = None
    exhausts: str = ""

    def to_core(self) -> PressureReading:
        """Return the reading in SI."""
        return built(PressureReading, self)


class RoomDocument(Part):
    """What is known of one room."""

    name: str
    undercut: f.Gap | None = None
    door_width: f.SomeLength | None = None
    other_area: f.OpeningArea | None = None
    supply_flow: f.AirFlow | None = None
    return_flow: f.AirFlow | None = None
    leakage_share: f.Share | None = None

    def to_core(self) -> Room:
        """Return the room in SI."""
        return built(Room, self)


class ExhaustDocument(Part):
    """One exhaust fan."""

    name: str
    flow: f.AirFlow | None = None

    def to_core(self) -> Exhaust:
        """Return the fan in SI."""
        return built(Exhaust, self)


class RoomPressureDocument(FieldTestPart):
    """Pressures of rooms and house in several states."""

    readings = RoomPressureTest
    kind: Literal["room pressures"] = "room pressures"
    pressures: tuple[PressureReadingDocument, ...] = ()
    rooms: tuple[RoomDocument, ...] = ()
    exhausts: tuple[ExhaustDocument, ...] = ()
    main_supply_flow: f.AirFlow | None = None
    main_return_flow: f.AirFlow | None = None
    allowed_pressure: f.SomePressure | None = None
    house_height: f.SomeLength | None = None
    indoor_temperature: f.Temperature | None = None
    outdoor_temperature: f.Temperature | None = None
    discharge: f.Discharge | None = None
    discharge_uncertainty: f.ExponentUncertainty | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    wind_uncertainty: f.PressureUncertainty | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    length_uncertainty: f.Length | None = None
    gap_uncertainty: f.Length | None = None
