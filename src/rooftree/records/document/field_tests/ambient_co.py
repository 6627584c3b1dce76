"""Carbon monoxide of room air in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.known import Answer
from rooftree.readings.ambient_co.readings import AmbientReading, AmbientTest
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class AmbientReadingDocument(Part):
    """One reading of room air."""

    seconds: f.Duration
    place: str
    carbon_monoxide: f.SignedConcentration
    running: str | None = None

    def to_core(self) -> AmbientReading:
        """Return the reading in SI."""
        return built(AmbientReading, self)


class AmbientDocument(FieldTestPart):
    """Carbon monoxide of the air of a house over a visit."""

    readings = AmbientTest
    kind: Literal["room air"] = "room air"
    air: tuple[AmbientReadingDocument, ...] = ()
    zeroed_outdoors: Answer | None = None
    alarm_sounded: StrictBool | None = None
    symptoms: StrictBool | None = None
    analyser_range: f.Concentration | None = None
    reading_uncertainty: f.Concentration | None = None
    concentration_uncertainty: f.RelativeUncertainty | None = None
