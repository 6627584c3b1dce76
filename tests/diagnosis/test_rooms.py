"""Check which room is off, and that its causes are those that were put in."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from diagnosis.held import HOURS, all_year, held_year
from diagnosis.ranch_year import ranch_year
from engine.houses import make_house, make_space
from engine.ranch import BONUS, MAIN
from rooftree.diagnosis.comfort import diagnose_comfort
from rooftree.diagnosis.heat import split_heat
from rooftree.diagnosis.rooms import RoomsDiagnosis, diagnose_rooms
from rooftree.house import OUTDOORS, House, Layer, Surface
from rooftree.units import DisplaySystem, told

if TYPE_CHECKING:
    import numpy as np

    from rooftree.diagnosis.simulated_year import SimulatedYear

BOARD = (Layer("board", 0.01, 0.2),)


def diagnosed(year: SimulatedYear) -> RoomsDiagnosis:
    """Return the rooms that are off."""
    return diagnose_rooms(year, split_heat(year), diagnose_comfort(year).rooms)


def two_rooms() -> House:
    """Return a hall with the thermostat and a small room, each with a floor and a ceiling."""
    hall = replace(make_space("hall"), floor_area=100.0)
    small = replace(make_space("small"), floor_area=20.0)
    car = make_space("car", kind="garage")
    parts = tuple(
        Surface(f"{space}-{kind}", kind, kind, space, beyond, 20.0, tilt, 0.0, BOARD)
        for space, beyond in (("hall", OUTDOORS), ("small", "car"))
        for kind, tilt in (("floor", 180.0), ("ceiling", 0.0))
    )
    return replace(make_house(hall, small, car), surfaces=parts)


def held(small: float, heating: np.ndarray, cooling: np.ndarray) -> SimulatedYear:
    """Return a year with the small room at this temperature and given heat flows."""
    t = all_year(293.15, small, 283.15)
    conducted = all_year(-1000.0, -500.0, -400.0, -100.0)  # floor, ceiling of hall and small
    return held_year(
        two_rooms(), conducted_inside=conducted, heating=heating, cooling=cooling, radiant=t
    )


def test_the_cold_room_and_its_causes_by_hand() -> None:
    """A room that feels 2 K colder loses more through its floor, and gets less of the heat.

    20 W/m² through its floor and 5 W/m² from the ducts, in the hall 10 and 15.
    """
    year = held(289.15, heating=all_year(1500.0, 100.0, 0.0), cooling=all_year(0.0, 0.0, 0.0))
    found = diagnosed(year)
    assert found.hot is None
    assert found.cold is not None
    assert (found.cold.space, found.cold.against) == ("small", "hall")
    assert found.cold.difference == pytest.approx(-2.0)
    assert found.cold.degree_hours == pytest.approx(1.0 * HOURS)  # below 19 °C
    assert found.cold.degree_hours_there == 0.0
    by_words = {cause.words: cause for cause in found.cold.causes}
    assert by_words["floor"].difference == pytest.approx(-20.0 + 10.0)
    assert by_words["floor"].beyond == ("The car",)
    assert by_words["ceiling"].difference == pytest.approx(-5.0 + 5.0)
    assert by_words["its share of heating and cooling"].difference == pytest.approx(5.0 - 15.0)
    assert {cause.words for cause in found.cold.causes[:2]} == {
        "floor", "its share of heating and cooling",
    }  # fmt: skip


def test_the_hot_room_by_hand() -> None:
    """While the house is cooled a room 3 K warmer by its radiant point is the hot one."""
    year = held(299.15, heating=all_year(0.0, 0.0, 0.0), cooling=all_year(1500.0, 200.0, 0.0))
    found = diagnosed(year)
    assert found.cold is None
    assert found.hot is not None
    assert found.hot.difference == pytest.approx(3.0)
    (finding,) = found.findings
    assert finding.code == "diagnosis/hot-room"
    assert "hotter than The hall" in finding.says


def test_alike_rooms_are_not_off() -> None:
    """Half a kelvin is the least that is told."""
    year = held(292.55, heating=all_year(1500.0, 100.0, 0.0), cooling=all_year(0.0, 0.0, 0.0))
    found = diagnosed(year)
    assert (found.cold, found.hot, found.others, found.findings) == (None, None, (), ())


def test_a_house_without_machines_has_no_odd_room() -> None:
    """No hour is heated or cooled, so there is nothing to compare."""
    nothing = all_year(0.0, 0.0, 0.0)
    assert diagnosed(held(280.15, nothing, nothing)).findings == ()


def test_bonus_room_of_the_ranch_is_cold_and_hot() -> None:
    """It is both, against the main rooms; flows of each room sum to what it stores."""
    found = diagnosed(ranch_year())
    assert found.cold is not None
    assert found.hot is not None
    assert found.cold.space == found.hot.space == BONUS
    assert found.cold.against == found.hot.against == MAIN
    year = ranch_year()
    for odd, hours in ((found.cold, year.heats), (found.hot, year.cools)):
        stored = split_heat(year)[2].stored[hours].mean() / 30.0
        assert sum(cause.here for cause in odd.causes) == pytest.approx(stored, abs=0.01)
    sizes = [-cause.difference for cause in found.cold.causes]
    assert sizes == sorted(sizes, reverse=True)


def test_sentences_read_in_either_system() -> None:
    """Flows for each unit of floor are told in the reader's units."""
    cold, hot = diagnosed(ranch_year()).findings
    assert "W/m²" in told(cold.says, DisplaySystem.SI)
    assert "Btu/(h·ft²)" in told(hot.says, DisplaySystem.IP)
    assert "W/m²" not in told(hot.says, DisplaySystem.IP)
