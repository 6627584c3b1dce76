"""Check water heaters with a tank against recalled examples and the test that rates them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.house import Draft, Fuel
from rooftree.house.use.ip import BTU, GALLON, GALLON_A_DAY, HOUR, RANKINE
from rooftree.house.use.tank import (
    RATING_DRAWS,
    TEST_EXCESS,
    TEST_HEAT,
    rated_tank_loss,
    reference_energy_factor,
    reference_water_heater,
    tank_efficiency,
)

UA = BTU / HOUR / RANKINE


@pytest.mark.published(
    source="J. Lutz et al., ASHRAE Transactions 105(1), 1999",
    where="loss of the tank from energy factor and recovery efficiency",
    read="memory",
)
@pytest.mark.parametrize(
    ("factor", "recovery", "power", "loss", "within"),
    [(0.59, 0.76, 38000.0, 10.22, 0.02), (0.92, 0.98, 15355.0, 1.905, 0.005)],
)
def test_loss_of_a_rated_tank(
    factor: float, recovery: float, power: float, loss: float, within: float
) -> None:
    """A gas and an electric tank of 40 gallons lose what the recalled example says."""
    found = rated_tank_loss(factor, recovery, power * BTU / HOUR)
    assert found / UA == pytest.approx(loss, abs=within)


@pytest.mark.published(
    source="RESNET formal interpretation, 2016",
    where="quotes ANSI/RESNET/ICC 301-2014, Table 4.2.2(1), tank of 40 gallons",
    read="quoted in the interpretation",
)
@pytest.mark.parametrize(("fuel", "factor"), [(Fuel.ELECTRICITY, 0.9172), (Fuel.GAS, 0.594)])
def test_reference_energy_factor(fuel: Fuel, factor: float) -> None:
    """The reference tanks of 40 gallons have these factors."""
    assert reference_energy_factor(fuel, 40.0 * GALLON) == pytest.approx(factor, abs=1e-9)


@pytest.mark.published(
    source="10 CFR 430, Subpart B, Appendix E",
    where="draws of the uniform energy factor",
    read="memory",
)
def test_rating_draws() -> None:
    """Four draws a day, from very small to high."""
    assert [round(draw / GALLON_A_DAY) for draw in RATING_DRAWS.values()] == [10, 38, 55, 84]


@given(st.floats(0.3, 0.95), st.floats(0.0, 0.3), st.floats(3000.0, 20000.0))
def test_the_rating_test_gives_the_rating(recovery: float, lower: float, power: float) -> None:
    """At the draw and the temperatures of the test the efficiency is the energy factor."""
    factor = recovery * (1.0 - lower)
    loss = rated_tank_loss(factor, recovery, power)
    found = tank_efficiency(
        loss, recovery, power, TEST_HEAT, stored=300.0 + TEST_EXCESS, room=300.0
    )
    assert found == pytest.approx(factor)


def test_little_use_is_less_efficient() -> None:
    """The loss of the tank weighs more the less is drawn."""
    efficiencies = [tank_efficiency(5.0, 0.76, 11000.0, heat) for heat in (50.0, 200.0, 800.0)]
    assert efficiencies == sorted(efficiencies)
    assert efficiencies[-1] < 0.76


def test_reference_heater_says_that_it_is_assumed() -> None:
    """Every figure of it carries how it is known; a burner has a natural draft."""
    heater = reference_water_heater(Fuel.GAS, "closet", 330.0)
    assert heater.draft is Draft.NATURAL
    assert heater.known["efficiency"].note.startswith("energy factor 0.594")
    assert {k.how.value for k in heater.known.values()} == {"assumed"}
    electric = reference_water_heater(Fuel.ELECTRICITY, "closet", 330.0)
    assert electric.draft is Draft.NONE
    assert electric.standby_loss < heater.standby_loss
    assert electric.efficiency > heater.efficiency


def test_ratings_that_cannot_be_are_refused() -> None:
    """A factor above the recovery efficiency is no tank; a weak burner heats no test."""
    with pytest.raises(
        OutOfRangeError, match=r"^energy_factor is 0\.8 -; the method covers 0 to 0\.76 -$"
    ):
        rated_tank_loss(0.8, 0.76, 11000.0)
    with pytest.raises(OutOfRangeError, match=r"^power is 100 W; the method covers .* to inf W$"):
        rated_tank_loss(0.6, 0.76, 100.0)
    with pytest.raises(OutOfRangeError, match=r"^volume is 2 m³; the method covers 0\.05 to 0\.5"):
        reference_energy_factor(Fuel.GAS, 2.0)
    with pytest.raises(OutOfRangeError, match=r"^heat is 0 W; the method covers 0 to 8360 W$"):
        tank_efficiency(5.0, 0.76, 11000.0, 0.0)
