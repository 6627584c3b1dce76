"""Diagnosis: where heat, air and water go in the house through its year, and what suffers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse
from starlette.routing import Route

from rooftree.actions.diagnosis import diagnosis_of
from rooftree.actions.loads import design_of
from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.moments import moments_of, moving_section, sequences_of
from rooftree.actions.plain import plain
from rooftree.actions.simulation import case_key
from rooftree.engine.judge import judge_year
from rooftree.errors import OutOfRangeError
from rooftree.web.diagnosis.energy_charts import cause_chart, money_chart, stacked_causes
from rooftree.web.diagnosis.pressure_chart import pressure_chart
from rooftree.web.diagnosis.room_chart import room_chart
from rooftree.web.diagnosis.weeks import Strip, damp_strips
from rooftree.web.display import display_of
from rooftree.web.drawing import for_page
from rooftree.web.plan_words import plain_name
from rooftree.web.rendering import render
from rooftree.web.requests import job_of
from rooftree.web.views.house import names_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markupsafe import Markup
    from starlette.requests import Request
    from starlette.responses import Response

    from rooftree.actions.moments import Moments
    from rooftree.diagnosis import Diagnosis, EnergyCause
    from rooftree.engine.sizing import MachineSize
    from rooftree.finding import Finding
    from rooftree.job import Job
    from rooftree.papers.section import Moment
    from rooftree.units import DisplaySystem
    from rooftree.web.charts import Drawing

FIRST = "coldest"
"""Sequence that is shown first."""

ANY_DAY = "day"
"""Choice of any day of the year, by its number."""

MORNING = 7
"""Hour of a day that is shown first."""

_LAST_MONTH = 11

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


@dataclass(frozen=True, slots=True)
class DiagnosisPage:
    """What a year of the house tells, with the section at one moment of it.

    Attributes
    ----------
    job : Job
        The job.
    sequences : mapping from str to str
        Moments that can follow each other: names with words.
    shown : str
        The one that is shown; `ANY_DAY` for a single day.
    day : int
        Day of the year that is, or would be, shown alone, 1 to 365.
    at, last : int
        Place of the moment that is shown, and of the last one.
    moment : Moment
        What is shown.
    drawing : Markup
        The section at that moment, as SVG.
    told : Told
        What the year tells.
    """

    template: ClassVar[str] = "diagnosis.html"
    job: Job
    sequences: Mapping[str, str]
    shown: str
    day: int
    at: int
    last: int
    moment: Moment
    drawing: Markup
    told: Told
    title: str = "Diagnosis"
    sheet: str = "diagnosis"


_TOLD: Kept[Told] = Kept(8)


def show_diagnosis(request: Request) -> Response:
    """Show what a year of the house tells."""
    job = job_of(request)
    system = display_of(request).system
    shown, day, moments = _chosen(request, job, system)
    last = len(moments.moments) - 1
    at = min(_number(request, "at", MORNING if last > _LAST_MONTH else 0), last)
    moment = moments.moments[at]
    page = DiagnosisPage(
        job=job,
        sequences=sequences_of(job),
        shown=shown,
        day=day,
        at=at,
        last=last,
        moment=moment,
        drawing=for_page(moving_section(job, system).svg(moment)),
        told=told_of(job, system),
    )
    return render(request, page)


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


def send_moments(request: Request) -> Response:
    """Send the moments of a sequence, for the page's script."""
    job = job_of(request)
    moments = _moments(job, str(request.path_params["name"]), display_of(request).system)
    return JSONResponse(plain(moments))


def _chosen(request: Request, job: Job, system: DisplaySystem) -> tuple[str, int, Moments]:
    """Return which sequence the address asks for, the day in it, and its moments."""
    day = min(max(_number(request, "day", 1), 1), 365)
    shown = request.query_params.get("show", FIRST)
    if shown == ANY_DAY:
        return shown, day, _moments(job, f"{ANY_DAY}-{day}", system)
    shown = shown if shown in sequences_of(job) else FIRST
    return shown, day, _moments(job, shown, system)


def _moments(job: Job, name: str, system: DisplaySystem) -> Moments:
    try:
        return moments_of(job, name, system)
    except (KeyError, OutOfRangeError) as error:
        raise HTTPException(404, f"There is no sequence of moments called “{name}”.") from error


def _number(request: Request, name: str, otherwise: int) -> int:
    text = request.query_params.get(name, "")
    return int(text) if text.isdecimal() and len(text) < 5 else otherwise


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


ROUTES = [
    Route("/jobs/{job}/diagnosis", show_diagnosis, name="diagnosis"),
    Route("/jobs/{job}/diagnosis/moments/{name}", send_moments, name="moments"),
]
"""The page, and what its script asks for."""
