"""What the hour loop reads and writes: plain arrays, grouped by subject.

`compile.py` fills them from a house and a year. An element is a piece of surface with two
faces. Elements are sorted: first those to outdoors (opaque ones, then windows), then
those to the ground, then those between two spaces. `n` spaces, `m` elements; index `n`
is outdoors.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

HOT, BACKUP, COLD, MOVING, DRYING, USES = 0, 1, 2, 3, 4, 5
"""Columns of what is bought [J]: heat, backup heat, cold, moving air, drying; their number."""

(
    HEAT_DELIVERED, COLD_DELIVERED, HEAT_PEAK, COLD_PEAK, HEAT_UNMET, COLD_UNMET,
    INFILTRATION, IMBALANCE, NET_HEAT, THROUGHPUT, SUMS,
) = range(11)  # fmt: skip
"""Places in the totals of the year, and their number."""

HEAT, BACKUP_HEAT, COLD_HEAT, CONDENSATE, HEAT_INPUT, COLD_INPUT, MADE = range(7)
"""Places in what the equipment makes in an hour: heat, backup heat, cold [W], water from the
coil [kg/s], input for heat and for cold [W], and their number."""

NO_SYSTEM, IDEAL, BURNER, HEAT_PUMP, COOLER = 0, 1, 2, 3, 4
"""Kinds of equipment."""


class Weather(NamedTuple):
    """The year outdoors, hour by hour (rows)."""

    temperature: Floats  # [K]
    sky: Floats  # as a black body [K]
    ground: Floats  # at 1 m [K]
    pressure: Floats  # [Pa]
    humidity: Floats  # vapor per dry air [kg/kg]
    month: Integers  # 0 to 11
    sun: Floats  # (hours, planes) on opaque planes [W/m²]
    wind_film: Floats  # (hours, planes) convection by wind on glass [W/(m²·K)]
    glass_beam: Floats  # (hours, glazings) beam passed, per normal transmittance [W/m²]
    glass_diffuse: Floats  # (hours, glazings) the same of diffuse light [W/m²]
    glass_heat: Floats  # (hours, glazings) absorbed, per normal absorptance [W/m²]
    wind_pressure: Floats  # (hours, facades) [Pa]


class Elements(NamedTuple):
    """Surfaces and windows; one entry for each element unless said otherwise."""

    first_window: int  # index of the first window among the elements
    first_ground: int
    first_partition: int
    area: Floats  # [m²]
    space: Integers  # that the inside face belongs to
    other: Integers  # that the outside face of a partition belongs to
    plane: Integers  # column of sun and wind film
    inside: Floats  # conductances within the step [W/(m²·K)], see conduction.Response
    outside: Floats
    across: Floats
    mode: Integers  # (m + 1,) where the modes of each element begin
    owner: Integers  # (modes,) element of each mode
    fade: Floats  # (modes,)
    feel_inside: Floats
    feel_outside: Floats
    push_inside: Floats
    push_outside: Floats
    store: Floats
    absorptance: Floats  # of the outside face for the sun [-]
    sky_factor: Floats  # Stefan-Boltzmann x emittance x weight of the sky [W/(m²·K⁴)]
    air_factor: Floats  # the same for air and ground
    roughness: Floats  # multiplier on wind convection [-]
    warm_inside: Floats  # convection over the cube root of the difference, where the inside
    cold_inside: Floats  # face is warmer and colder than the air [W/(m²·K^(4/3))]
    warm_outside: Floats  # the same at the outside face of a partition
    cold_outside: Floats
    radiant_inside: Floats  # share in the radiant exchange of its space [-]
    radiant_outside: Floats
    beam_inside: Floats  # share of the beam let into its space, per area [1/m²]
    beam_outside: Floats
    diffuse_inside: Floats  # the same of diffuse light [1/m²]
    diffuse_outside: Floats
    glazing: Integers  # (windows,) column of glass_*
    glass_area: Floats  # (windows,) area x transmittance x shading [m²]
    glass_taken: Floats  # (windows,) absorbed inward x shading, per area [-]


class Air(NamedTuple):
    """Spaces, and what moves air between them."""

    volume: Floats  # (n,) [m³]
    capacity: Floats  # (n,) of furnishings, beyond the air [J/K]
    living: Integers  # (n,) 1 where it counts as inside
    first: Integers  # (paths,) leaks, then closed paths that fill the lanes
    second: Integers
    level: Floats
    coefficient: Floats
    exponent: Floats
    facade: Integers  # (paths,) column of wind_pressure
    door_first: Integers  # (doors,) openings through which air is exchanged both ways
    door_second: Integers
    door_size: Floats  # [m³/s] at a relative difference of temperature of 1
    exhaust: Floats  # (24, n) [m³/s]
    supplied: Floats  # (24, n) outdoor air blown in [m³/s]
    balanced: Floats  # (24, n) outdoor air exchanged [m³/s]
    unrecovered: Floats  # (24, n) part of it whose heat is not recovered [m³/s]
    convective: Floats  # (24, n) gains [W]
    radiant: Floats  # (24, n) gains [W]
    vapor: Floats  # (24, n) sources [kg/s]
    buffering: Floats  # (n,) water that materials hold, over what the air holds [-]


class Plant(NamedTuple):
    """Heating, cooling, ducts and dehumidifiers."""

    each_room: bool  # every living space has its own ideal thermostat (design loads)
    thermostat: int  # space with the thermostat
    heat_setpoint: Floats  # (24,) [K]
    cool_setpoint: Floats  # (24,) [K]
    heat_kind: int
    heat_capacity: float  # [W]
    heat_efficiency: float  # [-]
    backup_capacity: float  # [W]
    heat_cycling: float  # degradation coefficient [-]
    cool_kind: int
    cool_capacity: float  # total, at rating [W]
    cop: float
    cool_cycling: float
    bypass: float  # share of air that bypasses the coil [-]
    flow_capacity: Floats  # (2,) capacity at this air flow over the rated, hot and cold [-]
    flow_power: Floats  # (2,) the same for power input [-]
    fan_power: float  # [W]
    air_flow: float  # of the air handler [m³/s]; 0 if nothing is ducted
    heat_ducted: bool
    cool_ducted: bool
    heat_shares: Floats  # (n,) of the heat, where it ends up if air at rest is alike [-]
    cool_shares: Floats  # (n,)
    latent_shares: Floats  # (n,)
    duct_heat: Floats  # (n, n) heat balance of duct air, per mass flow [-]
    duct_vapor: Floats  # (n, n) the same for vapor
    duct_supply: Floats  # (n,) net air forced in, per flow of the air handler [-]
    return_mix: Floats  # (n,) origin of the air that reaches the coil [-]
    drier_capacity: Floats  # (n,) [kg/s]
    drier_energy: Floats  # (n,) energy per water removed [J/kg]
    drier_setpoint: Floats  # (n,) relative humidity [0-1]


class State(NamedTuple):
    """What one hour hands to the next."""

    air: Floats  # (n,) temperature [K]
    radiant: Floats  # (n,) temperature of the radiant point [K]
    humidity: Floats  # (n,) [kg/kg]
    pressure: Floats  # (n,) [Pa]
    face_inside: Floats  # (m,) temperature of the faces [K]
    face_outside: Floats
    modes: Floats  # (modes,)
    drying_heat: Floats  # (n,) heat of dehumidifiers, released in the next hour [W]


class Work(NamedTuple):
    """Scratch of one hour."""

    source_inside: Floats  # (m,) heat given to the faces, air and radiation apart [W/m²]
    source_outside: Floats
    gain_outside: Floats  # part of it that comes from outdoors [W/m²]
    film_inside: Floats  # (m,) convection [W/(m²·K)]
    film_outside: Floats  # the same; outdoors with radiation to air and ground
    beam_inside: Floats  # (m,) radiation to the radiant point [W/(m²·K)]
    beam_outside: Floats
    to_sky: Floats  # (m,) radiation to the sky [W/(m²·K)]
    inner: Floats  # (m,) face temperature per heat given to that face [m²·K/W]
    outer: Floats
    near: Floats  # (m,) what is next to a face: temperature of its air, or wind film
    joint: Floats  # (m,) the same per heat given to the other face of a partition
    sun_beam: Floats  # (n,) let in [W]
    sun_diffuse: Floats  # (n,) let in [W]
    matrix: Floats  # (2 n, 2 n) radiant points, then air [W/K]
    right: Floats  # (2 n,) [W]
    system: Floats  # (n, n) the same for the air alone, in this pass
    free: Floats  # (n,) temperature without equipment [K]
    unit: Floats  # (n,) its change by one watt of the equipment [K/W]
    inflow: Floats  # (n, n + 1) mass into each space from each other [kg/s]
    density: Floats  # (n + 1,) [kg/m³]
    supply: Floats  # (n,) [kg/s]
    flow: Floats  # (paths,) [kg/s]
    wind: Floats  # (paths,) [Pa]
    net_paths: Floats  # scratch of the air network
    net_spaces: Floats
    output: Floats  # (n,) heat from the equipment [W]
    drying: Floats  # (n,) vapor that leaves a space per unit of its humidity [kg/s]
    saturated: Floats  # (n,) vapor in saturated air [kg/kg]
    used: Floats  # (n,) temperature at which air was moved [K]
    past: Floats  # (n,) temperature an hour ago [K]
    made: Floats  # (MADE,) what the equipment made


class Totals(NamedTuple):
    """What the year adds up to."""

    sums: Floats  # (SUMS,)
    bought: Floats  # (12, USES) [J]
    temperature: Floats  # (3, n) sum, least, most [K]
    humidity: Floats  # (2, n) sum of relative humidity, hours above 0.8
    sources: Floats  # (n + 1,) mass that entered the living spaces from each space [kg]
    entering: Floats  # (n, n + 1) mass that entered each space from each other [kg]


class Records(NamedTuple):
    """Hourly results; arrays without rows if they are not wanted."""

    temperature: Floats
    humidity: Floats
    pressure: Floats
    flow: Floats
    heating: Floats
    cooling: Floats
    infiltration: Floats
    runtime: Floats
    radiant: Floats
    face_inside: Floats
    face_outside: Floats
    conducted_inside: Floats
    conducted_outside: Floats
    sun: Floats
    entering: Floats
    supply_temperature: Floats
    condensate: Floats
    bought: Floats
