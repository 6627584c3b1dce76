"""The job: the one root of everything that is known of a house and its people."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.bills.tariff import Bill, Tariff
    from rooftree.finding import Severity
    from rooftree.house import House
    from rooftree.job.instruments import Capability
    from rooftree.known import Known
    from rooftree.plan.model import Measure
    from rooftree.readings.airtightness.readings import Enclosure


@dataclass(frozen=True, slots=True)
class Complaint:
    """What the client said, in the client's words."""

    id: str
    words: str
    place: str = ""
    season: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Somewhere in or around the house; `space` is the id of its space, if it has one."""

    id: str
    name: str
    kind: str
    parent: str = ""
    space: str = ""


@dataclass(frozen=True, slots=True)
class Observation:
    """What was found at a place.

    Attributes
    ----------
    code : str
        Rule of the gates that it calls on, such as ``"bulk-water"``; may be empty.
    severity : Severity
        STOP, GATE or NOTE.
    says, cause, consequence, remedy, proof : str
        What is there, why, what it does, what to do, how to know that it is done.
    photos : tuple of str
        Ids.
    cleared : str
        Who cleared it with what evidence; empty while it stands.
    """

    id: str
    place: str
    code: str
    severity: Severity
    says: str
    cause: str = ""
    consequence: str = ""
    remedy: str = ""
    proof: str = ""
    photos: tuple[str, ...] = ()
    cleared: str = ""


@dataclass(frozen=True, slots=True)
class Photo:
    """One picture; the file lies beside the job under its id."""

    id: str
    place: str
    caption: str
    taken: str = ""


@dataclass(frozen=True, slots=True)
class Instrument:
    """What was used to measure; described by its own calibration, never by a maker.

    Attributes
    ----------
    id, name, kind : str
        `kind` in words, such as ``"pressure gauge"``.
    calibrated, due : str
        ISO dates; empty where they are not known.
    measures : tuple of Capability
        What it measures, and how well.
    """

    id: str
    name: str
    kind: str
    calibrated: str = ""
    due: str = ""
    measures: tuple[Capability, ...] = ()


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit: when, who, in what weather."""

    id: str
    date: str
    assessor: str
    purpose: str = "test-in"
    conditions: str = ""
    not_seen: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Decision:
    """What the owner decided about a measure: ``accepted``, ``declined`` or ``deferred``."""

    measure: str
    choice: str
    reason: str = ""
    date: str = ""


@dataclass(frozen=True, slots=True)
class Test:
    """One test of the job.

    Attributes
    ----------
    id, name, place, visit, instrument : str
        Of the test; `place`, `visit` and `instrument` are ids.
    also_with : tuple of str
        Ids of further instruments, such as the gauge beside a fan.
    reading : object
        Raw readings in SI, of one of the kinds in `rooftree.job.kinds`.
    """

    id: str
    name: str
    visit: str
    reading: object
    place: str = ""
    instrument: str = ""
    note: str = ""
    also_with: tuple[str, ...] = ()

    @property
    def instruments(self) -> tuple[str, ...]:
        """Return the ids of all instruments that it was made with."""
        return tuple(filter(None, (self.instrument, *self.also_with)))


@dataclass(frozen=True, slots=True)
class Typed:
    """One quantity of the job file exactly as a person typed it.

    Attributes
    ----------
    path : str
        Where it stands, such as ``"tests[0].stations[2].pressure"``.
    text : str
        As typed, with its unit: ``"3 1/2 in"``.
    known : Known
        How it is known.
    """

    path: str
    text: str
    known: Known


@dataclass(frozen=True, slots=True)
class Job:
    """Everything about one house, its people, its tests and its plan.

    Attributes
    ----------
    id : str
        UUID.
    name : str
        Short name, unique in a database.
    invented : bool
        True for demonstrations: pages and papers then say so.
    weather : str
        Name of the typical year: ``"greensboro"`` or the name of a file in the
        practice's weather folder.
    typed : tuple of Typed
        Every quantity as typed, in the order of the file.
    photo_files : mapping from str to str
        File name of each photo by its id.
    """

    id: str
    name: str
    client: str
    address: str
    invented: bool
    visits: tuple[Visit, ...]
    complaints: tuple[Complaint, ...]
    places: tuple[Place, ...]
    observations: tuple[Observation, ...]
    photos: tuple[Photo, ...]
    instruments: tuple[Instrument, ...]
    tests: tuple[Test, ...]
    enclosure: Enclosure
    house: House
    weather: str
    bills: tuple[Bill, ...]
    tariff: Tariff
    measures: tuple[Measure, ...]
    decisions: tuple[Decision, ...]
    budget: float | None
    typed: tuple[Typed, ...] = ()
    photo_files: Mapping[str, str] | None = None
