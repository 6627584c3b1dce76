"""The field tests in the job file: raw readings, as the instruments showed them.

Each kind of test has its own module and is named once, in `MODELS`.
"""

from typing import TYPE_CHECKING, Annotated, TypeAlias, Union

from pydantic import Field

from rooftree.records.document.field_tests.air_handler import AirHandlerDocument
from rooftree.records.document.field_tests.air_sealing import AirSealingDocument
from rooftree.records.document.field_tests.ambient_co import AmbientDocument
from rooftree.records.document.field_tests.combustion import CombustionDocument
from rooftree.records.document.field_tests.combustion_air import CombustionAirDocument
from rooftree.records.document.field_tests.duct_heat import DuctHeatDocument
from rooftree.records.document.field_tests.duct_leakage import DuctLeakageDocument
from rooftree.records.document.field_tests.duct_leakage_from_house import (
    DeltaQDocument,
    DuctSubtractionDocument,
)
from rooftree.records.document.field_tests.duct_pans import DuctPanDocument
from rooftree.records.document.field_tests.enclosure import EnclosureDocument
from rooftree.records.document.field_tests.fan_test import FanTestDocument
from rooftree.records.document.field_tests.gas_leaks import GasLeakTestDocument
from rooftree.records.document.field_tests.insulation import InsulationDocument
from rooftree.records.document.field_tests.moisture import MoistureDocument
from rooftree.records.document.field_tests.part import Around, FieldTestPart
from rooftree.records.document.field_tests.room_pressures import RoomPressureDocument
from rooftree.records.document.field_tests.tracer_decay import TracerDecayDocument
from rooftree.records.document.field_tests.ventilation import VentilationDocument
from rooftree.records.document.field_tests.worst_case import WorstCaseDocument
from rooftree.records.document.field_tests.zone_pressures import (
    AddedHoleDocument,
    OpenedHatchDocument,
    ZonePressureDocument,
)

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
    AddedHoleDocument,
    OpenedHatchDocument,
    DuctLeakageDocument,
    DuctPanDocument,
    DuctSubtractionDocument,
    DeltaQDocument,
    AirHandlerDocument,
    RoomPressureDocument,
    VentilationDocument,
    TracerDecayDocument,
    AmbientDocument,
    GasLeakTestDocument,
    WorstCaseDocument,
    CombustionDocument,
    CombustionAirDocument,
    DuctHeatDocument,
    MoistureDocument,
    InsulationDocument,
    AirSealingDocument,
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
