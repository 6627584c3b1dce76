"""Readings at a burner in the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import StrictBool

from rooftree.house import Draft
from rooftree.known import Answer
from rooftree.readings.combustion.readings import (
    BurnerFuel,
    CombustionTest,
    FlameLook,
    FlueSample,
    ProbePlace,
    Protocol,
    SpillageCheck,
    TimerStart,
    VentCategory,
    VentState,
)
from rooftree.records.document import fields as f
from rooftree.records.document.field_tests.part import FieldTestPart
from rooftree.records.document.part import Part, built


class SpillageCheckDocument(Part):
    """One look at the draft hood."""

    seconds: f.Duration
    spills: StrictBool
    place: str | None = None

    def to_core(self) -> SpillageCheck:
        """Return the look in SI."""
        return built(SpillageCheck, self)


class FlueSampleDocument(Part):
    """One sample of flue gas."""

    seconds: f.Duration
    carbon_monoxide: f.Concentration
    oxygen: f.Share | None = None
    carbon_dioxide: f.Share | None = None

    def to_core(self) -> FlueSample:
        """Return the sample in SI."""
        return built(FlueSample, self)


class CombustionDocument(FieldTestPart):
    """Readings at one burner."""

    readings = CombustionTest
    kind: Literal["combustion"] = "combustion"
    appliance: Literal["water heater", "furnace", "boiler", "oven"]
    draft: Draft
    ambient_co: f.Concentration
    flue_co: f.Concentration | None = None
    flue_oxygen: f.Share | None = None
    baseline_pressure: f.Pressure
    worst_pressure: f.Pressure
    worst_case: str
    spillage_seconds: f.Duration | None = None
    draft_pressure: f.Pressure | None = None
    gas_leak: StrictBool
    outdoor_temperature: f.Temperature
    protocol: Protocol | None = None
    edition: str | None = None
    own_spillage_limit: f.SomeDuration | None = None
    own_co_limit: f.Concentration | None = None
    vent_category: VentCategory | None = None
    flame: FlameLook | None = None
    flame_moves: Answer | None = None
    soot: StrictBool | None = None
    spillage_checks: tuple[SpillageCheckDocument, ...] = ()
    vent_state: VentState | None = None
    timed_from: TimerStart | None = None
    natural_tested: StrictBool | None = None
    natural_spillage_seconds: f.Duration | None = None
    fuel: BurnerFuel | None = None
    flue_carbon_dioxide: f.Share | None = None
    flue_samples: tuple[FlueSampleDocument, ...] = ()
    probe: ProbePlace | None = None
    sample_seconds: f.Duration | None = None
    analyser_range: f.Concentration | None = None
    zeroed_outdoors: Answer | None = None
    ambient_co_after: f.Concentration | None = None
    flue_temperature: f.Temperature | None = None
    flue_height: f.SomeLength | None = None
    pilot_relit: Answer | None = None
    thermostat_restored: Answer | None = None
    switches_restored: Answer | None = None
    doors_restored: Answer | None = None
    pressure_uncertainty: f.PressureUncertainty | None = None
    concentration_uncertainty: f.RelativeUncertainty | None = None
    gas_uncertainty: f.Share | None = None
