"""Measured fan flows in the job file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pydantic import StrictBool

from rooftree.readings.ventilation import (
    FanPurpose,
    FanReading,
    FlowMethod,
    Running,
    VentilationTest,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import NOTHING_KNOWN, FieldTestPart
from rooftree.records.document.part import Part, built

if TYPE_CHECKING:
    from rooftree.records.document.field_tests.part import Around


class FanReadingDocument(Part):
    """One fan, or a bath or kitchen without one."""

    name: str
    purpose: FanPurpose
    flow: f.SignedFlow | None = None
    turned_flow: f.SignedFlow | None = None
    supply_flow: f.SignedFlow | None = None
    method: FlowMethod | None = None
    is_even: StrictBool | None = None
    is_clean: StrictBool | None = None
    goes_outdoors: StrictBool | None = None
    rated_flow: f.AirFlow | None = None
    power: f.ElectricPower | None = None
    running: Running | None = None
    run_share: f.Share | None = None
    cycle: f.SomeDuration | None = None
    window_opens: StrictBool | None = None
    room_volume: f.SomeVolume | None = None

    def to_core(self) -> FanReading:
        """Return the fan in SI."""
        return built(FanReading, self)


class VentilationDocument(FieldTestPart):
    """Fans of the dwelling as measured, and what the standard asks about it."""

    readings = VentilationTest
    kind: Literal["ventilation"] = "ventilation"
    fans: tuple[FanReadingDocument, ...] = ()
    edition: Literal["2010", "2013", "2016", "2019", "2022"] | None = None
    is_new: StrictBool | None = None
    weather_factor: f.WeatherFactor | None = None
    exterior_share: f.Share | None = None
    people: f.Count | None = None
    flow_uncertainty: f.RelativeUncertainty | None = None

    def reading(self, around: Around = NOTHING_KNOWN) -> VentilationTest:
        """Return the readings in SI.

        Parameters
        ----------
        around : Around
            What the rest of the job tells.
        """
        given = self._uncertainties(around.sureness)
        people = int(self.people.value) if self.people is not None else None
        return built(VentilationTest, self, people=people, **given)
