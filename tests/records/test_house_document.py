"""The house in the job file: every field comes back, and what contradicts itself is told."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.test_document import core, differences
from rooftree.house import Draft, Fuel
from rooftree.known import How, Known
from rooftree.records.document import HouseDocument, check_document, house_document, read_document
from rooftree.units import DisplaySystem, Kind
from strategies import put, quantity_texts, small_job, systems

if TYPE_CHECKING:
    from collections.abc import Callable

FULL = {
    "house.spaces.1.bare_earth": {"value": "120 ft2", "known": "observed"},
    "house.spaces.0.buffering": 20,
    "house.surfaces.0.washed_fraction": "15 %",
    "house.windows.0.solar_transmittance": "52 %",
    "house.windows.0.width": "3 ft",
    "house.windows.0.height": "4' 6\"",
    "house.windows.0.overhang_depth": "18 in",
    "house.windows.0.overhang_gap": "1 ft",
    "house.windows.0.fin_depth": "0.2 m",
    "house.windows.0.fin_gap": "4 in",
    "house.leaks.0.kind": "flue",
    "house.leaks.0.fired_by": "water heater",
    "house.leaks.0.chimney": "16 ft",
    "house.leaks.0.gas_temperature": "250 F",
    "house.heating": {
        "kind": "boiler",
        "fuel": "natural gas",
        "capacity": "80 kBtu/h",
        "efficiency": "82 %",
        "draft": "natural draft",
        "pump_power": "85 W",
        "pilot": "750 Btu/h",
        "part_load": [0.05, 1.1, -0.15],
    },
    "house.cooling": {
        "kind": "heat pump",
        "capacity": "2 ton",
        "cop": 3.4,
        "speeds": "variable",
        "crankcase": {"value": "40 W", "known": "measured", "note": "clamp meter"},
    },
    "house.room_units": [
        {
            "id": "unit-1",
            "name": "heat pump of the bedroom",
            "space": "living",
            "heating": {
                "kind": "heat pump",
                "fuel": "electricity",
                "capacity": "10 kBtu/h",
                "efficiency": 3.2,
                "ducted": False,
                "speeds": "variable",
            },
            "cooling": {"kind": "heat pump", "capacity": "9 kBtu/h", "cop": 3.6, "ducted": False},
            "heating_setpoint": "66 F",
            "cooling_setpoint": ["78 F"] * 24,
            "known": {"space": {"how": "observed"}},
        }
    ],
    "house.water_heater": {
        "kind": "tank",
        "fuel": "natural gas",
        "efficiency": 0.6,
        "space": "living",
        "draft": "natural draft",
        "setpoint": {"value": "125 F", "known": "measured", "note": "at the tap"},
    },
    "house.fans.0.latent_recovery": "40 %",
    "house.use.vapor_hours": [1] * 12 + [3] * 12,
    "house.use.hot_water_hours": [0] * 23 + [24],
    "house.use.thermostat": "living",
    "house.use.open_window_area": "6 ft2",
}
"""Every field of the house that the small job leaves out."""


def full_job() -> dict[str, Any]:
    """Return the small job with every field of the house in it."""
    job = small_job()
    for path, value in FULL.items():
        put(job, path, json.loads(json.dumps(value)))
    return job


def problems(change: Callable[[dict[str, Any]], object]) -> dict[str, str]:
    """Return what is wrong with the full job after a change, by path."""
    job = full_job()
    change(job)
    return {one.path: str(one) for one in check_document(json.dumps(job))}


def test_what_the_file_says_is_what_the_core_gets() -> None:
    """Quantities in SI, hours as shares of their mean, units of rooms with their machines."""
    house = core(full_job()).house
    assert house.spaces[1].bare_earth == pytest.approx(11.148, abs=1e-3)
    assert house.spaces[0].buffering == 20.0
    assert house.surfaces[0].washed_fraction == 0.15
    window = house.windows[0]
    assert window.height == pytest.approx(4.5 * 0.3048)
    assert (window.overhang_depth, window.fin_depth) == pytest.approx((0.4572, 0.2))
    leak = house.leaks[0]
    assert (leak.fired_by, leak.chimney) == ("water heater", pytest.approx(4.8768))
    assert leak.gas_temperature == pytest.approx(394.26, abs=0.01)
    assert house.heating is not None
    assert house.heating.part_load == (0.05, 1.1, -0.15)
    assert house.heating.pilot == pytest.approx(219.8, abs=0.1)
    assert house.cooling is not None
    assert house.cooling.speeds == "variable"
    assert house.cooling.known["crankcase"] == Known(How.MEASURED, "clamp meter")
    assert house.water_heater is not None
    assert house.water_heater.setpoint == pytest.approx(324.817, abs=1e-3)
    assert house.fans[0].latent_recovery == 0.4
    assert house.use.vapor_hours == pytest.approx((0.5,) * 12 + (1.5,) * 12)
    assert sum(house.use.hot_water_hours) == pytest.approx(24.0)
    assert (house.use.thermostat, house.use.open_window_area) == (
        "living",
        pytest.approx(0.5574, abs=1e-4),
    )
    (unit,) = house.room_units
    assert unit.heating is not None
    assert unit.heating.fuel is Fuel.ELECTRICITY
    assert unit.heating.draft is Draft.NONE
    assert unit.heating_setpoint == pytest.approx((292.0389,) * 24, abs=1e-3)
    assert unit.known["space"] == Known(How.OBSERVED)


def test_a_file_without_the_new_fields_still_opens() -> None:
    """What older files leave out has the default of the core."""
    house = core(small_job()).house
    assert house.spaces[0].buffering == 15.0
    assert house.room_units == ()
    assert house.leaks[0].fired_by == ""
    assert house.use.vapor_hours == ()


@given(
    system=systems,
    depth=quantity_texts(Kind.LENGTH, 0.0, 3.0),
    earth=quantity_texts(Kind.AREA, 0.0, 200.0),
    power=quantity_texts(Kind.ELECTRIC_POWER, 0.0, 500.0),
    hours=st.lists(st.floats(0.01, 20.0), min_size=24, max_size=24),
)
def test_every_field_survives_being_written(
    system: DisplaySystem, depth: str, earth: str, power: str, hours: list[float]
) -> None:
    """House to file to house keeps every number and how it is known, in IP and in SI."""
    job = full_job()
    put(job, "house.windows.0.overhang_depth", depth)
    put(job, "house.spaces.1.bare_earth", earth)
    put(job, "house.cooling.crankcase", power)
    put(job, "house.use.vapor_hours", hours)
    house = HouseDocument.model_validate(job["house"]).to_core()
    assert differences(house, house_document(house, system).to_core()) == []
    assert read_document(json.dumps(job)).plain() == job


BROKEN = [
    ("house.spaces.0.buffering", 0.5, "house.spaces[0].buffering", "must be at least 1"),
    ("house.spaces.1.bare_earth", "120", "house.spaces[1].bare_earth", "has no unit"),
    ("house.surfaces.0.washed_fraction", "150 %", "house.surfaces[0].washed_fraction", "at most"),
    ("house.windows.0.width", "0 ft", "house.windows[0].width", "state width and height"),
    ("house.leaks.0.fired_by", "stove", "house.leaks[0].fired_by", "use one of: 'heating'"),
    ("house.leaks.0.chimney", None, "house.leaks[0].chimney", "height of the column of hot gas"),
    ("house.leaks.0.gas_temperature", "-40 F", "house.leaks[0].gas_temperature",
     r"it must be at least 32 °F or 0 °C"),
    ("house.water_heater", None, "house.leaks[0].fired_by", "the house does not have"),
    ("house.water_heater.setpoint", "300 F", "house.water_heater.setpoint", "must be at most"),
    ("house.heating.speeds", "two", "house.heating.speeds", "'single' or 'variable'"),
    ("house.heating.part_load", ["much"], "house.heating.part_load[0]", "not a number"),
    ("house.use.vapor_hours", [0] * 24, "house.use.vapor_hours", "is 0 in every hour"),
    ("house.use.hot_water_hours", [1] * 20, "house.use.hot_water_hours", "has 20 hours"),
    ("house.use.thermostat", "attic", "house.use.thermostat", "no living space; use one of: liv"),
    ("house.use.thermostat", "hall", "house.use.thermostat", "use an id of house.spaces"),
    ("house.room_units.0.space", "attic", "house.room_units[0].space", "no living space"),
    ("house.room_units.0.id", "living", "house.room_units[0].id", "has too"),
    ("house.room_units.0.heating.space", "roof", "house.room_units[0].heating.space", "use an id"),
]  # fmt: skip


@pytest.mark.parametrize(("path", "value", "at", "says"), BROKEN)
def test_what_cannot_be_is_told_at_its_field(path: str, value: object, at: str, says: str) -> None:
    """The problem stands at the field and says what to do."""
    found = problems(lambda job: put(job, path, value))
    assert re.search(says, found[at])


def test_a_unit_without_a_machine_is_told() -> None:
    """A room unit must heat or cool."""

    def bare(job: dict[str, Any]) -> None:
        del job["house"]["room_units"][0]["heating"], job["house"]["room_units"][0]["cooling"]

    assert "neither heats nor cools" in problems(bare)["house.room_units[0]"]
