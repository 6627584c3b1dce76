"""Check what a year of energy costs and emits against laws that any bill obeys."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.bills import Tariff, cost_by_fuel, cost_of, emissions_of, energy_by_fuel
from rooftree.errors import NotEnoughDataError
from rooftree.house import EndUse, Fuel

KWH, THERM = 3.6e6, 105.5056e6

TARIFF = Tariff(
    price={"electricity": 0.15 / KWH, "natural gas": 1.40 / THERM},
    standing_charge={"electricity": 120.0, "natural gas": 150.0},
    emission={"electricity": 0.373 / KWH, "natural gas": 53.06 / 1055.056e6},
    source="invented",
)


@dataclass
class Bought:
    """A year of bought energy."""

    energy: dict[Any, Any] = field(default_factory=dict)


def year(electricity: float, gas: float) -> Bought:
    """Return a year with this much electricity and gas [J], spread over the months."""
    return Bought(
        {
            (Fuel.ELECTRICITY, EndUse.COOLING): [electricity / 24.0] * 12,
            (Fuel.ELECTRICITY, EndUse.OTHER): [electricity / 24.0] * 12,
            (Fuel.GAS, EndUse.HEATING): [gas / 12.0] * 12,
        }
    )


def test_uses_of_one_fuel_are_one_bill() -> None:
    """Energy of all end uses of a fuel is added."""
    assert energy_by_fuel(year(2.4e9, 1.2e9)) == pytest.approx(
        {"electricity": 2.4e9, "natural gas": 1.2e9}
    )


def test_a_bill_is_energy_times_price_plus_the_standing_charge() -> None:
    """A thousand kWh and a hundred therms cost what a person would work out."""
    bought = year(1000 * KWH, 100 * THERM)
    assert cost_by_fuel(bought, TARIFF) == pytest.approx(
        {"electricity": 150.0 + 120.0, "natural gas": 140.0 + 150.0}
    )
    assert cost_of(bought, TARIFF) == pytest.approx(560.0)


def test_a_fuel_that_is_not_bought_has_no_standing_charge() -> None:
    """An all-electric house does not pay for a gas meter."""
    assert cost_of(year(1000 * KWH, 0.0), TARIFF) == pytest.approx(270.0)


def test_a_year_without_energy_costs_nothing() -> None:
    """The smallest year is free and clean."""
    assert cost_of(Bought(), TARIFF) == emissions_of(Bought(), TARIFF) == 0.0


@pytest.mark.published(
    source="EPA emission factors hub; eGRID2022",
    where="natural gas 53.06 kg CO2 per million Btu; US grid 0.823 lb/kWh (373 g/kWh)",
    read="memory",
)
def test_emissions_of_a_therm_and_a_kilowatt_hour() -> None:
    """A therm of gas is 5.3 kg of carbon dioxide, a kWh of the US grid 0.373 kg."""
    assert emissions_of(year(0.0, THERM), TARIFF) == pytest.approx(5.306, rel=1e-3)
    assert emissions_of(year(KWH, 0.0), TARIFF) == pytest.approx(0.373, rel=1e-3)


@given(st.floats(1e6, 1e12), st.floats(1e6, 1e12))
def test_more_energy_costs_and_emits_more(electricity: float, gas: float) -> None:
    """Cost and emissions rise with each fuel."""
    here = year(electricity, gas)
    for more in (year(1.1 * electricity, gas), year(electricity, 1.1 * gas)):
        assert cost_of(more, TARIFF) > cost_of(here, TARIFF)
        assert emissions_of(more, TARIFF) > emissions_of(here, TARIFF)


@pytest.mark.parametrize(("reckon", "what"), [(cost_of, "price"), (emissions_of, "emission")])
def test_a_fuel_without_a_price_is_refused(reckon: Any, what: str) -> None:
    """The message names the fuel and what the tariff lacks."""
    bought = Bought({(Fuel.PROPANE, EndUse.HEATING): [1e9] * 12})
    with pytest.raises(
        NotEnoughDataError,
        match=rf"^the tariff has no {what} for propane: add it to the tariff$",
    ):
        reckon(bought, TARIFF)
