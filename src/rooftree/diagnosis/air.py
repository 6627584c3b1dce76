"""Where the air of each room comes from, what pushes it, and what pulls on the flue."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.diagnosis.simulated_year import HOUR
from rooftree.diagnosis.words import capitalized, the
from rooftree.engine.ducts import supply_shares
from rooftree.finding import Finding, Severity
from rooftree.house import OUTDOORS, Draft
from rooftree.tables.depressurization import depressurization_limit
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from rooftree.diagnosis.simulated_year import SimulatedYear
    from rooftree.house import House

    Floats = NDArray[np.float64]

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²]."""

MUCH_FROM_BUFFER = 0.10
"""Share of a room's air from one buffer space from which a finding says so [0-1]; ours."""

LEAST_STACK = 0.01
"""Mean difference of density below which there is no neutral level [kg/m³]: 2.5 K."""


@dataclass(frozen=True, slots=True, eq=False)
class AirOrigins:
    """Air that entered each living space, by where it came from.

    Attributes
    ----------
    space_ids : tuple of str
        Living spaces: rows.
    origin_ids : tuple of str
        All spaces, last outdoors: columns of the masses.
    source_ids : tuple of str
        Spaces that are not living, last outdoors: columns of what is traced.
    through_leaks, through_ducts, through_fans : ndarray, shape (12, living, spaces + 1)
        Mass by month [kg]: through leaks, doors and fans that blow in; from the registers
        of the ducts; through fans that exchange air both ways.
    traced : ndarray, shape (12, living, sources)
        Share of the air of each month by its origin, followed back through other living
        spaces [0-1]; rows sum to 1, or to 0 where no air entered.
    traced_year, traced_heating, traced_cooling : ndarray, shape (living, sources)
        The same of the year, of the months of the heating season and of the others [0-1].
    """

    space_ids: tuple[str, ...]
    origin_ids: tuple[str, ...]
    source_ids: tuple[str, ...]
    through_leaks: Floats
    through_ducts: Floats
    through_fans: Floats
    traced: Floats
    traced_year: Floats
    traced_heating: Floats
    traced_cooling: Floats

    @property
    def mass(self) -> Floats:
        """Return all air that entered, shape (12, living, spaces + 1) [kg]."""
        return self.through_leaks + self.through_ducts + self.through_fans

    def first_hand(self, space: str) -> dict[str, float]:
        """Return where the air of a living space came from directly, by id [0-1].

        What the ducts take from a space and give back to it is left out.
        """
        row = self.mass[:, self.space_ids.index(space)].sum(axis=0)
        row[self.origin_ids.index(space)] = 0.0
        return _shares(self.origin_ids, row)

    def traced_of(self, space: str) -> dict[str, float]:
        """Return where the air of a living space came from in the end, by id [0-1]."""
        return _shares(self.source_ids, self.traced_year[self.space_ids.index(space)])


def _shares(ids: tuple[str, ...], row: Floats) -> dict[str, float]:
    total = float(row.sum())
    if total <= 0.0:
        return {}
    return {each: float(mass) / total for each, mass in zip(ids, row, strict=True) if mass > 0.0}


@dataclass(frozen=True, slots=True, eq=False)
class SpacePressure:
    """Pressure of one space against outdoors at the same level.

    Attributes
    ----------
    space : str
        Its id.
    floor, ceiling : ndarray, shape (hours,)
        At its floor and at its ceiling [Pa]; positive where the space pushes out.
    mean_floor, mean_ceiling : ndarray, shape (12,)
        Means of the months [Pa].
    neutral_level : float or None
        Height above the outside ground at which the mean pressure of the heating season is
        that outdoors [m], may lie above or below the space; None where the space is as warm
        as outdoors.
    """

    space: str
    floor: Floats
    ceiling: Floats
    mean_floor: Floats
    mean_ceiling: Floats
    neutral_level: float | None


@dataclass(frozen=True, slots=True, eq=False)
class AppliancePressure:
    """Pressure of the space in which a burner stands that fans could backdraft.

    Attributes
    ----------
    appliance : str
        ``"furnace"``, ``"boiler"`` or ``"water heater"``.
    space : str
        Id of its space.
    limit : float or None
        How far fans may pull it below outdoors [Pa], > 0; None where no table says.
    source : str
        Of the limit.
    lowest : float
        Lowest pressure of the year against outdoors, at the floor [Pa].
    hours_beyond, hours_with_fans : float
        Hours below the limit; and those of them in which a fan or the air handler runs [h].
    """

    appliance: str
    space: str
    limit: float | None
    source: str
    lowest: float
    hours_beyond: float
    hours_with_fans: float


@dataclass(frozen=True, slots=True, eq=False)
class AirDiagnosis:
    """The air of a house.

    Attributes
    ----------
    origins : AirOrigins
        Where it comes from.
    pressures : tuple of SpacePressure
        What pushes it, of every space.
    appliances : tuple of AppliancePressure
        What pulls on burners.
    findings : tuple of Finding
        What to know of it.
    """

    origins: AirOrigins
    pressures: tuple[SpacePressure, ...]
    appliances: tuple[AppliancePressure, ...]
    findings: tuple[Finding, ...]


def diagnose_air(year: SimulatedYear) -> AirDiagnosis:
    """Say where the air of a house comes from, what pushes it and what pulls on burners.

    Parameters
    ----------
    year : SimulatedYear
        The year.

    Returns
    -------
    AirDiagnosis
    """
    origins = find_origins(year)
    pressures = space_pressures(year)
    appliances = appliance_pressures(year, pressures)
    findings = (*_judge_origins(year, origins), *_judge_appliances(year, appliances))
    return AirDiagnosis(origins, pressures, appliances, findings)


def find_origins(year: SimulatedYear) -> AirOrigins:
    """Find where the air that enters each living space comes from.

    Parameters
    ----------
    year : SimulatedYear
        The year.

    Returns
    -------
    AirOrigins

    Notes
    -----
    First hand: the masses that the engine counts through leaks, doors and fans; through
    ducts, the supply share of what the air handler moves, with the blend of air that its
    returns and their leaks take in; through balanced fans, outdoor air.

    Traced: with `s` the shares of a month, a living space has ``f = s_living f + s_source``,
    one small linear system. This takes the rooms as well mixed over the month: right in the
    mean, and silent about a door that is open while the wind blows from the garage.
    """
    hourly, n = year.hourly, len(year.house.spaces)
    living = np.flatnonzero(year.is_living)
    leaks = year.by_month(hourly.entering[:, living]) * HOUR
    ducts, fans = np.zeros_like(leaks), np.zeros_like(leaks)
    run = year.by_month(hourly.runtime) * HOUR * year.duct_flow()
    if run.any():
        supply, blend = _duct_air(year.house)
        ducts[:, :, :n] = run[:, None, None] * supply[living, None] * blend
    density = year.density()
    for fan in year.house.fans:
        space = year.result.space_ids.index(fan.space)
        if fan.kind == "balanced" and year.is_living[space]:
            flow = density[:, n] * year.daily(fan.flow * np.array(fan.hours))
            fans[:, living.tolist().index(space), n] += year.by_month(flow) * HOUR
    mass = leaks + ducts + fans
    sources = np.array([*np.flatnonzero(~year.is_living), n])
    heating = year.heating_months()
    traced = np.stack([_trace(month, living, sources) for month in mass])
    ids = (*year.result.space_ids, OUTDOORS)
    return AirOrigins(
        tuple(ids[k] for k in living),
        ids,
        tuple(ids[k] for k in sources),
        leaks,
        ducts,
        fans,
        traced,
        _trace(mass.sum(axis=0), living, sources),
        _trace(mass[heating].sum(axis=0), living, sources),
        _trace(mass[~heating].sum(axis=0), living, sources),
    )


def _duct_air(house: House) -> tuple[Floats, Floats]:
    """Return the share of the air handler's flow that reaches each space, and its origin."""
    supply, back = supply_shares(house)
    index = {space.id: i for i, space in enumerate(house.spaces)}
    lost, drawn = 0.0, np.zeros(supply.size)
    for run in house.ducts:
        if run.side == "supply":
            lost += run.leakage
        else:
            drawn[index[run.space]] += run.leakage
    return supply * (1.0 - lost), back * (1.0 - drawn.sum()) + drawn


def _trace(mass: Floats, living: NDArray[np.int64], sources: NDArray[np.int64]) -> Floats:
    """Return the share of each source in the air of each living space [0-1]."""
    between = mass[:, living].copy()
    np.fill_diagonal(between, 0.0)  # air that a room gives itself back is no other air
    entered = between.sum(axis=1) + mass[:, sources].sum(axis=1)
    # A room without any air entering keeps a row that can be solved.
    system = np.diag(np.maximum(entered, 1e-9) * (1.0 + 1e-12)) - between
    return np.asarray(np.linalg.solve(system, mass[:, sources]))


def space_pressures(year: SimulatedYear) -> tuple[SpacePressure, ...]:
    """Return the pressure of every space against outdoors, at floor and ceiling.

    Parameters
    ----------
    year : SimulatedYear
        The year.

    Returns
    -------
    tuple of SpacePressure

    Notes
    -----
    ``p(z) = p_0 + (rho_out - rho_in) g z`` with the pressure at ground level as the engine
    has it: without the wind, whose pressure differs from wall to wall.
    """
    density, hourly = year.density(), year.hourly
    lighter = density[:, -1:] - density[:, :-1]
    floor_level = np.array([space.floor_level for space in year.house.spaces])
    height = np.array([space.height for space in year.house.spaces])
    floor = hourly.pressure + lighter * GRAVITY * floor_level
    ceiling = floor + lighter * GRAVITY * height
    count = np.maximum(np.bincount(year.month, minlength=12), 1)[:, None]
    mean_floor, mean_ceiling = year.by_month(floor) / count, year.by_month(ceiling) / count
    season = year.heating_months()[year.month]
    if not season.any():
        season = np.ones(year.hours, dtype=bool)
    base, stack = hourly.pressure[season].mean(axis=0), lighter[season].mean(axis=0)
    return tuple(
        SpacePressure(
            space.id,
            floor[:, k],
            ceiling[:, k],
            mean_floor[:, k],
            mean_ceiling[:, k],
            float(-base[k] / (stack[k] * GRAVITY)) if abs(stack[k]) > LEAST_STACK else None,
        )
        for k, space in enumerate(year.house.spaces)
    )


def appliance_pressures(
    year: SimulatedYear, pressures: tuple[SpacePressure, ...]
) -> tuple[AppliancePressure, ...]:
    """Return how low the pressure falls where burners stand that fans could backdraft.

    Parameters
    ----------
    year : SimulatedYear
        The year.
    pressures : tuple of SpacePressure
        Of every space.

    Returns
    -------
    tuple of AppliancePressure
        Of burners with natural or fan-assisted draft.

    Notes
    -----
    Limits are told with the pressure before the fans taken off; the year's pressure has
    the stack in it, so hours beyond are too many rather than too few. They are hourly means:
    a dryer and a range hood that run for ten minutes together pull more.
    """
    house = year.house
    moving = year.hourly.runtime > 0.0
    for fan in house.fans:
        moving = moving | (year.daily(fan.hours) > 0.0)
    by_space = {pressure.space: pressure for pressure in pressures}
    found = []
    for appliance, draft, place in _burners(house):
        if draft not in (Draft.NATURAL, Draft.FAN_ASSISTED) or place not in by_space:
            continue
        floor = by_space[place].floor
        limit = depressurization_limit(appliance, draft.value)
        beyond = floor < -limit.value if limit else np.zeros(year.hours, dtype=bool)
        found.append(
            AppliancePressure(
                appliance,
                place,
                limit.value if limit else None,
                limit.source if limit else "",
                float(floor.min()),
                float(beyond.sum()),
                float((beyond & moving).sum()),
            )
        )
    return tuple(found)


def _burners(house: House) -> Iterator[tuple[str, Draft, str]]:
    """Yield kind, draft and space of all that may burn."""
    if house.heating is not None:
        place = house.heating.space or (house.air_handler.space if house.air_handler else "")
        yield house.heating.kind, house.heating.draft, place
    if house.water_heater is not None:
        yield "water heater", house.water_heater.draft, house.water_heater.space
    for unit in house.room_units:
        if unit.heating is not None:
            yield unit.heating.kind, unit.heating.draft, unit.space


def _judge_origins(year: SimulatedYear, origins: AirOrigins) -> tuple[Finding, ...]:
    findings = []
    names = {space.id: space.name for space in year.house.spaces}
    for room, row in zip(origins.space_ids, origins.traced_year, strict=True):
        for source, share in zip(origins.source_ids, row, strict=True):
            if source == OUTDOORS or share < MUCH_FROM_BUFFER:
                continue
            says = (
                f"{capitalized(the(names[room]))} gets {100.0 * share:.0f} % of its air over the "
                f"year through {the(names[source])}, with whatever is in the air there. "
                "Close the ways between them first."
            )
            findings.append(
                Finding(
                    "diagnosis/air-from-buffer",
                    Severity.NOTE,
                    says,
                    float(share),
                    MUCH_FROM_BUFFER,
                    "0-1",
                    "simulated year; the limit is ours",
                    room,
                )
            )
    return tuple(findings)


def _judge_appliances(
    year: SimulatedYear, appliances: tuple[AppliancePressure, ...]
) -> tuple[Finding, ...]:
    findings = []
    names = {space.id: space.name for space in year.house.spaces}
    for each in appliances:
        if each.limit is None or each.hours_with_fans == 0.0:
            continue
        says = (
            f"The {each.appliance} stands in {the(names[each.space])}, which falls to "
            f"{both(-each.lowest, Kind.PRESSURE)} below outdoors in the simulated year. For "
            f"{each.hours_with_fans:,.0f} hours, with fans or the air handler running, it is "
            f"beyond the limit of {both(each.limit, Kind.PRESSURE)}; the pull of the weather is "
            "part of that. This is no "
            "test: do the worst-case test with its spillage and carbon monoxide readings, follow "
            "local codes, and leave the burner to those licensed for it."
        )
        findings.append(
            Finding(
                "diagnosis/appliance-pressure",
                Severity.NOTE,
                says,
                each.lowest,
                -each.limit,
                "Pa",
                each.source,
                each.space,
            )
        )
    return tuple(findings)
