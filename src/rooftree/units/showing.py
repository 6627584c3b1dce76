"""Show quantities as a homeowner reads them, and write them as a job file keeps them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import UnitError
from rooftree.units.kinds import DisplaySystem, Kind
from rooftree.units.spelling import find_unit
from rooftree.units.table import UNITS, Unit

if TYPE_CHECKING:
    from collections.abc import Mapping

MINUS = "\u2212"
"""The sign shown before negative numbers; `parse` reads it like a hyphen."""


@dataclass(frozen=True, slots=True)
class Shown:
    """How a size of quantity is shown.

    Attributes
    ----------
    unit : str
        Name of the unit; empty for pure numbers.
    digits : int
        Significant digits at most.
    decimals : int
        Places after the point at most.
    start : float
        Smallest size, in this unit, from which this way is used.
    is_fixed : bool
        Whether all `decimals` are kept even where they are zeros.
    """

    unit: str
    digits: int
    decimals: int
    start: float = 0.0
    is_fixed: bool = False


def _both(*ways: Shown) -> tuple[tuple[Shown, ...], tuple[Shown, ...]]:
    return ways, ways


_SHOWN: Mapping[Kind, tuple[tuple[Shown, ...], tuple[Shown, ...]]] = {
    Kind.FLOW: ((Shown("cfm", 3, 0, 10), Shown("cfm", 2, 1)), (Shown("L/s", 3, 1),)),
    Kind.PRESSURE: (
        (Shown("inHg", 4, 2, 5), Shown("Pa", 3, 1)),
        (Shown("kPa", 4, 1, 5), Shown("Pa", 3, 1)),
    ),
    Kind.STATIC_PRESSURE: ((Shown("in. w.c.", 3, 2),), (Shown("Pa", 3, 0),)),
    Kind.LENGTH: (
        (Shown("ft", 3, 1, 2), Shown("in", 3, 2)),
        (Shown("m", 3, 2, 1), Shown("cm", 3, 1)),
    ),
    Kind.THICKNESS: ((Shown("in", 3, 2),), (Shown("mm", 3, 0, 10), Shown("mm", 2, 1))),
    Kind.AREA: (
        (Shown("ft²", 4, 0, 10), Shown("ft²", 2, 1)),
        (Shown("m²", 4, 1, 10), Shown("m²", 3, 2)),
    ),
    Kind.LEAKAGE_AREA: (
        (Shown("in²", 3, 0, 10), Shown("in²", 2, 1)),
        (Shown("cm²", 3, 0, 10), Shown("cm²", 2, 1)),
    ),
    Kind.VOLUME: ((Shown("ft³", 4, 0, 10), Shown("ft³", 2, 1)), (Shown("m³", 4, 1),)),
    Kind.TEMPERATURE: ((Shown("°F", 4, 0),), (Shown("°C", 4, 1),)),
    Kind.TEMPERATURE_DIFFERENCE: ((Shown("°F", 3, 1),), (Shown("°C", 3, 1),)),
    Kind.THERMAL_RESISTANCE: ((Shown("R", 3, 1),), (Shown("m²·K/W", 3, 2),)),
    Kind.U_VALUE: ((Shown("Btu/(h·ft²·°F)", 2, 3),), (Shown("W/(m²·K)", 3, 2),)),
    Kind.CONDUCTIVITY: ((Shown("Btu·in/(h·ft²·°F)", 3, 3),), (Shown("W/(m·K)", 3, 3),)),
    Kind.POWER: (
        (Shown("Btu/h", 3, 0),),
        (Shown("kW", 3, 1, 1), Shown("W", 3, 0)),
    ),
    Kind.ELECTRIC_POWER: _both(Shown("kW", 3, 1, 1), Shown("W", 3, 0)),
    Kind.COOLING_CAPACITY: ((Shown("ton", 2, 1),), (Shown("kW", 3, 1),)),
    Kind.ENERGY: (
        (Shown("MMBtu", 3, 1, 1), Shown("kBtu", 3, 1)),
        (Shown("MWh", 3, 1, 10), Shown("kWh", 3, 1)),
    ),
    Kind.ELECTRICITY: _both(Shown("kWh", 4, 0, 10), Shown("kWh", 2, 2)),
    Kind.FUEL: (
        (Shown("therm", 3, 0, 10), Shown("therm", 2, 1)),
        (Shown("kWh", 4, 0, 10), Shown("kWh", 2, 2)),
    ),
    Kind.AIR_CHANGES: (
        (Shown("ACH", 3, 1, 1), Shown("ACH", 2, 2)),
        (Shown("h⁻¹", 3, 1, 1), Shown("h⁻¹", 2, 2)),
    ),
    Kind.PERMEABILITY: ((Shown("cfm/ft²", 3, 2),), (Shown("m³/(h·m²)", 3, 1),)),
    Kind.LEAKAGE_COEFFICIENT: ((Shown("cfm/Paⁿ", 3, 1),), (Shown("L/(s·Paⁿ)", 3, 2),)),
    Kind.SPEED: ((Shown("mph", 3, 0, 10), Shown("mph", 2, 1)), (Shown("m/s", 3, 1),)),
    Kind.DUCT_SPEED: ((Shown("fpm", 3, 0),), (Shown("m/s", 3, 1),)),
    Kind.DENSITY: ((Shown("lb/ft³", 3, 4),), (Shown("kg/m³", 4, 3),)),
    Kind.SPECIFIC_HEAT: ((Shown("Btu/(lb·°F)", 3, 3),), (Shown("J/(kg·K)", 3, 0),)),
    Kind.HEAT_CAPACITY: ((Shown("Btu/°F", 3, 0),), (Shown("MJ/K", 3, 2, 1), Shown("kJ/K", 3, 1))),
    Kind.MASS: ((Shown("lb", 3, 1),), (Shown("kg", 3, 1),)),
    Kind.VAPOR_FLOW: ((Shown("pt/day", 2, 1),), (Shown("kg/day", 2, 1),)),
    Kind.DRYING_EFFICIENCY: ((Shown("pt/kWh", 2, 1),), (Shown("L/kWh", 2, 2),)),
    Kind.HUMIDITY_RATIO: ((Shown("gr/lb", 3, 0),), (Shown("g/kg", 3, 1),)),
    Kind.DURATION: _both(
        Shown("year", 3, 1, 2),
        Shown("day", 3, 1, 2),
        Shown("h", 3, 1, 2),
        Shown("min", 3, 1, 2),
        Shown("s", 3, 1),
    ),
    Kind.ANGLE: _both(Shown("°", 5, 0)),
    Kind.AZIMUTH: _both(Shown("°", 5, 0)),
    Kind.FRACTION: _both(Shown("%", 3, 0, 10), Shown("%", 2, 1)),
    Kind.RATIO: _both(Shown("", 3, 2)),
    Kind.COUNT: _both(Shown("", 15, 0)),
    Kind.CONCENTRATION: _both(Shown("ppm", 4, 0, 10), Shown("ppm", 2, 1)),
    Kind.MONEY: _both(Shown("$", 15, 0, 10), Shown("$", 15, 2, is_fixed=True)),
    Kind.MONEY_RATE: _both(Shown("$/year", 15, 0, 10), Shown("$/year", 15, 2, is_fixed=True)),
    Kind.LABOR_RATE: _both(Shown("$/h", 15, 2)),
    Kind.ELECTRICITY_PRICE: _both(Shown("$/kWh", 4, 3)),
    Kind.FUEL_PRICE: (
        (Shown("$/therm", 15, 2, is_fixed=True),),
        (Shown("$/kWh", 4, 3),),
    ),
    Kind.EMISSION: ((Shown("lb/kWh", 3, 3),), (Shown("kg/kWh", 3, 3),)),
}
"""For each kind the ways of showing it in IP and in SI, largest start first."""


def show(value: float, kind: Kind, system: DisplaySystem, *, digits: int | None = None) -> str:
    """Return a quantity as a person reads it.

    Parameters
    ----------
    value : float
        In the unit of the core that `Kind` names.
    kind : Kind
        What it measures.
    system : DisplaySystem
        In which system to show it.
    digits : int or None
        Significant digits; None for what is sensible for the kind.

    Returns
    -------
    str
        Number with thousands separators and unit; `parse` reads it back.

    Raises
    ------
    UnitError
        If the value is not finite.

    Examples
    --------
    >>> show(1.1563, Kind.FLOW, DisplaySystem.IP)
    '2,450 cfm'
    >>> show(1.1563, Kind.FLOW, DisplaySystem.SI)
    '1,160 L/s'
    >>> show(6.692, Kind.THERMAL_RESISTANCE, DisplaySystem.IP)
    'R-38'
    """
    way = shown_way(value, kind, system)
    if not way.unit:
        return _figure(value, way, digits)
    unit = _unit(way.unit, kind)
    return _worded(_figure(unit.from_core(value), way, digits), unit)


def show_range(
    low: float, high: float, kind: Kind, system: DisplaySystem, *, digits: int | None = None
) -> str:
    """Return a range of quantities in one unit: ``"1,900 to 2,450 cfm"``.

    Parameters
    ----------
    low, high : float
        In the unit of the core that `Kind` names.
    kind : Kind
        What they measure.
    system : DisplaySystem
        In which system to show them.
    digits : int or None
        Significant digits; None for what is sensible for the kind.

    Returns
    -------
    str
        One figure where both ends are shown alike.
    """
    way = shown_way(max(low, high, key=abs), kind, system)
    if not way.unit:
        ends = [_figure(low, way, digits), _figure(high, way, digits)]
        return ends[0] if ends[0] == ends[1] else " to ".join(ends)
    unit = _unit(way.unit, kind)
    first, last = (_figure(unit.from_core(value), way, digits) for value in (low, high))
    if first == last:
        return _worded(last, unit)
    if unit.name.startswith("$") or unit.is_prefix:
        return f"{_worded(first, unit).partition('/')[0]} to {_worded(last, unit)}"
    return f"{first} to {_worded(last, unit)}"


def shown_way(value: float, kind: Kind, system: DisplaySystem) -> Shown:
    """Return the way in which a value of this size is shown.

    Parameters
    ----------
    value : float
        In the unit of the core that `Kind` names.
    kind : Kind
        What it measures.
    system : DisplaySystem
        In which system to show it.

    Returns
    -------
    Shown
        The first way whose start the value reaches.

    Raises
    ------
    UnitError
        If the value is not finite.
    """
    if not math.isfinite(value):
        message = f"{kind.value} is {value}; only finite quantities can be shown"
        raise UnitError(message)
    ways = _SHOWN[kind][0 if system is DisplaySystem.IP else 1]
    for way in ways[:-1]:
        # A value typed as exactly the start may have lost its last bit on the way to SI.
        if abs(_unit(way.unit, kind).from_core(value)) >= way.start * (1.0 - 1e-9):
            return way
    return ways[-1]


def shown_unit(kind: Kind, system: DisplaySystem, *, size: float = 1.0) -> Unit:
    """Return the unit for an axis or a column of values of this size.

    Parameters
    ----------
    kind : Kind
        What the values measure.
    system : DisplaySystem
        In which system to show them.
    size : float
        Typical size, in the unit of the core that `Kind` names.

    Returns
    -------
    Unit
        Its `name` labels the axis, its `from_core` converts the values.
    """
    way = shown_way(size, kind, system)
    return _unit(way.unit, kind) if way.unit else Unit("", 1.0)


def usual_units(kind: Kind, system: DisplaySystem) -> tuple[str, ...]:
    """Return the units in which a system shows a kind, by any size; empty for pure numbers.

    Parameters
    ----------
    kind : Kind
        What is measured.
    system : DisplaySystem
        In which system it is shown.

    Returns
    -------
    tuple of str

    Examples
    --------
    >>> usual_units(Kind.LENGTH, DisplaySystem.IP)
    ('ft', 'in')
    """
    ways = _SHOWN[kind][0 if system is DisplaySystem.IP else 1]
    return tuple(way.unit for way in ways if way.unit)


def quantity(value: float, kind: Kind, unit_name: str = "", *, digits: int = 6) -> str:
    """Return a quantity as a job file keeps it: with enough digits to be read back.

    Parameters
    ----------
    value : float
        In the unit of the core that `Kind` names.
    kind : Kind
        What it measures.
    unit_name : str
        Unit to write it in, in any spelling that `parse` knows; ``"R"`` gives
        ``"R-38"``, ``"R/in"`` gives ``"R-3.7/in"``; empty for pure numbers.
    digits : int
        Significant digits kept; 6 hold a value to 5 parts in a million.

    Returns
    -------
    str
        Plain text that `parse` reads back.

    Raises
    ------
    UnitError
        If the value is not finite or the kind has no such unit.

    Examples
    --------
    >>> quantity(2.4384, Kind.LENGTH, "ft")
    '8 ft'
    >>> quantity(0.0389795, Kind.CONDUCTIVITY, "R/in")
    'R-3.7001/in'
    """
    if not math.isfinite(value):
        message = f"{kind.value} is {value}; only finite quantities can be written"
        raise UnitError(message)
    if not unit_name:
        return _plain_figure(value, digits)
    unit = _unit(unit_name, kind)
    if unit.is_inverse and value == 0.0:
        message = f"{kind.value} is 0; it cannot be written in {unit_name}"
        raise UnitError(message)
    figure = _plain_figure(unit.from_core(value), digits)
    if unit.is_inverse:
        return f"R-{figure}/in"
    return _worded(figure, unit).replace(MINUS, "-")


def quantity_in(value: float, kind: Kind, system: DisplaySystem, *, digits: int = 6) -> str:
    """Return a quantity as a job file keeps it, in the usual unit of a system.

    Parameters
    ----------
    value : float
        In the unit of the core that `Kind` names.
    kind : Kind
        What it measures.
    system : DisplaySystem
        In which system to write it.
    digits : int
        Significant digits kept.

    Returns
    -------
    str
        Plain text that `parse` reads back.
    """
    return quantity(value, kind, shown_way(value, kind, system).unit, digits=digits)


def _unit(name: str, kind: Kind) -> Unit:
    unit = find_unit(name, kind)
    if unit is None:
        names = ", ".join(unit.name for unit in UNITS[kind])
        message = f'"{name}" is not a unit of {kind.value}; its units are {names}'
        raise UnitError(message)
    return unit


def _figure(number: float, way: Shown, digits: int | None) -> str:
    """Return a number with thousands separators and a true minus."""
    size = math.floor(math.log10(abs(number))) if number else 0
    places = (way.digits if digits is None else digits) - 1 - size
    if digits is None:
        places = min(places, way.decimals)
    text = f"{round(number, places) + 0.0:,.{max(places, 0)}f}"
    if way.is_fixed and digits is None:
        text = f"{number:,.{way.decimals}f}"
    elif "." in text:
        text = text.rstrip("0").rstrip(".")
    if not text.strip("-0.,"):
        text = text.lstrip("-")
    return text.replace("-", MINUS)


def _plain_figure(number: float, digits: int) -> str:
    """Return a number with a given count of significant digits, without an exponent if short."""
    short = f"{number:.{digits}g}"
    if 1e-6 <= abs(number) < 1e12:
        size = math.floor(math.log10(abs(number)))
        places = max(digits - 1 - size, 0)
        text = f"{round(number, digits - 1 - size):,.{places}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if number == 0.0 else short


def _worded(figure: str, unit: Unit) -> str:
    """Return a figure with its unit where the trade puts it."""
    sign, size = (figure[0], figure[1:]) if figure[0] in (MINUS, "-") else ("", figure)
    if unit.name.startswith("$"):
        return f"{sign}${size}{unit.name[1:]}"
    if unit.is_prefix:
        return f"{unit.name}-{figure}"
    if unit.name == "°":
        return f"{figure}°"
    return f"{figure} {unit.plural if unit.plural and size != '1' else unit.name}"
