"""The hour of the engine once more: plain NumPy and SciPy, written from the equations.

The oracle takes the arrays that `rooftree.engine.compile` makes of a house and a year, and
steps through them one hour at a time with general solvers: `scipy.optimize.root` for the air
network from its residual alone, `scipy.sparse.linalg.splu` for one system of all faces, radiant
points and airs, and `numpy.linalg.solve` for vapor. It uses no function of the hour loop, and
states the physical constants again. It is slow; the tests hold the engine to it, and the bench
tells how much slower.

Each step is one class or function, in the order of the hour: `Outdoors`, `Films`, `HeatBalance`,
`rate_machine`, `answer`, `AirNetwork`, `vapor`, `driers`. What lags by an hour lags here too:
films and machines are rated at the state of the hour before, dehumidifiers give their heat to
the next hour, and air is moved between two balances of heat.

Sources
-------
The equations are those of docs/explanation/engine.md; [HOF2017] ASHRAE Handbook - Fundamentals
2017, chapter 1, eq. 5, 6, 20 and 30 for moist air; [CUTLER2013] NREL/TP-5500-56354 for machines.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import product
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.optimize import brentq, root
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

from rooftree.engine import arrays as columns
from rooftree.engine.batch import lay_side_by_side, make_state
from rooftree.engine.lanes import WIDTH

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.engine.compile import Compiled

    Floats = NDArray[np.float64]

HOUR = 3600.0
HEAT_OF_AIR = 1006.0  # [J/(kg·K)]
HEAT_OF_VAPOR = 1860.0  # [J/(kg·K)]
HEAT_OF_EVAPORATION = 2.501e6  # [J/kg]
GAS_CONSTANT = 287.042  # of dry air [J/(kg·K)]
WATER_TO_AIR = 0.621945  # [-]
STEFAN_BOLTZMANN = 5.670374419e-8  # [W/(m²·K⁴)]
GRAVITY = 9.80665  # [m/s²]
STILL_AIR = 1.31  # outdoors [W/(m²·K^(4/3))]
LEAST_CONVECTION = 0.02  # of a face to air of its own temperature [W/(m²·K)]
SMOOTHING = 0.01  # pressure at which a leak turns laminar [Pa]
TETHER = 1e-6  # of a radiant point to its air [W/K]
ROOM = 293.15  # [K]
ROUNDING = 1e-9  # imbalance of air that is taken for none [kg/s]


# --- moist air ---------------------------------------------------------------------------


def saturation_pressure(t: float) -> float:
    """Return the vapor pressure of saturated air [Pa] ([HOF2017] eq. 5 and 6)."""
    if t <= 273.16:
        log = (
            -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t**2
            + 2.0747825e-9 * t**3 - 9.484024e-13 * t**4 + 4.1635019 * math.log(t)
        )  # fmt: skip
    else:
        log = (
            -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2
            - 1.4452093e-8 * t**3 + 6.5459673 * math.log(t)
        )  # fmt: skip
    return math.exp(log)


def saturated_humidity(t: float, pressure: float) -> float:
    """Return the vapor in saturated air [kg/kg] (eq. 20)."""
    vapor = saturation_pressure(t)
    return WATER_TO_AIR * vapor / (pressure - vapor)


def enthalpy(t: float, humidity: float) -> float:
    """Return the enthalpy of moist air [J/kg] (eq. 30)."""
    return HEAT_OF_AIR * (t - 273.15) + humidity * (
        HEAT_OF_EVAPORATION + HEAT_OF_VAPOR * (t - 273.15)
    )


def saturated_temperature(heat: float, pressure: float) -> float:
    """Return the temperature at which saturated air has this enthalpy [K]."""

    def excess(t: float) -> float:
        return enthalpy(t, saturated_humidity(t, pressure)) - heat

    return float(brentq(excess, 200.0, 360.0, xtol=1e-12, rtol=1e-14))


def density_of(pressure: float, t: Any, humidity: Any) -> Any:
    """Return the density of moist air [kg/m³]."""
    return pressure / (GAS_CONSTANT * t * (1.0 + 0.608 * humidity))


# --- the hour ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Outdoors:
    """The weather of one hour, by the column that each element, path or window names."""

    row: Floats
    day_hour: int

    @property
    def air(self) -> float:
        """Return the temperature of the air [K]."""
        return float(self.row[columns.AIR_OUTDOORS])

    @property
    def sky(self) -> float:
        """Return the temperature of the sky [K]."""
        return float(self.row[columns.SKY])

    @property
    def ground(self) -> float:
        """Return the temperature of the ground [K]."""
        return float(self.row[columns.GROUND])

    @property
    def pressure(self) -> float:
        """Return the pressure of the air [Pa]."""
        return float(self.row[columns.PRESSURE])

    @property
    def humidity(self) -> float:
        """Return the vapor in the air [kg/kg]."""
        return float(self.row[columns.HUMIDITY])

    @property
    def density(self) -> float:
        """Return the density of the air [kg/m³]."""
        return float(density_of(self.pressure, self.air, self.humidity))


@dataclass(slots=True)
class State:
    """What one hour hands to the next."""

    air: Floats
    radiant: Floats
    humidity: Floats
    inside: Floats  # faces [K]
    outside: Floats
    modes: Floats
    drying_heat: Floats  # [W]
    pressure: Floats  # [Pa]
    inflow: Floats  # (n, n + 1) [kg/s]
    density: Floats  # (n + 1,) [kg/m³]
    running: float = 0.0  # share of the hour for which the air handler was asked to run
    burning: float = 0.0


@dataclass(slots=True)
class Books:
    """What the hours add up to."""

    bought: Floats  # [J] by use
    heating: float = 0.0  # delivered to the living spaces [J]
    cooling: float = 0.0
    infiltration: list[float] = field(default_factory=list)  # [m³/s]
    temperature: list[Floats] = field(default_factory=list)
    humidity: list[Floats] = field(default_factory=list)
    running: list[float] = field(default_factory=list)


class Films:
    """Exchange of all faces with air, radiant points and outdoors, at the last hour's state."""

    def __init__(self, house: Compiled, now: Outdoors, state: State) -> None:
        e = house.elements
        self.inside, self.inside_radiant = self._room(
            e.space, state.inside, state, e.warm_inside, e.cold_inside, e.radiant_inside
        )
        self.outside, self.outside_radiant = self._room(
            e.other, state.outside, state, e.warm_outside, e.cold_outside, e.radiant_outside
        )
        last = e.first_ground
        face = state.outside[:last]
        still = STILL_AIR * np.abs(face - now.air) ** (1.0 / 3.0)
        blown = now.row[e.film_column]
        convection = still + e.roughness[:last] * (np.hypot(still, blown) - still)
        to_air = e.air_factor[:last] * (face**2 + now.air**2) * (face + now.air)
        self.to_sky = e.sky_factor[:last] * (face**2 + now.sky**2) * (face + now.sky)
        self.to_outdoors = convection + to_air
        sun = e.absorptance[:last] * now.row[e.sun_column]
        self.gain = sun + self.to_outdoors * now.air + self.to_sky * now.sky

    @staticmethod
    def _room(
        space: Any, face: Floats, state: State, warm: Floats, cold: Floats, share: Floats
    ) -> tuple[Floats, Floats]:
        excess = face - state.air[space]
        convection = np.where(excess > 0.0, warm, cold) * np.abs(excess) ** (1.0 / 3.0)
        radiation = 4.0 * STEFAN_BOLTZMANN * share * state.radiant[space] ** 3
        return convection + LEAST_CONVECTION, radiation


def past_of_layers(house: Compiled, state: State) -> tuple[Floats, Floats]:
    """Return what the layers send out of both faces by their past [W/m²]."""
    e = house.elements
    inside = e.last_inside * state.inside + e.last_across * state.outside
    outside = e.last_across * state.inside + e.last_outside * state.outside
    inside += np.bincount(e.owner, e.feel_inside * state.modes, minlength=e.count)
    outside += np.bincount(e.owner, e.feel_outside * state.modes, minlength=e.count)
    return inside, outside


def sunlight(house: Compiled, now: Outdoors) -> tuple[Floats, Floats]:
    """Return the sun that inside and outside faces take up from windows [W/m²]."""
    e = house.elements
    glazed = e.space[e.first_window : e.first_window + e.windows]
    n = house.air.spaces
    beam = np.bincount(glazed, e.glass_area * now.row[e.beam_column], minlength=n)
    diffuse = np.bincount(glazed, e.glass_area * now.row[e.diffuse_column], minlength=n)
    inside = e.beam_inside * beam[e.space] + e.diffuse_inside * diffuse[e.space]
    windows = slice(e.first_window, e.first_window + e.windows)
    inside[windows] += e.glass_taken * now.row[e.heat_column]
    outside = np.zeros(e.count)
    between = slice(e.first_partition, None)
    other = e.other[between]
    outside[between] = e.beam_outside[between] * beam[other]
    outside[between] += e.diffuse_outside[between] * diffuse[other]
    return inside, outside


class HeatBalance:
    """One linear system of the hour: inside faces, outside faces, radiant points, airs.

    Each row says that what comes to a face, point or body of air is what it passes on.
    """

    def __init__(self, house: Compiled, now: Outdoors, state: State) -> None:
        self.house, self.now = house, now
        m, n = house.elements.count, house.air.spaces
        self.faces, self.others = np.arange(m), m + np.arange(m)
        self.points, self.airs = 2 * m + np.arange(n), 2 * m + n + np.arange(n)
        self.matrix, self.right = np.zeros((2 * (m + n),) * 2), np.zeros(2 * (m + n))
        self._layers(state)
        self._rooms(Films(house, now, state))
        self._gains(state)

    def _layers(self, state: State) -> None:
        """Put in what layers conduct, and their past."""
        e, a = self.house.elements, self.matrix
        a[self.faces, self.faces] += e.inside
        a[self.faces, self.others] -= e.across
        a[self.others, self.others] += e.outside
        a[self.others, self.faces] -= e.across
        past, beyond = past_of_layers(self.house, state)
        sun, sun_beyond = sunlight(self.house, self.now)
        self.right[self.faces] += past + sun
        self.right[self.others] += beyond + sun_beyond
        ground = self.others[e.first_ground : e.first_partition]
        a[ground] = 0.0
        a[ground, ground] = 1.0
        self.right[ground] = self.now.ground

    def _rooms(self, films: Films) -> None:
        """Put in what faces trade with outdoors, and with air and radiant points."""
        e, a = self.house.elements, self.matrix
        outdoors = self.others[: e.first_ground]
        a[outdoors, outdoors] += films.to_outdoors + films.to_sky
        self.right[outdoors] += films.gain
        every, between = np.arange(e.count), np.arange(e.first_partition, e.count)
        for faces, which, space, by_air, by_radiant in (
            (self.faces, every, e.space, films.inside, films.inside_radiant),
            (self.others, between, e.other, films.outside, films.outside_radiant),
        ):
            for k in which:
                face, p = faces[k], space[k]
                for node, c in ((self.airs[p], by_air[k]), (self.points[p], by_radiant[k])):
                    a[face, face] += c
                    a[face, node] -= c
                    a[node, node] += e.area[k] * c
                    a[node, face] -= e.area[k] * c

    def _gains(self, state: State) -> None:
        """Put in gains of people, machines and what is imposed, and the tether."""
        air, hour, a = self.house.air, self.now.day_hour, self.matrix
        a[self.points, self.points] += TETHER
        a[self.airs, self.airs] += TETHER
        a[self.points, self.airs] -= TETHER
        a[self.airs, self.points] -= TETHER
        imposed = np.where(air.heat_column >= 0, self.now.row[air.heat_column], 0.0)
        share = air.imposed_radiant[0]
        self.right[self.points] += air.radiant[hour] + share * imposed
        self.right[self.airs] += air.convective[hour] + (1.0 - share) * imposed
        self.right[self.airs] += state.drying_heat
        held = air.held_column >= 0
        a[self.points, self.points] += np.where(held, 1e9, 0.0)
        self.right[self.points] += np.where(held, 1e9 * self.now.row[air.held_column], 0.0)
        self.right[self.airs] += air.capacity / HOUR * state.air

    def with_air(self, state: State, running: float) -> tuple[Floats, Floats]:
        """Return matrix and right side with moving air, storage, ducts, tank and held air."""
        house, now, hour = self.house, self.now, self.now.day_hour
        air, plant = house.air, house.plant
        n = air.spaces
        a, b = self.matrix.copy(), self.right.copy()
        block = np.diag(air.capacity / HOUR)
        through = state.density[:n] * _by_balanced_fans(house, now, air.unrecovered[hour])
        from_outdoors = HEAT_OF_AIR * (through + state.inflow[:, n])
        between = HEAT_OF_AIR * state.inflow[:, :n]
        block += np.diag(from_outdoors + between.sum(axis=1)) - between
        b[self.airs] += from_outdoors * now.air
        stream = running * plant.air_flow[0] * HEAT_OF_AIR
        block -= stream * (plant.duct_heat + (1.0 - running) * plant.duct_standing)
        held = air.held_column >= 0
        block += np.diag(np.where(held, 1e9, 0.0))
        b[self.airs] += np.where(held, 1e9 * now.row[air.held_column], 0.0)
        if plant.heater_space >= 0:
            s = plant.heater_space
            block[s, s] += plant.tank_loss[0]
            b[self.airs[s]] += plant.tank_loss[0] * plant.tank_temperature[0]
        a[np.ix_(self.airs, self.airs)] += block
        return a, b


def _by_balanced_fans(house: Compiled, now: Outdoors, through: Floats) -> Floats:
    """Return the outdoor air that balanced fans exchange without recovery [m³/s]."""
    column = house.air.fan_column
    return through + np.where(column >= 0, now.row[column], 0.0)


# --- machines ----------------------------------------------------------------------------

_SURFACES = {  # inner [°F], outer [°F]: a + b w + c w² + d o + e o² + f w o  [CUTLER2013]
    "cooler capacity": (3.670270705, -0.098652414, 0.000955906, 0.006552414, -0.0000156,
                        -0.000131877),
    "cooler input": (-3.302695861, 0.137871531, -0.001056996, -0.012573945, 0.000214638,
                     -0.000145054),
    "cold pump capacity": (3.68637657, -0.098352478, 0.000956357, 0.005838141, -0.0000127,
                           -0.000131702),
    "cold pump input": (-3.437356399, 0.136656369, -0.001049231, -0.0079378, 0.000185435,
                        -0.0001441),
    "hot pump capacity": (0.566333415, -0.000744164, -0.0000103, 0.009414634, 0.0000506,
                          -0.00000675),
    "hot pump input": (0.718398423, 0.003498178, 0.000142202, -0.005724331, 0.00014085,
                       -0.000215321),
}  # fmt: skip
_RATED = {"cool": (67.0, 95.0), "cold": (67.0, 95.0), "hot ": (70.0, 47.0)}


def _fitted(name: str, inner: float, outer: float) -> float:
    """Return a fitted surface at two temperatures [K] over its value at the rating point."""
    a, b, c, d, e, f = _SURFACES[name]

    def value(w: float, o: float) -> float:
        return a + b * w + c * w * w + d * o + e * o * o + f * w * o

    fahrenheit = [1.8 * t - 459.67 for t in (inner, outer)]
    return value(*fahrenheit) / value(*_RATED[name[:4]])


@dataclass(slots=True)
class Machine:
    """What one thermostat can call for in this hour.

    Attributes
    ----------
    hot_full, hot_input : float
        Output, fan included, and input while it heats [W].
    cold_full, cold_input : float
        Sensible output, fan taken off, and input while it cools [W].
    sensible : float
        Sensible share of its cold [-].
    through_windows : float
        Air that open windows could exchange [m³/s].
    """

    hot_full: float = 0.0
    hot_input: float = 0.0
    cold_full: float = 0.0
    cold_input: float = 0.0
    sensible: float = 1.0
    through_windows: float = 0.0


def rate_machine(house: Compiled, c: int, now: Outdoors, state: State, asks_cold: bool) -> Machine:
    """Return what machine `c` can do at the state of the air an hour ago."""
    if c == house.plant.windows:
        return _windows(house, c, now, state)
    machine = Machine()
    _rate_heat(house.plant, c, now, float(state.air[house.plant.thermostat[c]]), machine)
    if asks_cold:
        indoor = float(house.plant.return_mix[c] @ state.air)
        _rate_cold(house.plant, c, now, indoor,
                   float(house.plant.return_mix[c] @ state.humidity), machine)  # fmt: skip
    return machine


def _rate_heat(plant: Any, c: int, now: Outdoors, indoor: float, machine: Machine) -> None:
    full = plant.heat_capacity[c]
    power = full / plant.heat_efficiency[c]
    if plant.hot_ideal[c]:
        full, power = 1e12, 1e12 / plant.heat_efficiency[c]
    elif plant.hot_pump[c]:
        more, dearer = 1.0, 1.0
        if now.air < 273.15 + 4.44:  # timed defrost
            coil = 273.15 + 0.82 * (now.air - 273.15) - 8.589
            frost = max(1e-6, now.humidity - saturated_humidity(coil, now.pressure))
            more, dearer = 0.909 - 107.33 * frost, 0.90 - 36.45 * frost
        steady = full * plant.hot_flow_capacity[c] * _fitted("hot pump capacity", indoor, now.air)
        steady = max(steady, 0.0)
        effort = _fitted("hot pump input", indoor, now.air) * plant.hot_flow_power[c]
        full, power = steady * more, steady * effort * dearer / plant.heat_efficiency[c]
    machine.hot_full = full + (plant.hot_fan[c] if full > 0.0 else 0.0)
    machine.hot_input = power


def _rate_cold(
    plant: Any, c: int, now: Outdoors, indoor: float, humidity: float, machine: Machine
) -> None:
    """Rate a coil: a surface at one temperature that part of the air misses."""
    if not plant.cold_kind[c]:
        return
    if plant.cold_ideal[c]:
        machine.cold_full, machine.cold_input = 1e12, 1e12 / plant.cop[c]
        return
    kind = "cold pump" if plant.cold_pump[c] else "cooler"
    heat = enthalpy(indoor, humidity)
    wet_bulb = saturated_temperature(heat, now.pressure)
    total = plant.cool_capacity[c] * plant.cold_flow_capacity[c]
    total = max(total * _fitted(f"{kind} capacity", wet_bulb, now.air), 0.0)
    effort = _fitted(f"{kind} input", wet_bulb, now.air)
    drop = max(total / plant.coil_flow[c] / (1.0 - plant.bypass[c]), 1.0)
    coil = saturated_temperature(heat - drop, now.pressure)
    sensible = min(max(HEAT_OF_AIR * (indoor - coil) / drop, 0.0), 1.0)
    machine.cold_full = max(total * sensible - plant.cold_fan[c], 0.0)
    machine.cold_input = total * effort * plant.cold_flow_power[c] / plant.cop[c]
    machine.sensible = max(sensible, 0.05)


def _windows(house: Compiled, c: int, now: Outdoors, state: State) -> Machine:
    """Return open windows as a machine: buoyancy and wind add by their squares."""
    plant = house.plant
    s = plant.thermostat[c]
    warmer = max(float(state.air[s]) - now.air, 0.0)
    buoyant = 0.6 / 3.0 * math.sqrt(GRAVITY * 1.2 * warmer / float(state.air[s]))
    speed = math.hypot(buoyant, 0.3 * float(now.row[columns.WIND]))
    worth_it = warmer > 0.5 and now.humidity < 0.0115
    can = float(plant.window_area[0]) * speed if worth_it else 0.0
    cold = float(state.density[s]) * can * HEAT_OF_AIR * warmer
    return Machine(cold_full=cold, through_windows=can)


def effort_at(run: float, degradation: float, turndown: float) -> float:
    """Return input over full input, by the share of full output."""
    if turndown >= 1.0:
        return run / (1.0 - degradation * (1.0 - run))
    saving = min(0.3 * (1.0 - run) / max(1.0 - turndown, 0.05), 0.3)
    on = min(run / turndown, 1.0)
    return run * (1.0 - saving) / (1.0 - degradation * (1.0 - on))


@dataclass(slots=True)
class Answer:
    """Temperatures with the machines that the thermostats ask for."""

    solution: Floats
    heat: Floats  # of each machine [W], below 0 for cold
    shares: Floats  # (machines, n)
    machines: list[Machine]


def answer(
    house: Compiled, balance: HeatBalance, state: State, past: State, running: float
) -> Answer:
    """Solve the heat of the hour with all thermostats at their setpoints or flat out.

    Every machine is off, holds its heating or cooling setpoint, or gives all it can. The
    combination that contradicts nothing is the answer.
    """
    plant, hour = house.plant, balance.now.day_hour
    count = plant.thermostats
    a, b = balance.with_air(state, running)
    system = splu(csc_matrix(a))
    free = system.solve(b)
    at = balance.airs[plant.thermostat]
    low, high = plant.heat_setpoint[hour], plant.cool_setpoint[hour]
    asks_cold = free[at] > high
    machines = [rate_machine(house, c, balance.now, past, bool(asks_cold[c])) for c in range(count)]
    shares = np.where(asks_cold[:, None], plant.cold_shares, plant.hot_shares).astype(float)
    ducted = plant.cold_ducted[0] if asks_cold[0] else plant.hot_ducted[0]
    shares[0] += (1.0 - running) * ducted * plant.standing_shares
    sources = np.zeros((b.size, count))
    sources[balance.airs] = shares.T
    respond = system.solve(sources)
    most = [
        0.0 if c == plant.windows else machines[c].hot_full + plant.backup_capacity[c]
        for c in range(count)
    ]
    least = [-machines[c].cold_full if asks_cold[c] else 0.0 for c in range(count)]
    limits = Limits(
        plant.thermostat, low, high, np.array(least), np.array(most),
        np.diag(respond[at]) > 1e-12,
    )  # fmt: skip
    heat = _agree(free[at], respond[at], limits)
    return Answer(free + respond @ heat, heat, shares, machines)


@dataclass(frozen=True, slots=True)
class Limits:
    """Between what the thermostats keep their spaces, and what machines can give.

    Attributes
    ----------
    space : ndarray of int, shape (machines,)
        Of each thermostat.
    low, high : ndarray
        Setpoints [K].
    least, most : ndarray
        Heat that each machine can give, below 0 for cold [W].
    reaches : ndarray of bool
        Whether heat of a machine warms the space of its own thermostat; one that does not
        is never called for.
    """

    space: Any
    low: Floats
    high: Floats
    least: Floats
    most: Floats
    reaches: Any


def _agree(free: Floats, respond: Floats, limits: Limits) -> Floats:
    """Return the heat of each machine that agrees with its thermostat and its limits [W].

    Of two machines that could hold the same space the first one does.
    """
    choices = []
    for c in range(free.size):
        states = ["low", "high", "off", "most", "least"]
        if not limits.reaches[c]:
            states = ["off"]
        if limits.most[c] == 0.0:
            states = [s for s in states if s not in ("low", "most")]
        if limits.least[c] == 0.0:
            states = [s for s in states if s not in ("high", "least")]
        choices.append(states)
    for combined in product(*choices):
        heat = _heat_of(combined, free, respond, limits)
        if heat is not None and not _contradicts(combined, free + respond @ heat, heat, limits):
            return heat
    raise AssertionError("no state of the machines agrees with the thermostats")


def _heat_of(
    states: tuple[str, ...], free: Floats, respond: Floats, limits: Limits
) -> Floats | None:
    """Return the heat of machines in these states; None if two hold the same space."""
    state = np.array(states)
    heat = np.where(state == "most", limits.most, np.where(state == "least", limits.least, 0.0))
    holding = (state == "low") | (state == "high")
    spaces = limits.space[holding]
    if len(set(spaces.tolist())) < spaces.size:
        return None
    if holding.any():
        goal = np.where(state == "low", limits.low, limits.high)[holding]
        rest = free[holding] + respond[holding] @ heat
        heat[holding] = np.linalg.solve(respond[np.ix_(holding, holding)], goal - rest)
    return heat


def _contradicts(states: tuple[str, ...], t: Floats, heat: Floats, limits: Limits) -> bool:
    """Return whether a combination of states contradicts thermostats or limits."""
    near = 1e-9
    for c, state in enumerate(states):
        least, most = limits.least[c], limits.most[c]
        too_cold, too_warm = t[c] < limits.low[c] - near, t[c] > limits.high[c] + near
        wrong = {
            "off": limits.reaches[c] and ((most > 0.0 and too_cold) or (least < 0.0 and too_warm)),
            "low": not 0.0 <= heat[c] <= most,
            "high": not least <= heat[c] <= 0.0,
            "most": t[c] > limits.low[c] + near,
            "least": t[c] < limits.high[c] - near,
        }[state]
        if wrong:
            return True
    return False


# --- air ---------------------------------------------------------------------------------


class AirNetwork:
    """The mass balance of all spaces, as the residual of their pressures."""

    def __init__(
        self, house: Compiled, now: Outdoors, state: State, running: float, burning: float
    ) -> None:
        paths, air, plant = house.paths, house.air, house.plant
        n, hour = air.spaces, now.day_hour
        self.first, self.second = paths.first, paths.second
        self.exponent, self.n = paths.exponent, n
        self.density = np.append(density_of(now.pressure, state.air, state.humidity), now.density)
        wind = now.row[air.wind_column].copy()
        self.coefficient = air.coefficient.copy()
        self._open_flues(house, now, burning, wind)
        one, other = self.density[self.first], self.density[self.second]
        self.forcing = (other - one) * GRAVITY * paths.level
        self.forcing += np.where(self.first == n, wind, np.where(self.second == n, -wind, 0.0))
        self.supply = (
            now.density * air.supplied[hour]
            - self.density[:n] * air.exhaust[hour]
            + running * plant.air_flow[0] * plant.duct_supply
        )

    def _open_flues(self, house: Compiled, now: Outdoors, burning: float, wind: Floats) -> None:
        """Open each flue for its share of the hour, with the lift of hot gas while it burns."""
        air = house.air
        drawn = house.plant.hot_water[now.day_hour] * now.row[columns.WATER_DRAW] / 11000.0
        drawn = min(float(drawn), 1.0)
        share = {
            columns.WHILE_HEATING: burning, columns.NOT_HEATING: 1.0 - burning,
            columns.WHILE_DRAWN: drawn, columns.NOT_DRAWN: 1.0 - drawn,
        }  # fmt: skip
        for k in range(air.fired_paths):
            p, when = int(air.fired[k]), int(air.when[k])
            self.coefficient[p] *= share[when]
            if when in (columns.WHILE_HEATING, columns.WHILE_DRAWN):
                gas = now.pressure / (GAS_CONSTANT * air.gas_temperature[k])
                inside = now.pressure / (GAS_CONSTANT * ROOM)
                wind[p] -= (inside - gas) * GRAVITY * air.chimney[k]

    def flow(self, pressure: Floats, smoothing: float = SMOOTHING) -> Floats:
        """Return the mass flow of each path at the pressures of the spaces [kg/s].

        `smoothing` is the pressure difference below which leaks turn laminar [Pa].
        """
        full = np.append(pressure, 0.0)
        x = full[self.first] - full[self.second] + self.forcing
        size = np.sqrt(x * x + smoothing**2)
        one, other = self.density[self.first], self.density[self.second]
        density = 0.5 * (one + other) + 0.5 * (one - other) * x / size
        return np.asarray(self.coefficient * density * x * size ** (self.exponent - 1.0))

    def residual(self, pressure: Floats, smoothing: float = SMOOTHING) -> Floats:
        """Return the mass that each space gains [kg/s]."""
        flow = self.flow(pressure, smoothing)
        net = np.append(self.supply, 0.0)
        np.subtract.at(net, self.first, flow)
        np.add.at(net, self.second, flow)
        return net[: self.n]

    def solve(self, start: Floats) -> Floats:
        """Return the pressures in balance [Pa].

        Where the solver does not get there from the pressures of the last hour, it comes from
        a network of nearly laminar leaks, whose balance is easy, in steps.
        """
        found = root(self.residual, start, tol=1e-13)
        if np.abs(found.fun).max() < ROUNDING:
            return np.asarray(found.x)
        pressure = np.zeros(self.n)
        for smoothing in (1e5, 1e4, 1e3, 1e2, 1e1, 1.0, 0.1, 0.03, SMOOTHING):
            found = root(self.residual, pressure, args=(smoothing,), tol=1e-13)
            pressure = np.asarray(found.x)
        if np.abs(found.fun).max() > ROUNDING:
            raise AssertionError(f"no balance of air: {np.abs(found.fun).max():g} kg/s are left")
        return pressure

    def inflow(self, house: Compiled, now: Outdoors, flow: Floats, t: Floats) -> Floats:
        """Return the mass into each space from each other, last from outdoors [kg/s]."""
        n, air = self.n, house.air
        mass = np.zeros((n + 1, n + 1))
        np.add.at(mass, (self.second, self.first), np.maximum(flow, 0.0))
        np.add.at(mass, (self.first, self.second), np.maximum(-flow, 0.0))
        for d in range(air.doors):
            p, s = air.door_first[d], air.door_second[d]
            both_ways = self.density[p] * air.door_size[d] * math.sqrt(abs(t[p] - t[s]) / t[p])
            mass[p, s] += both_ways
            mass[s, p] += both_ways
        mass[:n, n] += now.density * air.supplied[now.day_hour]
        return mass[:n]


# --- vapor -------------------------------------------------------------------------------


def vapor(
    house: Compiled, now: Outdoors, state: State, running: float, condensate: Floats,
    by_windows: float,
) -> tuple[Floats, Floats]:  # fmt: skip
    """Return the humidity of every space, and what leaves it per unit of humidity [kg/s].

    `condensate` is what each coil removes, `by_windows` the air through open ones [m³/s].
    """
    air, plant, hour = house.air, house.plant, now.day_hour
    n = air.spaces
    held = state.density[:n] * air.volume * air.buffering / HOUR
    outdoors = state.inflow[:, n] + state.density[:n] * _by_balanced_fans(
        house, now, air.undried[hour]
    )
    if plant.windows >= 0:
        outdoors = outdoors + state.density[:n] * by_windows * plant.cold_shares[plant.windows]
    between = state.inflow[:, :n]
    leaving = held + outdoors + air.evaporation + between.sum(axis=1)
    gained = held * state.humidity + outdoors * now.humidity + air.vapor[hour]
    gained = gained + air.evaporation * saturated_humidity(now.ground, now.pressure)
    gained = gained - condensate @ plant.latent_shares
    is_held = air.wet_column >= 0
    leaving = leaving + np.where(is_held, 1e6, 0.0)
    gained = gained + np.where(is_held, 1e6 * now.row[air.wet_column], 0.0)
    matrix = np.diag(leaving) - between - running * plant.air_flow[0] * plant.duct_vapor
    return np.linalg.solve(matrix, gained), np.diag(matrix).copy()


def driers(
    house: Compiled, now: Outdoors, state: State, humidity: Floats, leaving: Floats
) -> tuple[Floats, Floats, float]:
    """Return humidity after dehumidifiers and condensation, their heat [W] and power [W]."""
    plant = house.plant
    left, heat, power = humidity.copy(), np.zeros_like(humidity), 0.0
    for i in range(house.air.spaces):
        most = saturated_humidity(float(state.air[i]), now.pressure)
        if plant.drier_capacity[i] > 0.0:
            wanted = plant.drier_setpoint[i]
            limit = WATER_TO_AIR * wanted * most / (WATER_TO_AIR + most * (1.0 - wanted))
            removed = min(max(leaving[i] * (left[i] - limit), 0.0), plant.drier_capacity[i])
            left[i] -= removed / leaving[i]
            own = removed * plant.drier_energy[i]
            power += own
            heat[i] = own + removed * HEAT_OF_EVAPORATION
        left[i] = min(max(left[i], 1e-6), most)
    return left, heat, power


# --- the loop ----------------------------------------------------------------------------


def first_state(compiled: Compiled) -> State:
    """Return the state from which the engine starts the compiled record."""
    batch = lay_side_by_side([compiled])
    start = make_state(batch, np.zeros(WIDTH, dtype=np.int64))
    lane = {name: getattr(start, name)[..., 0].copy() for name in start._fields}
    n = compiled.air.spaces
    return State(
        air=lane["air"], radiant=lane["radiant"], humidity=lane["humidity"],
        inside=lane["face_inside"], outside=lane["face_outside"], modes=lane["modes"],
        drying_heat=lane["drying_heat"], pressure=np.zeros(n), inflow=np.zeros((n, n + 1)),
        density=np.zeros(n + 1),
    )  # fmt: skip


class Oracle:
    """A compiled house on its way through the weather.

    Parameters
    ----------
    house : Compiled
        As `rooftree.engine.compile.compile_house` gives it.
    state : State
        From which it starts.
    """

    def __init__(self, house: Compiled, state: State) -> None:
        self.house, self.state = house, state
        self.books = self.empty_books()

    def empty_books(self) -> Books:
        """Return books with nothing in them."""
        return Books(np.zeros(columns.USES + self.house.plant.room_units))

    def run(self, first: int, hours: int) -> None:
        """Step through some hours of the weather."""
        table = self.house.weather.table
        for hour in range(first, first + hours):
            self.step(Outdoors(table[hour % table.shape[0]], hour % 24))

    def step(self, now: Outdoors) -> None:
        """Step through one hour."""
        house, state = self.house, self.state
        past = _copied(state)
        bought = np.zeros_like(self.books.bought)
        balance = HeatBalance(house, now, state)
        self._heat_water(balance, now, past, bought)
        wanted = self._running(answer(house, balance, state, past, state.running))
        running = wanted[0]
        state.air = wanted[1]
        network = AirNetwork(house, now, state, running, state.burning)
        state.density = network.density
        state.pressure = network.solve(past.pressure)
        state.inflow = network.inflow(house, now, network.flow(state.pressure), state.air)
        # windows were rated with the density of the hour before
        answered = answer(house, balance, state, past, running)
        state.running, state.air = self._running(answered)
        condensate, by_windows = self._count_machines(now, answered, bought)
        humidity, leaving = vapor(house, now, state, running, condensate, by_windows)
        state.humidity, state.drying_heat, power = driers(house, now, state, humidity, leaving)
        bought[columns.DRYING] += power
        self._remember(balance, answered.solution)
        self.books.bought += bought * HOUR
        self._count_air(now, running)
        self._count_delivered(answered, running)
        self.books.temperature.append(state.air.copy())
        self.books.humidity.append(state.humidity.copy())
        self.books.running.append(state.running)

    def _running(self, answered: Answer) -> tuple[float, Floats]:
        """Return the share of the hour for which the air handler is asked to run, and airs."""
        plant, heat = self.house.plant, float(answered.heat[0])
        machine = answered.machines[0]
        hot = min(heat / machine.hot_full, 1.0) if heat > 0.0 and machine.hot_full > 0.0 else 0.0
        cold = min(-heat / machine.cold_full, 1.0) if heat < 0.0 else 0.0
        n = self.house.air.spaces
        share = hot * plant.hot_ducted[0] + cold * plant.cold_ducted[0]
        return float(share), answered.solution[-n:].copy()

    def _heat_water(self, balance: HeatBalance, now: Outdoors, past: State, bought: Floats) -> None:
        plant = self.house.plant
        s = plant.heater_space
        if s < 0:
            return
        drawn = plant.hot_water[now.day_hour] * now.row[columns.WATER_DRAW]
        warmth = 1.0
        if plant.water_pump[0]:
            warmth = max(1.0 + 0.02 * (past.air[s] - 292.85), 0.4)
        power = drawn * plant.water_input[0] / warmth
        standing = plant.tank_loss[0] * (ROOM - past.air[s]) * plant.water_input[0]
        bought[columns.WATER] += max(power + standing, 0.0)
        if plant.water_pump[0]:
            balance.right[balance.airs[s]] -= max(drawn - power, 0.0)

    def _count_machines(
        self, now: Outdoors, answered: Answer, bought: Floats
    ) -> tuple[Floats, float]:
        """Count what machines buy; return water from coils [kg/s] and air by windows [m³/s]."""
        plant = self.house.plant
        condensate, by_windows = np.zeros(plant.thermostats), 0.0
        for c, machine in enumerate(answered.machines):
            heat = float(answered.heat[c])
            if c == plant.windows:
                if machine.cold_full > 0.0:
                    by_windows = max(-heat, 0.0) / machine.cold_full * machine.through_windows
                continue
            hot = cold = 0.0
            if heat > 0.0 and machine.hot_full > 0.0:
                hot = min(heat / machine.hot_full, 1.0)
            if heat < 0.0:
                cold = min(-heat / machine.cold_full, 1.0)
            if c == 0:
                self.state.burning = hot
            self._buy(c, machine, heat, hot, cold, now, bought)
            latent = max(-heat, 0.0) + cold * plant.cold_fan[c]
            condensate[c] = latent * (1.0 / machine.sensible - 1.0) / HEAT_OF_EVAPORATION
        return condensate, by_windows

    def _buy(
        self, c: int, machine: Machine, heat: float, hot: float, cold: float, now: Outdoors,
        bought: Floats,
    ) -> None:  # fmt: skip
        plant = self.house.plant
        if plant.hot_burner[c]:
            a, b, d, e = plant.part_load[c]
            effort = a + b * hot + d * hot**2 + e * hot**3 if hot > 0.0 else 0.0
        else:
            effort = effort_at(hot, plant.heat_cycling[c], plant.heat_turndown[c])
        is_cold = now.air < 273.15 + 12.8
        heating = machine.hot_input * effort
        heating += plant.heat_standing[c] * (1.0 - hot) if is_cold else 0.0
        backup = max(heat - machine.hot_full, 0.0)
        cooling = machine.cold_input * effort_at(
            cold, plant.cool_cycling[c], plant.cool_turndown[c]
        )
        cooling += plant.cool_standing[c] * (1.0 - cold) if is_cold else 0.0
        bought[columns.COLD] += cooling
        bought[columns.MOVING] += hot * (plant.hot_fan[c] + plant.pump_power[c])
        bought[columns.MOVING] += cold * plant.cold_fan[c]
        if c == 0:
            bought[columns.HOT] += heating
            bought[columns.BACKUP] += backup
        else:
            bought[columns.USES + c - 1] += heating + backup

    def _remember(self, balance: HeatBalance, solution: Floats) -> None:
        """Keep faces and radiant points, and step the modes of all layers."""
        e, state = self.house.elements, self.state
        state.inside, state.outside = solution[balance.faces], solution[balance.others]
        state.radiant = solution[balance.points]
        state.modes = (
            e.fade * state.modes
            + e.push_inside * state.inside[e.owner]
            + e.push_outside * state.outside[e.owner]
        )

    def _count_air(self, now: Outdoors, running: float) -> None:
        """Count the air that enters the living spaces, from outdoors and buffer spaces."""
        air, plant, state = self.house.air, self.house.plant, self.state
        n, entering = air.spaces, 0.0
        buffers = air.living == 0
        for p in range(n):
            if buffers[p]:
                drawn = running * plant.air_flow[0] * plant.return_mix[0, p]
                entering += drawn / state.density[p]
                continue
            came = state.inflow[p, :n][buffers].sum() + state.inflow[p, n]
            came -= now.density * air.supplied[now.day_hour, p]
            entering += came / state.density[p]
        self.books.infiltration.append(float(entering))

    def _count_delivered(self, answered: Answer, running: float) -> None:
        """Count the heat and cold that reach the living spaces."""
        house, plant = self.house, self.house.plant
        machines = [c for c in range(plant.thermostats) if c != plant.windows]
        output = answered.heat[machines] @ answered.shares[machines]
        stream = running * plant.air_flow[0] * HEAT_OF_AIR
        ducts = plant.duct_heat + (1.0 - running) * plant.duct_standing
        delivered = output + stream * ducts @ self.state.air
        living = house.air.living == 1
        heating = np.where(output > 0.0, np.maximum(delivered, 0.0), 0.0)
        cooling = np.where(output < 0.0, np.maximum(-delivered, 0.0), 0.0)
        self.books.heating += float(heating[living].sum()) * HOUR
        self.books.cooling += float(cooling[living].sum()) * HOUR


def _copied(state: State) -> State:
    return State(
        **{
            name: value.copy() if isinstance(value, np.ndarray) else value
            for name, value in ((n, getattr(state, n)) for n in State.__slots__)
        }
    )
