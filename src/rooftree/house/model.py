"""The house as found, in SI: what the engine computes and the measures change.

Levels are heights above the outside ground [m]. Azimuths are degrees clockwise from
north. Tilt is the angle between the outward normal and straight up: 0 is a roof
that faces the sky, 90 a wall, 180 a floor that faces down. Every object has an `id`
that is unique in its house and a `known` mapping from field name to how it is known.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.known import Known

OUTDOORS = "outdoors"
"""Name of the outdoor air as the other side of a surface or a leak."""

GROUND = "ground"
"""Name of the ground as the other side of a surface."""


class SpaceKind(StrEnum):
    """Kinds of space; only `LIVING` has a thermostat and counts as inside."""

    LIVING = "living"
    ATTIC = "attic"
    KNEE_WALL_ATTIC = "knee-wall attic"
    CRAWLSPACE = "crawlspace"
    BASEMENT = "basement"
    GARAGE = "garage"


class Fuel(StrEnum):
    """What is bought."""

    ELECTRICITY = "electricity"
    GAS = "natural gas"
    PROPANE = "propane"
    OIL = "oil"
    WOOD = "wood"


class EndUse(StrEnum):
    """What it is bought for."""

    HEATING = "heating"
    COOLING = "cooling"
    AIR_MOVING = "moving heated and cooled air"
    HOT_WATER = "hot water"
    VENTILATION = "ventilation"
    DRYING = "drying the air"
    OTHER = "lights and appliances"


class Draft(StrEnum):
    """How a burner gets rid of its smoke."""

    NATURAL = "natural draft"
    FAN_ASSISTED = "fan assisted"
    SEALED = "sealed combustion"
    NONE = "no burner"


@dataclass(frozen=True, slots=True)
class Site:
    """Where the house stands.

    Attributes
    ----------
    latitude, longitude : float
        North and east positive [°].
    elevation : float
        Height above sea level [m].
    terrain : str
        ``"city"``, ``"suburban"``, ``"open"`` or ``"water"``.
    shelter : float
        Factor on the wind speed at the walls [0-1], 1 for no shelter.
    """

    latitude: float
    longitude: float
    elevation: float
    terrain: str = "suburban"
    shelter: float = 0.7
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Space:
    """One body of air.

    Attributes
    ----------
    floor_area, volume : float
        Floor area [m²] and volume of air [m³].
    floor_level, height : float
        Level of its floor [m] and mean height [m].
    capacity : float
        Heat capacity of furnishings and light partitions, beyond the air [J/K].
    vapor_source : float
        Water vapor released by ground, leaks or other things besides people [kg/s].
    supply_share, return_share : float or None
        Share of the heating and cooling system's output that is meant for this space,
        and of the air that goes back to it [0-1]; None for a share by floor area among
        the living spaces that say nothing, and for a return that equals the supply.
    bare_earth : float
        Area of damp earth that lies open in the space and evaporates [m²].
    buffering : float
        Water that its materials take up and give back within hours, over what its air
        holds [-], 1 or more: 10 to 25 in furnished rooms (recalled).
    """

    id: str
    name: str
    kind: SpaceKind
    floor_area: float
    volume: float
    floor_level: float
    height: float
    capacity: float = 0.0
    vapor_source: float = 0.0
    supply_share: float | None = None
    return_share: float | None = None
    bare_earth: float = 0.0
    buffering: float = 15.0
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a surface.

    Attributes
    ----------
    thickness : float
        Thickness [m], > 0.
    conductivity : float
        Conductivity [W/(m·K)], > 0.
    density, specific_heat : float
        Density [kg/m³] and specific heat [J/(kg·K)]; 0 for a layer without mass.
    role : str
        ``"insulation"`` for what measures may add to or replace and what voids and
        framing interrupt, otherwise ``"structure"``.
    """

    name: str
    thickness: float
    conductivity: float
    density: float = 0.0
    specific_heat: float = 0.0
    role: str = "structure"

    @property
    def resistance(self) -> float:
        """Return the thermal resistance of the layer [m²·K/W]."""
        return self.thickness / self.conductivity


@dataclass(frozen=True, slots=True)
class Surface:
    """One opaque surface between a space and something else.

    Attributes
    ----------
    inside, outside : str
        Id of the space it belongs to, and of a space, ``OUTDOORS`` or ``GROUND``.
    kind : str
        ``"wall"``, ``"ceiling"``, ``"roof"``, ``"floor"``, ``"slab"`` or ``"door"``.
    area : float
        Opaque area, windows already taken off [m²].
    tilt, azimuth : float
        Direction of the outward normal [°].
    layers : tuple of Layer
        From inside to outside; at least one.
    framing_fraction : float
        Share of the area where wood takes the place of insulation [0-1].
    void_fraction : float
        Share of the insulated area where insulation is missing or does not work [0-1].
    solar_absorptance, emittance : float
        Of the outside face [0-1].
    inside_absorptance, inside_emittance : float
        Of the inside face [0-1]: share of the sunlight in the room that it takes up, and
        emittance for heat radiation (0.9 for most, 0.05 for bare foil).
    sun_exposed, wind_exposed : bool
        Whether sun and wind reach the outside face (when outside is outdoors).
    washed_fraction : float
        Share of the insulated area through which wind blows, so that its insulation gives
        nothing beyond still air [0-1].
    perimeter : float
        Exposed perimeter of a floor on the ground [m]; 0 elsewhere.
    """

    id: str
    name: str
    kind: str
    inside: str
    outside: str
    area: float
    tilt: float
    azimuth: float
    layers: tuple[Layer, ...]
    framing_fraction: float = 0.0
    void_fraction: float = 0.0
    solar_absorptance: float = 0.7
    emittance: float = 0.9
    sun_exposed: bool = True
    wind_exposed: bool = True
    perimeter: float = 0.0
    inside_absorptance: float = 0.6
    inside_emittance: float = 0.9
    washed_fraction: float = 0.0
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Window:
    """One window, or several alike.

    Attributes
    ----------
    space : str
        Id of the space that it lights.
    area : float
        Area of frame and glass [m²].
    tilt, azimuth : float
        Direction of the outward normal [°].
    u_value : float
        Of the whole window with standard films [W/(m²·K)].
    solar_heat_gain_coefficient : float
        Of the whole window at normal incidence [0-1].
    panes : int
        1, 2 or 3: shapes the dependence on the angle of incidence.
    solar_transmittance : float
        Share of the sun at normal incidence that passes the whole window straight, where
        its data sheet tells; 0 to take it from the two ratings [0-1].
    shading_factor : float
        Share of the sun that trees and blinds let through [0-1].
    width, height : float
        Of each window, for the shade of what stands out beside it [m]; 0 if not known,
        which is allowed only without overhang and fins.
    overhang_depth, overhang_gap : float
        How far an overhang stands out, and its height above the top of the glass [m]; it
        is taken to be much longer than the window.
    fin_depth, fin_gap : float
        How far upright fins stand out on both sides, and their distance from the edges of
        the glass [m]; they are taken to be much taller than the window.
    """

    id: str
    name: str
    space: str
    area: float
    tilt: float
    azimuth: float
    u_value: float
    solar_heat_gain_coefficient: float
    panes: int = 2
    shading_factor: float = 1.0
    width: float = 0.0
    height: float = 0.0
    overhang_depth: float = 0.0
    overhang_gap: float = 0.0
    fin_depth: float = 0.0
    fin_gap: float = 0.0
    solar_transmittance: float = 0.0
    known: Mapping[str, Known] = field(default_factory=dict)


class LeakKind(StrEnum):
    """What sort of opening a leak is; cracks are far less known than the others before a test."""

    CRACK = "crack"
    VENT = "vent"
    FLUE = "flue"
    HOLE = "hole"


@dataclass(frozen=True, slots=True)
class Leak:
    """A path for air that obeys ``flow = coefficient * pressure ** exponent``.

    Attributes
    ----------
    first, second : str
        Ids of the spaces it joins; `second` may be ``OUTDOORS``.
    level : float
        Height of the opening above the outside ground [m].
    azimuth : float or None
        Facade on which it opens outdoors [°]; None where no wind pressure acts
        (between spaces, or through a roof vent sheltered from wind).
    coefficient : float
        Leakage coefficient [m³/(s·Paⁿ)], >= 0.
    exponent : float
        Pressure exponent [-], 0.5 to 1.
    fired_by : str
        ``"heating"`` or ``"water heater"`` for the flue of one of them, which draws
        more while it burns; empty for every other leak.
    chimney : float
        Height of the column of hot gas in such a flue [m].
    gas_temperature : float
        Mean temperature of that column while it burns [K].
    """

    id: str
    name: str
    first: str
    second: str
    level: float
    azimuth: float | None
    coefficient: float
    exponent: float = 0.65
    kind: LeakKind = LeakKind.CRACK
    fired_by: str = ""
    chimney: float = 0.0
    gas_temperature: float = 400.0
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class DuctRun:
    """The part of the ducts that runs through one space.

    Attributes
    ----------
    side : str
        ``"supply"`` or ``"return"``.
    space : str
        Id of the space that it runs through.
    area : float
        Outside surface of the duct [m²].
    resistance : float
        Of wrap and films [m²·K/W], > 0.
    leakage : float
        Share of the air handler's flow that is lost (supply) or drawn in (return)
        here [0-1].
    """

    id: str
    name: str
    side: str
    space: str
    area: float
    resistance: float
    leakage: float
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class AirHandler:
    """The fan that moves heated and cooled air.

    Attributes
    ----------
    space : str
        Id of the space in which it stands.
    flow : float
        Air flow when it runs [m³/s].
    power : float
        Electric power when it runs [W].
    """

    space: str
    flow: float
    power: float
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Heating:
    """What heats the living spaces.

    Attributes
    ----------
    kind : str
        ``"furnace"``, ``"boiler"``, ``"heat pump"``, ``"resistance"`` or ``"ideal"``.
    fuel : Fuel
        What it burns or draws.
    capacity : float
        Output at the rating point [W]; for a heat pump at 8.3 °C outdoors.
    efficiency : float
        Seasonal efficiency of a burner [0-1], or COP of a heat pump at 8.3 °C [-].
    ducted : bool
        Whether the heat goes through the ducts.
    draft : Draft
        How its smoke leaves.
    space : str
        Id of the space in which it stands.
    backup_capacity : float
        Electric backup of a heat pump [W].
    speeds : str
        ``"single"`` or ``"variable"``: whether a heat pump can turn itself down.
    crankcase : float
        Power of the crankcase heater while the machine stands and it is colder than
        12.8 °C outdoors [W].
    pump_power : float
        Power of the pump of a boiler while it runs [W].
    pilot : float
        Heat content of the gas that a pilot light burns all year [W].
    part_load : tuple of float
        Input over full input by the share of full output `x`, as the coefficients of
        1, x, x² and so on [-]; empty for input in proportion to output.
    """

    kind: str
    fuel: Fuel
    capacity: float
    efficiency: float
    ducted: bool = True
    draft: Draft = Draft.NONE
    space: str = ""
    backup_capacity: float = 0.0
    speeds: str = "single"
    crankcase: float = 0.0
    pump_power: float = 0.0
    pilot: float = 0.0
    part_load: tuple[float, ...] = ()
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Cooling:
    """What cools the living spaces.

    Attributes
    ----------
    kind : str
        ``"air conditioner"``, ``"heat pump"``, ``"ideal"``.
    capacity : float
        Total capacity at 35 °C outdoors, 26.7 °C dry and 19.4 °C wet bulb inside [W].
    cop : float
        Total capacity over electric power at that point, fan excluded [-].
    sensible_fraction : float
        Sensible share of the capacity at that point [0-1].
    speeds : str
        ``"single"`` or ``"variable"``: whether it can turn itself down.
    crankcase : float
        Power of the crankcase heater while the machine stands and it is colder than
        12.8 °C outdoors [W]; state it once where heating and cooling are one machine.
    """

    kind: str
    capacity: float
    cop: float
    sensible_fraction: float = 0.75
    ducted: bool = True
    speeds: str = "single"
    crankcase: float = 0.0
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RoomUnit:
    """A machine that heats or cools one living space by its own thermostat, without ducts.

    Attributes
    ----------
    space : str
        Id of the living space.
    heating : Heating or None
        What it heats with.
    cooling : Cooling or None
        What it cools with.
    heating_setpoint, cooling_setpoint : tuple of float, 24, or None
        Its thermostat for each hour of the day [K]; None for the setpoints of the house.
    """

    id: str
    name: str
    space: str
    heating: Heating | None = None
    cooling: Cooling | None = None
    heating_setpoint: tuple[float, ...] | None = None
    cooling_setpoint: tuple[float, ...] | None = None
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class WaterHeater:
    """What heats the water.

    Attributes
    ----------
    kind : str
        ``"tank"``, ``"tankless"`` or ``"heat pump"``.
    efficiency : float
        Useful heat over what is bought, for a year of ordinary use [-].
    standby_loss : float
        Heat lost to the space in which it stands [W], at 20 °C there.
    setpoint : float
        Temperature of the stored water [K].
    """

    kind: str
    fuel: Fuel
    efficiency: float
    space: str
    draft: Draft = Draft.NONE
    standby_loss: float = 0.0
    setpoint: float = 324.8
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Fan:
    """A fan that moves air between a space and outdoors.

    Attributes
    ----------
    kind : str
        ``"exhaust"``, ``"supply"`` or ``"balanced"``.
    flow : float
        Flow when it runs [m³/s].
    hours : tuple of float, 24
        Share of each hour of the day for which it runs [0-1].
    power : float
        Electric power when it runs [W].
    recovery : float
        Sensible effectiveness of heat recovery [0-1]; balanced fans only.
    latent_recovery : float
        The same for water vapor [0-1].
    purpose : str
        ``"whole house"``, ``"bath"``, ``"kitchen"``, ``"dryer"`` or ``"other"``.
    """

    id: str
    name: str
    kind: str
    space: str
    flow: float
    hours: tuple[float, ...]
    power: float = 0.0
    recovery: float = 0.0
    purpose: str = "other"
    latent_recovery: float = 0.0
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Dehumidifier:
    """A machine that dries one space.

    Attributes
    ----------
    capacity : float
        Water removed at 26.7 °C and 60 % relative humidity [kg/s].
    energy_factor : float
        Water removed per energy used [kg/J].
    setpoint : float
        Relative humidity above which it runs [0-1].
    """

    space: str
    capacity: float
    energy_factor: float
    setpoint: float = 0.55
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Use:
    """People and what they do.

    Attributes
    ----------
    people, bedrooms : int
        Number of each.
    heating_setpoint, cooling_setpoint : tuple of float, 24
        Thermostat for each hour of the day [K].
    sensible_gain : tuple of float, 24
        Heat of people, lights and appliances in all living spaces together [W].
    radiant_fraction : float
        Radiant share of those gains [0-1].
    vapor_gain : float
        Water vapor from people, cooking and washing [kg/s], mean.
    electricity : float
        Power of lights and appliances, mean over the year [W].
    hot_water_heat : float
        Heat in the hot water that is drawn, mean over the year [W].
    cooking_gas : float
        Gas for cooking and drying, mean over the year [W].
    vapor_hours, hot_water_hours : tuple of float, 24, or empty
        Vapor and hot water in each hour of the day over their mean [-]; empty for even.
    hot_water_months : tuple of float, 12, or empty
        Heat of hot water in each month over its mean of the year [-]; empty for what the
        temperature of the mains asks for.
    thermostat : str
        Id of the living space with the thermostat; empty for the largest.
    open_window_area : float
        Free area of the windows that people open when it is warm inside and cooler and
        not damp outdoors [m²]; 0 for people who keep them shut.
    """

    people: int
    bedrooms: int
    heating_setpoint: tuple[float, ...]
    cooling_setpoint: tuple[float, ...]
    sensible_gain: tuple[float, ...]
    radiant_fraction: float = 0.4
    vapor_gain: float = 0.0
    electricity: float = 0.0
    hot_water_heat: float = 0.0
    cooking_gas: float = 0.0
    vapor_hours: tuple[float, ...] = ()
    hot_water_hours: tuple[float, ...] = ()
    hot_water_months: tuple[float, ...] = ()
    thermostat: str = ""
    open_window_area: float = 0.0
    known: Mapping[str, Known] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class House:
    """The house as found, or as some measures would leave it.

    Every tuple may be empty except `spaces` and `surfaces`; equipment that is not
    there is None.
    """

    name: str
    site: Site
    spaces: tuple[Space, ...]
    surfaces: tuple[Surface, ...]
    use: Use
    windows: tuple[Window, ...] = ()
    leaks: tuple[Leak, ...] = ()
    ducts: tuple[DuctRun, ...] = ()
    air_handler: AirHandler | None = None
    heating: Heating | None = None
    cooling: Cooling | None = None
    water_heater: WaterHeater | None = None
    fans: tuple[Fan, ...] = ()
    dehumidifiers: tuple[Dehumidifier, ...] = ()
    room_units: tuple[RoomUnit, ...] = ()

    def space(self, space_id: str) -> Space:
        """Return the space with this id; KeyError if there is none."""
        for space in self.spaces:
            if space.id == space_id:
                return space
        raise KeyError(space_id)

    @property
    def living_spaces(self) -> tuple[Space, ...]:
        """Return the spaces that count as inside."""
        return tuple(space for space in self.spaces if space.kind is SpaceKind.LIVING)

    @property
    def floor_area(self) -> float:
        """Return the floor area of the living spaces [m²]."""
        return sum(space.floor_area for space in self.living_spaces)

    @property
    def volume(self) -> float:
        """Return the volume of the living spaces [m³]."""
        return sum(space.volume for space in self.living_spaces)
