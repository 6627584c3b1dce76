"""Duct runs in the job file."""

from __future__ import annotations

from typing import Literal

from rooftree.readings.duct_heat import Cover, DuctHeatTest, DuctKind, DuctRunReading, Jacket
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class DuctRunDocument(Part):
    """One run, from where its air enters to its register."""

    name: str
    length: f.SomeLength
    entering_temperature: f.Temperature
    surroundings_temperature: f.Temperature
    diameter: f.Thickness | None = None
    width: f.Thickness | None = None
    height: f.Thickness | None = None
    air_speed: f.DuctSpeed | None = None
    flow: f.AirFlow | None = None
    insulation_resistance: f.Blanket | None = None
    wrap_thickness: f.Gap | None = None
    bare_share: f.Share | None = None
    foam_thickness: f.Gap | None = None
    kind: DuctKind | None = None
    jacket: Jacket | None = None
    cover: Cover | None = None
    cover_depth: f.Gap | None = None
    surroundings_humidity: f.Humidity | None = None
    surroundings_dew_point: f.Temperature | None = None
    standing_time: f.Duration | None = None
    register_temperature: f.Temperature | None = None
    running_time: f.Duration | None = None

    def to_core(self) -> DuctRunReading:
        """Return the run in SI."""
        return built(DuctRunReading, self)


class DuctHeatDocument(FieldTestPart):
    """Heat that duct runs gain or lose."""

    readings = DuctHeatTest
    kind: Literal["duct heat"] = "duct heat"
    runs: tuple[DuctRunDocument, ...] = ()
    room_temperature: f.Temperature | None = None
    barometric_pressure: f.SomePressure | None = None
    temperature_uncertainty: f.TemperatureStep | None = None
    surroundings_uncertainty: f.TemperatureStep | None = None
    humidity_uncertainty: f.Share | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    length_uncertainty: f.Length | None = None
    insulation_uncertainty: f.Share | None = None
    film_uncertainty: f.Share | None = None
