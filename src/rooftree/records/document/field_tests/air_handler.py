"""Readings at an air handler in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.air_handler.readings import (
    AirHandlerTest,
    Component,
    ComponentDrop,
    DuctShape,
    FanCurvePoint,
    Operation,
    RegisterFlow,
    RegisterSide,
    TraversePoint,
    TraverseRule,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class ComponentDropDocument(Part):
    """What one component takes of the fan's pressure."""

    part: Component
    drop: f.StaticPressure
    inside: StrictBool | None = None

    def to_core(self) -> ComponentDrop:
        """Return the drop in SI."""
        return built(ComponentDrop, self)


class FanCurvePointDocument(Part):
    """One line of the maker's table."""

    static: f.StaticPressure
    flow: f.AirFlow

    def to_core(self) -> FanCurvePoint:
        """Return the line in SI."""
        return built(FanCurvePoint, self)


class TraversePointDocument(Part):
    """One place of a traverse."""

    velocity_pressure: f.StaticPressure | None = None
    speed: f.DuctSpeed | None = None

    def to_core(self) -> TraversePoint:
        """Return the place in SI."""
        return built(TraversePoint, self)


class RegisterFlowDocument(Part):
    """Flow through one register or grille."""

    name: str
    side: RegisterSide
    flow: f.SignedFlow
    design: f.AirFlow | None = None

    def to_core(self) -> RegisterFlow:
        """Return the flow in SI."""
        return built(RegisterFlow, self)


class AirHandlerDocument(FieldTestPart):
    """One air handler at one fan speed; every group of readings may be left out."""

    readings = AirHandlerTest
    kind: Literal["air handler"] = "air handler"
    operation: Operation | None = None
    entering_static: f.StaticPressure | None = None
    leaving_static: f.StaticPressure | None = None
    total_static: f.StaticPressure | None = None
    static_swing: f.StaticPressure | None = None
    rated_static: f.StaticPressure | None = None
    drops: tuple[ComponentDropDocument, ...] = ()
    fan_curve: tuple[FanCurvePointDocument, ...] = ()
    traverse: tuple[TraversePointDocument, ...] = ()
    traverse_rule: TraverseRule | None = None
    traverse_side: RegisterSide | None = None
    duct_shape: DuctShape | None = None
    duct_diameter: f.SomeLength | None = None
    duct_width: f.SomeLength | None = None
    duct_height: f.SomeLength | None = None
    registers: tuple[RegisterFlowDocument, ...] = ()
    slot_flow: f.AirFlow | None = None
    slot_static: f.StaticPressure | None = None
    usual_static: f.StaticPressure | None = None
    return_temperature: f.Temperature | None = None
    supply_temperature: f.Temperature | None = None
    return_wet_bulb: f.Temperature | None = None
    supply_wet_bulb: f.Temperature | None = None
    return_humidity: f.Share | None = None
    supply_humidity: f.Share | None = None
    outdoor_temperature: f.Temperature | None = None
    heat_input: f.HeatFlow | None = None
    heat_efficiency: f.Share | None = None
    blower_power: f.ElectricPower | None = None
    rated_capacity: f.SomeCooling | None = None
    rated_rise_low: f.TemperatureStep | None = None
    rated_rise_high: f.TemperatureStep | None = None
    barometric_pressure: f.SomePressure | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    probe_uncertainty: f.PressureUncertainty | None = None
    velocity_pressure_uncertainty: f.PressureUncertainty | None = None
    temperature_uncertainty: f.TemperatureStep | None = None
    mixing_uncertainty: f.TemperatureStep | None = None
    humidity_uncertainty: f.Share | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None
    flow_repeatability: f.Share | None = None
    fan_curve_uncertainty: f.Share | None = None
    traverse_uncertainty: f.Share | None = None
    slot_uncertainty: f.Share | None = None
    heat_input_uncertainty: f.Share | None = None
    length_uncertainty: f.Length | None = None
