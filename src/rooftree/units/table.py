"""The named units: each with its factor to the unit of the core, and where that is from.

Sources
-------
[SP811] NIST Special Publication 811, "Guide for the Use of the International System of
        Units", 2008, appendix B.8; recalled, each factor recomputed from the definitions
        below and held against an independent unit library in the tests.

The definitions that make most factors exact: inch = 0.0254 m; pound = 0.45359237 kg;
standard gravity = 9.80665 m/s²; British thermal unit (International Table) =
1055.05585262 J; US gallon = 231 in³; degree Fahrenheit = 5/9 K.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Mapping

EXACT = "exact by definition"
SP811 = "NIST SP 811 (2008), appendix B.8, recalled"

_INCH, _FOOT = 0.0254, 0.3048
_POUND, _GRAVITY = 0.45359237, 9.80665
_BTU = 1055.05585262
_RANKINE = 5.0 / 9.0
_CFM = _FOOT**3 / 60.0
_HOUR, _DAY, _YEAR = 3600.0, 86400.0, 365.0 * 86400.0
_KWH, _THERM, _MMBTU = 3.6e6, 1e5 * _BTU, 1e6 * _BTU
_R = _FOOT**2 * _RANKINE * _HOUR / _BTU
_GALLON = 231.0 * _INCH**3
_PINT = 1000.0 * _GALLON / 8.0
_PINT_SOURCE = "US pint, exact, of water at 1000 kg/m³"
_YEAR_SOURCE = "year of 365 days, the length of a year of weather"


@dataclass(frozen=True, slots=True)
class Unit:
    """One named unit.

    Attributes
    ----------
    name : str
        As it is shown after the number.
    factor : float
        Size of the unit in the unit of the core.
    source : str
        Where the factor comes from.
    spellings : tuple of str
        Other ways in which people write it.
    plural : str
        As it is shown after a number other than 1; `name` where it is empty.
    zero : float
        Added to the number before the factor applies (temperatures).
    is_inverse : bool
        Whether the quantity is the factor divided by the number.
    is_prefix : bool
        Whether the name stands before the number, as in ``R-38``.
    case_matters : bool
        Whether another case of the first letter is another unit (MJ, mJ).
    """

    name: str
    factor: float
    source: str = EXACT
    spellings: tuple[str, ...] = ()
    plural: str = ""
    zero: float = 0.0
    is_inverse: bool = False
    is_prefix: bool = False
    case_matters: bool = False

    def to_core(self, number: float) -> float:
        """Return a number of this unit in the unit of the core."""
        return self.factor / number if self.is_inverse else (number + self.zero) * self.factor

    def from_core(self, value: float) -> float:
        """Return a value of the core as a number of this unit."""
        return self.factor / value if self.is_inverse else value / self.factor - self.zero


_FLOW = (
    Unit("cfm", _CFM, spellings=("ft3/min", "cu ft/min", "cfm50", "cfm25", "cfm75")),
    Unit("L/s", 1e-3, spellings=("lps", "liter/s", "litre/s")),
    Unit("m³/h", 1 / _HOUR, spellings=("cmh", "m3/hr", "m3h")),
    Unit("m³/s", 1.0),
)
_PRESSURE = (
    Unit("Pa", 1.0, spellings=("pascal", "pascals")),
    Unit("kPa", 1e3),
    Unit("hPa", 1e2, spellings=("mbar", "mb")),
    Unit(
        "in. w.c.",
        _INCH * 1000.0 * _GRAVITY,
        "conventional inch of water, 1000 kg/m³, exact; at 60 °F it would be 0.1 % less",
        ("in wc", "inwg", "iwc", "iwg", "inH2O", "in of water", '" wc', '" wg'),
    ),
    Unit("inHg", 3386.389, SP811 + ": conventional inch of mercury", ("in. Hg", "in of mercury")),
    Unit("psi", _POUND * _GRAVITY / _INCH**2, spellings=("lb/in2", "lbf/in2")),
    Unit("atm", 101325.0),
)
_LENGTH = (
    Unit("ft", _FOOT, spellings=("foot", "feet", "'")),
    Unit("in", _INCH, spellings=("inch", "inches", '"')),
    Unit("m", 1.0, spellings=("meter", "meters", "metre", "metres")),
    Unit("mm", 1e-3),
    Unit("cm", 1e-2),
    Unit("km", 1e3),
    Unit("yd", 3 * _FOOT, spellings=("yard", "yards")),
)
_AREA = (
    Unit("ft²", _FOOT**2, spellings=("square feet", "square foot", "sf")),
    Unit("m²", 1.0),
    Unit("in²", _INCH**2, spellings=("square inches", "square inch")),
    Unit("cm²", 1e-4),
)
_VOLUME = (
    Unit("ft³", _FOOT**3, spellings=("cubic feet", "cubic foot", "cf")),
    Unit("m³", 1.0),
    Unit("L", 1e-3, spellings=("liter", "liters", "litre", "litres")),
    Unit("gal", _GALLON, spellings=("gallon", "gallons")),
    Unit("yd³", (3 * _FOOT) ** 3, spellings=("cubic yards", "cubic yard")),
)
_TEMPERATURE = (
    Unit("°F", _RANKINE, zero=459.67, spellings=("fahrenheit",)),
    Unit("°C", 1.0, zero=273.15, spellings=("celsius",)),
    Unit("K", 1.0, spellings=("kelvin",)),
)
_DIFFERENCE = (
    Unit("°F", _RANKINE, spellings=("Δ°F", "F difference")),
    Unit("°C", 1.0, spellings=("Δ°C",)),
    Unit("K", 1.0, spellings=("kelvin", "ΔK")),
)
_RESISTANCE = (
    Unit("R", _R, is_prefix=True),
    Unit("h·ft²·°F/Btu", _R),
    Unit("m²·K/W", 1.0, spellings=("m2·C/W",)),
    Unit("RSI", 1.0, is_prefix=True),
)
_U_VALUE = (
    Unit("Btu/(h·ft²·°F)", 1 / _R),
    Unit("W/(m²·K)", 1.0, spellings=("W/(m2·C)",)),
    Unit("U", 1 / _R, is_prefix=True),
)
_CONDUCTIVITY = (
    Unit("R per inch", _INCH / _R, is_inverse=True, spellings=("R/in", "h·ft²·°F/(Btu·in)")),
    Unit("Btu·in/(h·ft²·°F)", _INCH / _R),
    Unit("Btu/(h·ft·°F)", _FOOT / _R),
    Unit("W/(m·K)", 1.0, spellings=("W/(m·C)",)),
)
_POWER = (
    Unit("Btu/h", _BTU / _HOUR, spellings=("btuh",)),
    Unit("kBtu/h", 1e3 * _BTU / _HOUR, spellings=("MBH", "kbtuh")),
    Unit("W", 1.0, spellings=("watt", "watts")),
    Unit("kW", 1e3),
    Unit("ton", 12e3 * _BTU / _HOUR, plural="tons"),
    Unit("hp", 550 * _FOOT * _POUND * _GRAVITY),
    Unit("kWh/year", _KWH / _YEAR, _YEAR_SOURCE, ("kWh/yr", "kWh/a")),
    Unit("kWh/day", _KWH / _DAY, spellings=("kWh/d",)),
    Unit("therm/year", _THERM / _YEAR, _YEAR_SOURCE, ("therms/year", "therm/yr")),
)
_ENERGY = (
    Unit("kWh", _KWH),
    Unit(
        "therm",
        _THERM,
        "100,000 Btu (International Table), exact; the legal US therm is 0.02 % less",
        plural="therms",
    ),
    Unit("MMBtu", _MMBTU, spellings=("million btu",)),
    Unit("kBtu", 1e3 * _BTU),
    Unit("Btu", _BTU),
    Unit("MWh", 1e3 * _KWH, case_matters=True),
    Unit("Wh", _HOUR),
    Unit("GJ", 1e9),
    Unit("MJ", 1e6, case_matters=True),
    Unit("kJ", 1e3),
    Unit("J", 1.0),
)
_AIR_CHANGES = (
    Unit("ACH", 1.0, spellings=("ach50", "air changes per hour", "air changes/h")),
    Unit("h⁻¹", 1.0, spellings=("1/h", "/h")),
)
_PERMEABILITY = (
    Unit("cfm/ft²", _CFM / _FOOT**2, spellings=("cfm50/ft2", "cfm/sf")),
    Unit("m³/(h·m²)", 1 / _HOUR),
    Unit("L/(s·m²)", 1e-3),
    Unit("m³/(s·m²)", 1.0),
)
_COEFFICIENT = (
    Unit("cfm/Paⁿ", _CFM),
    Unit("L/(s·Paⁿ)", 1e-3),
    Unit("m³/(h·Paⁿ)", 1 / _HOUR),
    Unit("m³/(s·Paⁿ)", 1.0),
)
_SPEED = (
    Unit("mph", 5280 * _FOOT / _HOUR, spellings=("mi/h", "miles per hour")),
    Unit("m/s", 1.0),
    Unit("km/h", 1e3 / _HOUR, spellings=("kph",)),
    Unit("fpm", _FOOT / 60.0, spellings=("ft/min",)),
    Unit("knot", 1852.0 / _HOUR, plural="knots", spellings=("kn", "kt")),
)
_DENSITY = (
    Unit("lb/ft³", _POUND / _FOOT**3, spellings=("pcf", "lbs/ft3")),
    Unit("kg/m³", 1.0),
)
_SPECIFIC_HEAT = (
    Unit("Btu/(lb·°F)", _BTU / (_POUND * _RANKINE)),
    Unit("kJ/(kg·K)", 1e3),
    Unit("J/(kg·K)", 1.0),
)
_HEAT_CAPACITY = (
    Unit("Btu/°F", _BTU / _RANKINE),
    Unit("kJ/K", 1e3),
    Unit("MJ/K", 1e6, case_matters=True),
    Unit("Wh/K", _HOUR),
    Unit("J/K", 1.0),
)
_MASS = (
    Unit("lb", _POUND, spellings=("lbs", "pound", "pounds")),
    Unit("kg", 1.0),
    Unit("g", 1e-3),
    Unit("t", 1e3, spellings=("tonne", "tonnes")),
)
_VAPOR_FLOW = (
    Unit("pt/day", _PINT / _DAY, _PINT_SOURCE, ("pint/day", "pints/day", "pt/d")),
    Unit("kg/day", 1 / _DAY, spellings=("kg/d",)),
    Unit("L/day", 1 / _DAY, "water at 1000 kg/m³", ("L/d", "liters/day", "litres/day")),
    Unit("lb/h", _POUND / _HOUR),
    Unit("kg/h", 1 / _HOUR),
    Unit("g/h", 1e-3 / _HOUR),
    Unit("kg/s", 1.0),
)
_DRYING = (
    Unit("pt/kWh", _PINT / _KWH, _PINT_SOURCE, ("pint/kWh", "pints/kWh")),
    Unit("L/kWh", 1 / _KWH, "water at 1000 kg/m³"),
    Unit("kg/kWh", 1 / _KWH),
)
_HUMIDITY_RATIO = (
    Unit("gr/lb", 1 / 7000.0, spellings=("grains/lb",)),
    Unit("g/kg", 1e-3),
    Unit("lb/lb", 1.0),
    Unit("kg/kg", 1.0),
)
_DURATION = (
    Unit("s", 1.0, spellings=("sec", "second", "seconds")),
    Unit("min", 60.0, spellings=("minute", "minutes")),
    Unit("h", _HOUR),
    Unit("day", _DAY, plural="days", spellings=("d",)),
    Unit("month", _YEAR / 12, _YEAR_SOURCE + ", a twelfth", plural="months"),
    Unit("year", _YEAR, _YEAR_SOURCE, plural="years", spellings=("yr", "yrs", "a")),
)
_ANGLE = (Unit("°", 1.0, spellings=("deg", "degree", "degrees")),)
_PURE = (Unit("%", 1e-2, spellings=("percent", "pct")),)
_RATIO = (*_PURE, Unit("Btu/(W·h)", _BTU / _HOUR, spellings=("EER", "btu/Wh")))
_CONCENTRATION = (Unit("ppm", 1.0),)
_MONEY = (Unit("$", 1.0, "by definition", ("USD", "dollar", "dollars")),)
_MONEY_RATE = (
    Unit("$/year", 1.0, "by definition", ("$/yr", "$/a")),
    Unit("$/month", 12.0, "twelve months in a year", ("$/mo",)),
    Unit("$/day", 365.0, _YEAR_SOURCE),
)
_LABOR_RATE = (
    Unit("$/h", 1 / _HOUR, spellings=("$/hr", "$/hour")),
    Unit("$/min", 1 / 60.0),
)
_PRICE = (
    Unit("$/kWh", 1 / _KWH),
    Unit("$/therm", 1 / _THERM),
    Unit("$/MMBtu", 1 / _MMBTU),
    Unit("$/GJ", 1e-9),
)
_EMISSION = (
    Unit("lb/kWh", _POUND / _KWH),
    Unit("kg/kWh", 1 / _KWH),
    Unit("g/kWh", 1e-3 / _KWH),
    Unit("lb/therm", _POUND / _THERM),
    Unit("kg/therm", 1 / _THERM),
    Unit("lb/MMBtu", _POUND / _MMBTU),
    Unit("kg/MMBtu", 1 / _MMBTU),
    Unit("lb/MWh", 1e-3 * _POUND / _KWH),
    Unit("kg/GJ", 1e-9),
)

UNITS: Mapping[Kind, tuple[Unit, ...]] = {
    Kind.FLOW: _FLOW,
    Kind.PRESSURE: _PRESSURE,
    Kind.STATIC_PRESSURE: _PRESSURE,
    Kind.LENGTH: _LENGTH,
    Kind.THICKNESS: _LENGTH,
    Kind.AREA: _AREA,
    Kind.LEAKAGE_AREA: _AREA,
    Kind.VOLUME: _VOLUME,
    Kind.TEMPERATURE: _TEMPERATURE,
    Kind.TEMPERATURE_DIFFERENCE: _DIFFERENCE,
    Kind.THERMAL_RESISTANCE: _RESISTANCE,
    Kind.U_VALUE: _U_VALUE,
    Kind.CONDUCTIVITY: _CONDUCTIVITY,
    Kind.POWER: _POWER,
    Kind.ELECTRIC_POWER: _POWER,
    Kind.COOLING_CAPACITY: _POWER,
    Kind.ENERGY: _ENERGY,
    Kind.ELECTRICITY: _ENERGY,
    Kind.FUEL: _ENERGY,
    Kind.AIR_CHANGES: _AIR_CHANGES,
    Kind.PERMEABILITY: _PERMEABILITY,
    Kind.LEAKAGE_COEFFICIENT: _COEFFICIENT,
    Kind.SPEED: _SPEED,
    Kind.DUCT_SPEED: _SPEED,
    Kind.DENSITY: _DENSITY,
    Kind.SPECIFIC_HEAT: _SPECIFIC_HEAT,
    Kind.HEAT_CAPACITY: _HEAT_CAPACITY,
    Kind.MASS: _MASS,
    Kind.VAPOR_FLOW: _VAPOR_FLOW,
    Kind.DRYING_EFFICIENCY: _DRYING,
    Kind.HUMIDITY_RATIO: _HUMIDITY_RATIO,
    Kind.DURATION: _DURATION,
    Kind.ANGLE: _ANGLE,
    Kind.AZIMUTH: _ANGLE,
    Kind.FRACTION: _PURE,
    Kind.RATIO: _RATIO,
    Kind.COUNT: (),
    Kind.CONCENTRATION: _CONCENTRATION,
    Kind.MONEY: _MONEY,
    Kind.MONEY_RATE: _MONEY_RATE,
    Kind.LABOR_RATE: _LABOR_RATE,
    Kind.ELECTRICITY_PRICE: _PRICE,
    Kind.FUEL_PRICE: _PRICE,
    Kind.EMISSION: _EMISSION,
}
"""Every unit that each kind can be written in."""

HINTS: Mapping[str, str] = {
    "mbtu": "MBtu is a thousand Btu to some and a million to others: write kBtu or MMBtu",
    "mbtu/h": "MBtu/h is a thousand Btu/h to some and a million to others: write kBtu/h",
    "ccf": "ccf is a volume of gas: write the therms that stand beside it on the bill",
    "mcf": "mcf is a volume of gas: write the therms that stand beside it on the bill",
    "gal": "a gallon is a volume of fuel: write its heat content, such as 91.5 kBtu a gallon of "
    "propane",
}
"""Units that would be a trap, by folded spelling, with what to write instead."""
