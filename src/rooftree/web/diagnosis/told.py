"""What the page of the diagnosis tells of a year, whatever moment is shown: kept by job."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.actions.diagnosis import diagnosis_of
from rooftree.actions.loads import design_of
from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.simulation import case_key
from rooftree.engine.judge import judge_year
from rooftree.web.diagnosis.energy_charts import cause_chart, money_chart, stacked_causes
from rooftree.web.diagnosis.pressure_chart import pressure_chart
from rooftree.web.diagnosis.room_chart import room_chart
from rooftree.web.diagnosis.weeks import Strip, damp_strips
from rooftree.web.plan_words import plain_name
from rooftree.web.views.house import names_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.diagnosis import Diagnosis, EnergyCause
    from rooftree.engine.sizing import MachineSize
    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.units import DisplaySystem
    from rooftree.web.charts import Drawing

_MOST_STRIPS, _MOST_CAUSES = 14, 14
"""Places and causes on the page; what is left out is counted."""

_FEW = 0.005
"""Share of the air below which a source is not listed [0-1]."""


@dataclass(frozen=True, slots=True)
class Room:
    """One living space through the year.

    Attributes
    ----------
    name : str
        What to call it.
    sources : tuple of (str, float)
        Where its air came from in the end, and the share of each [0-1].
    cold_hours, hot_hours : int
        Hours below and above the comfortable band [h].
    lowest, highest : float
        What it felt like at the extremes [K].
    heating, cooling : float
        Design loads [W].
    """

    name: str
    sources: tuple[tuple[str, float], ...]
    cold_hours: int
    hot_hours: int
    lowest: float
    highest: float
    heating: float
    cooling: float


@dataclass(frozen=True, slots=True)
class Load:
    """What the rooms need on a design day, and what they get.

    Attributes
    ----------
    use : str
        ``"heating"`` or ``"cooling"``.
    rooms, moisture : float
        Sensible load of all living spaces, and what moisture adds [W].
    outdoors : float
        Temperature outdoors then [K].
    machine : MachineSize or None
        What there is for it.
    unmet : int
        Hours of the year in which it falls short [h].
    """

    use: str
    rooms: float
    moisture: float
    outdoors: float
    machine: MachineSize | None
    unmet: int


@dataclass(frozen=True, slots=True)
class About:
    """What there is to say of each part of the page.

    Attributes
    ----------
    rooms, air, flues, damp : tuple of Finding
        Of each.
    doubts : tuple of Finding
        Where the numbers should not be trusted as they stand.
    """

    rooms: tuple[Finding, ...]
    air: tuple[Finding, ...]
    flues: tuple[Finding, ...]
    damp: tuple[Finding, ...]
    doubts: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """What a year of the house tells, whatever moment is shown.

    Attributes
    ----------
    weather : str
        Name of the year of weather.
    money : Drawing
        What the money is for.
    heating, cooling : Drawing or None
        What the energy of each is for; None where nothing is bought for it.
    causes : tuple of EnergyCause
        The dearest causes of heating and cooling.
    causes_left : int
        How many more there are.
    names : mapping from str to str
        What to call each space, outdoors and the ground.
    rooms : tuple of Room
        The living spaces.
    band : tuple of float
        What is comfortable [K].
    odd : tuple of Drawing
        Why the cold and the hot room are so.
    pressures : tuple of Drawing
        What pulls on each burner.
    strips : tuple of Strip
        Places that get damp or wet, week by week, the worst first.
    strips_left : int
        How many more there are.
    loads : tuple of Load
        Design loads for heating and cooling, beside the machines.
    about : About
        What there is to say of each part.
    """

    weather: str
    money: Drawing
    heating: Drawing | None
    cooling: Drawing | None
    causes: tuple[EnergyCause, ...]
    causes_left: int
    names: Mapping[str, str]
    rooms: tuple[Room, ...]
    band: tuple[float, float]
    odd: tuple[Drawing, ...]
    pressures: tuple[Drawing, ...]
    strips: tuple[Strip, ...]
    strips_left: int
    loads: tuple[Load, ...]
    about: About


_TOLD: Kept[Told] = Kept(8)


def told_of(job: Job, system: DisplaySystem) -> Told:
    """Return what the year of a job tells, kept until the job changes."""
    key = fingerprint(case_key(job), job.weather, job.tariff, system)
    return _TOLD.of(key, lambda: _told(job, system))


def _told(job: Job, system: DisplaySystem) -> Told:
    diagnosis = diagnosis_of(job)
    house = diagnosis.year.house
    names = names_of(house)
    stacks = {use: stacked_causes(diagnosis.energy, house, use) for use in ("heating", "cooling")}
    charts = {
        use: cause_chart(stack, use, system) if stack.total > 0.0 else None
        for use, stack in stacks.items()
    }
    causes, strips = diagnosis.energy.causes, damp_strips(diagnosis.damp.places)
    return Told(
        weather=plain_name(diagnosis.year.weather.name),
        money=money_chart(diagnosis.year.result, job.tariff),
        heating=charts["heating"],
        cooling=charts["cooling"],
        causes=causes[:_MOST_CAUSES],
        causes_left=max(0, len(causes) - _MOST_CAUSES),
        names=names,
        rooms=_rooms(job, diagnosis, names),
        band=diagnosis.comfort.band,
        odd=_odd_rooms(diagnosis, names, system),
        pressures=_pressures(diagnosis, names),
        strips=strips[:_MOST_STRIPS],
        strips_left=max(0, len(strips) - _MOST_STRIPS),
        loads=_loads(job, diagnosis),
        about=_about(job, diagnosis),
    )


def _rooms(job: Job, diagnosis: Diagnosis, names: Mapping[str, str]) -> tuple[Room, ...]:
    loads = design_of(job).states[0].loads
    return tuple(
        Room(
            name=names[room.space],
            sources=_largest_first(diagnosis.air.origins.traced_of(room.space), names),
            cold_hours=room.cold_hours,
            hot_hours=room.hot_hours,
            lowest=float(room.operative.min()),
            highest=float(room.operative.max()),
            heating=loads.heating_by_space[room.space],
            cooling=loads.cooling_by_space[room.space],
        )
        for room in diagnosis.comfort.rooms
    )


def _largest_first(
    shares: Mapping[str, float], names: Mapping[str, str]
) -> tuple[tuple[str, float], ...]:
    named = [(names.get(key, key), share) for key, share in shares.items() if share >= _FEW]
    return tuple(sorted(named, key=lambda pair: -pair[1]))


def _odd_rooms(
    diagnosis: Diagnosis, names: Mapping[str, str], system: DisplaySystem
) -> tuple[Drawing, ...]:
    rooms = diagnosis.rooms
    return tuple(
        room_chart(odd, names[odd.space], names[odd.against], system)
        for odd in (rooms.cold, rooms.hot)
        if odd is not None
    )


def _pressures(diagnosis: Diagnosis, names: Mapping[str, str]) -> tuple[Drawing, ...]:
    floors = {one.space: one.floor for one in diagnosis.air.pressures}
    return tuple(
        pressure_chart(each, floors[each.space], names[each.space])
        for each in diagnosis.air.appliances
    )


def _loads(job: Job, diagnosis: Diagnosis) -> tuple[Load, ...]:
    found, year = design_of(job).states[0], diagnosis.year.result
    loads = found.loads
    machines = {machine.use: machine for machine in found.sizing.machines}
    return (
        Load("heating", loads.heating, 0.0, loads.heating_temperature,
             machines.get("heating"), year.unmet_heating_hours),
        Load("cooling", loads.cooling, max(loads.cooling_latent, 0.0), loads.cooling_temperature,
             machines.get("cooling"), year.unmet_cooling_hours),
    )  # fmt: skip


def _about(job: Job, diagnosis: Diagnosis) -> About:
    flues = tuple(one for one in diagnosis.air.findings if "appliance" in one.code)
    sizing = design_of(job).states[0].sizing
    return About(
        rooms=(*diagnosis.rooms.findings, *sizing.findings, *diagnosis.comfort.findings),
        air=tuple(one for one in diagnosis.air.findings if one not in flues),
        flues=flues,
        damp=diagnosis.damp.findings,
        doubts=judge_year(diagnosis.year.result),
    )
