"""Find, open, bring in and check jobs; say where one stands."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rooftree.actions.memory import Kept
from rooftree.actions.simulation import case_of
from rooftree.errors import StoreError
from rooftree.finding import Finding, Severity
from rooftree.plan.words import both
from rooftree.readings.combustion import CombustionTest
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureTest
from rooftree.records import open_store
from rooftree.records.bundle import Bundle, read_bundle, write_bundle
from rooftree.records.document import JobDocument, check_document, read_document
from rooftree.records.files import write_whole
from rooftree.units import Kind

if TYPE_CHECKING:
    from rooftree.job import Complaint, Job
    from rooftree.records import Store
    from rooftree.records.document import Problem

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


def open_subject(target: str, folder: Path) -> Job:
    """Open what a command was given: a job file, a bundle, or a job of the database by name.

    Parameters
    ----------
    target : str
        Path of a file, or name of a job.
    folder : Path
        Of the database.

    Returns
    -------
    Job

    Raises
    ------
    DocumentError, StoreError
        If it cannot be taken or is not there.
    """
    return document_of(target, folder).to_core()


def document_of(target: str, folder: Path) -> JobDocument:
    """Return the record of what a command was given.

    Parameters
    ----------
    target : str
        Path of a file, or name of a job.
    folder : Path
        Of the database.

    Returns
    -------
    JobDocument
    """
    path = Path(target)
    if path.is_file():
        return _document_in(path)
    return open_store(folder).load(target)


def _document_in(path: Path) -> JobDocument:
    content = path.read_bytes()
    return read_bundle(content).document if path.suffix == ".zip" else read_document(content)


def check_file(target: str, folder: Path) -> tuple[Problem, ...]:
    """List every problem of a job file, or of a job of the database.

    Parameters
    ----------
    target : str
        Path of a file, or name of a job.
    folder : Path
        Of the database.

    Returns
    -------
    tuple of Problem
        Empty where all is well.
    """
    path = Path(target)
    if path.is_file() and path.suffix != ".zip":
        return check_document(path.read_bytes())
    return check_document(document_of(target, folder).to_json())


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
    if name.lower().endswith(".zip"):
        bundle = read_bundle(content)
    else:
        bundle = Bundle(read_document(content))
    store.save(bundle.document, who)
    for file, photo in bundle.photos.items():
        store.put_photo(bundle.document.name, file, photo)
    return load_job(store, bundle.document.name)


def bring_in(path: Path, folder: Path) -> tuple[str, int]:
    """Bring a file into the database of a folder.

    Parameters
    ----------
    path : Path
        Of a job file or a bundle.
    folder : Path
        Of the database.

    Returns
    -------
    tuple of str and int
        Name and revision of the job.
    """
    if not path.is_file():
        raise StoreError(f"there is no file {path}; give the path of a job file or a bundle")
    store = open_store(folder)
    job = import_job(store, path.name, path.read_bytes())
    return job.name, store.revision(job.name)


def export_file(target: str, path: Path, folder: Path) -> int:
    """Write a job to a file: a bundle with its photos, or the job file alone.

    Parameters
    ----------
    target : str
        Path of a file, or name of a job.
    path : Path
        Where: ``.zip`` for a bundle, anything else for a job file.
    folder : Path
        Of the database.

    Returns
    -------
    int
        Size of the file [bytes].

    Raises
    ------
    StoreError
        If it cannot be written; what was there before stays.
    """
    document = document_of(target, folder)
    if path.suffix != ".zip":
        content = document.to_json().encode()
        write_whole(path, content)
        return len(content)
    if Path(target).is_file():
        photos = {}
    else:
        store = open_store(folder)
        names = (photo.file for photo in document.photos if photo.file)
        photos = {name: store.photo_path(document.name, name) for name in names}
    return write_bundle(path, document, photos)


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
    return store.add_weather(name, content)


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
