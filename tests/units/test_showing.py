"""Check that quantities are shown so that people can read them and parse() can too."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rooftree.errors import UnitError
from rooftree.units import (
    UNITS,
    DisplaySystem,
    Kind,
    parse,
    quantity,
    quantity_in,
    show,
    show_range,
    shown_unit,
)
from rooftree.units.showing import shown_way
from rooftree.units.spelling import find_unit

IP, SI = DisplaySystem.IP, DisplaySystem.SI
systems = st.sampled_from(DisplaySystem)
kinds = st.sampled_from([kind for kind in Kind if kind is not Kind.COUNT])


@pytest.mark.parametrize(
    ("value", "kind", "ip", "si"),
    [
        (1.1563, Kind.FLOW, "2,450 cfm", "1,160 L/s"),
        (0.0236, Kind.FLOW, "50 cfm", "23.6 L/s"),
        (-1.4, Kind.PRESSURE, "\u22121.4 Pa", "\u22121.4 Pa"),
        (50.0, Kind.PRESSURE, "50 Pa", "50 Pa"),
        (0.0, Kind.PRESSURE, "0 Pa", "0 Pa"),
        (-0.01, Kind.PRESSURE, "0 Pa", "0 Pa"),
        (101325.0, Kind.PRESSURE, "29.92 inHg", "101.3 kPa"),
        (124.5, Kind.STATIC_PRESSURE, "0.5 in. w.c.", "124 Pa"),
        (0.0889, Kind.THICKNESS, "3.5 in", "89 mm"),
        (2.4384, Kind.LENGTH, "8 ft", "2.44 m"),
        (152.361, Kind.AREA, "1,640 ft²", "152.4 m²"),
        (371.5, Kind.VOLUME, "13,120 ft³", "371.5 m³"),
        (0.0871, Kind.LEAKAGE_AREA, "135 in²", "871 cm²"),
        (295.3722, Kind.TEMPERATURE, "72 °F", "22.2 °C"),
        (6.69219, Kind.THERMAL_RESISTANCE, "R-38", "6.69 m²·K/W"),
        (1.7, Kind.U_VALUE, "0.3 Btu/(h·ft²·°F)", "1.7 W/(m²·K)"),
        (3.048, Kind.DUCT_SPEED, "600 fpm", "3 m/s"),
        (10550.56, Kind.COOLING_CAPACITY, "3 tons", "10.6 kW"),
        (3516.85, Kind.COOLING_CAPACITY, "1 ton", "3.5 kW"),
        (23445.7, Kind.POWER, "80,000 Btu/h", "23.4 kW"),
        (3.654e9, Kind.ELECTRICITY, "1,015 kWh", "1,015 kWh"),
        (1.26607e10, Kind.FUEL, "120 therms", "3,517 kWh"),
        (7.23, Kind.AIR_CHANGES, "7.2 ACH", "7.2 h⁻¹"),
        (0.347, Kind.AIR_CHANGES, "0.35 ACH", "0.35 h⁻¹"),
        (0.153, Kind.FRACTION, "15 %", "15 %"),
        (0.0153, Kind.FRACTION, "1.5 %", "1.5 %"),
        (3.18, Kind.RATIO, "3.18", "3.18"),
        (4.0, Kind.COUNT, "4", "4"),
        (1234.0, Kind.MONEY, "$1,234", "$1,234"),
        (-7.5, Kind.MONEY, "\u2212$7.50", "\u2212$7.50"),
        (144.0, Kind.MONEY_RATE, "$144/year", "$144/year"),
        (65.0 / 3600.0, Kind.LABOR_RATE, "$65/h", "$65/h"),
        (0.13 / 3.6e6, Kind.ELECTRICITY_PRICE, "$0.13/kWh", "$0.13/kWh"),
        (1.2 / 105505585.262, Kind.FUEL_PRICE, "$1.20/therm", "$0.041/kWh"),
        (225.0, Kind.AZIMUTH, "225°", "225°"),
        (300.0, Kind.DURATION, "5 min", "5 min"),
        (20 * 365 * 86400.0, Kind.DURATION, "20 years", "20 years"),
    ],
)
def test_a_quantity_is_shown_as_a_homeowner_reads_it(
    value: float, kind: Kind, ip: str, si: str
) -> None:
    """Few digits, thousands separated, the unit where the trade puts it."""
    assert (show(value, kind, IP), show(value, kind, SI)) == (ip, si)


def test_more_digits_can_be_asked_for() -> None:
    """A table that needs them shows more significant digits."""
    assert show(1.15634, Kind.FLOW, IP, digits=4) == "2,450 cfm"
    assert show(1.15634, Kind.FLOW, IP, digits=6) == "2,450.15 cfm"
    assert show(1.15634, Kind.FLOW, SI, digits=2) == "1,200 L/s"


@pytest.mark.parametrize(
    ("low", "high", "kind", "text"),
    [
        (0.9, 1.1563, Kind.FLOW, "1,910 to 2,450 cfm"),
        (1200.0, 1900.0, Kind.MONEY, "$1,200 to $1,900"),
        (144.0, 200.0, Kind.MONEY_RATE, "$144 to $200/year"),
        (5.284, 6.692, Kind.THERMAL_RESISTANCE, "R-30 to R-38"),
        (3.0, 3.5, Kind.RATIO, "3 to 3.5"),
        (3.0, 3.0, Kind.RATIO, "3"),
        (50.0, 50.01, Kind.PRESSURE, "50 Pa"),
    ],
)
def test_a_range_names_its_unit_once(low: float, high: float, kind: Kind, text: str) -> None:
    """Both ends stand in one unit; ends that look alike become one figure."""
    assert show_range(low, high, kind, IP) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_cannot_be_shown(value: float) -> None:
    """NaN never reaches a reader."""
    with pytest.raises(UnitError, match=r"^flow is -?(nan|inf); only finite .* be shown$"):
        show(value, Kind.FLOW, IP)
    with pytest.raises(UnitError, match=r"^flow is -?(nan|inf); only finite .* be written$"):
        quantity(value, Kind.FLOW, "cfm")


def sizes(kind: Kind) -> st.SearchStrategy[float]:
    """Return values of the size that a house has of this kind."""
    scale = abs(shown_unit(kind, IP).factor)
    if kind is Kind.TEMPERATURE:
        return st.floats(200.0, 1000.0)
    return st.floats(0.02, 5e4).map(lambda number: number * scale)


@given(kinds, systems, st.data())
def test_what_is_shown_reads_back_within_its_digits(
    kind: Kind, system: DisplaySystem, data: st.DataObject
) -> None:
    """Reading what was shown gives the value back within half of its last place."""
    value = data.draw(sizes(kind))
    way = shown_way(value, kind, system)
    factor = getattr(find_unit(way.unit, kind), "factor", 1.0)
    size = math.floor(math.log10(value / factor)) if kind is not Kind.TEMPERATURE else 3
    last_place = max(10.0**-way.decimals, 10.0 ** (size + 1 - way.digits))
    read = parse(show(value, kind, system), kind)
    assert abs(read - value) <= 0.5000001 * last_place * factor + 1e-12 * abs(value)


@given(kinds, systems, st.data())
def test_larger_is_never_shown_smaller(
    kind: Kind, system: DisplaySystem, data: st.DataObject
) -> None:
    """What is shown keeps the order of the values."""
    low, high = sorted((data.draw(sizes(kind)), data.draw(sizes(kind))))
    first, second = (parse(show(value, kind, system), kind) for value in (low, high))
    assert first <= second * (1 + 1e-12)


@given(st.sampled_from([kind for kind in Kind if UNITS[kind]]), st.data())
def test_what_is_written_reads_back_in_every_unit(kind: Kind, data: st.DataObject) -> None:
    """A job file keeps a quantity to 5 parts in a million, whatever unit it is written in."""
    value = data.draw(sizes(kind))
    unit = data.draw(st.sampled_from(UNITS[kind]))
    assume(kind is not Kind.AZIMUTH or value < 360.0)
    text = quantity(value, kind, unit.spellings[0] if unit.spellings else unit.name)
    offset = abs(unit.zero * unit.factor)
    assert abs(parse(text, kind) - value) <= 5e-6 * (abs(value) + offset)


@given(kinds, systems, st.data())
def test_what_is_written_in_the_usual_unit_reads_back(
    kind: Kind, system: DisplaySystem, data: st.DataObject
) -> None:
    """Writing in the usual unit of either system loses nothing that matters."""
    value = data.draw(sizes(kind))
    assert parse(quantity_in(value, kind, system), kind) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("value", "kind", "unit", "text"),
    [
        (2.4384, Kind.LENGTH, "ft", "8 ft"),
        (-1.4, Kind.PRESSURE, "Pa", "-1.4 Pa"),
        (6.692187, Kind.THERMAL_RESISTANCE, "R", "R-38"),
        (0.0254 / 0.1761101838 / 3.7, Kind.CONDUCTIVITY, "R/in", "R-3.7/in"),
        (1200.0, Kind.MONEY, "$", "$1,200"),
        (0.0, Kind.FLOW, "cfm", "0 cfm"),
        (4.0, Kind.COUNT, "", "4"),
        (0.15, Kind.FRACTION, "%", "15 %"),
        (1e-9, Kind.FLOW, "m3/s", "1e-09 m³/s"),
    ],
)
def test_a_quantity_is_written_plainly(value: float, kind: Kind, unit: str, text: str) -> None:
    """What a file keeps uses a plain hyphen and no needless digits."""
    assert quantity(value, kind, unit) == text


def test_a_unit_that_does_not_fit_is_refused() -> None:
    """Nobody can write a flow in square feet."""
    with pytest.raises(UnitError, match=r'^"ft2" is not a unit of flow; its units are cfm, .*$'):
        quantity(1.0, Kind.FLOW, "ft2")
    with pytest.raises(UnitError, match=r"^conductivity is 0; it cannot be written in R/in$"):
        quantity(0.0, Kind.CONDUCTIVITY, "R/in")


def test_an_axis_gets_one_unit() -> None:
    """A chart labels its axis and converts its values with one unit."""
    unit = shown_unit(Kind.TEMPERATURE, IP)
    assert (unit.name, unit.from_core(273.15)) == ("°F", pytest.approx(32.0))
    assert shown_unit(Kind.RATIO, IP).name == ""
    assert shown_unit(Kind.ENERGY, IP, size=1e10).name == "MMBtu"
