"""Find, open and bring in jobs; say where one stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.actions.house import forget_trials
from rooftree.actions.memory import Kept
from rooftree.actions.simulation import case_of, forget_weather
from rooftree.finding import Finding, Severity
from rooftree.readings.combustion import CombustionTest
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureTest
from rooftree.records.weather_files import fetch_year
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.job import Complaint, Job
    from rooftree.records import Store

_JOBS: Kept[Job] = Kept(8)


@dataclass(frozen=True, slots=True)
class JobSummary:
    """One line of the list of jobs.

    Attributes
    ----------
    name, client, address : str
        Of the job.
    invented : bool
        Whether it is a demonstration.
    revision : int
        How often it was saved.
    updated : str
        When it was last saved.
    standing : str
        Where it stands, in a sentence.
    """

    name: str
    client: str
    address: str
    invented: bool
    revision: int
    updated: str
    standing: str


@dataclass(frozen=True, slots=True)
class FrontPage:
    """Where a job stands.

    Attributes
    ----------
    complaints : tuple of Complaint
        In the client's words.
    known : tuple of str
        What has been measured, in sentences.
    blocks : tuple of Finding
        Stops and gates that stand.
    next : tuple of str
        What to do next, in order.
    """

    complaints: tuple[Complaint, ...]
    known: tuple[str, ...]
    blocks: tuple[Finding, ...]
    next: tuple[str, ...]


def list_jobs(store: Store) -> tuple[JobSummary, ...]:
    """Return every job, newest first.

    Parameters
    ----------
    store : Store
        Where jobs are kept.

    Returns
    -------
    tuple of JobSummary
    """
    summaries = []
    for kept in store.summaries():
        job = load_job(store, kept.name)
        summaries.append(
            JobSummary(
                name=job.name,
                client=job.client,
                address=job.address,
                invented=job.invented,
                revision=kept.revision,
                updated=kept.updated.strftime("%Y-%m-%d %H:%M"),
                standing=_standing(job),
            )
        )
    return tuple(summaries)


def load_job(store: Store, name: str) -> Job:
    """Open a job of the database.

    Parameters
    ----------
    store : Store
        Where jobs are kept.
    name : str
        Of the job.

    Returns
    -------
    Job

    Raises
    ------
    StoreError
        If there is no such job, or the database cannot be read.
    """
    key = f"{store.folder}/{name}/{store.revision(name)}"
    return _JOBS.of(key, lambda: store.load(name).to_core())


def import_job(store: Store, name: str, content: bytes, who: str = "import") -> Job:
    """Bring a job file or a bundle into the database.

    Parameters
    ----------
    store : Store
        Where jobs are kept.
    name : str
        Name of the file: tells a bundle (``.zip``) from a job file.
    content : bytes
        Of the file.
    who : str
        For the trail.

    Returns
    -------
    Job

    Raises
    ------
    DocumentError
        If it cannot be taken; nothing is changed then.
    """
    return load_job(store, store.import_file(name, content, who).name)


def list_weather(store: Store) -> tuple[str, ...]:
    """Return the names of the years of weather that jobs can name.

    Parameters
    ----------
    store : Store
        Where jobs are kept.

    Returns
    -------
    tuple of str
    """
    return store.weather_names()


def add_weather(store: Store, name: str, content: bytes) -> str:
    """Keep a year of weather for jobs to name.

    Parameters
    ----------
    store : Store
        Where jobs are kept.
    name : str
        Of the file.
    content : bytes
        Of the file; it is read through first.

    Returns
    -------
    str
        Name by which jobs call it.

    Raises
    ------
    WeatherError
        If hours or fields are missing.
    """
    kept = store.add_weather(name, content)
    forget_weather()
    forget_trials()
    return kept


def fetch_weather(store: Store, latitude: float, longitude: float) -> str:
    """Fetch a typical year for a place over the network, once, and keep it for jobs to name.

    Parameters
    ----------
    store : Store
        Where jobs are kept.
    latitude, longitude : float
        Of the place, north and east positive [°].

    Returns
    -------
    str
        Name by which jobs call it.

    Raises
    ------
    WeatherError
        If there is no network or no year for the place; it says what to do instead.
    """
    return fetch_year(latitude, longitude, store.folder / "weather").name


def front_page(job: Job) -> FrontPage:
    """Say where a job stands.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    FrontPage
    """
    case = case_of(job)
    blocks = tuple(gate.finding() for gate in case.gates if gate.severity is not Severity.NOTE)
    return FrontPage(job.complaints, tuple(_known(job)), blocks, tuple(_next(job)))


def _standing(job: Job) -> str:
    if not job.tests:
        return "No test yet."
    gates = sum(gate.severity is not Severity.NOTE for gate in case_of(job).gates)
    tests = f"{len(job.tests)} tests"
    if gates:
        return f"{tests}, {len(job.measures)} measures offered; {gates} gates stand."
    return f"{tests}, {len(job.measures)} measures offered; nothing blocks."


def _known(job: Job) -> list[str]:
    """Return what the tests tell, one sentence each."""
    reductions = case_of(job).reductions
    house = job.house
    size = both(house.floor_area, Kind.AREA)
    bodies, surfaces = len(house.spaces), len(house.surfaces)
    sentences = [f"{size} of living space in {bodies} bodies of air, {surfaces} surfaces."]
    if reductions.airtightness is not None:
        sizes = reductions.airtightness.sizes
        sentences.append(
            f"It leaks {both(sizes.flow50.value, Kind.FLOW)} at 50 Pa, "
            f"{sizes.air_changes50.value:.1f} air changes an hour."
        )
    for reduced in reductions.tests:
        if isinstance(reduced.test.reading, ZonePressureTest | DuctLeakageTest | CombustionTest):
            says = getattr(reduced.result, "says", "")
            if says:
                sentences.append(f"{reduced.test.name}: {says}")
    return sentences


def _next(job: Job) -> list[str]:
    """Return what to do next, most pressing first."""
    case = case_of(job)
    steps = [
        f"{gate.rule.title}: {gate.rule.remedy}"
        for gate in case.gates
        if gate.severity is Severity.STOP
    ]
    if case.reductions.airtightness is None:
        steps.append("Make a fan test: the plan needs to know how much the house leaks.")
    if not job.measures:
        steps.append("Offer measures with their cost ranges.")
    else:
        steps.append("Make the plan, look at its stages, and talk it over with the owner.")
        steps.append("Make the report.")
    return steps
