"""Equipment sizing: what the machines of a house give on its design days, and what would fit.

Sources
-------
[MANUALS] ACCA Manual S, residential equipment selection: ranges of size, as summarised by the
    trade (heat 100 to 140 %, cold up to 115 %, heat pumps up to 125 %), the rest recalled.
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17: heat beyond the load recovers
    from a setback; 30 % does so within four hours almost all season (Koenig 1978).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.design import cold_design_day, hot_design_day
from rooftree.engine.machines import Outdoors, cold_at_full_run, heat_at_full_run
from rooftree.engine.moist import GAS_CONSTANT, HEAT_OF_AIR, HEAT_OF_EVAPORATION
from rooftree.engine.plant import make_plant
from rooftree.finding import Finding, Severity
from rooftree.tables.rows import table_rows
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import NDArray

    from rooftree.engine.arrays import Plant
    from rooftree.engine.design import DesignLoads
    from rooftree.engine.design_day import DesignDay
    from rooftree.house import House
    from rooftree.weather import WeatherYear

    Floats = NDArray[np.float64]


ROUNDS = 4
"""Times that the design day is run again with what ducts lose to the spaces around them: the
load of a house with leaking ducts in a hot attic then moves by less than 0.5 %."""


@dataclass(frozen=True, slots=True)
class SizeRange:
    """Sizes that fit a load.

    Attributes
    ----------
    low, high : float
        Over the load [-].
    least, most : float
        Output at the design conditions [W].
    source, read : str
        Where the range comes from, and how that was read.
    """

    low: float
    high: float
    least: float
    most: float
    source: str
    read: str


@dataclass(frozen=True, slots=True)
class MachineSize:
    """A machine at the design conditions, beside the load that it has.

    Attributes
    ----------
    use : str
        ``"heating"`` or ``"cooling"``.
    kind : str
        Of the machine, such as ``"furnace"``.
    rated : float
        Its capacity at the rating point [W].
    sensible, latent : float
        What it gives at the design conditions, at the coil, heat of the fan counted [W].
    backup : float
        Electric backup beside it [W].
    power : float
        What it draws then, without fan and backup [W].
    delivered : float
        Sensible part that reaches the living spaces [W]: the ducts' loss and leaks taken off.
    rooms : float
        Sensible load of the living spaces, with what the ducts do to their neighbours [W].
    load, latent_load : float
        Sensible load with what the ducts lose, and latent load, at the machine [W]; without
        the ducts where they lose all of it.
    range : SizeRange or None
        Sizes that fit; None where the trade has no range, as for heat of a heat pump, which is
        sized by its cold, and where ducts lose all that is made.
    """

    use: str
    kind: str
    rated: float
    sensible: float
    latent: float
    backup: float
    power: float
    delivered: float
    rooms: float
    load: float
    latent_load: float
    range: SizeRange | None

    @property
    def total(self) -> float:
        """Return what it gives, sensible and latent [W]."""
        return self.sensible + self.latent

    @property
    def total_load(self) -> float:
        """Return the load at the machine, sensible and latent [W]."""
        return self.load + max(self.latent_load, 0.0)

    @property
    def usable_sensible(self) -> float:
        """Return its sensible part, with half of what it could dry beyond the load [W].

        Where less moisture comes in than the coil takes out, the air gets drier and the coil
        cools more: half of the surplus counts, a rule of ACCA Manual S (recalled).
        """
        return self.sensible + 0.5 * max(self.latent - max(self.latent_load, 0.0), 0.0)

    @property
    def share(self) -> float:
        """Return what it gives over the load [-]."""
        return self.total / self.total_load if self.total_load > 0.0 else float("inf")


@dataclass(frozen=True, slots=True)
class Sizing:
    """The machines of a house beside its design loads.

    Attributes
    ----------
    machines : tuple of MachineSize
        The central ones; machines of single rooms and ideal ones are left out.
    findings : tuple of Finding
        Where one is far off.
    """

    machines: tuple[MachineSize, ...]
    findings: tuple[Finding, ...]


def size_equipment(house: House, loads: DesignLoads, year: WeatherYear) -> Sizing:
    """Return what the machines of a house give on its design days, and what would fit.

    Parameters
    ----------
    house : House
        With its machines.
    loads : DesignLoads
        Of the same house.
    year : WeatherYear
        The weather from which they were taken.

    Returns
    -------
    Sizing

    Raises
    ------
    HouseError
        If a machine is of a kind that is not known.

    Notes
    -----
    Capacities are those of the simulation at the design hour: by outdoor temperature, by the
    air that reaches the coil (with what leaks into the return), by air flow. What ducts lose
    warms or cools the buffer spaces around them, and so comes back in part: the design day is
    run again with it, `ROUNDS` times. Another machine is taken to move more or less air in
    proportion, and to lose the same share. Air that leaking ducts press out of the house or draw
    into it is not counted, nor is ventilation beyond the schedule of the house.

    Ranges are those of [MANUALS]_, for choosing a machine by its data at the design
    conditions, never at the rating point. For heat beyond the load a night setback is the
    reason: 30 % recovers within four hours almost all season [HOF2021]_.

    References
    ----------
    .. [MANUALS] ACCA Manual S (quoted and recalled).
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17.
    """
    made = (_heater(house, loads, year), _cooler(house, loads, year))
    machines = tuple(one for one in made if one is not None)
    return Sizing(machines, tuple(found for one in machines for found in _judge(one)))


@dataclass(frozen=True, slots=True, eq=False)
class _Running:
    """A machine at the design hour, with buffer spaces as its ducts leave them.

    Attributes
    ----------
    made : tuple of float
        What `_heat_made` or `_cold_made` return.
    delivered, rooms : float
        Sensible heat that reaches the living spaces, and what they need [W].
    """

    made: tuple[float, float, float]
    delivered: float
    rooms: float

    @property
    def load(self) -> float:
        """Return the sensible load at the machine [W]; its ducts lose the same of every size."""
        made = self.made[0]
        return self.rooms * made / self.delivered if self.delivered > 0.0 else self.rooms


def _settle(
    house: House,
    plant: Plant,
    run: Callable[[Floats | None], DesignDay],
    make: Callable[[Floats], tuple[float, float, float]],
    *,
    heats: bool,
) -> _Running:
    """Return the machine when ducts and buffer spaces have come to terms."""
    living = np.array([space in house.living_spaces for space in house.spaces])
    shares = (plant.hot_shares if heats else plant.cold_shares)[0]
    moves = bool((plant.hot_ducted if heats else plant.cold_ducted)[0])
    sign = 1.0 if heats else -1.0
    day = run(None)
    for rounds in range(ROUNDS + 1):
        asked = (day.heating if heats else day.cooling)[:, living].sum(axis=1)
        hour = int(asked.argmax())
        made = make(day.temperature[hour])
        brought = np.tile(sign * made[0] * shares, (24, 1))
        if moves:
            brought += (
                float(plant.air_flow[0]) * HEAT_OF_AIR * (day.temperature @ plant.duct_heat.T)
            )
        reached = sign * brought[:, living].sum(axis=1)
        running = _Running(made, float(reached[hour]), float(asked[hour]))
        if rounds == ROUNDS or not moves or reached[hour] <= 0.0:
            break
        share = asked / np.maximum(reached, 0.1 * abs(made[0]))
        day = run(np.where(living, 0.0, share[:, None] * brought))
    return running


def _plant(house: House, pressure: float) -> Plant:
    """Return the machines as the hour loop reads them."""
    return make_plant(house, pressure / (GAS_CONSTANT * 293.15))


def _heater(house: House, loads: DesignLoads, year: WeatherYear) -> MachineSize | None:
    heating = house.heating
    if heating is None or heating.kind == "ideal":
        return None
    plant = _plant(house, loads.pressure)

    outdoors = Outdoors(loads.heating_temperature, loads.heating_humidity, loads.pressure)
    backup = float(plant.backup_capacity[0])

    def make(_: Floats) -> tuple[float, float, float]:
        output, power = heat_at_full_run(plant, loads.heating_indoors, outdoors)
        return output + backup, power, 0.0

    found = _settle(
        house,
        plant,
        lambda heat: cold_design_day(house, year, loads.heating_temperature, heat),
        make,
        heats=True,
    )
    return MachineSize(
        use="heating",
        kind=heating.kind,
        rated=heating.capacity,
        sensible=found.made[0] - backup,
        latent=0.0,
        backup=backup,
        power=found.made[1],
        delivered=found.delivered,
        rooms=found.rooms,
        load=found.load,
        latent_load=0.0,
        range=_range("heating", heating.kind, heating.speeds, found, 0.0),
    )


def _cooler(house: House, loads: DesignLoads, year: WeatherYear) -> MachineSize | None:
    cooling = house.cooling
    if cooling is None or cooling.kind == "ideal":
        return None
    plant = _plant(house, loads.pressure)
    moisture, mix = _moisture(house, loads), plant.return_mix[0]
    outdoors = Outdoors(loads.cooling_temperature, loads.outdoor_humidity, loads.pressure)

    def make(spaces: Floats) -> tuple[float, float, float]:
        sensible, power, share = cold_at_full_run(
            plant, float(mix @ spaces), float(mix @ moisture), outdoors
        )
        return sensible, power, (sensible + float(plant.cold_fan[0])) * (1.0 / share - 1.0)

    found = _settle(
        house,
        plant,
        lambda heat: hot_design_day(house, year, loads.cooling_temperature, heat),
        make,
        heats=False,
    )
    latent_load = _latent_at_machine(house, plant, loads, found.made[2], moisture)
    return MachineSize(
        use="cooling",
        kind=cooling.kind,
        rated=cooling.capacity,
        sensible=found.made[0],
        latent=found.made[2],
        backup=0.0,
        power=found.made[1],
        delivered=found.delivered,
        rooms=found.rooms,
        load=found.load,
        latent_load=latent_load,
        range=_range("cooling", cooling.kind, cooling.speeds, found, latent_load),
    )


def _moisture(house: House, loads: DesignLoads) -> Floats:
    """Return the vapor in the air of every space on the hot day, rooms at their design [kg/kg]."""
    living = {space.id for space in house.living_spaces}
    return np.array(
        [
            loads.indoor_humidity if space.id in living else loads.humid_spaces[space.id]
            for space in house.spaces
        ]
    )


def _latent_at_machine(
    house: House, plant: Plant, loads: DesignLoads, latent: float, moisture: Floats
) -> float:
    """Return the latent load with what leaking ducts bring in and lose [W]."""
    if not plant.cold_ducted[0]:
        return loads.cooling_latent
    living = np.array([space in house.living_spaces for space in house.spaces])
    brought = plant.air_flow * HEAT_OF_EVAPORATION * (plant.duct_vapor @ moisture)
    delivered = float((latent * plant.latent_shares[0] - brought)[living].sum())
    return loads.cooling_latent * latent / delivered if delivered > 0.0 else loads.cooling_latent


@cache
def _ranges() -> tuple[Mapping[str, str], ...]:
    return table_rows("rooftree.engine", "sizing_ranges.csv")


def _range(use: str, kind: str, speeds: str, running: _Running, latent: float) -> SizeRange | None:
    if running.delivered <= 0.0:
        return None
    load = running.load + max(latent, 0.0)
    for row in _ranges():
        if (row["use"], row["kind"]) == (use, kind) and row["speeds"] in ("", speeds):
            low, high = float(row["low"]), float(row["high"])
            return SizeRange(low, high, low * load, high * load, row["source"], row["read"])
    return None


LEAST_SENSIBLE = 0.9
"""Sensible output over sensible load that a machine for cooling needs [-] (recalled)."""

CAUTION = (
    "Have a replacement sized by its maker's data at the design conditions and by the load "
    "calculation that the local code asks for."
)


def _judge(machine: MachineSize) -> tuple[Finding, ...]:
    """Return where a machine is far from the range that fits."""
    if machine.delivered <= 0.0:
        return (_lost(machine),)
    fits = machine.range
    if fits is None:
        share = (machine.total + machine.backup) / machine.total_load
        return (_short(machine, share, 1.0, "the load"),) if share < 1.0 else ()
    if machine.share < fits.low:
        return (_short(machine, machine.share, fits.low, fits.source),)
    found = [_large(machine, machine.share, fits)] if machine.share > fits.high else []
    if machine.use == "cooling" and machine.usable_sensible < LEAST_SENSIBLE * machine.load:
        found.append(_warm(machine))
    if machine.use == "cooling" and machine.latent < machine.latent_load:
        found.append(_moist(machine))
    return tuple(found)


def _lost(machine: MachineSize) -> Finding:
    says = (
        f"On the {_day(machine)} the ducts lose all that the {machine.kind} makes; no size would "
        "do. Seal and insulate the ducts, or bring them inside, before anything about the machine "
        "is decided."
    )
    return Finding(
        "sizing/ducts-lose-all", Severity.NOTE, says, machine.delivered, 0.0, "W",
        "model of this house", machine.use,
    )  # fmt: skip


def _short(machine: MachineSize, share: float, limit: float, source: str) -> Finding:
    gives = both(machine.total + machine.backup, Kind.POWER)
    says = (
        f"On the {_day(machine)} the {machine.kind} gives {gives} of the "
        f"{both(machine.total_load, Kind.POWER)} that rooms and ducts take, so the rooms drift. "
        f"Mend ducts, leaks and insulation first and compare again. {CAUTION}"
    )
    return Finding(
        f"sizing/{machine.use}-short", Severity.NOTE, says, share, limit, "-", source, machine.use
    )


def _large(machine: MachineSize, share: float, fits: SizeRange) -> Finding:
    why = "runs in short bursts, which mix and dry the air poorly"
    if machine.use == "heating":
        why = "runs in short bursts; a third more than the load recovers from a night's setback"
    says = (
        f"On the {_day(machine)} the {machine.kind} gives {share:.1f} times what rooms and ducts "
        f"take ({both(machine.total, Kind.POWER)} for {both(machine.total_load, Kind.POWER)}): it "
        f"{why}. When it is replaced, a size from {both(fits.least, Kind.POWER)} to "
        f"{both(fits.most, Kind.POWER)} fits. {CAUTION}"
    )
    return Finding(
        f"sizing/{machine.use}-large", Severity.NOTE, says, share, fits.high, "-", fits.source,
        machine.use,
    )  # fmt: skip


def _warm(machine: MachineSize) -> Finding:
    says = (
        f"On the hot day the {machine.kind} cools by {both(machine.usable_sensible, Kind.POWER)} "
        f"where {both(machine.load, Kind.POWER)} of heat comes in, moisture apart: the rooms get "
        f"warm although its total would do. Check air flow, charge and ducts first. {CAUTION}"
    )
    return Finding(
        "sizing/cooling-sensible", Severity.NOTE, says, machine.usable_sensible / machine.load,
        LEAST_SENSIBLE, "-", "ACCA Manual S, recalled", machine.use,
    )  # fmt: skip


def _moist(machine: MachineSize) -> Finding:
    says = (
        f"On the hot day the {machine.kind} takes out {both(machine.latent, Kind.POWER)} of "
        f"moisture's heat where {both(machine.latent_load, Kind.POWER)} comes in: the air gets "
        "damper than 50 %. Lessen outdoor air and return leaks, slow the air handler, or dry the "
        f"air apart. {CAUTION}"
    )
    return Finding(
        "sizing/moisture", Severity.NOTE, says, machine.latent, machine.latent_load, "W",
        "model of this house", machine.use,
    )  # fmt: skip


def _day(machine: MachineSize) -> str:
    return "cold day" if machine.use == "heating" else "hot day"
