"""The field tests in the job file: raw readings, as the instruments showed them.

Each kind of test has its own module and is named once, in `MODELS`.
"""

from typing import TYPE_CHECKING, Annotated, TypeAlias, Union

from pydantic import Field

from rooftree.records.document.field_tests.air_handler import AirHandlerDocument
from rooftree.records.document.field_tests.combustion import CombustionDocument
from rooftree.records.document.field_tests.duct_heat import DuctHeatDocument
from rooftree.records.document.field_tests.duct_leakage import DuctLeakageDocument
from rooftree.records.document.field_tests.enclosure import EnclosureDocument
from rooftree.records.document.field_tests.fan_test import FanTestDocument
from rooftree.records.document.field_tests.moisture import MoistureDocument
from rooftree.records.document.field_tests.part import Around, FieldTestPart
from rooftree.records.document.field_tests.room_pressures import RoomPressureDocument
from rooftree.records.document.field_tests.zone_pressures import ZonePressureDocument

__all__ = [
    "KINDS",
    "MODELS",
    "Around",
    "EnclosureDocument",
    "FanTestDocument",
    "FieldTestPart",
    "TestDocument",
]

MODELS: tuple[type[FieldTestPart], ...] = (
    FanTestDocument,
    ZonePressureDocument,
    DuctLeakageDocument,
    AirHandlerDocument,
    RoomPressureDocument,
    CombustionDocument,
    DuctHeatDocument,
    MoistureDocument,
)
"""Model of each kind of test, in the order in which pages list them."""

KINDS: dict[str, type[FieldTestPart]] = {
    model.model_fields["kind"].default: model for model in MODELS
}
"""The same by the word that names the kind in the file."""

if TYPE_CHECKING:
    TestDocument: TypeAlias = FieldTestPart
else:
    TestDocument = Annotated[Union[MODELS], Field(discriminator="kind")]  # noqa: UP007
