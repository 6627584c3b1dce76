"""Insulation as found in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.insulation import (
    Contact,
    DepthPoint,
    Grade,
    InsulationPatch,
    InsulationSurvey,
    Material,
    Position,
    Spot,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class DepthPointDocument(Part):
    """One depth read with a ruler."""

    patch: str = ""
    depth: f.Depth
    spot: Spot | None = None

    def to_core(self) -> DepthPoint:
        """Return the depth in SI."""
        return built(DepthPoint, self)


class InsulationPatchDocument(Part):
    """A part of the place that is insulated alike."""

    name: str
    area: f.SomeArea
    material: Material
    label_resistance: f.Resistance | None = None
    label_depth: f.Thickness | None = None
    density: f.SomeDensity | None = None
    age: f.Duration | None = None
    covered_share: f.Share | None = None
    void_share: f.Share | None = None
    grade: Grade | None = None
    framing_share: f.Share | None = None
    framing_spacing: f.Thickness | None = None
    framing_width: f.Thickness | None = None
    framing_depth: f.Thickness | None = None
    covers_framing: StrictBool | None = None
    contact: Contact | None = None
    gap: f.Depth | None = None
    reflective: StrictBool | None = None
    air_covered: StrictBool | None = None
    washed_share: f.Share | None = None
    underlay: f.AnyResistance | None = None
    claimed_resistance: f.Resistance | None = None

    def to_core(self) -> InsulationPatch:
        """Return the patch in SI."""
        return built(InsulationPatch, self)


class InsulationDocument(FieldTestPart):
    """The insulation of one place as found; `where` names it in words."""

    readings = InsulationSurvey
    kind: Literal["insulation"] = "insulation"
    where: str
    position: Position
    patches: tuple[InsulationPatchDocument, ...] = ()
    depths: tuple[DepthPointDocument, ...] = ()
    area: f.SomeArea | None = None
    other_resistance: f.AnyResistance | None = None
    temperature_difference: f.TemperatureStep | None = None
    mean_temperature: f.Temperature | None = None
    length_uncertainty: f.Depth | None = None
