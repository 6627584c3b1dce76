"""Measured pressures that the section shows."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rooftree.readings.combustion import CombustionTest
from rooftree.readings.zone_pressures import ZonePressureTest

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rooftree.house import House

TEST_PRESSURE = 50.0
"""House pressure to which zone pressures are brought [Pa]."""


@dataclass(frozen=True, slots=True)
class SectionPressures:
    """Pressures read in the house.

    Attributes
    ----------
    zones : mapping from str to float
        By id of the buffer space: house against the space while the test fan holds the
        house at 50 Pa against outdoors [Pa]; near 50 the space is as good as outdoors.
    appliances : mapping from str to float
        By name of the burner: its zone against outdoors in the worst case, baseline taken
        off [Pa]; negative where smoke is pulled back.
    """

    zones: Mapping[str, float] = field(default_factory=dict)
    appliances: Mapping[str, float] = field(default_factory=dict)


def measured_pressures(house: House, readings: Iterable[object]) -> SectionPressures:
    """Return the pressures among the readings of a job.

    Parameters
    ----------
    house : House
        Whose spaces are meant.
    readings : iterable
        Readings of tests of any kind; the last of each space and burner counts.

    Returns
    -------
    SectionPressures
    """
    known = {space.id for space in house.spaces}
    zones: dict[str, float] = {}
    appliances: dict[str, float] = {}
    for reading in readings:
        if isinstance(reading, ZonePressureTest):
            if reading.space in known and reading.house_pressure:
                share = reading.zone_pressure / reading.house_pressure
                zones[reading.space] = TEST_PRESSURE * share
        elif isinstance(reading, CombustionTest):
            appliances[reading.appliance] = reading.worst_pressure - reading.baseline_pressure
    return SectionPressures(zones, appliances)
