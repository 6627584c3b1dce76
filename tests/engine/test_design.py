"""Check design loads."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from engine.ranch import ATTIC, BEDS, BONUS, MAIN, ranch
from engine.test_simulate import greensboro
from engine.validation.fabric_box import THICK_WALL, box
from engine.weather_years import even_year
from rooftree.engine import simulate
from rooftree.engine.conduction import resistance_between_faces
from rooftree.engine.design import (
    DesignLoads,
    design_loads,
    loads_by_kind,
    parts_of_house,
)
from rooftree.engine.design_day import PartKind
from rooftree.errors import OutOfRangeError, WeatherError
from rooftree.house import OUTDOORS, Fan


@cache
def as_found() -> DesignLoads:
    """Return the loads of the ranch."""
    return design_loads(ranch(), greensboro())


def test_rooms_add_up_to_the_house() -> None:
    """In steady cold the rooms' loads are the house's; in the heat each peaks on its own."""
    loads = as_found()
    assert set(loads.heating_by_space) == {MAIN, BEDS, BONUS}
    assert sum(loads.heating_by_space.values()) == pytest.approx(loads.heating)
    assert sum(loads.cooling_by_space.values()) >= loads.cooling - 1e-6
    assert sum(loads.latent_by_space.values()) == pytest.approx(loads.cooling_latent)


def test_parts_add_up_to_the_load() -> None:
    """Surfaces, glass, sun, air and people are all that a room's thermostat makes up for."""
    loads = as_found()
    for load, by_space, parts in (
        (loads.heating, loads.heating_by_space, loads.heating_parts),
        (loads.cooling, None, loads.cooling_parts),
    ):
        assert sum(part.sensible for part in parts) == pytest.approx(load, rel=1e-6)
        for space, own in (by_space or {}).items():
            of_space = sum(part.sensible for part in parts if part.space == space)
            assert of_space == pytest.approx(own, rel=1e-6)
    assert sum(part.latent for part in loads.cooling_parts) == pytest.approx(loads.cooling_latent)


def test_parts_of_the_house_join_what_rooms_share() -> None:
    """For the whole house each surface stands once, and nothing is lost on the way."""
    loads = as_found()
    whole = parts_of_house(loads.heating_parts)
    assert sum(part.sensible for part in whole) == pytest.approx(loads.heating, rel=1e-6)
    between = next(part for part in whole if part.id == "main-beds")
    assert between.sensible == pytest.approx(0.0, abs=1.0)
    ids = [(part.kind, part.id, part.beyond) for part in whole]
    assert len(ids) == len(set(ids))
    kinds = loads_by_kind(loads.cooling_parts)
    assert sum(sensible for sensible, _ in kinds.values()) == pytest.approx(loads.cooling, rel=1e-6)
    assert kinds[PartKind.SUN][0] > 0.0
    assert kinds[PartKind.PEOPLE][0] > 0.0


def test_a_wall_without_mass_conducts_as_its_layers_do() -> None:
    """In steady weather the part of a surface is its area over the resistance of its layers."""
    room, year = box(windows=(), gain=0.0, air_changes=0.0), even_year(263.15)
    loads = design_loads(room, year)
    year_of_it = simulate(room, year, hourly=True)
    assert year_of_it.hourly is not None
    for surface in room.surfaces:
        part = next(part for part in loads.heating_parts if part.id == surface.id)
        column = year_of_it.element_ids.index(surface.id)
        inside = float(year_of_it.hourly.face_inside[-1, column])
        outside = float(year_of_it.hourly.face_outside[-1, column])
        through = (inside - outside) / resistance_between_faces(surface.layers)
        assert part.sensible == pytest.approx(surface.area * through, rel=1e-3)


def test_air_brings_its_own_part() -> None:
    """A balanced fan that exchanges outdoor air loads by its flow and its recovery."""
    year, bare = even_year(263.15), box(windows=(), gain=0.0, air_changes=0.0)
    fan = Fan("erv", "ERV", "balanced", "room", 0.045, (1 / 3,) * 12 + (1.0,) * 12, recovery=0.6)
    whole = replace(fan, id="open", recovery=0.0)
    loads = {
        one.id: next(
            part
            for part in design_loads(replace(bare, fans=(one,)), year).heating_parts
            if part.kind is PartKind.VENTILATION
        )
        for one in (fan, whole)
    }
    density = 101325.0 / (287.042 * 293.15)
    assert loads["open"].sensible == pytest.approx(0.03 * density * 1006.0 * 30.0, rel=0.01)
    assert loads["erv"].sensible == pytest.approx(0.4 * loads["open"].sensible, rel=1e-6)
    assert loads["erv"].name == "ERV"


def test_latent_load_follows_the_moisture_outdoors() -> None:
    """Humid air adds what its vapor above that of the room takes; dry air takes away."""
    fan = Fan("fan", "fan", "balanced", "room", 0.03, (1.0,) * 24)
    house = replace(box(windows=(), gain=0.0, air_changes=0.0), fans=(fan,))
    wet, dry = (design_loads(house, even_year(308.15, humidity_ratio=w)) for w in (0.018, 0.004))
    flow = 0.03 * 101325.0 / (287.042 * 300.15 * (1.0 + 0.608 * 0.018))
    above = 0.018 - wet.indoor_humidity
    assert wet.cooling_latent == pytest.approx(2.501e6 * flow * above, rel=0.01)
    assert dry.cooling_latent < 0.0
    assert wet.cooling == pytest.approx(dry.cooling, rel=0.01)


def test_air_from_the_attic_counts_apart() -> None:
    """What comes from a buffer space stands under its name."""
    origins = {part.beyond for part in as_found().cooling_parts if part.kind is PartKind.AIR}
    assert {OUTDOORS, ATTIC} <= origins


def test_fans_count_by_their_mean() -> None:
    """A hood of an hour a day loads as one of a twenty-fourth of its flow does all day."""
    house, year = ranch(), greensboro()
    steady = tuple(
        replace(fan, flow=fan.flow * float(np.mean(fan.hours)), hours=(1.0,) * 24)
        for fan in house.fans
    )
    found = design_loads(replace(house, fans=steady), year)
    assert found.heating == pytest.approx(as_found().heating)


def test_design_temperatures_are_those_of_the_year() -> None:
    """One hour in a hundred is colder, one in a hundred is hotter."""
    loads, temperature = as_found(), greensboro().temperature
    assert np.mean(temperature < loads.heating_temperature) <= 0.01
    assert np.mean(temperature > loads.cooling_temperature) <= 0.01


def test_a_code_may_set_the_temperatures() -> None:
    """Colder and hotter days than the year's are taken as they are set, and load more."""
    set_by_code = design_loads(
        ranch(), greensboro(), heating_temperature=258.15, cooling_temperature=310.15
    )
    assert set_by_code.heating_temperature == 258.15
    assert set_by_code.cooling_temperature == pytest.approx(310.15)
    assert set_by_code.heating > as_found().heating
    assert set_by_code.cooling > as_found().cooling
    rise = (as_found().heating_indoors - 258.15) / (
        as_found().heating_indoors - as_found().heating_temperature
    )
    assert set_by_code.heating / as_found().heating == pytest.approx(rise, rel=0.1)


def test_steady_weather_gives_the_steady_load() -> None:
    """Where the weather never changes the design load is the mean load of the year."""
    room = box(windows=(), gain=0.0)
    year = even_year(263.15)
    mean = simulate(room, year).heating_load / (8760 * 3600)
    assert design_loads(room, year).heating == pytest.approx(mean, rel=1e-4)


def test_insulation_lowers_the_load() -> None:
    """Thicker walls need less heat on the cold day, and the walls' part says so."""
    before, after = (design_loads(one, greensboro()) for one in (box(), box(wall=THICK_WALL)))
    assert after.heating < before.heating
    walls = [
        sum(part.sensible for part in loads.heating_parts if part.id in ("north", "south"))
        for loads in (before, after)
    ]
    assert walls[1] < 0.5 * walls[0]


def test_gains_do_not_help_on_the_cold_day() -> None:
    """People and lamps are left out of the heating load and counted in the cooling load."""
    year, quiet, busy = greensboro(), box(gain=0.0), box(gain=1000.0)
    assert design_loads(busy, year).heating == pytest.approx(design_loads(quiet, year).heating)
    assert design_loads(busy, year).cooling > design_loads(quiet, year).cooling


def test_the_system_does_not_matter() -> None:
    """Loads are those of the rooms, whatever heats and cools them now."""
    year = greensboro()
    bare = replace(ranch(), heating=None, cooling=None)
    assert design_loads(bare, year).heating == pytest.approx(as_found().heating)


def test_what_no_day_can_be_is_refused() -> None:
    """Temperatures in the wrong unit and records of other length are refused with a remedy."""
    with pytest.raises(
        OutOfRangeError, match=r"^heating_temperature is 14 K; the method covers 200 to 330 K$"
    ):
        design_loads(box(), greensboro(), heating_temperature=14.0)
    year = even_year()
    short = replace(
        year, **{name: getattr(year, name)[:240] for name in ("temperature", "dew_point")}
    )
    with pytest.raises(WeatherError, match=r"^design loads need a year of 8760 hours; this record"):
        design_loads(box(), short)
