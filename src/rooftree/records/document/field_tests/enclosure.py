"""The tested enclosure in the job file."""

from __future__ import annotations

from rooftree.readings.airtightness.readings import Enclosure
from rooftree.records.document import fields as f
from rooftree.records.document.part import Part, built


class EnclosureDocument(Part):
    """The tested enclosure."""

    volume: f.SomeVolume
    floor_area: f.SomeArea
    envelope_area: f.SomeArea
    height: f.SomeLength

    def to_core(self) -> Enclosure:
        """Return the enclosure."""
        return built(Enclosure, self)
