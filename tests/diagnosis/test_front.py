"""Check the whole diagnosis by one call: what it needs, and that all of it reads well."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from diagnosis.held import held_result
from diagnosis.ranch_year import greensboro, ranch_result
from engine.houses import make_house, make_space
from engine.ranch import MAIN, ranch
from engine.weather_years import even_year
from rooftree.diagnosis import Diagnosis, diagnose
from rooftree.errors import HouseError, NotEnoughDataError
from rooftree.house import Fuel
from rooftree.units import DisplaySystem, told


@cache
def diagnosis() -> Diagnosis:
    """Return the diagnosis of the ranch."""
    prices = {Fuel.GAS: 1.2e-8, Fuel.ELECTRICITY: 4.0e-8}
    return diagnose(ranch(), ranch_result(), greensboro(), prices=prices)


def test_every_part_is_there() -> None:
    """One call gives heat of all six spaces, energy with money, air, damp, comfort and rooms."""
    found = diagnosis()
    assert [split.space for split in found.heat] == [space.id for space in ranch().spaces]
    assert found.heat_of(MAIN) is found.heat[0]
    assert all(cause.cost is not None for cause in found.energy.causes)
    assert found.air.pressures
    assert found.damp.places
    assert len(found.comfort.rooms) == 3
    assert found.rooms.cold is not None
    with pytest.raises(KeyError):
        found.heat_of("nowhere")


@pytest.mark.parametrize("system", DisplaySystem)
def test_findings_read_in_either_system(system: DisplaySystem) -> None:
    """Each sentence starts with a capital, ends with a point and names its source."""
    for finding in diagnosis().findings:
        says = told(finding.says, system)
        assert says[0].isupper() or says[0].isdigit()
        assert says.endswith(".")
        assert "\N{INVISIBLE SEPARATOR}" not in says
        assert "nan" not in says
        assert finding.source
        assert finding.code.startswith("diagnosis/")


def test_a_bare_room_is_diagnosed_too() -> None:
    """One room, one wall, no leaks, windows, ducts, machines or people: nothing to say."""
    house = make_house(make_space("room"))
    found = diagnose(house, held_result(house), even_year())
    assert found.findings == ()
    assert found.whole.heat.shape[0] == 8760


def test_a_year_without_hours_is_refused() -> None:
    """The remedy is named."""
    with pytest.raises(NotEnoughDataError, match="simulate it with hourly=True"):
        diagnose(ranch(), replace(ranch_result(), hourly=None), greensboro())


def test_a_year_of_another_house_is_refused() -> None:
    """A house without its windows is not the one that was simulated."""
    with pytest.raises(HouseError, match="simulate this house again"):
        diagnose(replace(ranch(), windows=()), ranch_result(), greensboro())


def test_weather_of_another_length_is_refused() -> None:
    """Hours of the year and of the weather are counted."""
    weather = greensboro()
    short = replace(weather, temperature=weather.temperature[:100])
    with pytest.raises(HouseError, match="the year has 8760 hours and the weather 100"):
        diagnose(ranch(), ranch_result(), short)
