"""Check that the heat of every space is all accounted for, and shared out as it is said."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from diagnosis.held import HOURS, all_year, held_result, held_year
from diagnosis.ranch_year import greensboro, ranch_result, ranch_year
from engine.houses import make_house, make_leak, make_space
from engine.ranch import BEDS, BONUS, CRAWL, MAIN, ranch
from engine.weather_years import even_year
from rooftree.diagnosis.attribution import attribute_energy, grouped, judge_attribution
from rooftree.diagnosis.heat import Cause, split_heat, split_whole_house
from rooftree.diagnosis.simulated_year import read_year
from rooftree.engine import simulate
from rooftree.house import (
    OUTDOORS,
    Cooling,
    Dehumidifier,
    Draft,
    EndUse,
    Fan,
    Fuel,
    Heating,
    House,
    Layer,
    RoomUnit,
    Surface,
    WaterHeater,
    Window,
)
from rooftree.units import DisplaySystem, told

AIR = 1006.0
YEAR = HOURS * 3600.0


def room(**changes: object) -> House:
    """Return a room of 100 m² with one wall and one leak."""
    return replace(make_house(make_space("room"), leaks=(make_leak("crack", "room"),)), **changes)


@pytest.mark.parametrize("space", range(6))
def test_each_space_of_the_ranch_closes(space: int) -> None:
    """What the causes bring is what the air stores, to a thousandth of what passes."""
    assert split_heat(ranch_year())[space].closing_error < 3e-4


def test_living_spaces_of_the_ranch_close_together() -> None:
    """The same of all living spaces together."""
    whole = split_whole_house(ranch_year(), split_heat(ranch_year()))
    assert whole.closing_error < 3e-4
    living = [split for split in split_heat(ranch_year()) if split.space in (MAIN, "beds", "bonus")]
    assert whole.yearly.sum() == pytest.approx(sum(s.yearly.sum() for s in living), rel=1e-9)


def closing_errors(house: House) -> list[float]:
    """Return how well each space of a variant of the ranch closes."""
    result = simulate(house, greensboro(), hourly=True)
    return [each.closing_error for each in split_heat(read_year(house, result, greensboro()))]


def test_heat_pump_in_a_tank_closes() -> None:
    """What a heat pump water heater takes from its space is told to the last watt."""
    tank = WaterHeater("heat pump", Fuel.ELECTRICITY, 3.0, BEDS, standby_loss=60.0)
    house = replace(ranch(), water_heater=tank)
    assert max(closing_errors(house)) < 3e-4
    result = simulate(house, greensboro(), hourly=True)
    beds = split_heat(read_year(house, result, greensboro()))[1]
    assert beds.of(Cause.WATER_HEATER).mean() == pytest.approx(60.0 - 350.0 * (1 - 1 / 3), abs=15.0)


def test_room_units_and_dehumidifiers_close() -> None:
    """A machine in one room, and one that dries the crawlspace, leave nothing unaccounted for.

    But for the hours in which the parts of the year meet: there the heat that a dehumidifier
    gave in the hour before is that of a rough start.
    """
    unit = RoomUnit(
        "unit", "unit", BONUS,
        Heating("heat pump", Fuel.ELECTRICITY, 3000.0, 3.5, ducted=False),
        Cooling("heat pump", 3000.0, 3.8, ducted=False),
    )  # fmt: skip
    drier = Dehumidifier(CRAWL, 5e-4, 5e-7)
    assert max(closing_errors(replace(ranch(), room_units=(unit,), dehumidifiers=(drier,)))) < 5e-4


def test_open_windows_are_told_where_heat_is_missing() -> None:
    """Windows that people open cool on days without heating, and never while it is hotter out."""
    house = replace(ranch(), use=replace(ranch().use, open_window_area=1.0))
    result = simulate(house, greensboro(), hourly=True)
    year = read_year(house, result, greensboro())
    main = split_heat(year)[0]
    k = next(k for k, p in enumerate(main.parts) if p.name == "air through open windows")
    aired = main.heat[:, k]
    hotter = year.weather.temperature > year.hourly.temperature[:, 0] + 0.5
    assert aired.sum() < -1e6 / 3600.0 * 100.0
    assert np.abs(aired[hotter]).sum() < 1e-3 * np.abs(aired).sum()
    assert np.abs(aired[year.heats]).sum() < 1e-2 * np.abs(aired).sum()
    assert main.closing_error < 3e-4


def test_months_and_hours_are_the_same_heat() -> None:
    """The sums of the months are those of the hours."""
    split = split_heat(ranch_year())[0]
    assert split.yearly == pytest.approx(3600.0 * split.heat.sum(axis=0), abs=1.0)


def test_sun_of_the_windows_is_nearly_all_that_came_in() -> None:
    """Of the sun let in, 2 to 10 % leaves again through the glass of the ranch."""
    year = ranch_year()
    day = year.weather.global_horizontal > 0.0
    for index in range(3):
        split = split_heat(year)[index]
        stays = split.of(Cause.SUN)[day].sum() / year.hourly.sun[day, index].sum()
        assert 0.90 < stays < 0.98


def test_air_through_a_leak_by_hand() -> None:
    """A tenth of a kilogram a second from 0 °C into 20 °C takes 2012 W."""
    flow = all_year(-0.1)  # from outdoors into the room
    entering = np.zeros((HOURS, 1, 2))
    entering[:, 0, 1] = 0.1
    split = split_heat(held_year(room(), leak_flow=flow, entering=entering))[0]
    assert split.of(Cause.LEAK)[5] == pytest.approx(-0.1 * AIR * 20.0)
    assert Cause.OPENING not in {part.cause for part in split.parts}


def test_air_beyond_the_leaks_came_through_doors() -> None:
    """What enters and no leak brought is air through open doors and windows."""
    entering = np.zeros((HOURS, 1, 2))
    entering[:, 0, 1] = 0.05
    split = split_heat(held_year(room(), entering=entering))[0]
    assert split.of(Cause.OPENING)[0] == pytest.approx(-0.05 * AIR * 20.0)


def test_fans_by_hand() -> None:
    """A supply fan brings all of its cold, one that recovers 70 % of the heat 30 %."""
    day = (1.0,) * 24
    supply = Fan("in", "in", "supply", "room", 0.02, day)
    balanced = Fan("both", "both", "balanced", "room", 0.02, day, recovery=0.7)
    outside = 101325.0 / (287.042 * 273.15 * (1.0 + 0.608 * 0.003))
    inside = 101325.0 / (287.042 * 293.15 * (1.0 + 0.608 * 0.005))
    entering = np.zeros((HOURS, 1, 2))
    entering[:, 0, 1] = 0.02 * outside
    split = split_heat(held_year(room(fans=(supply, balanced)), entering=entering))[0]
    heat = {part.id: split.heat[0, k] for k, part in enumerate(split.parts)}
    assert heat["in"] == pytest.approx(-0.02 * outside * AIR * 20.0)
    assert heat["both"] == pytest.approx(-0.02 * inside * 0.3 * AIR * 20.0)
    assert Cause.OPENING not in {part.cause for part in split.parts}


def test_gains_and_machines_by_hand() -> None:
    """People by floor area, a tank's loss to its space, a dehumidifier with what it condenses."""
    spaces = (make_space("one"), replace(make_space("two"), floor_area=300.0))
    house = make_house(*spaces)
    house = replace(
        house,
        use=replace(house.use, sensible_gain=(400.0,) * 24),
        water_heater=WaterHeater("tank", Fuel.GAS, 0.6, "one", Draft.NATURAL, 120.0),
        dehumidifiers=(Dehumidifier("two", 5e-4, 5e-7),),
    )
    bought = np.zeros((HOURS, 6))
    bought[:, 4] = 300.0
    one, two = split_heat(held_year(house, bought=bought))
    assert (one.of(Cause.PEOPLE)[0], two.of(Cause.PEOPLE)[0]) == pytest.approx((100.0, 300.0))
    assert one.of(Cause.WATER_HEATER)[0] == pytest.approx(120.0)
    assert two.of(Cause.DEHUMIDIFIER)[0] == pytest.approx(300.0 * (1.0 + 5e-7 * 2.501e6))


def test_what_warms_the_air_is_stored() -> None:
    """A room that warms by a kelvin in an hour takes up its heat capacity."""
    t = np.full((HOURS, 1), 293.15)
    t[100:, 0] = 294.15
    space = replace(make_space("room"), capacity=1.0e6)
    split = split_heat(held_year(make_house(space), radiant=t))[0]
    assert not split.stored.any()
    house = make_house(space)
    result = held_result(house, radiant=t)
    assert result.hourly is not None
    result = replace(result, hourly=replace(result.hourly, temperature=t))
    split = split_heat(read_year(house, result, even_year()))[0]
    air = 250.0 * 101325.0 / (287.042 * 293.15) * AIR
    assert split.stored[100] == pytest.approx((1.0e6 + air) / 3600.0)
    assert split.stored[101] == 0.0


def two_losses(**changes: object) -> House:
    """Return a room with a wall and a window."""
    board = (Layer("board", 0.01, 0.2),)
    wall = Surface("wall", "the wall", "wall", "room", OUTDOORS, 10.0, 90.0, 0.0, board)
    window = Window("pane", "the window", "room", 2.0, 90.0, 180.0, 3.0, 0.6)
    return room(surfaces=(wall,), windows=(window,), **changes)


def test_shares_by_hand() -> None:
    """300 W through the wall and 100 W through glass while heated share three to one.

    Sun that brings 200 W in the same hours, and losses while nothing runs, change nothing.
    """
    conducted = all_year(-300.0, -100.0)
    conducted[HOURS // 2 :] = (-5.0, -900.0)
    heating = np.zeros((HOURS, 1))
    heating[: HOURS // 2] = 200.0
    house = two_losses()
    result = held_result(house, conducted_inside=conducted, heating=heating, sun=all_year(200.0))
    months = np.zeros(12)
    months[:4] = 1.0e9
    result = replace(result, energy={(Fuel.GAS, EndUse.HEATING): months})
    year = read_year(house, result, even_year())
    told_by = attribute_energy(year, split_whole_house(year, split_heat(year)), {Fuel.GAS: 1.0e-8})
    shares = {cause.id: cause.heating_share for cause in told_by.causes}
    assert shares == pytest.approx({"wall": 0.75, "pane": 0.25})
    assert [cause.cost for cause in told_by.causes] == pytest.approx([30.0, 10.0])
    assert told_by.causes[0].energy == {Fuel.GAS: pytest.approx(3.0e9)}
    assert not told_by.cooling


def test_moisture_is_a_cause_of_cooling() -> None:
    """A coil that condenses as much heat as it takes from the air spends half on moisture."""
    house = two_losses()
    cooling = all_year(1000.0)
    result = held_result(
        house,
        conducted_inside=all_year(600.0, 200.0),
        cooling=cooling,
        condensate=np.full(HOURS, 1000.0 / 2.501e6),
    )
    result = replace(result, energy={(Fuel.ELECTRICITY, EndUse.COOLING): np.full(12, 1.0e8)})
    year = read_year(house, result, even_year())
    causes = attribute_energy(year, split_whole_house(year, split_heat(year))).causes
    shares = {cause.cause: cause.cooling_share for cause in causes}
    assert shares == pytest.approx({"surface": 0.375, "glass": 0.125, "moisture": 0.5})
    assert all(cause.cost is None for cause in causes)


def test_equipment_gave_what_was_bought_for_it() -> None:
    """The heat that left the ranch's furnace is its gas by efficiency, and its fan's heat."""
    year = ranch_year()
    found = attribute_energy(year, split_whole_house(year, split_heat(year)))
    gas = ranch_result().bought(Fuel.GAS, EndUse.HEATING)
    assert ranch().heating is not None
    fan = found.heating[Fuel.ELECTRICITY]
    assert found.from_equipment_heat == pytest.approx(0.78 * gas + fan, rel=1e-3)


def test_shares_of_the_ranch_are_all_of_it() -> None:
    """Shares sum to one, energy and money to what was bought for heating and cooling."""
    year = ranch_year()
    prices = {Fuel.GAS: 1.2e-8, Fuel.ELECTRICITY: 4.0e-8}
    found = attribute_energy(year, split_whole_house(year, split_heat(year)), prices)
    assert sum(cause.heating_share for cause in found.causes) == pytest.approx(1.0)
    assert sum(cause.cooling_share for cause in found.causes) == pytest.approx(1.0)
    result = ranch_result()
    electric = sum(
        result.bought(Fuel.ELECTRICITY, use)
        for use in (EndUse.HEATING, EndUse.COOLING, EndUse.AIR_MOVING)
    )
    gas = result.bought(Fuel.GAS, EndUse.HEATING)
    paid = prices[Fuel.GAS] * gas + prices[Fuel.ELECTRICITY] * electric
    assert sum(cause.cost or 0.0 for cause in found.causes) == pytest.approx(paid)
    for cause in found.causes:
        months = [*cause.heating_months.values(), *cause.cooling_months.values()]
        assert sum(map(sum, months)) == pytest.approx(sum(cause.energy.values()))
    costs = [cause.cost or 0.0 for cause in found.causes]
    assert costs == sorted(costs, reverse=True)


def test_ducts_inside_lose_nothing() -> None:
    """Ducts of the ranch that run through its rooms and leak there are no cause."""
    house = ranch()
    runs = tuple(replace(run, space=MAIN) for run in house.ducts)
    year = ranch_year()
    moved = replace(house, ducts=runs)
    still = year.hourly
    heating = still.heating.copy()
    heating[:, 3:] = 0.0  # nothing reaches buffer spaces then
    cooling = still.cooling.copy()
    cooling[:, 3:] = 0.0
    t = still.temperature.copy()
    t[:, 1:3] = t[:, :1]  # rooms alike, so that mixing them needs no heat
    result = replace(
        ranch_result(), hourly=replace(still, heating=heating, cooling=cooling, temperature=t)
    )
    inside = read_year(moved, result, greensboro())
    whole = split_whole_house(inside, split_heat(inside))
    ducts = [c for c in attribute_energy(inside, whole).causes if c.cause == "ducts"]
    assert sum(cause.heating_share for cause in ducts) == pytest.approx(0.0, abs=1e-9)


def test_sentences_name_the_largest_first() -> None:
    """Both sentences say how much is shared out, and read in either system of units."""
    year = ranch_year()
    found = attribute_energy(year, split_whole_house(year, split_heat(year)))
    heating, cooling = judge_attribution(found)
    assert heating.code == "diagnosis/heating-causes"
    largest = grouped(found, "heating")[0]
    assert f"{100.0 * largest[1]:.0f} % {largest[0]}" in heating.says
    assert told(cooling.says, DisplaySystem.IP) != told(heating.says, DisplaySystem.SI)


def test_idle_house_shares_out_nothing() -> None:
    """A house without machines has no causes and no sentences."""
    year = held_year(room())
    found = attribute_energy(year, split_whole_house(year, split_heat(year)))
    assert found.causes == ()
    assert judge_attribution(found) == ()
