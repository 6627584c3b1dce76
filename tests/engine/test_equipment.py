"""Check machines against their published curves and their ratings."""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.ranch import ranch
from rooftree.engine.equipment import (
    COLD_PUMP_CAPACITY,
    COLD_PUMP_INPUT,
    COOLER_CAPACITY,
    COOLER_INPUT,
    HOT_PUMP_CAPACITY,
    HOT_PUMP_INPUT,
    cold_at_full_run,
    cycling_loss,
    defrosting,
    heat_at_full_run,
    surface_of,
)
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
    assert cycling_loss(0.5, 0.15) == pytest.approx(1.0 / 0.925, rel=1e-9)


def test_rated_air_conditioner_does_as_rated() -> None:
    """At the rating point capacity, power and sensible share are those of the plate."""
    cooling = Cooling("air conditioner", 10500.0, 3.4, sensible_fraction=0.75)
    handler = replace(ranch().air_handler, flow=RATED_FLOW * 10500.0)
    plant = make_plant(with_machines(cooling=cooling, air_handler=handler), 1.2)
    humidity = 0.01115
    sensible_output, power, sensible = cold_at_full_run(plant, 299.82, humidity, 308.15, SEA_LEVEL)
    assert sensible == pytest.approx(0.75, abs=0.01)
    assert sensible_output / sensible == pytest.approx(10500.0, rel=0.005)
    assert power == pytest.approx(10500.0 / 3.4, rel=0.005)


def test_dry_air_gives_a_dry_coil() -> None:
    """Where the coil stays above the dew point all its cold is sensible."""
    plant = make_plant(ranch(), 1.2)
    assert cold_at_full_run(plant, 299.82, 0.002, 308.15, SEA_LEVEL)[2] == 1.0


def test_hot_days_cost_capacity_and_power() -> None:
    """The hotter it is outdoors, the less cold for more power."""
    plant = make_plant(ranch(), 1.2)
    mild = cold_at_full_run(plant, 297.0, 0.009, 300.0, SEA_LEVEL)
    hot = cold_at_full_run(plant, 297.0, 0.009, 315.0, SEA_LEVEL)
    assert hot[0] < mild[0]
    assert hot[1] > mild[1]


def test_heat_pump_fades_with_the_cold() -> None:
    """A heat pump yields its rating at 8.3 °C, less in frost, and more power per heat."""
    heating = Heating("heat pump", Fuel.ELECTRICITY, 10000.0, 3.4)
    handler = replace(ranch().air_handler, flow=RATED_FLOW * 10000.0)
    plant = make_plant(with_machines(heating=heating, air_handler=handler), 1.2)
    rated, rated_power = heat_at_full_run(plant, 294.26, 281.48, 0.004, SEA_LEVEL)
    cold, cold_power = heat_at_full_run(plant, 294.26, 263.15, 0.001, SEA_LEVEL)
    assert rated == pytest.approx(10000.0, rel=1e-3)
    assert rated / rated_power == pytest.approx(3.4, rel=1e-3)
    assert cold < 0.7 * rated
    assert cold / cold_power < rated / rated_power


def test_frost_needs_defrosting() -> None:
    """Above 4.4 °C nothing freezes; below, moist air costs capacity."""
    assert defrosting(278.0, 0.004, SEA_LEVEL) == (1.0, 1.0)
    capacity, power = defrosting(273.15, 0.0035, SEA_LEVEL)
    assert 0.7 < capacity < 0.95
    assert 0.7 < power < 0.95


def test_furnace_burns_by_its_efficiency() -> None:
    """Output over input of a burner is its efficiency, whatever the weather."""
    plant = make_plant(ranch(), 1.2)
    output, fuel = heat_at_full_run(plant, 293.0, 260.0, 0.001, SEA_LEVEL)
    assert output / fuel == pytest.approx(0.78)


@pytest.mark.parametrize("temperature", [268.0, 280.0, 295.0, 305.0])
def test_saturated_temperature_is_the_inverse(temperature: float) -> None:
    """The temperature found for saturated air has the enthalpy that was asked for."""
    humidity = saturated_humidity(temperature, SEA_LEVEL)
    heat = 1006.0 * (temperature - 273.15) + humidity * (2.501e6 + 1860.0 * (temperature - 273.15))
    assert saturated_temperature(heat, SEA_LEVEL) == pytest.approx(temperature, abs=1e-3)


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
