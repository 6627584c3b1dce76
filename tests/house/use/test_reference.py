"""Check the parts of a household's use against recalled equations and against each other."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.ranch import ranch
from house.use.test_water import greensboro
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house import Fuel
from rooftree.house.use import (
    Household,
    Seen,
    UseItem,
    design_vapor,
    draw_of,
    household_of,
    power_item,
    reference_draw,
    reference_items,
    replace_seen,
    use_of,
    vapor_of,
)
from rooftree.house.use.hours import (
    COOLING,
    GAIN_HOURS,
    HEATING,
    HOT_WATER_HOURS,
    cooling_setpoints,
    heating_setpoints,
)
from rooftree.house.use.ip import BTU, BTU_A_DAY, DAY, KWH, PINT, SQUARE_FOOT, THERM, YEAR, kelvin
from rooftree.house.use.reference import PERSON_LATENT, lamp_factor, older_gains, older_use
from rooftree.known import How, Known

SMALL = Household(2000.0 * SQUARE_FOOT, 3)
LARGE = Household(2400.0 * SQUARE_FOOT, 4)

table_4225 = pytest.mark.published(
    source="ANSI/RESNET/ICC 301-2014",
    where="Table 4.2.2.5, lights and appliances of the reference home",
    read="memory",
)


def kilowatt_hours(household: Household) -> dict[str, float]:
    """Return the electricity of every part [kWh a year]."""
    return {item.id: item.electricity / KWH for item in reference_items(household)}


@table_4225
@pytest.mark.parametrize(
    ("part", "small", "large"),
    [
        ("lighting", 2055, 2375),
        ("outside lighting", 200, 220),
        ("refrigerator", 691, 709),
        ("plug loads", 1820, 2184),
        ("television", 620, 689),
        ("range", 448, 487),
        ("dryer", 971, 1120),
        ("dishwasher", 171, 202),
        ("clothes washer", 68, 78),
    ],
)
def test_part_of_the_reference_home(part: str, small: float, large: float) -> None:
    """Each part by floor area and bedrooms, of 2000 ft² with three and 2400 with four."""
    assert kilowatt_hours(SMALL)[part] == pytest.approx(small, abs=0.5)
    assert kilowatt_hours(LARGE)[part] == pytest.approx(large, abs=0.5)


@table_4225
def test_sum_of_the_reference_home() -> None:
    """All parts of an electric home without a garage."""
    assert sum(kilowatt_hours(SMALL).values()) == pytest.approx(7044, abs=0.5)
    assert sum(kilowatt_hours(LARGE).values()) == pytest.approx(8064, abs=0.5)


@pytest.mark.published(
    source="DOE test procedures of appliances",
    where="cycles a year: dishwasher 215, clothes washer 234, clothes dryer 283",
    read="quoted in a page on the test procedures",
)
def test_loads_dried_are_those_washed_in_the_ratio_of_the_test_procedures() -> None:
    """The dryer's loads follow the washer's as 283 to 234; both grow with the bedrooms."""
    items = {item.id: item for item in reference_items(SMALL)}
    assert items["dryer"].runs / items["clothes washer"].runs == pytest.approx(283.0 / 234.0)
    assert items["clothes washer"].runs == pytest.approx(164.0 + 46.5 * 3)
    assert items["dishwasher"].runs == pytest.approx(88.4 + 34.9 * 3)
    assert items["dishwasher"].runs < 215.0 < 88.4 + 34.9 * 4


@table_4225
def test_range_and_dryer_that_burn_gas() -> None:
    """Gas for cooking and drying, and the power that goes with it; a garage has its lights."""
    gas = Household(2000.0 * SQUARE_FOOT, 3, None, Fuel.GAS, Fuel.GAS, has_garage=True)
    items = {item.id: item for item in reference_items(gas)}
    assert items["range"].gas / THERM == pytest.approx(22.6 + 2.7 * 3)
    assert items["range"].electricity / KWH == pytest.approx(22.6 + 2.7 * 3)
    assert items["dryer"].gas / THERM == pytest.approx(18.8 + 5.3 * 3)
    assert items["dryer"].electricity / KWH == pytest.approx(41 + 11.7 * 3)
    assert items["garage lighting"].electricity / KWH == pytest.approx(100.0)


@pytest.mark.published(
    source="ANSI/RESNET/ICC 301-2014",
    where="Table 4.2.2(3), heat and vapor inside [Btu/day] of three bedrooms and 2000 ft²",
    read="memory",
)
@pytest.mark.parametrize(
    ("part", "sensible", "latent"),
    [
        ("plug loads", 7.27 * 2000, 0.38 * 2000),
        ("lighting", 4253 + 7.48 * 2000, 0),
        ("refrigerator", 5955 + 168 * 3, 0),
        ("television", 3861 + 645 * 3, 0),
        ("range", 2228 + 262 * 3, None),
        ("dryer", 661 + 188 * 3, 73 + 21 * 3),
        ("dishwasher", 219 + 87 * 3, 219 + 87 * 3),
        ("clothes washer", 95 + 26 * 3, 11 + 3 * 3),
        ("people", 3716 * 3, 2884 * 3),
        ("taps", -1227 - 409 * 3, 1245 + 415 * 3),
    ],
)
def test_heat_that_stays_inside(part: str, sensible: float, latent: float | None) -> None:
    """Shares that become heat and vapor are those of the table, to its last printed digit.

    Each coefficient is rounded: 0.5 Btu and 0.5 for each bedroom, 0.005 for each ft².
    People's vapor is read elsewhere and agrees within a hundredth.
    """
    item = next(item for item in reference_items(SMALL) if item.id == part)
    rounding = 0.5 * (1 + 3) + (0.005 * 2000 if part in ("plug loads", "lighting") else 0.0)
    assert item.sensible / BTU_A_DAY == pytest.approx(sensible, abs=rounding)
    if latent is not None:
        heat = item.vapor * 2.43e6 / BTU_A_DAY
        assert heat == pytest.approx(latent, abs=0.01 * latent if part == "people" else rounding)


amendment = pytest.mark.published(
    source="RESNET, proposed amendment on lights, appliances and plug loads, 2011",
    where="end use 18,842 + 25.1 CFA; gains 17,900 + 23.8 CFA + 4,104 bedrooms (struck text)",
    read="source",
)


@amendment
@pytest.mark.parametrize(
    ("household", "million_btu", "btu_a_day"),
    [(SMALL, 25.20, 77812.0), (LARGE, 28.86, 91436.0)],
)
def test_equations_before_these(household: Household, million_btu: float, btu_a_day: float) -> None:
    """Energy a year and heat a day, as the document's own equations give them."""
    energy = older_use(household.floor_area) * YEAR / BTU / 1e6
    assert energy == pytest.approx(million_btu, abs=0.005)
    heat = older_gains(household.floor_area, household.bedrooms)
    assert heat / BTU_A_DAY == pytest.approx(btu_a_day, abs=1.0)


@amendment
def test_share_that_the_older_equation_keeps_inside() -> None:
    """Its gains without people are 95 % of its use, to the last digit of each coefficient."""
    for area in (50.0, 200.0, 800.0):
        rounding = (0.5 + 0.05 * area / SQUARE_FOOT) * BTU_A_DAY
        assert older_gains(area, 0) == pytest.approx(0.95 * older_use(area), abs=rounding)


def test_recalled_parts_are_near_the_equation_that_was_read() -> None:
    """The parts of the reference home sum to a twentieth less than the equation before them."""
    for household in (SMALL, LARGE):
        ours = sum(item.energy for item in reference_items(household)) / YEAR
        assert ours == pytest.approx(older_use(household.floor_area), rel=0.06)


@pytest.mark.published(
    source="Angell and Olson, Moisture Sources, University of Minnesota, 1988",
    where="people 0.44 pt/h for four; dinner 1.2 pt; shower 0.5 pt; dishes 0.68 pt",
    read="quoted in a guide on moisture sources",
)
def test_vapor_by_source() -> None:
    """The table holds the amounts, and two documents agree about people within a hundredth."""
    assert 4.0 * vapor_of("person") / 24.0 / PINT == pytest.approx(0.44, abs=1e-4)
    assert 4.0 * vapor_of("cooking") / PINT == pytest.approx(1.2, abs=1e-3)
    assert vapor_of("shower") / PINT == pytest.approx(0.5, abs=1e-4)
    assert vapor_of("dishes by hand") / PINT == pytest.approx(0.68, abs=1e-4)
    assert vapor_of("line drying") / PINT == pytest.approx((4.7 + 6.2) / 2.0, abs=1e-3)
    assert vapor_of("humidifier") / PINT == pytest.approx(2.08, abs=1e-4)
    by_heat = PERSON_LATENT / 2.43e6 * DAY
    assert vapor_of("person") == pytest.approx(by_heat, rel=0.01)


@pytest.mark.published(
    source="Solar-housing handbook, ch. 10, Table 10.1.1",
    where="a household of four gives off about 12 kg of vapor a day; persons 40 to 60 g/h at rest",
    read="source",
)
def test_vapor_of_a_household_of_four() -> None:
    """With laundry dried inside four people are within the 30 % that the handbook allows."""
    assert 0.040 < vapor_of("person") / 24.0 < 0.060
    usual = sum(item.vapor for item in reference_items(Household(150.0, 3, 4))) * DAY
    laundry = vapor_of("line drying") * (164.0 + 46.5 * 3) / 365.0
    assert usual + laundry == pytest.approx(12.0, rel=0.3)
    assert usual < design_vapor(3) * DAY


@pytest.mark.published(
    source="ASHRAE Standard 160",
    where="Table 4.3.2, design moisture generation",
    read="memory",
)
@pytest.mark.parametrize(("bedrooms", "litres"), [(1, 8), (2, 12), (3, 14), (4, 15), (6, 17)])
def test_vapor_to_design_for(bedrooms: int, litres: float) -> None:
    """By bedrooms, one litre a day more for each beyond four."""
    assert design_vapor(bedrooms) * DAY == pytest.approx(litres)


@pytest.mark.published(
    source="Angell and Olson 1988 and ANSI/RESNET/ICC 301-2014",
    where="shower 0.5 pt; general water use 1245 + 415 bedrooms Btu a day",
    read="memory",
)
def test_vapor_of_water_in_use_is_that_of_a_shower_each() -> None:
    """Four showers a day give off what the tables of gains have for three bedrooms."""
    taps = next(item for item in reference_items(SMALL) if item.id == "taps")
    assert taps.vapor * DAY == pytest.approx(4.0 * vapor_of("shower"), rel=0.15)


@pytest.mark.published(
    source="ANSI/RESNET/ICC 301-2014",
    where="Table 4.2.2(1), thermostats",
    read="memory",
)
def test_thermostats() -> None:
    """68 and 78 °F; with a programme 66 °F from 23:00 to 6:00 and 80 °F from 9:00 to 15:00."""
    assert set(heating_setpoints()) == {HEATING} == {kelvin(68.0)}
    assert set(cooling_setpoints()) == {COOLING} == {kelvin(78.0)}
    night = [hour for hour, t in enumerate(heating_setpoints(is_programmable=True)) if t < HEATING]
    away = [hour for hour, t in enumerate(cooling_setpoints(is_programmable=True)) if t > COOLING]
    assert night == [0, 1, 2, 3, 4, 5, 23]
    assert away == [9, 10, 11, 12, 13, 14]


def test_hours_have_a_mean_of_one() -> None:
    """Schedules shape a day and leave its sum."""
    for hours in (GAIN_HOURS, HOT_WATER_HOURS):
        assert len(hours) == 24
        assert np.mean(hours) == pytest.approx(1.0)


@pytest.mark.published(
    source="California Energy Commission, Residential ACM Approval Manual, 2008",
    where="hourly internal gains: 2.4 % in the first hour, 6.4 % in hours 18 and 19",
    read="memory",
)
def test_gains_peak_in_the_evening() -> None:
    """The shares as recalled sum to 100 %, so that none was lost."""
    assert 100.0 / 24.0 * GAIN_HOURS[0] == pytest.approx(2.4)
    assert 100.0 / 24.0 * GAIN_HOURS[17] == pytest.approx(6.4)
    assert max(GAIN_HOURS) == GAIN_HOURS[17] == GAIN_HOURS[18]


def test_lamps() -> None:
    """The reference share changes nothing; more efficient lamps save."""
    assert lamp_factor(0.1) == pytest.approx(1.0)
    assert lamp_factor(1.0) < lamp_factor(0.5) < 1.0
    efficient = Household(2000.0 * SQUARE_FOOT, 3, efficient_lights=1.0)
    assert kilowatt_hours(efficient)["lighting"] == pytest.approx(2055 * lamp_factor(1.0), abs=0.5)


def test_what_was_seen_takes_the_place_of_the_usual() -> None:
    """A metered refrigerator and a counted dishwasher replace their parts, water included."""
    told = Known(How.TOLD, "owner")
    metered = Known(How.MEASURED, "plug meter, a week")
    items = replace_seen(
        reference_items(SMALL),
        {
            "refrigerator": Seen(energy=1200.0 * KWH, known=metered),
            "dishwasher": Seen(times_a_week=2.0, known=told),
        },
    )
    seen = {item.id: item for item in items}
    usual = {item.id: item for item in reference_items(SMALL)}
    assert seen["refrigerator"].electricity == pytest.approx(1200.0 * KWH)
    assert seen["refrigerator"].sensible == pytest.approx(1200.0 * KWH / YEAR)
    assert seen["refrigerator"].known is metered
    factor = 2.0 * 365.0 / 7.0 / (88.4 + 34.9 * 3)
    assert seen["dishwasher"].hot_water == pytest.approx(factor * usual["dishwasher"].hot_water)
    assert seen["dishwasher"].vapor == pytest.approx(factor * usual["dishwasher"].vapor)
    assert seen["lighting"] == usual["lighting"]


@given(st.floats(0.0, 50.0))
def test_water_seen_scales_what_it_carries(litres: float) -> None:
    """Water seen at the taps takes vapor and cooling with it."""
    usual = {item.id: item for item in reference_items(SMALL)}["taps"]
    seen = replace_seen((usual,), {"taps": Seen(water=litres * 1e-6)})[0]
    assert seen.tap_water == pytest.approx(litres * 1e-6)
    assert seen.vapor * usual.tap_water == pytest.approx(usual.vapor * seen.tap_water)


@pytest.mark.parametrize(
    ("seen", "message"),
    [
        ({"sauna": Seen(energy=1.0)}, r"^seen names 'sauna', .* use lighting, outside lighting, "),
        ({"television": Seen(times_a_week=3.0)}, r"^what was seen of televisions .* of energy$"),
        ({"taps": Seen(energy=1.0)}, r"^what was seen of showers and taps .* one of water$"),
        ({"dryer": Seen()}, r"^what was seen of clothes dryer .* one of energy, times_a_week$"),
        ({"dryer": Seen(energy=-1.0)}, r"^what was seen of clothes dryer is -1 \(SI\); the "),
    ],
)
def test_what_cannot_be_seen_so_is_refused(seen: dict[str, Seen], message: str) -> None:
    """An unknown part, or a number that does not fit it, is refused with what would do."""
    with pytest.raises(OutOfRangeError, match=message):
        replace_seen(reference_items(SMALL), seen)


def test_use_adds_up_its_parts() -> None:
    """What the simulation reads is the sum of the parts, hour by hour too."""
    household = Household(150.0, 3, 4, Fuel.GAS)
    aquarium = power_item("aquarium", 100.0, 24.0, inside=1.0)
    items = (*reference_items(household), aquarium)
    use = use_of(household, items, greensboro())
    assert use.electricity * YEAR == pytest.approx(sum(item.electricity for item in items))
    assert use.cooking_gas * YEAR / THERM == pytest.approx(22.6 + 2.7 * 3)
    assert np.mean(use.sensible_gain) == pytest.approx(sum(item.sensible for item in items))
    assert np.mean(use.vapor_hours) == pytest.approx(1.0)
    assert use.vapor_gain == pytest.approx(sum(item.vapor for item in items))
    assert use.people == 4
    assert use.hot_water_heat > 0.0
    water = draw_of(items)
    assert water.fixtures + water.waste == pytest.approx(
        reference_draw(3).fixtures + reference_draw(3).waste
    )


def test_household_follows_from_the_house() -> None:
    """People, rooms, gas and garage are read from the house; without gas the range is electric."""
    house = ranch()
    found = household_of(house)
    assert found.floor_area == house.floor_area
    assert (found.bedrooms, found.head_count) == (house.use.bedrooms, house.use.people)
    assert found.has_garage
    assert house.water_heater is not None
    assert found.stored_water == house.water_heater.setpoint
    gas = replace(house, use=replace(house.use, cooking_gas=50.0))
    none = replace(house, use=replace(house.use, cooking_gas=0.0))
    assert household_of(gas).range_fuel is Fuel.GAS
    assert household_of(none).range_fuel is Fuel.ELECTRICITY


def test_use_tells_its_least_sure_large_part() -> None:
    """Electricity that is half assumed is assumed; fully metered, it is measured."""
    measured = Known(How.MEASURED, "meter")
    use = use_of(SMALL, reference_items(SMALL), greensboro())
    assert use.known["electricity"].how is How.ASSUMED
    metered = tuple(item.times(1.0, measured) for item in reference_items(SMALL))
    assert use_of(SMALL, metered, greensboro()).known["electricity"] == measured
    one = (*metered[:-1], UseItem("pump", "pump", electricity=1e11, known=Known(How.TOLD, "owner")))
    note = use_of(SMALL, one, greensboro()).known["electricity"]
    assert note.how is How.TOLD


def test_gas_that_burns_leaves_its_water() -> None:
    """A gas range gives off vapor of its flame beside that of the food."""
    gas, electric = (
        next(i for i in reference_items(Household(150.0, 3, 4, fuel)) if i.id == "cooking")
        for fuel in (Fuel.GAS, Fuel.ELECTRICITY)
    )
    more = (gas.vapor - electric.vapor) * YEAR
    assert more == pytest.approx(
        (22.6 + 2.7 * 3) * THERM * 2.0 * 18.015 / 16.043 / 55.5e6, rel=2e-3
    )


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"floor_area": 0.0}, r"^floor_area is 0 m²; the method covers 10 to 2000 m²$"),
        ({"bedrooms": -1}, r"^bedrooms is -1 rooms; the method covers 0 to 20 rooms$"),
        ({"people": 99}, r"^people is 99 people; the method covers 0 to 40 people$"),
        ({"efficient_lights": 1.5}, r"^efficient_lights is 1\.5 -; the method covers 0 to 1 -$"),
    ],
)
def test_household_that_cannot_be_is_refused(changes: dict[str, float], message: str) -> None:
    """Each number has its range, and the message names it."""
    with pytest.raises(OutOfRangeError, match=message):
        Household(**{"floor_area": 100.0, "bedrooms": 2, **changes})  # type: ignore[arg-type]


def test_other_fuels_of_range_and_vapor_are_refused() -> None:
    """What no table knows is refused with what would do."""
    message = r"^range burns propane; use electricity or natural gas$"
    with pytest.raises(HouseError, match=message):
        Household(100.0, 2, range_fuel=Fuel.PROPANE)
    with pytest.raises(HouseError, match=r"^no vapor is known of sauna; use one of person, "):
        vapor_of("sauna")
    assert re.match("ANSI", reference_items(SMALL)[0].known.note)
