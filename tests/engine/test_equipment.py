"""Check machines against their published curves and their ratings."""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.on_numbers import on_numbers
from engine.ranch import ranch
from rooftree.engine.equipment import (
    COLD_PUMP_CAPACITY,
    COLD_PUMP_INPUT,
    COOLER_CAPACITY,
    COOLER_INPUT,
    DEFROST_BELOW,
    HOT_PUMP_CAPACITY,
    HOT_PUMP_INPUT,
    effort_at,
    surface_of,
)
from rooftree.engine.machines import Outdoors, cold_at_full_run, heat_at_full_run
from rooftree.engine.moist import saturated_humidity, saturated_temperature
from rooftree.engine.plant import RATED_FLOW, make_plant
from rooftree.errors import HouseError
from rooftree.house import Cooling, Fuel, Heating, House

CURVES = "Cutler et al. 2013, NREL/TP-5500-56354"
SEA_LEVEL = 101325.0


def with_machines(**changes: object) -> House:
    """Return the ranch with other machines."""
    return replace(ranch(), **changes)


@pytest.mark.parametrize(
    ("curve", "inner", "outer", "value"),
    [
        (COOLER_CAPACITY, 67.0, 95.0, 0.9939),
        (COOLER_INPUT, 67.0, 95.0, 1.0092),
        (COOLER_CAPACITY, 67.0, 82.0, 1.0595),
        (COOLER_INPUT, 67.0, 115.0, 1.4648),
        (COOLER_CAPACITY, 63.0, 95.0, 0.9416),
        (COOLER_INPUT, 71.0, 95.0, 0.9221),
        (HOT_PUMP_CAPACITY, 70.0, 47.0, 0.9958),
        (HOT_PUMP_INPUT, 70.0, 47.0, 0.9937),
        (HOT_PUMP_CAPACITY, 70.0, 17.0, 0.6304),
        (HOT_PUMP_INPUT, 70.0, 5.0, 1.5596),
        (COLD_PUMP_CAPACITY, 67.0, 82.0, 1.0596),
        (COLD_PUMP_INPUT, 67.0, 115.0, 1.4379),
    ],
)
def test_curves_have_their_values(
    curve: tuple[float, ...], inner: float, outer: float, value: float
) -> None:
    """The coefficients give the values worked from the published set (°F, before rating)."""
    assert surface_of(curve, inner, outer) == pytest.approx(value, abs=1e-3)


@pytest.mark.published(
    source="Henderson and Huang, LBNL-42175", where="PLF = 0.85 + 0.15 PLR",
    read="quoted in a secondary source",
)  # fmt: skip
def test_half_load_costs_more() -> None:
    """At half load a machine with a degradation of 0.15 has a part-load factor of 0.925."""
    effort = on_numbers(effort_at, 3)(0.5, 0.15, 1.0)[0]
    assert effort == pytest.approx(0.5 / 0.925, rel=1e-9)


def test_a_machine_that_turns_down_needs_less() -> None:
    """Above its least output it does not cycle, and needs less input per output."""
    effort = on_numbers(effort_at, 3)
    slow, steady = effort(0.5, 0.2, 0.3)[0], effort(0.5, 0.2, 1.0)[0]
    assert slow < 0.5 < steady
    assert effort(1.0, 0.2, 0.3)[0] == pytest.approx(1.0)
    assert effort(0.15, 0.2, 0.3)[0] > 0.15 * 0.7


def test_rated_air_conditioner_does_as_rated() -> None:
    """At the rating point capacity, power and sensible share are those of the plate."""
    cooling = Cooling("air conditioner", 10500.0, 3.4, sensible_fraction=0.75)
    handler = replace(ranch().air_handler, flow=RATED_FLOW * 10500.0)
    house = with_machines(cooling=cooling, air_handler=replace(handler, power=0.0))
    outdoors = Outdoors(308.15, 0.01, SEA_LEVEL)
    sensible_output, power, sensible = cold_at_full_run(
        make_plant(house, 1.2), 299.82, 0.01115, outdoors
    )
    assert sensible == pytest.approx(0.75, abs=0.01)
    assert sensible_output / sensible == pytest.approx(10500.0, rel=0.005)
    assert power == pytest.approx(10500.0 / 3.4, rel=0.005)


def test_dry_air_gives_a_dry_coil() -> None:
    """Where the coil stays above the dew point all its cold is sensible."""
    outdoors = Outdoors(308.15, 0.002, SEA_LEVEL)
    assert cold_at_full_run(make_plant(ranch(), 1.2), 299.82, 0.002, outdoors).sensible == 1.0


def test_hot_days_cost_capacity_and_power() -> None:
    """The hotter it is outdoors, the less cold for more power."""
    mild = cold_at_full_run(
        make_plant(ranch(), 1.2), 297.0, 0.009, Outdoors(300.0, 0.009, SEA_LEVEL)
    )
    hot = cold_at_full_run(
        make_plant(ranch(), 1.2), 297.0, 0.009, Outdoors(315.0, 0.009, SEA_LEVEL)
    )
    assert hot[0] < mild[0]
    assert hot[1] > mild[1]


def test_heat_pump_fades_with_the_cold() -> None:
    """A heat pump yields its rating at 8.3 °C, less in frost, and more power per heat."""
    heating = Heating("heat pump", Fuel.ELECTRICITY, 10000.0, 3.4)
    handler = replace(ranch().air_handler, flow=RATED_FLOW * 10000.0)
    house = with_machines(heating=heating, air_handler=replace(handler, power=0.0))
    rated, rated_power = heat_at_full_run(
        make_plant(house, 1.2), 294.26, Outdoors(281.48, 0.004, SEA_LEVEL)
    )
    cold, cold_power = heat_at_full_run(
        make_plant(house, 1.2), 294.26, Outdoors(263.15, 0.001, SEA_LEVEL)
    )
    assert rated == pytest.approx(10000.0, rel=1e-3)
    assert rated / rated_power == pytest.approx(3.4, rel=1e-3)
    assert cold < 0.7 * rated
    assert cold / cold_power < rated / rated_power


def test_frost_needs_defrosting() -> None:
    """Just below 4.4 °C a heat pump loses capacity to defrosting; just above it does not."""
    heating = Heating("heat pump", Fuel.ELECTRICITY, 10000.0, 3.4)
    house = with_machines(heating=heating)
    above = heat_at_full_run(
        make_plant(house, 1.2), 294.0, Outdoors(DEFROST_BELOW + 0.01, 0.0045, SEA_LEVEL)
    )
    below = heat_at_full_run(
        make_plant(house, 1.2), 294.0, Outdoors(DEFROST_BELOW - 0.01, 0.0045, SEA_LEVEL)
    )
    assert 0.7 < below.output / above.output < 0.95
    assert 0.7 < below.power / above.power < 0.95


def test_furnace_burns_by_its_efficiency() -> None:
    """Output over input of a burner is its efficiency, whatever the weather."""
    house = with_machines(air_handler=None)
    output, fuel = heat_at_full_run(
        make_plant(house, 1.2), 293.0, Outdoors(260.0, 0.001, SEA_LEVEL)
    )
    assert output / fuel == pytest.approx(0.78)


@pytest.mark.parametrize("temperature", [268.0, 280.0, 295.0, 305.0])
def test_saturated_temperature_is_the_inverse(temperature: float) -> None:
    """The temperature found for saturated air has the enthalpy that was asked for."""
    humidity = on_numbers(saturated_humidity, 2)(temperature, SEA_LEVEL)[0]
    heat = 1006.0 * (temperature - 273.15) + humidity * (2.501e6 + 1860.0 * (temperature - 273.15))
    found = on_numbers(saturated_temperature, 2)(heat, SEA_LEVEL)[0]
    assert found == pytest.approx(temperature, abs=1e-3)


def test_impossible_coil_is_refused() -> None:
    """A coil that would have to be wetter than saturated air is refused with a remedy."""
    cooling = Cooling("air conditioner", 10500.0, 3.4, sensible_fraction=0.4)
    with pytest.raises(
        HouseError,
        match=r"^cooling has a sensible fraction of 0\.4; no coil does that at the rating point: "
        r"use 0\.65 to 0\.85$",
    ):
        make_plant(with_machines(cooling=cooling), 1.2)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        (
            {"heating": Heating("stove", Fuel.WOOD, 5000.0, 0.7)},
            r"^heating is stove; use one of furnace, boiler, resistance, heat pump, ideal$",
        ),
        (
            {"cooling": Cooling("ice", 5000.0, 3.0)},
            r"^cooling is ice; use one of air conditioner, heat pump, ideal$",
        ),
    ],
)
def test_unknown_machines_are_refused(changes: dict[str, object], message: str) -> None:
    """A kind that the engine does not know is refused with the kinds that it does."""
    with pytest.raises(HouseError, match=message):
        make_plant(with_machines(**changes), 1.2)
