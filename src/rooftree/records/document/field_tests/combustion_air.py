"""Air for burners in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.readings.combustion_air.readings import (
    AirOpening,
    AirSpace,
    CombustionAirTest,
    Cover,
    Joined,
    OpeningKind,
    OpeningPlace,
    RoomBurner,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class AirSpaceDocument(Part):
    """One room that may give air."""

    name: str
    floor_area: f.SomeArea
    height: f.SomeLength
    joined: Joined | None = None

    def to_core(self) -> AirSpace:
        """Return the room in SI."""
        return built(AirSpace, self)


class RoomBurnerDocument(Part):
    """One burner in the room."""

    appliance: str
    input_rate: f.SomeHeatFlow
    fan_assisted: StrictBool | None = None
    takes_room_air: StrictBool | None = None

    def to_core(self) -> RoomBurner:
        """Return the burner in SI."""
        return built(RoomBurner, self)


class AirOpeningDocument(Part):
    """One opening or duct for air."""

    kind: OpeningKind
    width: f.SomeLength
    height: f.SomeLength
    place: OpeningPlace | None = None
    cover: Cover | None = None
    free_share: f.Share | None = None

    def to_core(self) -> AirOpening:
        """Return the opening in SI."""
        return built(AirOpening, self)


class CombustionAirDocument(FieldTestPart):
    """Air for the burners of one room."""

    readings = CombustionAirTest
    kind: Literal["combustion air"] = "combustion air"
    room: str
    spaces: tuple[AirSpaceDocument, ...] = ()
    burners: tuple[RoomBurnerDocument, ...] = ()
    openings: tuple[AirOpeningDocument, ...] = ()
    air_changes: f.SomeAirChanges | None = None
    vent_connector_area: f.HoleArea | None = None
    edition: str | None = None
    continuous_exhaust: f.AirFlow | None = None
    dryer_flow: f.AirFlow | None = None
    largest_exhaust: f.AirFlow | None = None
    next_exhaust: f.AirFlow | None = None
    air_changes_uncertainty: f.Share | None = None
    length_uncertainty: f.Length | None = None
