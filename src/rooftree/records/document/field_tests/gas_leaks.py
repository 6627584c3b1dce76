"""The record of gas leaks in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.known import Answer
from rooftree.readings.gas_leaks.readings import FoundBy, Gas, GasLeak, GasLeakTest
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class GasLeakDocument(Part):
    """One leak."""

    place: str
    found_by: FoundBy | None = None
    confirmed: StrictBool | None = None
    reported_to: str | None = None
    repaired: StrictBool | None = None
    tested_again: StrictBool | None = None
    note: str | None = None

    def to_core(self) -> GasLeak:
        """Return the leak."""
        return built(GasLeak, self)


class GasLeakTestDocument(FieldTestPart):
    """The walk along the gas lines."""

    readings = GasLeakTest
    kind: Literal["gas leaks"] = "gas leaks"
    gas: Gas | None = None
    leaks: tuple[GasLeakDocument, ...] = ()
    joints_checked: f.Count | None = None
    all_reached: Answer | None = None
    ambient_gas: f.Share | None = None
    smell_on_entry: StrictBool | None = None
    connectors: Answer | None = None
    tubing_bonded: Answer | None = None
