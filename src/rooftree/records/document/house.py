"""The house in the job file."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StrictBool, model_validator

from rooftree.house import (
    AirHandler,
    Cooling,
    Dehumidifier,
    Draft,
    DuctRun,
    Fan,
    Fuel,
    Heating,
    House,
    Layer,
    Leak,
    LeakKind,
    RoomUnit,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
    WaterHeater,
    Window,
)
from rooftree.records.document import fields as f
from rooftree.records.document.fields import hours_of, over_mean, refusal
from rooftree.records.document.part import NOTHING_STATED, Id, KnownMap, Part, built


class SiteDocument(Part):
    """Where the house stands."""

    latitude: f.Latitude
    longitude: f.Longitude
    elevation: f.Level
    terrain: Literal["city", "suburban", "open", "water"] | None = None
    shelter: f.Share | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Site:
        """Return the site."""
        return built(Site, self)


class SpaceDocument(Part):
    """One body of air."""

    id: Id
    name: str
    kind: SpaceKind
    floor_area: f.SomeArea
    volume: f.SomeVolume
    floor_level: f.Level
    height: f.SomeLength
    capacity: f.HeatCapacity | None = None
    vapor_source: f.VaporFlow | None = None
    supply_share: f.Share | None = None
    return_share: f.Share | None = None
    bare_earth: f.Area | None = None
    buffering: f.Buffering | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Space:
        """Return the space."""
        return built(Space, self)


class LayerDocument(Part):
    """One layer of a surface: its thickness, and its resistance or its conductivity."""

    name: str
    thickness: f.Thickness
    resistance: f.Resistance | None = None
    conductivity: f.Conductivity | None = None
    density: f.Density | None = None
    specific_heat: f.SpecificHeat | None = None
    role: Literal["insulation", "structure"] | None = None

    @model_validator(mode="after")
    def _states_one_of_two(self) -> LayerDocument:
        if self.resistance is not None and self.conductivity is not None:
            raise refusal("has both a resistance and a conductivity", "state one of them")
        if self.resistance is None and self.conductivity is None:
            remedy = "state one of them, such as R-38 or R-3.7/in"
            raise refusal("has neither a resistance nor a conductivity", remedy)
        return self

    def to_core(self) -> Layer:
        """Return the layer."""
        if self.resistance is None:
            return built(Layer, self)
        conductivity = self.thickness.value / self.resistance.value
        return built(Layer, self, conductivity=conductivity)


class SurfaceDocument(Part):
    """One opaque surface between a space and something else."""

    id: Id
    name: str
    kind: Literal["wall", "ceiling", "roof", "floor", "slab", "door", "partition"]
    inside: Id
    outside: Id
    area: f.SomeArea
    tilt: f.Tilt
    azimuth: f.Azimuth
    layers: Annotated[tuple[LayerDocument, ...], Field(min_length=1)]
    framing_fraction: f.Share | None = None
    void_fraction: f.Share | None = None
    solar_absorptance: f.Share | None = None
    emittance: f.Share | None = None
    sun_exposed: StrictBool | None = None
    wind_exposed: StrictBool | None = None
    perimeter: f.Length | None = None
    inside_absorptance: f.Share | None = None
    inside_emittance: f.Share | None = None
    washed_fraction: f.Share | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Surface:
        """Return the surface."""
        return built(Surface, self)


class WindowDocument(Part):
    """One window, or several alike."""

    id: Id
    name: str
    space: Id
    area: f.SomeArea
    tilt: f.Tilt
    azimuth: f.Azimuth
    u_value: f.UValue
    solar_heat_gain_coefficient: f.Share
    panes: f.Panes | None = None
    shading_factor: f.Share | None = None
    width: f.Length | None = None
    height: f.Length | None = None
    overhang_depth: f.Length | None = None
    overhang_gap: f.Length | None = None
    fin_depth: f.Length | None = None
    fin_gap: f.Length | None = None
    solar_transmittance: f.Share | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Window:
        """Return the window."""
        given = {} if self.panes is None else {"panes": int(self.panes.value)}
        return built(Window, self, **given)


class LeakDocument(Part):
    """A path for air."""

    id: Id
    name: str
    first: Id
    second: Id
    level: f.Level
    azimuth: f.Azimuth | None
    coefficient: f.LeakageCoefficient
    exponent: f.Exponent | None = None
    kind: LeakKind | None = None
    fired_by: Literal["heating", "water heater"] | None = None
    chimney: f.Length | None = None
    gas_temperature: f.GasTemperature | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Leak:
        """Return the leak."""
        return built(Leak, self)


class DuctDocument(Part):
    """The part of the ducts that runs through one space."""

    id: Id
    name: str
    side: Literal["supply", "return"]
    space: Id
    area: f.SomeArea
    resistance: f.Resistance
    leakage: f.Share
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> DuctRun:
        """Return the run of duct."""
        return built(DuctRun, self)


class AirHandlerDocument(Part):
    """The fan that moves heated and cooled air."""

    space: Id
    flow: f.AirFlow
    power: f.ElectricPower
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> AirHandler:
        """Return the air handler."""
        return built(AirHandler, self)


class HeatingDocument(Part):
    """What heats the living spaces."""

    kind: Literal["furnace", "boiler", "heat pump", "resistance", "ideal"]
    fuel: Fuel
    capacity: f.SomeHeatFlow
    efficiency: f.Efficiency
    ducted: StrictBool | None = None
    draft: Draft | None = None
    space: str | None = None
    backup_capacity: f.HeatFlow | None = None
    speeds: Literal["single", "variable"] | None = None
    crankcase: f.ElectricPower | None = None
    pump_power: f.ElectricPower | None = None
    pilot: f.HeatFlow | None = None
    part_load: tuple[f.CurveCoefficient, ...] | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Heating:
        """Return the heating equipment."""
        return built(Heating, self)


class CoolingDocument(Part):
    """What cools the living spaces."""

    kind: Literal["air conditioner", "heat pump", "ideal"]
    capacity: f.SomeCooling
    cop: f.Efficiency
    sensible_fraction: f.Share | None = None
    ducted: StrictBool | None = None
    speeds: Literal["single", "variable"] | None = None
    crankcase: f.ElectricPower | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Cooling:
        """Return the cooling equipment."""
        return built(Cooling, self)


class RoomUnitDocument(Part):
    """A machine that heats or cools one living space by its own thermostat."""

    id: Id
    name: str
    space: Id
    heating: HeatingDocument | None = None
    cooling: CoolingDocument | None = None
    heating_setpoint: f.DayOfTemperatures | None = None
    cooling_setpoint: f.DayOfTemperatures | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> RoomUnit:
        """Return the unit."""
        days = {
            name: None if day is None else hours_of(day)
            for name, day in (
                ("heating_setpoint", self.heating_setpoint),
                ("cooling_setpoint", self.cooling_setpoint),
            )
        }
        return built(RoomUnit, self, **days)


class WaterHeaterDocument(Part):
    """What heats the water."""

    kind: Literal["tank", "tankless", "heat pump"]
    fuel: Fuel
    efficiency: f.Efficiency
    space: Id
    draft: Draft | None = None
    standby_loss: f.HeatFlow | None = None
    setpoint: f.WaterTemperature | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> WaterHeater:
        """Return the water heater."""
        return built(WaterHeater, self)


class FanDocument(Part):
    """A fan that moves air between a space and outdoors."""

    id: Id
    name: str
    kind: Literal["exhaust", "supply", "balanced"]
    space: Id
    flow: f.AirFlow
    hours: f.DayOfShares
    power: f.ElectricPower | None = None
    recovery: f.Share | None = None
    latent_recovery: f.Share | None = None
    purpose: Literal["whole house", "bath", "kitchen", "dryer", "other"] | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Fan:
        """Return the fan."""
        return built(Fan, self, hours=hours_of(self.hours))


class DehumidifierDocument(Part):
    """A machine that dries one space."""

    space: Id
    capacity: f.SomeVaporFlow
    energy_factor: f.DryingEfficiency
    setpoint: f.Share | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Dehumidifier:
        """Return the dehumidifier."""
        return built(Dehumidifier, self)


class UseDocument(Part):
    """People and what they do."""

    people: f.Count
    bedrooms: f.Count
    heating_setpoint: f.DayOfTemperatures
    cooling_setpoint: f.DayOfTemperatures
    sensible_gain: f.DayOfHeatFlows
    radiant_fraction: f.Share | None = None
    vapor_gain: f.VaporFlow | None = None
    electricity: f.ElectricPower | None = None
    hot_water_heat: f.HeatFlow | None = None
    cooking_gas: f.HeatFlow | None = None
    vapor_hours: f.DayOfWeights | None = None
    hot_water_hours: f.DayOfWeights | None = None
    thermostat: Id | None = None
    open_window_area: f.Area | None = None
    known: KnownMap = NOTHING_STATED

    def to_core(self) -> Use:
        """Return people and what they do."""
        shapes = {
            name: over_mean(day)
            for name, day in (
                ("vapor_hours", self.vapor_hours),
                ("hot_water_hours", self.hot_water_hours),
            )
            if day is not None
        }
        return built(
            Use,
            self,
            **shapes,
            people=int(self.people.value),
            bedrooms=int(self.bedrooms.value),
            heating_setpoint=hours_of(self.heating_setpoint),
            cooling_setpoint=hours_of(self.cooling_setpoint),
            sensible_gain=hours_of(self.sensible_gain),
        )


class HouseDocument(Part):
    """The house as found."""

    name: str
    site: SiteDocument
    spaces: Annotated[tuple[SpaceDocument, ...], Field(min_length=1)]
    surfaces: Annotated[tuple[SurfaceDocument, ...], Field(min_length=1)]
    use: UseDocument
    windows: tuple[WindowDocument, ...] = ()
    leaks: tuple[LeakDocument, ...] = ()
    ducts: tuple[DuctDocument, ...] = ()
    air_handler: AirHandlerDocument | None = None
    heating: HeatingDocument | None = None
    cooling: CoolingDocument | None = None
    water_heater: WaterHeaterDocument | None = None
    fans: tuple[FanDocument, ...] = ()
    dehumidifiers: tuple[DehumidifierDocument, ...] = ()
    room_units: tuple[RoomUnitDocument, ...] = ()

    def to_core(self) -> House:
        """Return the house."""
        return built(House, self)
