"""What a person reads at an air handler while its fan runs."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum


class Operation(StrEnum):
    """What the system does while it is read."""

    COOLING = "cooling"
    HEATING = "heating"
    FAN_ONLY = "fan only"


class Component(StrEnum):
    """What the air is pressed through."""

    RETURN = "return duct"
    FILTER = "filter"
    COIL = "coil"
    SUPPLY = "supply duct"
    OTHER = "other"


class RegisterSide(StrEnum):
    """Which way the air goes through a register."""

    SUPPLY = "supply"
    RETURN = "return"


class DuctShape(StrEnum):
    """Shape of the duct that was traversed."""

    ROUND = "round"
    RECTANGULAR = "rectangular"


class TraverseRule(StrEnum):
    """Where in the duct the points of a traverse lie; all weigh the same."""

    EQUAL_AREA = "equal areas"
    LOG_LINEAR = "log-linear"
    LOG_TCHEBYCHEFF = "log-Tchebycheff"


@dataclass(frozen=True, slots=True)
class ComponentDrop:
    """What one component takes of the fan's pressure.

    Attributes
    ----------
    part : Component
        What the air goes through.
    drop : float
        Static pressure before it less that behind it [Pa], >= 0; for the two ducts the
        difference between the duct at the equipment and the room.
    inside : bool
        Whether it sits inside the cabinet, between the two taps of the total: its drop
        is then no part of the external static pressure.
    """

    part: Component
    drop: float
    inside: bool = False


@dataclass(frozen=True, slots=True)
class FanCurvePoint:
    """One line of the maker's table for the speed at which the fan runs.

    Attributes
    ----------
    static : float
        External static pressure [Pa], >= 0.
    flow : float
        Flow at it in standard air [m³/s], > 0.
    """

    static: float
    flow: float


@dataclass(frozen=True, slots=True)
class TraversePoint:
    """One place of a traverse: the velocity pressure or the speed there.

    Attributes
    ----------
    velocity_pressure : float or None
        Total less static pressure [Pa].
    speed : float or None
        Of the air, actual [m/s]; used where there is no velocity pressure.
    """

    velocity_pressure: float | None = None
    speed: float | None = None


@dataclass(frozen=True, slots=True)
class RegisterFlow:
    """Flow through one register or grille.

    Attributes
    ----------
    name : str
        Where it is.
    side : RegisterSide
        Supply or return.
    flow : float
        Without sign [m³/s].
    design : float or None
        What it was designed for [m³/s].
    """

    name: str
    side: RegisterSide
    flow: float
    design: float | None = None


@dataclass(frozen=True, slots=True)
class AirHandlerTest:
    """One air handler at one fan speed. Every group of readings may be left out.

    Attributes
    ----------
    operation : Operation
        What the system does.
    entering_static, leaving_static : float or None
        Static pressure where air enters and leaves the equipment, against the room [Pa];
        the first is below zero while the fan runs, the second above.
    total_static : float or None
        Between the same two places, read with both hoses at once [Pa], > 0.
    static_swing : float or None
        Highest less lowest that the gauge shows while one static reading is watched [Pa].
    rated_static : float or None
        Highest external static pressure on the nameplate [Pa].
    drops : tuple of ComponentDrop
        What each component takes.
    fan_curve : tuple of FanCurvePoint
        The maker's table for this speed, in any order.
    traverse : tuple of TraversePoint
        Readings in one straight piece of duct that carries all the air.
    traverse_rule : TraverseRule
        Where the points lie.
    traverse_side : RegisterSide
        In which duct.
    duct_shape : DuctShape
        Of that duct.
    duct_diameter, duct_width, duct_height : float or None
        Inside [m]; the first of a round duct, the other two of a rectangular one.
    registers : tuple of RegisterFlow
        Every supply register or every return grille, or both.
    slot_flow : float or None
        Flow that a measuring plate in the place of the filter shows [m³/s].
    slot_static, usual_static : float or None
        Supply plenum against the room with the plate in, and as usual with the filter
        [Pa].
    return_temperature, supply_temperature : float or None
        In the plenums, mixed and out of sight of burner and coil [K].
    return_wet_bulb, supply_wet_bulb : float or None
        There [K].
    return_humidity, supply_humidity : float or None
        Relative humidity there [0-1], used where there is no wet bulb.
    outdoor_temperature : float or None
        At the outdoor unit [K].
    heat_input : float or None
        Heat that is put in while it heats [W]: of the fuel as clocked at its meter, or
        electric power of the elements.
    heat_efficiency : float
        Share of it that reaches the air [0-1]; 1 for electric elements.
    blower_power : float or None
        Electric power of the fan [W].
    rated_capacity : float or None
        Nominal cooling capacity [W].
    rated_rise_low, rated_rise_high : float or None
        Temperature rise on the nameplate of a furnace [K].
    barometric_pressure : float
        At the site [Pa].
    pressure_uncertainty : float
        Standard uncertainty of the gauge [Pa].
    probe_uncertainty : float
        Standard uncertainty of a static pressure by the place of its probe [Pa].
    velocity_pressure_uncertainty : float
        Standard uncertainty of the velocity pressures, the same for all of a traverse [Pa].
    temperature_uncertainty : float
        Standard uncertainty of the thermometer [K].
    mixing_uncertainty : float
        Standard uncertainty of a plenum's temperature by the place of its sensor [K].
    humidity_uncertainty : float
        Standard uncertainty of a relative humidity [0-1].
    flow_uncertainty : float
        Standard uncertainty that all register flows share [0-1], relative.
    flow_repeatability : float
        Standard uncertainty of one register's flow when read again [0-1], relative.
    fan_curve_uncertainty : float
        Standard uncertainty of a flow from the maker's table [0-1], relative.
    traverse_uncertainty : float
        Standard uncertainty of a traverse's mean speed by its few points [0-1], relative.
    slot_uncertainty : float
        Standard uncertainty of the measuring plate's flow [0-1], relative.
    heat_input_uncertainty : float
        Standard uncertainty of `heat_input` times `heat_efficiency` [0-1], relative.
    length_uncertainty : float
        Standard uncertainty of one measure of the duct [m].
    """

    operation: Operation = Operation.COOLING
    entering_static: float | None = None
    leaving_static: float | None = None
    total_static: float | None = None
    static_swing: float | None = None
    rated_static: float | None = None
    drops: tuple[ComponentDrop, ...] = ()
    fan_curve: tuple[FanCurvePoint, ...] = ()
    traverse: tuple[TraversePoint, ...] = ()
    traverse_rule: TraverseRule = TraverseRule.EQUAL_AREA
    traverse_side: RegisterSide = RegisterSide.SUPPLY
    duct_shape: DuctShape = DuctShape.RECTANGULAR
    duct_diameter: float | None = None
    duct_width: float | None = None
    duct_height: float | None = None
    registers: tuple[RegisterFlow, ...] = ()
    slot_flow: float | None = None
    slot_static: float | None = None
    usual_static: float | None = None
    return_temperature: float | None = None
    supply_temperature: float | None = None
    return_wet_bulb: float | None = None
    supply_wet_bulb: float | None = None
    return_humidity: float | None = None
    supply_humidity: float | None = None
    outdoor_temperature: float | None = None
    heat_input: float | None = None
    heat_efficiency: float = 1.0
    blower_power: float | None = None
    rated_capacity: float | None = None
    rated_rise_low: float | None = None
    rated_rise_high: float | None = None
    barometric_pressure: float = 101_325.0
    pressure_uncertainty: float = 0.5
    probe_uncertainty: float = 2.5
    velocity_pressure_uncertainty: float = 0.25
    temperature_uncertainty: float = 0.3
    mixing_uncertainty: float = 0.3
    humidity_uncertainty: float = 0.03
    flow_uncertainty: float = 0.05
    flow_repeatability: float = 0.03
    fan_curve_uncertainty: float = 0.07
    traverse_uncertainty: float = 0.04
    slot_uncertainty: float = 0.05
    heat_input_uncertainty: float = 0.03
    length_uncertainty: float = 0.003

    @property
    def static_uncertainty(self) -> float:
        """Standard uncertainty of one static pressure, gauge and probe together [Pa]."""
        return math.hypot(self.pressure_uncertainty, self.probe_uncertainty)

    @property
    def plenum_uncertainty(self) -> float:
        """Standard uncertainty of one plenum temperature, sensor and mixing together [K]."""
        return math.hypot(self.temperature_uncertainty, self.mixing_uncertainty)
