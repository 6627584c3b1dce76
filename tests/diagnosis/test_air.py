"""Check where air comes from, what pushes it, and what pulls on burners."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from diagnosis.held import HOURS, all_year, held_year
from diagnosis.ranch_year import ranch_year
from engine.houses import DAY, make_house, make_leak, make_space
from engine.ranch import ATTIC, BONUS, GARAGE
from engine.weather_years import even_year
from rooftree.diagnosis.air import appliance_pressures, diagnose_air, find_origins, space_pressures
from rooftree.diagnosis.simulated_year import read_year
from rooftree.engine import simulate
from rooftree.house import (
    OUTDOORS,
    AirHandler,
    Draft,
    DuctRun,
    Fan,
    Fuel,
    House,
    WaterHeater,
)

GRAVITY = 9.80665


def three(**changes: object) -> House:
    """Return two rooms and a garage."""
    spaces = (make_space("a"), make_space("b"), make_space("car", kind="garage"))
    return replace(make_house(*spaces), **changes)


def entering(*rows: tuple[float, ...]) -> np.ndarray:
    """Return masses into each space from each other and outdoors, the same in every hour."""
    return np.broadcast_to(np.array(rows), (HOURS, len(rows), len(rows) + 1)).copy()


def test_air_is_traced_through_other_rooms_by_hand() -> None:
    """Half of A from the garage and half from B, half of B from outdoors and half from A.

    Then ``a = 1/2 + b/2`` and ``b = a/2``: two thirds of A's air came from the garage.
    """
    flows = entering((0.0, 0.1, 0.1, 0.0), (0.1, 0.0, 0.0, 0.1), (0.0, 0.0, 0.0, 0.2))
    origins = find_origins(held_year(three(), entering=flows))
    assert origins.first_hand("a") == pytest.approx({"b": 0.5, "car": 0.5})
    assert origins.traced_of("a") == pytest.approx({"car": 2 / 3, OUTDOORS: 1 / 3})
    assert origins.traced_of("b") == pytest.approx({"car": 1 / 3, OUTDOORS: 2 / 3})
    assert origins.traced == pytest.approx(np.broadcast_to(origins.traced_year, (12, 2, 2)))


def test_seasons_are_apart() -> None:
    """Air from the garage in the heating months only is seen in their shares only."""
    flows = entering((0.0, 0.0, 0.0, 0.1), (0.0, 0.0, 0.0, 0.1), (0.0, 0.0, 0.0, 0.1))
    winter = slice(0, 59 * 24)
    flows[winter, 0, 2], flows[winter, 0, 3] = 0.1, 0.0
    heating, cooling = np.zeros((HOURS, 3)), np.zeros((HOURS, 3))
    heating[winter, 0] = 1000.0
    cooling[59 * 24 :, 0] = 1000.0
    origins = find_origins(held_year(three(), entering=flows, heating=heating, cooling=cooling))
    assert origins.traced_heating[0] == pytest.approx([1.0, 0.0])
    assert origins.traced_cooling[0] == pytest.approx([0.0, 1.0])
    assert origins.traced_year[0] == pytest.approx([59 / 365, 306 / 365])


def test_a_leaky_return_brings_the_air_of_its_space() -> None:
    """A return that draws a fifth from the garage gives every room a fifth of garage."""
    run = DuctRun("back", "back", "return", "car", 5.0, 1.0, 0.2)
    house = three(air_handler=AirHandler("car", 0.4, 300.0), ducts=(run,))
    origins = find_origins(held_year(house, runtime=np.full(HOURS, 0.5)))
    density = 101325.0 / (287.042 * 293.15)
    into = origins.through_ducts[:, 0].sum(axis=0)
    assert into.sum() == pytest.approx(0.5 * 0.5 * 0.4 * density * HOURS * 3600.0)
    assert into[2] / into.sum() == pytest.approx(0.2)
    assert origins.traced_of("a") == pytest.approx({"car": 1.0})


def test_balanced_fan_brings_outdoor_air() -> None:
    """What a fan with heat recovery exchanges counts with its whole flow."""
    house = three(fans=(Fan("fresh", "fresh", "balanced", "b", 0.03, DAY, recovery=0.8),))
    origins = find_origins(held_year(house))
    density = 101325.0 / (287.042 * 273.15 * (1.0 + 0.608 * 0.003))
    assert origins.through_fans[:, 1, 3].sum() == pytest.approx(0.03 * density * HOURS * 3600.0)
    assert origins.traced_of("b") == pytest.approx({OUTDOORS: 1.0})


def test_a_room_without_air_has_no_origin() -> None:
    """Nothing enters: no shares, and no division by nothing."""
    origins = find_origins(held_year(three()))
    assert origins.first_hand("a") == {}
    assert origins.traced_of("a") == {}
    assert not origins.traced.any()


def test_every_breath_of_the_ranch_is_traced() -> None:
    """All air of its rooms came from somewhere, in every month."""
    origins = find_origins(ranch_year())
    assert origins.traced.sum(axis=2) == pytest.approx(np.ones((12, 3)))


def test_two_equal_holes_put_the_neutral_level_between_them() -> None:
    """A warm room in frost is neutral between two equal leaks, a little below the middle.

    As much mass enters below as leaves above: ``rho_out (z - 0.5)^n = rho_in (2.5 - z)^n``.
    """
    leaks = (make_leak("low", "room", level=0.5), make_leak("high", "room", level=2.5))
    house, weather = make_house(make_space("room"), leaks=leaks), even_year()
    house = replace(
        house, use=replace(house.use, sensible_gain=(3000.0,) * 24, radiant_fraction=0.0)
    )
    year = read_year(house, simulate(house, weather, hourly=True), weather)
    pressure = space_pressures(year)[0]
    assert pressure.neutral_level is not None
    z, density = pressure.neutral_level, year.density()[-1]
    assert ((z - 0.5) / (2.5 - z)) ** 0.65 == pytest.approx(density[0] / density[1], rel=2e-3)
    lighter = (year.density()[:, 1] - year.density()[:, 0]) * GRAVITY
    assert pressure.ceiling - pressure.floor == pytest.approx(2.5 * lighter)
    assert pressure.floor == pytest.approx((0.5 - pressure.neutral_level) * lighter, rel=1e-3)
    assert pressure.mean_floor[0] < 0.0 < pressure.mean_ceiling[0]


def test_a_room_as_warm_as_outdoors_has_no_neutral_level() -> None:
    """Without a stack there is no height at which the pressure changes its sign."""
    house = make_house(make_space("room"))
    year = held_year(house, even_year(293.15, humidity_ratio=0.005))
    assert space_pressures(year)[0].neutral_level is None


def with_heater(draft: Draft) -> House:
    """Return a room with a water heater."""
    heater = WaterHeater("tank", Fuel.GAS, 0.6, "room", draft)
    fan = Fan("bath", "bath", "exhaust", "room", 0.05, (1.0, *DAY[1:12], *(0.0,) * 12))
    return replace(
        make_house(make_space("room", floor_level=0.0)), water_heater=heater, fans=(fan,)
    )


def test_hours_beyond_the_limit_of_a_water_heater() -> None:
    """A room 2.5 Pa below outdoors all year is beyond 2 Pa always, with a fan half of it."""
    year = held_year(with_heater(Draft.NATURAL), pressure=all_year(-2.5))
    (found,) = appliance_pressures(year, space_pressures(year))
    assert (found.limit, found.lowest) == (2.0, -2.5)
    assert (found.hours_beyond, found.hours_with_fans) == (HOURS, HOURS / 2)
    (finding,) = [f for f in diagnose_air(year).findings if "appliance" in f.code]
    assert "This is no test" in finding.says
    assert finding.source.startswith("recalled")


@pytest.mark.parametrize("draft", [Draft.SEALED, Draft.NONE])
def test_sealed_burners_are_left_alone(draft: Draft) -> None:
    """Only natural and fan-assisted draft is pulled back by fans."""
    year = held_year(with_heater(draft), pressure=all_year(-2.5))
    assert appliance_pressures(year, space_pressures(year)) == ()


def test_garage_air_in_the_bonus_room_is_told() -> None:
    """The ranch's bonus room over the garage gets a finding that names the garage."""
    found = diagnose_air(ranch_year())
    about = [f for f in found.findings if f.about == BONUS and "Garage" in f.says]
    assert len(about) == 1
    share = found.origins.traced_of(BONUS)[GARAGE]
    assert about[0].value == pytest.approx(share)
    assert found.origins.traced_of(BONUS)[ATTIC] > 0.0
