"""Visits, complaints, places, observations, photos and instruments in the job file."""

from __future__ import annotations

from typing import Annotated, TypeAlias

from pydantic import StringConstraints

from rooftree.finding import Severity
from rooftree.job import Complaint, Observation, Photo, Place, Visit
from rooftree.records.document.part import Date, Id, Part, built

FILE_PATTERN = r"^\w[\w .()-]*$"
"""Names of photos: a plain file name on every system, without folders."""

FileName: TypeAlias = Annotated[
    str, StringConstraints(pattern=rf"{FILE_PATTERN}|^$", max_length=150)
]


class VisitDocument(Part):
    """One visit."""

    id: Id
    date: Date
    assessor: str
    purpose: str = "test-in"
    conditions: str = ""
    not_seen: tuple[str, ...] = ()

    def to_core(self) -> Visit:
        """Return the visit."""
        return built(Visit, self)


class ComplaintDocument(Part):
    """What the client said, in the client's words; `place` is the id of a place."""

    id: Id
    words: str
    place: str = ""
    season: str = ""

    def to_core(self) -> Complaint:
        """Return the complaint."""
        return built(Complaint, self)


class PlaceDocument(Part):
    """Somewhere in or around the house."""

    id: Id
    name: str
    kind: str
    parent: str = ""
    space: str = ""

    def to_core(self) -> Place:
        """Return the place."""
        return built(Place, self)


class ObservationDocument(Part):
    """What was found at a place."""

    id: Id
    place: str
    code: str = ""
    severity: Severity
    says: str
    cause: str = ""
    consequence: str = ""
    remedy: str = ""
    proof: str = ""
    photos: tuple[str, ...] = ()
    cleared: str = ""

    def to_core(self) -> Observation:
        """Return the observation."""
        return built(Observation, self)


class PhotoDocument(Part):
    """One picture; `file` is its name in the bundle's folder of photos."""

    id: Id
    place: str
    caption: str
    taken: str = ""
    file: FileName = ""

    def to_core(self) -> Photo:
        """Return the photo, without its file."""
        return built(Photo, self)
