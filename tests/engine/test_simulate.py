"""Check a simulated year against limit cases and the laws of conservation and symmetry."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

import numpy as np
import pytest

from engine.ranch import ATTIC, BEDS, BONUS, CRAWL, GARAGE, MAIN, ranch
from engine.validation.fabric_box import LIGHT_WALL, box, celsius
from engine.weather_years import even_year
from rooftree.engine import simulate, simulate_many
from rooftree.engine.compile import compile_house
from rooftree.errors import HouseError
from rooftree.house import (
    OUTDOORS,
    Cooling,
    Dehumidifier,
    EndUse,
    Fan,
    Fuel,
    Heating,
    House,
    Surface,
    WaterHeater,
)
from rooftree.weather import parse_tmy3

if TYPE_CHECKING:
    from rooftree.engine import YearResult
    from rooftree.weather import WeatherYear


@cache
def greensboro() -> WeatherYear:
    """Return the typical year that comes with the package pvlib."""
    return parse_tmy3((files("pvlib") / "data" / "723170TYA.CSV").read_text())


@cache
def as_found() -> YearResult:
    """Return the ranch through its year, hour by hour."""
    return simulate(ranch(), greensboro(), hourly=True)


def idle(**changes: object) -> House:
    """Return a box without sun, gains and machines."""
    return replace(box(windows={}, gain=0.0, is_conditioned=False), **changes)


def test_heat_balance_closes() -> None:
    """Six spaces with ducts, fans and machines lose no heat: a millionth at most."""
    assert as_found().heat_balance_error < 1e-6


def test_air_balances_every_hour() -> None:
    """No space gains or loses more than a milligram of air in any second of the year."""
    assert as_found().mass_residual <= 1e-6


def test_thermostat_holds_its_space() -> None:
    """Where the equipment suffices the main rooms are between the setpoints, exactly."""
    year = as_found()
    assert year.hourly is not None
    main = year.hourly.temperature[:, 0]
    flat_out = year.hourly.runtime >= 1.0
    assert np.all(main[~flat_out] >= 293.15 - 1e-6)
    assert np.all(main[~flat_out] <= 298.15 + 1e-6)


def test_bonus_room_suffers_most() -> None:
    """A room over the garage with a fixed share of the air is colder and hotter than the rest."""
    year = as_found()
    bonus, main = year.space_ids.index(BONUS), year.space_ids.index(MAIN)
    assert year.minimum_temperature[bonus] < year.minimum_temperature[main] - 1.0
    assert year.maximum_temperature[bonus] > year.maximum_temperature[main] + 1.0


def test_sources_of_air_sum_to_one() -> None:
    """The shares of what enters the living spaces sum to one, and buffers have a part."""
    shares = as_found().source_shares
    assert sum(shares.values()) == pytest.approx(1.0)
    assert set(shares) == {ATTIC, CRAWL, GARAGE, OUTDOORS}


def test_hours_add_up_to_the_year() -> None:
    """Totals are those of the hours, with and without keeping them."""
    kept, swept = as_found(), simulate(ranch(), greensboro())
    assert swept.hourly is None
    assert kept.hourly is not None
    assert swept.heating_load == kept.heating_load
    assert swept.energy.keys() == kept.energy.keys()
    assert kept.hourly.infiltration.mean() == pytest.approx(kept.mean_infiltration)
    assert kept.hourly.temperature.mean(axis=0) == pytest.approx(kept.mean_temperature)
    living = kept.hourly.heating[:, :3].sum(axis=1)
    assert living.sum() * 3600.0 == pytest.approx(kept.heating_load)
    assert living.max() == pytest.approx(kept.peak_heating)


def test_leaks_keep_their_order() -> None:
    """Flows are listed in the order of the house's leaks: the ridge vent lets air out."""
    year = as_found()
    assert year.hourly is not None
    ridge = year.leak_ids.index("ridge")
    assert float(np.mean(year.hourly.leak_flow[:, ridge] > 0.0)) > 0.7


def test_furnace_burns_the_heat_and_the_duct_losses() -> None:
    """Gas for heating is what reaches the rooms, what ducts lose and what the flue takes."""
    year = as_found()
    gas = year.bought(Fuel.GAS, EndUse.HEATING)
    assert 0.4 < year.heating_load / gas < 0.78


def test_everything_settles_at_the_weather() -> None:
    """Without sun and gains, in weather that never changes, the house is as warm as outdoors."""
    year = simulate(idle(), even_year(280.0))
    assert year.minimum_temperature[0] == pytest.approx(280.0, abs=0.02)
    assert year.maximum_temperature[0] == pytest.approx(280.0, abs=0.02)


def test_steady_heat_is_conductance_times_difference() -> None:
    """In steady weather twice the difference needs, films apart, twice the heat."""
    room = box(windows={}, gain=0.0, air_changes=0.5)
    one, two = (simulate(room, even_year(293.15 - dt)).heating_load for dt in (15.0, 30.0))
    assert two / one == pytest.approx(2.0, rel=0.04)


def test_steady_ventilation_heat() -> None:
    """More air costs its mass times specific heat times difference."""
    still, aired = (
        simulate(box(windows={}, gain=0.0, air_changes=changes), even_year(273.15))
        for changes in (0.0, 1.0)
    )
    density = 101325.0 / (287.042 * 293.15 * (1.0 + 0.608 * 0.003))
    heat = density * 129.6 / 3600.0 * 1006.0 * 20.0 * 8760 * 3600
    assert aired.heating_load - still.heating_load == pytest.approx(heat, rel=2e-3)


def test_full_recovery_costs_no_heat() -> None:
    """A fan that recovers all heat leaves the load as it was."""
    still = box(windows={}, gain=0.0, air_changes=0.0)
    fan = Fan("hrv", "hrv", "balanced", "room", 0.05, (1.0,) * 24, recovery=1.0)
    one, other = (
        simulate(house, even_year(273.15)) for house in (still, replace(still, fans=(fan,)))
    )
    assert other.heating_load == pytest.approx(one.heating_load, rel=1e-9)


def test_gains_replace_heat() -> None:
    """In steady cold a watt of gains saves most of a watt of heat; warmer faces lose the rest."""
    cold = even_year(263.15)
    none, some = (simulate(box(windows={}, gain=gain), cold).heating_load for gain in (0.0, 200.0))
    assert 0.9 < (none - some) / (200.0 * 8760 * 3600) < 1.0


def test_small_furnace_leaves_hours_unmet() -> None:
    """Equipment that runs flat out and falls short is counted hour by hour."""
    house = replace(
        box(windows={}, gain=0.0),
        heating=Heating("furnace", Fuel.GAS, 500.0, 0.8, ducted=False),
        cooling=None,
    )
    year = simulate(house, even_year(263.15))
    assert year.unmet_heating_hours == 8760
    assert year.heating_load == pytest.approx(500.0 * 8760 * 3600)
    assert year.bought(Fuel.GAS, EndUse.HEATING) == pytest.approx(year.heating_load / 0.8)


def test_heat_pump_calls_its_backup() -> None:
    """What a heat pump cannot bring, its electric backup does, up to its size."""
    pump = Heating("heat pump", Fuel.ELECTRICITY, 800.0, 3.2, ducted=False, backup_capacity=5000.0)
    house = replace(box(windows={}, gain=0.0), heating=pump, cooling=None)
    year = simulate(house, even_year(263.15))
    ideal = simulate(box(windows={}, gain=0.0), even_year(263.15))
    assert year.unmet_heating_hours == 0
    assert year.heating_load == pytest.approx(ideal.heating_load, rel=1e-6)
    assert 0.6 * year.heating_load < year.bought() < year.heating_load


def test_vapor_settles_at_sources_over_air() -> None:
    """In steady weather the room's humidity exceeds outdoors by source over air flow."""
    house = box(windows={}, gain=0.0)
    house = replace(house, use=replace(house.use, vapor_gain=2.0e-5))
    year = simulate(house, even_year(283.15, humidity_ratio=0.004), hourly=True)
    assert year.hourly is not None
    density = 101325.0 / (287.042 * 293.15)
    expected = 0.004 + 2.0e-5 / (density * 0.5 * 129.6 / 3600.0)
    assert float(year.hourly.humidity_ratio[-1, 0]) == pytest.approx(expected, rel=5e-3)


def test_dehumidifier_holds_its_limit() -> None:
    """A dehumidifier keeps the room at its setpoint, pays for it, and warms the room."""
    house = box(windows={}, gain=0.0)
    house = replace(house, use=replace(house.use, vapor_gain=8.0e-5))
    drier = Dehumidifier("room", 3.0e-4, 1.8 / 3.6e6, setpoint=0.5)
    weather = even_year(283.15, humidity_ratio=0.006)
    damp, dry = simulate(house, weather), simulate(replace(house, dehumidifiers=(drier,)), weather)
    assert damp.mean_relative_humidity[0] > 0.6
    assert dry.mean_relative_humidity[0] == pytest.approx(0.5, abs=1e-3)
    assert dry.bought(use=EndUse.DRYING) > 0.0
    assert dry.heating_load < damp.heating_load


def test_damp_spaces_are_counted() -> None:
    """A room with more vapor than its air can hold is saturated and counted every hour."""
    house = box(windows={}, gain=0.0)
    house = replace(house, use=replace(house.use, vapor_gain=1.0e-3))
    year = simulate(house, even_year(283.15))
    assert year.hours_above_80_percent[0] == 8760
    assert year.mean_relative_humidity[0] == pytest.approx(1.0)


def test_water_heaters_warm_or_cool_their_space() -> None:
    """A tank warms the room by its losses; a heat pump cools it by what it takes in."""
    base = idle()
    base = replace(base, use=replace(base.use, hot_water_heat=300.0))
    tank = WaterHeater("tank", Fuel.GAS, 0.6, "room", standby_loss=150.0)
    pump = WaterHeater("heat pump", Fuel.ELECTRICITY, 3.0, "room")
    none, warm, cold = (
        simulate(replace(base, water_heater=heater), even_year(283.15))
        for heater in (None, tank, pump)
    )
    assert warm.mean_temperature[0] > none.mean_temperature[0] > cold.mean_temperature[0]
    colder = 293.15 - warm.mean_temperature[0]  # than the air at which the loss is stated
    lost = 150.0 / (tank.setpoint - 293.15) * colder
    assert warm.bought(Fuel.GAS) == pytest.approx((300.0 + lost) / 0.6 * 8760 * 3600)
    assert cold.minimum_temperature[0] == pytest.approx(cold.maximum_temperature[0], abs=1e-3)
    colder = 292.85 - cold.mean_temperature[0]  # than the air at which it is rated
    expected = 100.0 / (1.0 - 0.02 * colder) * 8760 * 3600
    assert cold.bought(Fuel.ELECTRICITY) == pytest.approx(expected, rel=1e-4)


def _turn_around(surface: Surface) -> Surface:
    return replace(
        surface,
        inside=surface.outside,
        outside=surface.inside,
        layers=surface.layers[::-1],
        tilt=180.0 - surface.tilt,
        inside_absorptance=surface.solar_absorptance,
        solar_absorptance=surface.inside_absorptance,
        inside_emittance=surface.emittance,
        emittance=surface.inside_emittance,
    )


def test_partitions_may_be_described_from_either_side() -> None:
    """A ceiling seen from the room is the attic's floor seen from the attic."""
    house = ranch()
    turned = tuple(
        _turn_around(s) if s.outside in (ATTIC, CRAWL, GARAGE, BEDS) else s for s in house.surfaces
    )
    year = simulate(replace(house, surfaces=turned), greensboro())
    assert year.heating_load == pytest.approx(as_found().heating_load, rel=1e-6)
    assert year.mean_temperature == pytest.approx(as_found().mean_temperature, abs=1e-4)


def test_a_wall_in_two_halves_is_a_wall() -> None:
    """Cutting a surface in two changes nothing but, slightly, how faces see each other."""
    house = box(windows={})
    halves = tuple(
        replace(s, id=f"{s.id}-{k}", area=s.area / 2) for s in house.surfaces for k in (1, 2)
    )
    one, two = (
        simulate(h, greensboro()).heating_load for h in (house, replace(house, surfaces=halves))
    )
    assert two == pytest.approx(one, rel=0.01)


def test_insulation_saves_heat() -> None:
    """A better wall needs less heat and is less cold in the free-floating winter."""
    better = tuple(
        replace(layer, conductivity=0.03) if layer.name == "quilt" else layer
        for layer in LIGHT_WALL
    )
    plain = simulate(box(), greensboro())
    insulated = simulate(box(wall=better), greensboro())
    assert insulated.heating_load < plain.heating_load


def test_tighter_cracks_save_heat_and_air() -> None:
    """Half the cracks let less than two thirds of the air in and save heat."""
    house = ranch()
    tight = replace(
        house,
        leaks=tuple(
            replace(leak, coefficient=0.5 * leak.coefficient) if leak.kind == "crack" else leak
            for leak in house.leaks
        ),
    )
    year = simulate(tight, greensboro())
    assert year.mean_infiltration < as_found().mean_infiltration
    assert year.heating_load < as_found().heating_load


def test_many_houses_give_the_same_as_one() -> None:
    """Houses run side by side give the years that they give alone, in order, with progress."""
    warmer = replace(ranch(), use=replace(ranch().use, heating_setpoint=(295.0,) * 24))
    houses = [ranch(), replace(ranch(), heating=None), warmer, ranch()]
    seen: list[tuple[int, int]] = []
    years = simulate_many(
        houses, greensboro(), workers=2, progress=lambda done, all_: seen.append((done, all_))
    )
    assert years[0].heating_load == years[3].heating_load
    assert years[0].heating_load == pytest.approx(as_found().heating_load, rel=1e-5)
    assert years[1].heating_load == 0.0
    assert years[2].heating_load > years[0].heating_load
    assert seen[-1] == (4, 4)


def test_a_house_does_not_depend_on_its_neighbours() -> None:
    """Whatever lies in the other lanes, a house has the same year, to the last digit."""
    warmer = replace(ranch(), use=replace(ranch().use, heating_setpoint=(295.0,) * 24))
    leaky = replace(
        ranch(),
        leaks=tuple(replace(leak, coefficient=3.0 * leak.coefficient) for leak in ranch().leaks),
    )
    alone = simulate_many([ranch()] * 4, greensboro())[0]
    beside = simulate_many([warmer, leaky, ranch(), leaky, warmer], greensboro())[2]
    assert beside.heating_load == alone.heating_load
    assert beside.mean_infiltration == alone.mean_infiltration
    assert (beside.mean_relative_humidity == alone.mean_relative_humidity).all()


def test_few_houses_are_run_as_one_is() -> None:
    """One or two houses give exactly what they give alone."""
    assert simulate_many([ranch()], greensboro())[0].energy.keys() == as_found().energy.keys()
    assert simulate_many([ranch()], greensboro())[0].heating_load == as_found().heating_load


def test_many_houses_can_be_cancelled() -> None:
    """Once cancelled no new house is started, and those finished come back in order."""
    years = simulate_many([ranch()] * 40, greensboro(), workers=1, cancelled=lambda: True)
    assert 1 <= len(years) < 40


def test_no_houses_give_no_years() -> None:
    """Nothing to run is not an error."""
    assert simulate_many([], greensboro()) == ()


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        (
            {"windows": (replace(ranch().windows[0], space="loft"),)},
            r"^window main-north-window names the space loft, which the house does not have$",
        ),
        (
            {"surfaces": (replace(ranch().surfaces[0], inside="loft"),)},
            r"^surface main-north names the space loft, which the house does not have$",
        ),
        (
            {"fans": (Fan("fan", "fan", "push", MAIN, 0.1, (1.0,) * 24),)},
            r"^fan fan is push; use exhaust, supply or balanced$",
        ),
        (
            {"leaks": ()},
            r"^no air can get from outdoors to .*; add a leak with .* above zero to each$",
        ),
    ],
)
def test_house_that_does_not_hold_together_is_refused(
    changes: dict[str, object], message: str
) -> None:
    """What names a space that is not there, or needs air that cannot come, is refused."""
    with pytest.raises(HouseError, match=message):
        simulate(replace(ranch(), **changes), greensboro())


def test_weather_on_the_same_planes_is_shared() -> None:
    """Variants with the same orientations read the same arrays of weather."""
    one = compile_house(ranch(), greensboro())
    other = compile_house(replace(ranch(), name="another"), greensboro())
    assert one.weather.table is other.weather.table


def test_cooling_dries_the_air() -> None:
    """An air conditioner removes water; an ideal one cools the air and leaves its water."""
    wet = simulate(replace(ranch(), cooling=Cooling("ideal", 0.0, 3.0, ducted=False)), greensboro())
    dried = as_found().mean_relative_humidity[0]
    assert wet.mean_relative_humidity[0] > dried + 0.01


def test_setback_saves_heat() -> None:
    """A thermostat set back at night saves heat."""
    night = celsius(*(15.0,) * 6, *(20.0,) * 18)
    plain, saving = simulate(box(), greensboro()), simulate(box(heat=night), greensboro())
    assert saving.heating_load < plain.heating_load
