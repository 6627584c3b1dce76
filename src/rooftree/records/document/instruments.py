"""Instruments in the job file: when calibrated, and how well they measure what."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, TypeAlias, Union

from pydantic import Field

from rooftree.job import Instrument
from rooftree.job.instruments import Capability, Measured
from rooftree.physics.instruments import Accuracy, InstrumentTerms
from rooftree.records.document import fields as f
from rooftree.records.document.part import Id, Part, built


class CapabilityPart(Part):
    """How well an instrument measures one quantity, as its record states it."""

    quantity: Measured
    share: f.Share | None = None
    accuracy: Accuracy | None = None
    divisor: f.Divisor | None = None
    drift_share_per_year: f.Share | None = None

    def to_core(self) -> Capability:
        """Return the capability."""
        return Capability(Measured(self.quantity), built(InstrumentTerms, self))


class PressureCapability(CapabilityPart):
    """How well it measures pressure."""

    quantity: Literal[Measured.PRESSURE]
    absolute: f.PressureUncertainty | None = None
    resolution: f.PressureUncertainty | None = None
    drift_per_year: f.PressureUncertainty | None = None


class FlowCapability(CapabilityPart):
    """How well it measures flow."""

    quantity: Literal[Measured.FLOW]
    absolute: f.AirFlow | None = None
    resolution: f.AirFlow | None = None
    drift_per_year: f.AirFlow | None = None


class TemperatureCapability(CapabilityPart):
    """How well it measures temperature."""

    quantity: Literal[Measured.TEMPERATURE]
    absolute: f.TemperatureStep | None = None
    resolution: f.TemperatureStep | None = None
    drift_per_year: f.TemperatureStep | None = None


class HumidityCapability(CapabilityPart):
    """How well it measures humidity."""

    quantity: Literal[Measured.HUMIDITY]
    absolute: f.Share | None = None
    resolution: f.Share | None = None
    drift_per_year: f.Share | None = None


class ConcentrationCapability(CapabilityPart):
    """How well it measures concentration."""

    quantity: Literal[Measured.CONCENTRATION]
    absolute: f.Concentration | None = None
    resolution: f.Concentration | None = None
    drift_per_year: f.Concentration | None = None


class MoistureCapability(CapabilityPart):
    """How well it measures the moisture of wood."""

    quantity: Literal[Measured.MOISTURE]
    absolute: f.Share | None = None
    resolution: f.Share | None = None
    drift_per_year: f.Share | None = None


class LengthCapability(CapabilityPart):
    """How well it measures length."""

    quantity: Literal[Measured.LENGTH]
    absolute: f.Length | None = None
    resolution: f.Length | None = None
    drift_per_year: f.Length | None = None


class SpeedCapability(CapabilityPart):
    """How well it measures speed."""

    quantity: Literal[Measured.SPEED]
    absolute: f.WindSpeed | None = None
    resolution: f.WindSpeed | None = None
    drift_per_year: f.WindSpeed | None = None


CAPABILITIES: dict[Measured, type[CapabilityPart]] = {
    Measured.PRESSURE: PressureCapability,
    Measured.FLOW: FlowCapability,
    Measured.TEMPERATURE: TemperatureCapability,
    Measured.HUMIDITY: HumidityCapability,
    Measured.CONCENTRATION: ConcentrationCapability,
    Measured.MOISTURE: MoistureCapability,
    Measured.LENGTH: LengthCapability,
    Measured.SPEED: SpeedCapability,
}
"""Model of what is stated of each quantity."""

if TYPE_CHECKING:
    CapabilityDocument: TypeAlias = CapabilityPart
else:
    CapabilityDocument = Annotated[
        Union[tuple(CAPABILITIES.values())],  # noqa: UP007
        Field(discriminator="quantity"),
    ]


class InstrumentDocument(Part):
    """What was used to measure."""

    id: Id
    name: str
    kind: str
    calibrated: str = ""
    due: str = ""
    measures: tuple[CapabilityDocument, ...] = ()

    def to_core(self) -> Instrument:
        """Return the instrument."""
        return built(Instrument, self)
