"""Read quantities as people type them: ``"3 1/2 in"``, ``"R-38"``, ``"−1.4 Pa"``."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from typing import TYPE_CHECKING

from rooftree.errors import UnitError
from rooftree.units.kinds import DIMENSIONLESS, Kind
from rooftree.units.spelling import find_unit, plain_signs, spelling
from rooftree.units.table import HINTS, UNITS

if TYPE_CHECKING:
    from rooftree.units.table import Unit

_NUMBER = re.compile(
    r"""[+-]?\s?(?:
        \d+[ -]\s?\d+/\d+(?![\d/])                                   # 3 1/2, 3-1/2
      | \d+/\d+(?![\d/])                                             # 5/8
      | (?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d*)?(?:[eE][+-]?\d+(?!\w))?  # 1,640 or 2.5 or 1e-3
      | \.\d+(?:[eE][+-]?\d+(?!\w))?                                 # .25
    )""",
    re.VERBOSE,
)
_PREFIXED = re.compile(r"^(RSI|R|U)\s?-?\s?(?=[\d.])(.*?)(/\s?in(?:ch)?\.?)?$", re.IGNORECASE)
_DOLLARS = re.compile(r"^([+-]?)\s?\$\s?(.*)$")
_UNIT_START = re.compile(r"[A-Za-z%$°'\"/µΔ]|1/")
_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8",
    "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_VULGAR_SIGN = re.compile(f"[{''.join(_VULGAR)}]")
_POINTS = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
           "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")  # fmt: skip
_COMPASS = {name.lower(): 22.5 * k for k, name in enumerate(_POINTS)} | {
    name: 45.0 * k
    for k, name in enumerate(
        ("north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest")
    )
}
_COMPOUND = frozenset({Kind.LENGTH, Kind.THICKNESS, Kind.DURATION})
_EXAMPLES = {
    Kind.FLOW: "2,450 cfm",
    Kind.PRESSURE: "-1.4 Pa",
    Kind.LENGTH: "3 1/2 in",
    Kind.THICKNESS: "3 1/2 in",
    Kind.TEMPERATURE: "72 °F",
    Kind.THERMAL_RESISTANCE: "R-38",
    Kind.CONDUCTIVITY: "R-3.7/in",
    Kind.MONEY: "$1,200",
    Kind.AZIMUTH: "180°",
    Kind.FRACTION: "15 %",
    Kind.RATIO: "3.2",
    Kind.COUNT: "4",
}
PRIMARY = (
    Kind.FLOW, Kind.PRESSURE, Kind.LENGTH, Kind.AREA, Kind.VOLUME, Kind.TEMPERATURE,
    Kind.THERMAL_RESISTANCE, Kind.U_VALUE, Kind.CONDUCTIVITY, Kind.POWER, Kind.ENERGY,
    Kind.AIR_CHANGES, Kind.PERMEABILITY, Kind.LEAKAGE_COEFFICIENT, Kind.SPEED, Kind.DENSITY,
    Kind.SPECIFIC_HEAT, Kind.HEAT_CAPACITY, Kind.MASS, Kind.VAPOR_FLOW, Kind.DRYING_EFFICIENCY,
    Kind.HUMIDITY_RATIO, Kind.DURATION, Kind.ANGLE, Kind.RATIO, Kind.CONCENTRATION, Kind.MONEY,
    Kind.MONEY_RATE, Kind.LABOR_RATE, Kind.FUEL_PRICE, Kind.EMISSION,
)  # fmt: skip
"""One kind for each dimension, in the order in which `parse_any` tries them."""


def parse(text: str, kind: Kind, *, path: str = "") -> float:
    """Return the quantity that a text states, in the unit of the core.

    Parameters
    ----------
    text : str
        Number and unit as the trade writes them. Fractions, feet with inches,
        thousands separators, a typographic minus and ``R-``, ``RSI-``, ``U-`` and
        ``$`` before the number are understood.
    kind : Kind
        What the field asks for.
    path : str
        Where the text stands, for the message.

    Returns
    -------
    float
        Value in the unit that `Kind` names for this kind.

    Raises
    ------
    UnitError
        If there is no number, no unit where one is needed, or a unit of another kind.

    Examples
    --------
    >>> round(parse("2,450 cfm", Kind.FLOW), 4)
    1.1563
    >>> round(parse("3 1/2 in", Kind.LENGTH), 4)
    0.0889
    >>> parse("-1.4 Pa", Kind.PRESSURE)
    -1.4
    """
    plain = _plain(text)
    if kind is Kind.AZIMUTH and (point := _COMPASS.get(re.sub(r"[\s-]", "", plain).lower())):
        return point
    if kind is Kind.AZIMUTH and plain.lower() in ("n", "north"):
        return 0.0
    parts = _parts(plain, is_compound=kind in _COMPOUND)
    if not parts:
        raise _refusal(path, text, "is not a number with a unit", kind)
    value = _sum(parts, kind, path, text)
    if not math.isfinite(value):
        raise _refusal(path, text, "is not a finite quantity", kind)
    if kind is Kind.TEMPERATURE and value < 0.0:
        raise _refusal(path, text, "is below absolute zero", kind)
    if kind is Kind.COUNT and value != int(value):
        raise _refusal(path, text, "is not a whole number", kind)
    return value


def parse_any(text: str) -> tuple[float, Kind]:
    """Return the quantity that a text states, and what it measures.

    Parameters
    ----------
    text : str
        Number and unit; ``"72 °F"`` is taken as a temperature, not a difference.

    Returns
    -------
    tuple of float and Kind
        Value in the unit of the core, and the first kind that fits.

    Raises
    ------
    UnitError
        If no kind of quantity is written like this.

    Examples
    --------
    >>> parse_any("1,200 Pa")
    (1200.0, <Kind.PRESSURE: 'pressure'>)
    """
    for kind in PRIMARY:
        try:
            return parse(text, kind), kind
        except UnitError:
            continue
    message = f'"{text}" is not a quantity; write a number with its unit, such as "2,450 cfm"'
    raise UnitError(message)


def _plain(text: str) -> str:
    """Return a text with plain signs and with fractions written out."""
    plain = _VULGAR_SIGN.sub(lambda sign: f" {_VULGAR[sign[0]]}", plain_signs(text))
    plain = re.sub(r"\s+", " ", plain).strip()
    if dollars := _DOLLARS.match(plain):
        number = _NUMBER.match(dollars[2])
        if number is None or number[0][:1] in "+-":
            return plain
        return f"{dollars[1]}{number[0]} ${dollars[2][number.end() :]}"
    if prefixed := _PREFIXED.match(plain):
        return f"{prefixed[2]} {prefixed[1].upper()}{'/in' if prefixed[3] else ''}"
    return plain


def _parts(plain: str, *, is_compound: bool) -> list[tuple[str, str]]:
    """Return numbers with their units: one pair, or several as in ``8 ft 6 in``."""
    parts: list[tuple[str, str]] = []
    rest = plain
    while number := _NUMBER.match(rest):
        rest = rest[number.end() :].lstrip(" ")
        following = _FOLLOWING.search(rest) if is_compound else None
        if following and spelling(rest[: following.start()]) in _LEADING:
            unit, rest = rest[: following.start()], rest[following.end() :]
        else:
            unit, rest = rest, ""
        if unit and not _UNIT_START.match(unit):
            return []
        parts.append((number[0], unit))
    return parts if not rest else []


_FOLLOWING = re.compile(r"(?<=[A-Za-z'\".])[ -]*(?=\d+[ \d./-]*[A-Za-z'\"])")
"""What parts a larger unit from the smaller quantity that follows it."""

_LEADING = frozenset({"ft", "'", "feet", "foot", "m", "h", "min", "day", "days", "d"})
"""Units after which a smaller one may follow."""


def _sum(parts: list[tuple[str, str]], kind: Kind, path: str, text: str) -> float:
    """Return the sum of the parts; later parts take the sign of the first."""
    values = [_value(number, unit, kind, path, text) for number, unit in parts]
    sizes = [unit.factor for _, name in parts if (unit := find_unit(name, kind)) is not None]
    if any(later >= earlier for earlier, later in pairwise(sizes)):
        raise _refusal(path, text, "does not go from the larger to the smaller unit", kind)
    return values[0] + math.copysign(1.0, values[0]) * sum(values[1:])


def _value(number: str, unit_text: str, kind: Kind, path: str, text: str) -> float:
    """Return one number with its unit in the unit of the core."""
    amount = _amount(number)
    if amount is None:
        raise _refusal(path, text, "divides by zero", kind)
    if not unit_text:
        if kind in DIMENSIONLESS:
            return amount
        raise _refusal(path, text, "has no unit", kind)
    unit = find_unit(unit_text, kind)
    if unit is None:
        raise _unknown_unit(unit_text, path, text, kind)
    if unit.is_inverse and amount == 0.0:
        raise _refusal(path, text, "divides by zero", kind)
    return unit.to_core(amount)


def _amount(number: str) -> float | None:
    """Return a number as typed, or None where a fraction divides by zero."""
    sign = -1.0 if number.startswith("-") else 1.0
    plain = number.lstrip("+- ").replace(",", "")
    if "/" not in plain:
        return sign * float(plain)
    *whole, fraction = re.split(r"[ -]+", plain)
    above, below = fraction.split("/")
    if int(below) == 0:
        return None
    return sign * (sum(map(int, whole)) + int(above) / int(below))


def allowed_units(kind: Kind) -> tuple[str, ...]:
    """Return the names of the units in which a kind can be written."""
    return tuple(_named(unit) for unit in UNITS[kind])


def _named(unit: Unit) -> str:
    return f"{unit.name}-number" if unit.is_prefix else unit.name


def _remedy(kind: Kind) -> str:
    names = allowed_units(kind)
    if not names:
        return 'write a whole number, such as "4"'
    example = _EXAMPLES.get(kind, f"12 {names[0]}")
    return f'write it like "{example}"; units for {kind.value}: {", ".join(names)}'


def _unknown_unit(unit_text: str, path: str, text: str, kind: Kind) -> UnitError:
    """Return the error for a unit that does not measure this kind."""
    if hint := HINTS.get(spelling(unit_text).casefold()):
        return _error(path, text, "has a unit that can be misread", hint, kind)
    if unit_text.startswith(","):
        return _error(path, text, "has a comma in its number", "write a decimal point", kind)
    for other in PRIMARY:
        if find_unit(unit_text, other) is not None:
            return _refusal(path, text, f"is written as {other.value}, not {kind.value}", kind)
    return _refusal(path, text, f'has the unknown unit "{unit_text}"', kind)


def _refusal(path: str, text: str, says: str, kind: Kind) -> UnitError:
    if re.search(r"\d,\d{1,2}(?!\d)", text):
        return _error(path, text, "has a comma in its number", "write a decimal point", kind)
    return _error(path, text, says, _remedy(kind), kind)


def _error(path: str, text: str, says: str, remedy: str, kind: Kind) -> UnitError:
    says = f'"{text}" {says}'
    message = f"{path}: {says}; {remedy}" if path else f"{says}; {remedy}"
    return UnitError(
        message, path=path, text=text, says=says, remedy=remedy, allowed=allowed_units(kind)
    )
