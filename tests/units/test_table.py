"""Hold the factors of the units against an independent library and against definitions."""

from __future__ import annotations

import subprocess
import sys

import pint
import pytest

from rooftree.units import UNITS, Kind, Unit

ORACLE = pint.UnitRegistry()
ORACLE.define("dollar = [money]")
IN_ORACLE = {
    Kind.FLOW: ("m^3/s", {"cfm": "ft^3/min", "L/s": "L/s", "m³/h": "m^3/hour"}),
    Kind.PRESSURE: (
        "Pa",
        {"kPa": "kPa", "hPa": "hPa", "inHg": "inHg", "psi": "psi", "atm": "atm",
         "in. w.c.": "inch * 1000 kg/m^3 * g_0"},
    ),
    Kind.LENGTH: ("m", {"ft": "foot", "in": "inch", "mm": "mm", "cm": "cm", "yd": "yard"}),
    Kind.AREA: ("m^2", {"ft²": "foot^2", "in²": "inch^2", "cm²": "cm^2"}),
    Kind.VOLUME: ("m^3", {"ft³": "foot^3", "L": "L", "gal": "gallon", "yd³": "yard^3"}),
    Kind.TEMPERATURE_DIFFERENCE: ("K", {"°F": "delta_degF", "°C": "delta_degC"}),
    Kind.THERMAL_RESISTANCE: ("m^2*K/W", {"h·ft²·°F/Btu": "hour*ft^2*delta_degF/Btu"}),
    Kind.U_VALUE: ("W/m^2/K", {"Btu/(h·ft²·°F)": "Btu/hour/ft^2/delta_degF"}),
    Kind.CONDUCTIVITY: (
        "W/m/K",
        {"Btu·in/(h·ft²·°F)": "Btu*inch/hour/ft^2/delta_degF",
         "Btu/(h·ft·°F)": "Btu/hour/ft/delta_degF"},
    ),
    Kind.POWER: (
        "W",
        {"Btu/h": "Btu/hour", "kBtu/h": "1000 Btu/hour", "ton": "12000 Btu/hour",
         "hp": "horsepower", "kWh/day": "kWh/day"},
    ),
    Kind.ENERGY: (
        "J",
        {"kWh": "kWh", "therm": "1e5 Btu", "MMBtu": "1e6 Btu", "Btu": "Btu", "GJ": "GJ",
         "MJ": "MJ", "Wh": "Wh"},
    ),
    Kind.SPEED: (
        "m/s", {"mph": "mile/hour", "km/h": "km/hour", "fpm": "ft/min", "knot": "knot"}
    ),
    Kind.DENSITY: ("kg/m^3", {"lb/ft³": "lb/ft^3"}),
    Kind.SPECIFIC_HEAT: ("J/kg/K", {"Btu/(lb·°F)": "Btu/lb/delta_degF"}),
    Kind.HEAT_CAPACITY: ("J/K", {"Btu/°F": "Btu/delta_degF"}),
    Kind.MASS: ("kg", {"lb": "lb", "g": "g", "t": "tonne"}),
    Kind.VAPOR_FLOW: ("kg/s", {"pt/day": "pint/day * 1000 kg/m^3", "lb/h": "lb/hour"}),
    Kind.DRYING_EFFICIENCY: ("kg/J", {"pt/kWh": "pint/kWh * 1000 kg/m^3"}),
    Kind.PERMEABILITY: ("m/s", {"cfm/ft²": "ft/min"}),
    Kind.FUEL_PRICE: ("dollar/J", {"$/kWh": "dollar/kWh", "$/GJ": "dollar/GJ"}),
    Kind.EMISSION: (
        "kg/J",
        {"lb/kWh": "lb/kWh", "g/kWh": "g/kWh", "kg/MMBtu": "kg/(1e6 Btu)", "lb/MWh": "lb/MWh"},
    ),
}  # fmt: skip
ROWS = [
    (kind, name, theirs, core)
    for kind, (core, names) in IN_ORACLE.items()
    for name, theirs in names.items()
]


def named(name: str, kind: Kind) -> Unit:
    """Return the unit with exactly this name."""
    return next(unit for unit in UNITS[kind] if unit.name == name)


@pytest.mark.parametrize(("kind", "name", "theirs", "core"), ROWS)
def test_a_factor_agrees_with_an_independent_library(
    kind: Kind, name: str, theirs: str, core: str
) -> None:
    """Agreement to 1 part in a million: the library rounds the Btu in its seventh digit."""
    expected = ORACLE.Quantity(1.0, "dimensionless") * ORACLE.parse_expression(theirs)
    assert named(name, kind).factor == pytest.approx(expected.to(core).magnitude, rel=1e-6)


@pytest.mark.published(
    source="NIST Special Publication 811 (2008)",
    where="appendix B.8, factors for units listed alphabetically",
    read="memory",
)
@pytest.mark.parametrize(
    ("kind", "name", "factor"),
    [
        (Kind.FLOW, "cfm", 4.719474e-4),
        (Kind.PRESSURE, "in. w.c.", 2.490889e2),
        (Kind.PRESSURE, "inHg", 3.386389e3),
        (Kind.PRESSURE, "psi", 6.894757e3),
        (Kind.THERMAL_RESISTANCE, "h·ft²·°F/Btu", 1.761102e-1),
        (Kind.U_VALUE, "Btu/(h·ft²·°F)", 5.678263),
        (Kind.CONDUCTIVITY, "Btu·in/(h·ft²·°F)", 1.442279e-1),
        (Kind.POWER, "Btu/h", 2.930711e-1),
        (Kind.POWER, "ton", 3.516853e3),
        (Kind.ENERGY, "Btu", 1.055056e3),
        (Kind.SPECIFIC_HEAT, "Btu/(lb·°F)", 4.1868e3),
        (Kind.DENSITY, "lb/ft³", 1.601846e1),
        (Kind.VOLUME, "gal", 3.785412e-3),
    ],
)
def test_a_factor_agrees_with_the_guide(kind: Kind, name: str, factor: float) -> None:
    """The guide gives seven digits."""
    assert named(name, kind).factor == pytest.approx(factor, rel=5e-7)


@pytest.mark.parametrize("kind", [kind for kind in Kind if UNITS[kind]])
def test_every_unit_says_where_its_factor_is_from(kind: Kind) -> None:
    """No factor stands without its source, and every kind has a unit of the core's size."""
    assert all(unit.source and unit.factor > 0.0 for unit in UNITS[kind])


def test_units_are_cheap_to_import() -> None:
    """Neither the unit library of the tests nor the file models come along."""
    code = (
        "import sys, rooftree.units; "
        "print(sorted({'pint', 'pydantic', 'numpy', 'pandas'} & set(sys.modules)))"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"
