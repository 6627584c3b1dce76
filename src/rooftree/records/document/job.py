"""The whole job file."""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal, TypeAlias
from uuid import UUID

from pydantic import AfterValidator, StrictBool, StringConstraints

from rooftree.errors import DocumentError
from rooftree.job import Job, Test, Typed
from rooftree.known import How, Known
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests import (
    Around,
    EnclosureDocument,
    TestDocument,
)
from rooftree.records.document.fields import refusal
from rooftree.records.document.house import HouseDocument
from rooftree.records.document.instruments import InstrumentDocument
from rooftree.records.document.money import (
    BillDocument,
    DecisionDocument,
    MeasureDocument,
    TariffDocument,
)
from rooftree.records.document.part import Part, core_value, quantities
from rooftree.records.document.visit import (
    ComplaintDocument,
    ObservationDocument,
    PhotoDocument,
    PlaceDocument,
    VisitDocument,
)

FORMAT = "rooftree-job"
VERSION = 1
"""Version of the job file that this program writes."""

_HOW_BY_DEFAULT = {"tests": How.MEASURED, "bills": How.TOLD}
"""How quantities are known that do not say so, by the part of the file."""


def _is_a_uuid(text: str) -> str:
    try:
        UUID(text)
    except ValueError:
        raise refusal(f'is "{text}", not a UUID', "leave the id as the job was made") from None
    return text


Uuid: TypeAlias = Annotated[str, AfterValidator(_is_a_uuid)]
JobName: TypeAlias = Annotated[
    str, StringConstraints(min_length=1, max_length=120, pattern=r"^[\w][\w .()-]*$")
]


class JobDocument(Part):
    """A job file: one house, its people, its tests and its plan."""

    format: Literal["rooftree-job"]
    version: Literal[1]
    id: Uuid
    name: JobName
    client: str
    address: str = ""
    invented: StrictBool = False
    weather: str
    budget: f.Money | None = None
    visits: tuple[VisitDocument, ...] = ()
    complaints: tuple[ComplaintDocument, ...] = ()
    places: tuple[PlaceDocument, ...] = ()
    observations: tuple[ObservationDocument, ...] = ()
    photos: tuple[PhotoDocument, ...] = ()
    instruments: tuple[InstrumentDocument, ...] = ()
    enclosure: EnclosureDocument
    tests: tuple[TestDocument, ...] = ()
    house: HouseDocument
    bills: tuple[BillDocument, ...] = ()
    tariff: TariffDocument
    measures: tuple[MeasureDocument, ...] = ()
    decisions: tuple[DecisionDocument, ...] = ()

    def to_core(self) -> Job:
        """Return the job, in SI, with every quantity as typed beside it."""
        return Job(
            id=self.id,
            name=self.name,
            client=self.client,
            address=self.address,
            invented=self.invented,
            visits=core_value(self.visits),
            complaints=core_value(self.complaints),
            places=core_value(self.places),
            observations=core_value(self.observations),
            photos=core_value(self.photos),
            instruments=core_value(self.instruments),
            tests=self._tests(),
            enclosure=self.enclosure.to_core(),
            house=self.house.to_core(),
            weather=self.weather,
            bills=core_value(self.bills),
            tariff=self.tariff.to_core(),
            measures=core_value(self.measures),
            decisions=core_value(self.decisions),
            budget=core_value(self.budget),
            typed=self.typed(),
            photo_files={photo.id: photo.file for photo in self.photos if photo.file},
        )

    def _tests(self) -> tuple[Test, ...]:
        visits, instruments = core_value(self.visits), core_value(self.instruments)
        elevation = self.house.site.elevation.value
        return tuple(
            test.to_core(Around.of(elevation, visits, instruments, dict(test)))
            for test in self.tests
        )

    def typed(self) -> tuple[Typed, ...]:
        """Return every quantity as it stands in the file, in the order of the file."""
        return tuple(
            Typed(path, str(one.typed), one.known or _known_by_default(path))
            for path, one in quantities(self)
        )

    def test_entry(self, test: str) -> dict[str, Any]:
        """Return one test as it stands in the file; DocumentError if there is none of this id."""
        for entry in self.plain().get("tests", []):
            if entry["id"] == test:
                return dict(entry)
        ids = ", ".join(one.id for one in self.tests) or "none yet"
        raise DocumentError(f'the job "{self.name}" has no test "{test}"; its tests: {ids}')

    def plain(self) -> dict[str, Any]:
        """Return the file as plain lists and mappings, exactly what was stated."""
        return self.model_dump(mode="json", exclude_unset=True)

    def to_json(self) -> str:
        """Return the text of the file."""
        return json.dumps(self.plain(), ensure_ascii=False, indent=2) + "\n"


def _known_by_default(path: str) -> Known:
    part = path.partition("[")[0].partition(".")[0]
    return Known(_HOW_BY_DEFAULT.get(part, How.ASSUMED))
