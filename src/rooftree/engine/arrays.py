"""What the hour loop reads and writes: arrays, grouped by subject.

`compile.py` fills them for one house; `batch.py` lays several houses side by side, so that
every `Row` and `Grid` gets lanes as its last index. `Integers` and `int` describe how the
house hangs together and are the same in all lanes.

An element is a piece of surface with two faces. Elements are sorted: first those to
outdoors (opaque ones, then windows), then those to the ground, then those between two
spaces. `n` spaces, `m` elements, `c` thermostats; index `n` is outdoors.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from rooftree.engine.lanes import group_reader

if TYPE_CHECKING:
    from rooftree.engine.lanes import Columns, Floats, Grid, Integers, Row

HOURS = 24
"""Of a day; every table by the hour of the day has as many rows."""

HOT, BACKUP, COLD, MOVING, DRYING, WATER, USES = 0, 1, 2, 3, 4, 5, 6
"""Columns of what is bought: heat, backup heat, cold, moving air and water, drying, hot
water; then the heat of each room unit. `USES` is where the room units begin."""

(
    HEAT_DELIVERED, COLD_DELIVERED, HEAT_PEAK, COLD_PEAK, HEAT_UNMET, COLD_UNMET,
    INFILTRATION, IMBALANCE, NET_HEAT, THROUGHPUT, NET_VAPOR, VAPOR_THROUGHPUT, SUMS,
) = range(13)  # fmt: skip
"""Places in the totals of the year, and their number."""

AIR_OUTDOORS, SKY, GROUND, PRESSURE, HUMIDITY, WIND, WATER_DRAW, CALM, FIRST_COLUMN = range(9)
"""Columns of the weather: temperatures of the air, of the sky as a black body and of the
ground at 1 m [K], pressure [Pa], vapor per dry air [kg/kg], wind speed at the house [m/s],
heat of hot water over its mean of the year [-], zero; where the columns by direction begin."""

NEVER_FIRED, WHILE_HEATING, NOT_HEATING, WHILE_DRAWN, NOT_DRAWN = range(5)
"""When a path is open: always; the flue of the heating while it burns and while it does not,
and that of the water heater."""


class Weather(NamedTuple):
    """The weather hour by hour, and what it does to each direction."""

    hours: int
    count: int  # type: ignore[assignment]  # columns
    table: Columns  # (hours, columns)
    month: Integers  # (days,) 0 to 11


class Elements(NamedTuple):
    """Surfaces and windows; one entry for each element unless said otherwise."""

    count: int  # type: ignore[assignment]  # a tuple has a method of this name
    windows: int
    modes: int
    first_window: int  # index of the first window among the elements
    first_ground: int
    first_partition: int
    space: Integers  # that the inside face belongs to
    other: Integers  # that the outside face of a partition belongs to
    sun_column: Integers  # sun on an opaque plane [W/m²]
    film_column: Integers  # convection by wind at glass on it [W/(m²·K)]
    mode: Integers  # (m + 1,) where the modes of each element begin
    owner: Integers  # (modes,) element of each mode
    area: Row  # [m²]
    inside: Row  # conductances within the step [W/(m²·K)], see conduction.Response
    outside: Row
    across: Row
    fade: Row  # (modes,)
    feel_inside: Row
    feel_outside: Row
    push_inside: Row
    push_outside: Row
    store: Row
    last_inside: Row  # (m,) what the last faces still do [W/(m²·K)]
    last_across: Row
    last_outside: Row
    held_inside: Row  # (m,) heat held per kelvin of the last faces [J/(m²·K)]
    held_outside: Row
    absorptance: Row  # of the outside face for the sun [-]
    sky_factor: Row  # Stefan-Boltzmann x emittance x weight of the sky [W/(m²·K⁴)]
    air_factor: Row  # the same for air and ground
    roughness: Floats  # multiplier on wind convection [-]
    warm_inside: Floats  # convection over the cube root of the difference, where the inside
    cold_inside: Floats  # face is warmer and colder than the air [W/(m²·K^(4/3))]
    warm_outside: Floats  # the same at the outside face of a partition
    cold_outside: Floats
    radiant_inside: Row  # share in the radiant exchange of its space [-]
    radiant_outside: Row
    beam_inside: Row  # share of the beam let into its space, per area [1/m²]
    beam_outside: Row
    diffuse_inside: Row  # the same of diffuse light [1/m²]
    diffuse_outside: Row
    beam_column: Integers  # (windows,) beam passed, per normal transmittance [W/m²]
    diffuse_column: Integers  # (windows,) the same of diffuse light
    heat_column: Integers  # (windows,) absorbed, per normal absorptance [W/m²]
    glass_area: Row  # (windows,) area x transmittance x shading [m²]
    glass_taken: Row  # (windows,) absorbed inward x shading, per area [-]


class Air(NamedTuple):
    """Spaces, and what moves air between them."""

    spaces: int
    doors: int
    fired_paths: int
    living: Integers  # (n,) 1 where it counts as inside
    held_column: Integers  # (n,) imposed temperature [K] in the weather; -1 for none
    wet_column: Integers  # (n,) imposed vapor [kg/kg]
    heat_column: Integers  # (n,) imposed heat [W]
    fan_column: Integers  # (n,) imposed exchange with outdoors [m³/s]
    volume: Row  # (n,) [m³]
    capacity: Row  # (n,) of air and furnishings [J/K]
    imposed_radiant: Row  # (1,) radiant share of imposed heat [-]
    wind_column: Integers  # (paths,) pressure of the wind [Pa]
    coefficient: Row  # (paths,) [m³/(s·Paⁿ)]
    fired: Integers  # (fired paths,) their places among the paths
    when: Integers  # (fired paths,) when they are open
    chimney: Row  # (fired paths,) height of the column of hot gas [m]
    gas_temperature: Row  # (fired paths,) [K]
    door_first: Integers  # (doors,) openings through which air is exchanged both ways
    door_second: Integers
    door_size: Row  # [m³/s] at a relative difference of temperature of 1
    exhaust: Grid  # (24, n) [m³/s]
    supplied: Grid  # (24, n) outdoor air blown in [m³/s]
    unrecovered: Grid  # (24, n) outdoor air exchanged whose heat is not recovered [m³/s]
    undried: Grid  # (24, n) the same of vapor
    convective: Grid  # (24, n) gains [W]
    radiant: Grid  # (24, n) gains [W]
    vapor: Grid  # (24, n) sources [kg/s]
    evaporation: Row  # (n,) of damp earth, per difference of vapor [kg/s]
    buffering: Row  # (n,) water that materials hold, over what the air holds [-]


class Paths(NamedTuple):
    """The network of paths for air."""

    spaces: int
    count: int  # type: ignore[assignment]  # a tuple has a method of this name
    first: Integers  # (paths,) sorted
    second: Integers
    level: Row
    exponent: Row


class Plant(NamedTuple):
    """Heating, cooling, ducts, hot water and dehumidifiers.

    Thermostat 0 runs the central system, the next ones the room units, the last one the
    windows if people open them.
    """

    thermostats: int
    room_units: int
    windows: int  # thermostat of the people who open windows; -1 for nobody
    heater_space: int  # where the water heater stands; -1 for none
    water_column: int  # of the weather: heat of hot water over its mean of the year
    thermostat: Integers  # (c,) space with the thermostat
    heat_setpoint: Grid  # (24, c) [K]
    cool_setpoint: Grid  # (24, c) [K]
    hot_burner: Row  # (c,) 1 for a burner, a boiler or resistance
    hot_pump: Row  # (c,) 1 for a heat pump
    hot_ideal: Row  # (c,) 1 for whatever is needed
    heat_capacity: Row  # (c,) [W]
    heat_efficiency: Row  # (c,) [-]
    backup_capacity: Row  # (c,) [W]
    heat_cycling: Row  # (c,) degradation coefficient [-]
    heat_turndown: Row  # (c,) least share of full output without cycling [-]
    part_load: Grid  # (c, 4) input over full input by 1, x, x², x³ [-]
    heat_standing: Row  # (c,) power while it stands in the cold [W]
    pump_power: Row  # (c,) [W]
    cold_kind: Row  # (c,) 1 if it cools at all
    cold_pump: Row  # (c,) 1 for the curves of a heat pump
    cold_ideal: Row  # (c,)
    cool_capacity: Row  # (c,) total, at rating [W]
    cop: Row  # (c,)
    cool_cycling: Row  # (c,)
    cool_turndown: Row  # (c,)
    cool_standing: Row  # (c,) [W]
    bypass: Row  # (c,) share of air that bypasses the coil [-]
    coil_flow: Row  # (c,) air through the coil [kg/s]
    hot_flow_capacity: Row  # (c,) capacity at this air flow over the rated
    hot_flow_power: Row  # (c,) the same for input
    cold_flow_capacity: Row
    cold_flow_power: Row
    hot_fan: Row  # (c,) power of the air handler while it heats [W]; 0 if not ducted
    cold_fan: Row
    hot_ducted: Row  # (c,) 1 if the air handler moves the heat
    cold_ducted: Row
    hot_shares: Grid  # (c, n) of the heat, where it ends up if air at rest is alike [-]
    cold_shares: Grid
    latent_shares: Grid
    return_mix: Grid  # (c, n) origin of the air that reaches the coil [-]
    air_flow: Row  # (1,) of the air handler [kg/s]; 0 if nothing is ducted
    duct_heat: Grid  # (n, n) heat balance of duct air, per mass flow [-]
    duct_standing: Grid  # (n, n) its change by standing ducts, per idle share [-]
    standing_shares: Row  # (n,) the same of where heat ends up
    duct_vapor: Grid  # (n, n) as duct_heat, for vapor
    duct_supply: Row  # (n,) net air forced in, per flow of the air handler [-]
    window_area: Row  # (1,) opened by people [m²]
    hot_water: Row  # (24,) heat drawn [W]
    water_input: Row  # (1,) bought per heat drawn [-]
    water_pump: Row  # (1,) 1 if it is a heat pump
    tank_loss: Row  # (1,) [W/K]
    tank_temperature: Row  # (1,) [K]
    drier_capacity: Row  # (n,) [kg/s]
    drier_energy: Row  # (n,) energy per water removed [J/kg]
    drier_setpoint: Row  # (n,) relative humidity [0-1]


class State(NamedTuple):
    """What one hour hands to the next."""

    air: Row  # (n,) temperature [K]
    radiant: Row  # (n,) temperature of the radiant point [K]
    humidity: Row  # (n,) [kg/kg]
    face_inside: Row  # (m,) temperature of the faces [K]
    face_outside: Row
    modes: Row  # (modes,)
    drying_heat: Row  # (n,) heat of dehumidifiers, released in the next hour [W]
    running: Row  # (1,) share of the hour for which the air handler ran [-]
    burning: Row  # (1,) share of the hour for which the heating burned [-]


class Flows(NamedTuple):
    """The air network at work; kept from hour to hour, to predict from."""

    pressure: Row  # (n,) of each space at level 0 against outdoors at level 0 [Pa]
    flow: Row  # (paths,) mass from first to second [kg/s]
    density: Row  # (n + 1,) [kg/m³]
    supply: Row  # (n,) net mass forced into each space [kg/s]
    coefficient: Row  # (paths,) [m³/(s·Paⁿ)]
    wind: Row  # (paths,) pressure on the outdoor side, or lift of hot gas [Pa]
    across: Row  # (paths,) pressure difference [Pa]
    drive: Row  # (paths,) its part from stack and wind [Pa]
    mean: Row  # (paths,) half sum of coefficient x density on the two sides
    half: Row  # (paths,) half their difference
    slope: Row  # (paths,) of the flow [kg/(s·Pa)]
    bend: Row  # (paths,) bound on half its second derivative
    matrix: Grid  # (n + 1, n + 1) minus the derivative of the net inflow [kg/(s·Pa)]
    net: Row  # (n + 1,) net inflow [kg/s]
    step: Row  # (n + 1,) last change of pressure [Pa]
    trial: Row  # (n + 1,) the next one [Pa]
    before: Row  # (n + 1,) supply an hour ago [kg/s]; last 1 once there was one
    full: Row  # (n + 1,) pressure on the way [Pa]


class Work(NamedTuple):
    """Scratch of one hour."""

    now: Row  # (columns,) the weather of this hour
    now_numbers: Floats  # the same memory, one number after the other
    past_inside: Row  # (m,) what the layers send out of their faces by their past [W/m²]
    past_outside: Row
    by_air: Row  # (m,) how the inside face follows the air of its space [-],
    by_radiant: Row  # its radiant point [-],
    by_itself: Row  # and what it would be without them [K]
    by_other_air: Row  # (m,) how it follows the space on the other side of a partition
    by_other_radiant: Row
    beyond_by_face: Row  # (m,) how the outside face follows the inside one outdoors, or
    beyond_by_air: Row  # the spaces on both sides of a partition [-]
    beyond_by_radiant: Row
    beyond_by_other_air: Row
    beyond_by_other_radiant: Row
    beyond_by_itself: Row  # (m,) [K]
    sun_beam: Row  # (n,) let in [W]
    sun_diffuse: Row  # (n,) let in [W]
    matrix: Grid  # (2 n, 2 n) radiant points, then air [W/K]
    right: Row  # (2 n,) [W]
    system: Grid  # (n, n) the same for the air alone, in this pass
    free: Row  # (n,) temperature without equipment [K]
    inflow: Grid  # (n, n + 1) mass into each space from each other [kg/s]
    shares: Grid  # (c, n) where the heat of each thermostat's machine goes [-]
    respond: Grid  # (c, n) change of temperature by one watt of it [K/W]
    heat: Row  # (c,) that each machine gives to (above 0) or takes from the air [W]
    hot_full: Row  # (c,) output when it runs [W]
    hot_input: Row  # (c,) input when it runs [W]
    cold_full: Row
    cold_input: Row
    sensible: Row  # (c,) sensible share of cold [-]
    condensate: Row  # (c,) water from the coil [kg/s]
    may_cool: Row  # (c,) what each machine may take from the air [W]
    windows: Row  # (1,) outdoor air through windows that people open [m³/s]
    output: Row  # (n,) heat from the equipment [W]
    aired: Row  # (n,) heat through windows that people open [W]
    drying: Row  # (n,) vapor that leaves a space per unit of its humidity [kg/s]
    saturated: Row  # (n,) vapor in saturated air [kg/kg]
    past: Row  # (n,) temperature an hour ago [K]
    past_humidity: Row  # (n,) vapor an hour ago [kg/kg]
    humid: Row  # (n,) vapor before dehumidifiers and condensation [kg/kg]
    dried: Row  # (n,) heat of dehumidifiers, of the hour before [W]
    drawn: Row  # (n,) heat of hot water machines; below 0 where they take it [W]
    hot_delivered: Row  # (n,) heat and cold from equipment and ducts [W]
    cold_delivered: Row
    removed: Row  # (n,) vapor taken out by dehumidifiers and condensation [kg/s]
    exchange: Row  # (1,) mean of `windows` over the hour [m³/s]
    bought: Row  # (uses,) in this hour [W]
    day: Row  # (uses,) in this day [J]


class Totals(NamedTuple):
    """What the year adds up to."""

    uses: int
    counted: Row  # (1,) 1 in the lanes that count, 0 in those that only warm up
    sums: Row  # (SUMS,)
    bought: Grid  # (12, uses) [J]
    temperature: Grid  # (3, n) sum, least, most [K]
    humidity: Grid  # (2, n) sum of relative humidity, hours above 0.8
    sources: Row  # (n + 1,) mass that entered the living spaces from each space [kg]
    entering: Grid  # (n, n + 1) mass that entered each space from each other [kg]


class Records(NamedTuple):
    """Hourly results, if they are wanted: rows are hours of the run."""

    wanted: int
    temperature: Grid
    humidity: Grid
    pressure: Grid
    flow: Grid
    heating: Grid
    cooling: Grid
    aired: Grid
    infiltration: Row
    runtime: Row
    radiant: Grid
    face_inside: Grid
    face_outside: Grid
    conducted_inside: Grid
    conducted_outside: Grid
    sun: Grid
    entering: Grid
    supply_temperature: Row
    condensate: Row
    bought: Grid


read_alike_elements = group_reader(Elements, alike=True)
read_weather, read_elements, read_air, read_paths = (
    group_reader(each) for each in (Weather, Elements, Air, Paths)
)
read_plant, read_state, read_flows, read_work = (
    group_reader(each) for each in (Plant, State, Flows, Work)
)
read_totals, read_records = group_reader(Totals), group_reader(Records)
