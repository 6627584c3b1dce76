"""Check that quantities are read as the trade writes them, and nothing else is."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import UnitError
from rooftree.units import DIMENSIONLESS, UNITS, Kind, parse, parse_any
from rooftree.units.reading import PRIMARY

AS_TYPED = [
    ("2450 cfm", Kind.FLOW, 2450 * 0.3048**3 / 60),
    ("2,450 CFM50", Kind.FLOW, 2450 * 0.3048**3 / 60),
    ("1,160 L/s", Kind.FLOW, 1.16),
    ("-1.4 Pa", Kind.PRESSURE, -1.4),
    ("\u22121.4 Pa", Kind.PRESSURE, -1.4),
    ("0.2 in. w.c.", Kind.STATIC_PRESSURE, 0.2 * 249.08891),
    ("3 1/2 in", Kind.LENGTH, 0.0889),
    ("3½ in", Kind.THICKNESS, 0.0889),
    ("3 ½ in", Kind.THICKNESS, 0.0889),
    ('3-1/2"', Kind.THICKNESS, 0.0889),
    ("5/8 in", Kind.THICKNESS, 0.015875),
    (".5 in", Kind.THICKNESS, 0.0127),
    ("8 ft 6 in", Kind.LENGTH, 2.5908),
    ("8' 6\"", Kind.LENGTH, 2.5908),
    ("8'-6 1/2\"", Kind.LENGTH, 2.6035),
    ("8 ft - 6 in", Kind.LENGTH, 2.5908),
    ("-2 ft 6 in", Kind.LENGTH, -0.762),
    ("1,640 ft2", Kind.AREA, 1640 * 0.3048**2),
    ("1640 sq. ft.", Kind.AREA, 1640 * 0.3048**2),
    ("13,120 cu ft", Kind.VOLUME, 13120 * 0.3048**3),
    ("R-38", Kind.THERMAL_RESISTANCE, 38 * 0.1761101838),
    ("R38", Kind.THERMAL_RESISTANCE, 38 * 0.1761101838),
    ("38 hr-ft2-F/Btu", Kind.THERMAL_RESISTANCE, 38 * 0.1761101838),
    ("38 h·ft²·°F/Btu", Kind.THERMAL_RESISTANCE, 38 * 0.1761101838),
    ("RSI-6.7", Kind.THERMAL_RESISTANCE, 6.7),
    ("6.7 m2K/W", Kind.THERMAL_RESISTANCE, 6.7),
    ("0.18 W/m2K", Kind.U_VALUE, 0.18),
    ("0.25 Btu/h·ft2·F", Kind.U_VALUE, 0.25 * 5.678263341),
    ("0.25 Btu/h/ft2/F", Kind.U_VALUE, 0.25 * 5.678263341),
    ("U-0.30", Kind.U_VALUE, 0.30 * 5.678263341),
    ("R-6/in", Kind.CONDUCTIVITY, 0.0254 / (6 * 0.1761101838)),
    ("0.04 W/mK", Kind.CONDUCTIVITY, 0.04),
    ("72 F", Kind.TEMPERATURE, 295.37222222),
    ("22 °C", Kind.TEMPERATURE, 295.15),
    ("-40 deg F", Kind.TEMPERATURE, 233.15),
    ("18 °F", Kind.TEMPERATURE_DIFFERENCE, 10.0),
    ("10.2 kBtu/h", Kind.POWER, 10.2 * 293.07107017),
    ("80 MBH", Kind.POWER, 80 * 293.07107017),
    ("3 ton", Kind.COOLING_CAPACITY, 36 * 293.07107017),
    ("3 tons", Kind.COOLING_CAPACITY, 36 * 293.07107017),
    ("120 therm", Kind.FUEL, 120 * 105505585.262),
    ("1,015 kWh", Kind.ELECTRICITY, 1015 * 3.6e6),
    ("15 %", Kind.FRACTION, 0.15),
    ("15%", Kind.FRACTION, 0.15),
    ("0.15", Kind.FRACTION, 0.15),
    ("3.2", Kind.RATIO, 3.2),
    ("4", Kind.COUNT, 4.0),
    ("35 ppm", Kind.CONCENTRATION, 35.0),
    ("5 min", Kind.DURATION, 300.0),
    ("1 h 30 min", Kind.DURATION, 5400.0),
    ("20 years", Kind.DURATION, 20 * 365 * 86400.0),
    ("1.24 $/therm", Kind.FUEL_PRICE, 1.24 / 105505585.262),
    ("$1.24/therm", Kind.FUEL_PRICE, 1.24 / 105505585.262),
    ("$0.13 per kWh", Kind.ELECTRICITY_PRICE, 0.13 / 3.6e6),
    ("$12/month", Kind.MONEY_RATE, 144.0),
    ("$65/h", Kind.LABOR_RATE, 65.0 / 3600.0),
    ("$1,200", Kind.MONEY, 1200.0),
    ("-$5", Kind.MONEY, -5.0),
    ("15 pt/day", Kind.VAPOR_FLOW, 15 * 0.473176473 / 86400),
    ("18 mph", Kind.SPEED, 18 * 0.44704),
    ("62 lb/ft3", Kind.DENSITY, 62 * 16.018463374),
    ("7.2 1/h", Kind.AIR_CHANGES, 7.2),
    ("7.2 ACH50", Kind.AIR_CHANGES, 7.2),
    ("SW", Kind.AZIMUTH, 225.0),
    ("south-west", Kind.AZIMUTH, 225.0),
    ("N", Kind.AZIMUTH, 0.0),
    ("180°", Kind.AZIMUTH, 180.0),
]


@pytest.mark.parametrize(("text", "kind", "value"), AS_TYPED)
def test_a_quantity_is_read_as_the_trade_writes_it(text: str, kind: Kind, value: float) -> None:
    """Fractions, signs, separators and the spellings of units are all understood."""
    assert parse(text, kind) == pytest.approx(value, rel=1e-8)


def test_a_quantity_may_stand_among_spaces() -> None:
    """Spaces around and within a quantity do not matter."""
    assert parse("  -1.4\u00a0Pa ", Kind.PRESSURE) == -1.4


REFUSED = [
    ("2450", Kind.FLOW, r'"2450" has no unit; write it like "2,450 cfm"; units for flow: .*'),
    ("72 F", Kind.PRESSURE, r'"72 F" is written as temperature, not pressure; .*'),
    ("12,5 Pa", Kind.PRESSURE, r'"12,5 Pa" has a comma in its number; write a decimal point'),
    ("1,64 ft2", Kind.AREA, r'"1,64 ft2" has a comma in its number; write a decimal point'),
    ("80 MBtu", Kind.ENERGY, r'"80 MBtu" has a unit that can be misread; .*kBtu or MMBtu'),
    ("100 ccf", Kind.FUEL, r'"100 ccf" has a unit that can be misread; ccf is a volume of gas.*'),
    ("5 mJ", Kind.ENERGY, r'"5 mJ" has the unknown unit "mJ"; .*'),
    ("5 bananas", Kind.AREA, r'"5 bananas" has the unknown unit "bananas"; .*'),
    ("nan Pa", Kind.PRESSURE, r'"nan Pa" is not a number with a unit; .*'),
    ("inf Pa", Kind.PRESSURE, r'"inf Pa" is not a number with a unit; .*'),
    ("1e999 Pa", Kind.PRESSURE, r'"1e999 Pa" is not a finite quantity; .*'),
    ("", Kind.AREA, r'"" is not a number with a unit; .*'),
    ("1/0 in", Kind.LENGTH, r'"1/0 in" divides by zero; .*'),
    ("R-0/in", Kind.CONDUCTIVITY, r'"R-0/in" divides by zero; .*'),
    ("-500 F", Kind.TEMPERATURE, r'"-500 F" is below absolute zero; .*'),
    ("4.5", Kind.COUNT, r'"4\.5" is not a whole number; write a whole number, such as "4"'),
    ("12 -5 Pa", Kind.PRESSURE, r'"12 -5 Pa" is not a number with a unit; .*'),
    ("3 in 2 ft", Kind.LENGTH, r'"3 in 2 ft" has the unknown unit "in 2 ft"; .*'),
    ("5 m 3 m", Kind.LENGTH, r'"5 m 3 m" does not go from the larger to the smaller unit; .*'),
    ("8 ft +6 in", Kind.LENGTH, r'"8 ft \+6 in" has the unknown unit "ft \+6 in"; .*'),
    ("5 min 3 s", Kind.FLOW, r'"5 min 3 s" has the unknown unit "min 3 s"; .*'),
]


@pytest.mark.parametrize(("text", "kind", "message"), REFUSED)
def test_what_cannot_be_read_is_refused_with_its_remedy(
    text: str, kind: Kind, message: str
) -> None:
    """The message names the field, what stands there, and what to write instead."""
    with pytest.raises(UnitError, match=f"^house.x: {message}$") as caught:
        parse(text, kind, path="house.x")
    assert (caught.value.path, caught.value.text) == ("house.x", text)
    assert caught.value.says
    assert caught.value.remedy


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind not in DIMENSIONLESS])
def test_a_bare_number_is_refused_where_a_unit_is_needed(kind: Kind) -> None:
    """No kind with a unit takes a number alone."""
    with pytest.raises(UnitError, match=r'^"12" has no unit; .*$'):
        parse("12", kind)


@pytest.mark.parametrize("kind", sorted(DIMENSIONLESS))
def test_a_bare_number_is_complete_where_no_unit_exists(kind: Kind) -> None:
    """Shares, ratios and counts are numbers by themselves."""
    assert parse("1", kind) == 1.0


@pytest.mark.parametrize(
    ("text", "value", "kind"),
    [
        ("1100 cfm", 1100 * 0.3048**3 / 60, Kind.FLOW),
        ("R-38", 38 * 0.1761101838, Kind.THERMAL_RESISTANCE),
        ("12 in", 0.3048, Kind.LENGTH),
        ("68 °F", 293.15, Kind.TEMPERATURE),
        ("15 %", 0.15, Kind.RATIO),
        ("0.35", 0.35, Kind.RATIO),
    ],
)
def test_a_quantity_of_any_kind_says_what_it_measures(text: str, value: float, kind: Kind) -> None:
    """Without a kind asked for, the unit decides."""
    assert parse_any(text) == (pytest.approx(value, rel=1e-8), kind)


def test_a_text_without_quantity_is_of_no_kind() -> None:
    """Plain words measure nothing."""
    with pytest.raises(UnitError, match=r'^"attic-floor" is not a quantity; write .* "2,450 cfm"$'):
        parse_any("attic-floor")


def test_each_dimension_is_tried_once() -> None:
    """The kinds that `parse_any` tries cover every unit there is."""
    covered = {id(UNITS[kind]) for kind in PRIMARY if UNITS[kind]}
    pure = {id(UNITS[Kind.FRACTION]), id(UNITS[Kind.TEMPERATURE_DIFFERENCE])}
    assert {id(units) for units in UNITS.values() if units} - covered == pure


@given(st.sampled_from([kind for kind in Kind if UNITS[kind]]), st.data())
def test_every_spelling_of_a_unit_means_the_same(kind: Kind, data: st.DataObject) -> None:
    """A unit's own name and all its other spellings give one value."""
    unit = data.draw(st.sampled_from(UNITS[kind]))
    number = data.draw(st.integers(1, 9))
    values = {parse(f"{number} {name}", kind) for name in (unit.name, *unit.spellings)}
    assert values == {unit.to_core(number)}


def is_read_or_refused(text: str, kind: Kind) -> bool:
    """Return whether a text gives a finite value, or an error that quotes it with a remedy."""
    try:
        return math.isfinite(parse(text, kind))
    except UnitError as error:
        return text in str(error) and bool(error.remedy)


@given(st.sampled_from(sorted(Kind)), st.text(max_size=20))
def test_any_text_is_read_or_refused(kind: Kind, text: str) -> None:
    """No text whatever causes anything but a finite value or a clear refusal."""
    assert is_read_or_refused(text, kind)


@given(
    st.sampled_from(sorted(Kind)),
    st.from_regex(r"\A-?\$?[0-9]{1,4}[ ,.'/-]?[0-9]{0,3}( ?[A-Za-z%°$/'\"²]{0,6}){0,2}\Z"),
)
def test_anything_like_a_quantity_is_read_or_refused(kind: Kind, text: str) -> None:
    """Texts that resemble quantities never break the reader."""
    assert is_read_or_refused(text, kind)
