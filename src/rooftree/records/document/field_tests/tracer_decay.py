"""Tracer decays in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.tracer_decay import (
    Activity,
    OutdoorReading,
    SteadyReading,
    Tracer,
    TracerDecayTest,
    TracerReading,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class TracerReadingDocument(Part):
    """One line of the record."""

    time: f.Moment
    concentration: f.SignedConcentration
    position: str = ""

    def to_core(self) -> TracerReading:
        """Return the line in SI."""
        return built(TracerReading, self)


class OutdoorReadingDocument(Part):
    """The tracer outdoors, before or after."""

    concentration: f.SignedConcentration
    time: f.Moment | None = None

    def to_core(self) -> OutdoorReading:
        """Return the reading in SI."""
        return built(OutdoorReading, self)


class SteadyReadingDocument(Part):
    """Carbon dioxide while people are in the house."""

    time: f.Moment
    concentration: f.Concentration

    def to_core(self) -> SteadyReading:
        """Return the reading in SI."""
        return built(SteadyReading, self)


class TracerDecayDocument(FieldTestPart):
    """A tracer gas that the air carries away."""

    readings = TracerDecayTest
    kind: Literal["tracer decay"] = "tracer decay"
    lines: tuple[TracerReadingDocument, ...] = ()
    outdoors: tuple[OutdoorReadingDocument, ...] = ()
    tracer: Tracer | None = None
    window_start: f.Moment | None = None
    window_end: f.Moment | None = None
    people: f.Heads | None = None
    is_mixed: StrictBool | None = None
    same_sensor: StrictBool | None = None
    volume: f.SomeVolume | None = None
    volume_uncertainty: f.Share | None = None
    highest_concentration: f.Concentration | None = None
    concentration_uncertainty: f.RelativeUncertainty | None = None
    concentration_scatter: f.Concentration | None = None
    steady: tuple[SteadyReadingDocument, ...] = ()
    steady_people: f.Heads | None = None
    steady_activity: Activity | None = None
