"""Quantities of a house in its forms: in the reader's units, kept as they were typed."""

from __future__ import annotations

import re

from rooftree.errors import UnitError
from rooftree.units import (
    DIMENSIONLESS,
    DisplaySystem,
    Kind,
    find_unit,
    parse,
    quantity_in,
    shown_unit,
    usual_units,
)

PREFIXED = {"R", "U"}
"""Units that the trade writes before the number."""

_BARE = re.compile(r"^[+\-−]?\s?(\d[\d,]*\.?\d*|\.\d+|\d+[ -]\d+/\d+|\d+/\d+)$")
_UNIT = re.compile(r"^[+\-−]?\s?[\d.,/ ½¼¾⅛⅜⅝⅞-]*\d\s*(?P<unit>[^\d\s].*)$")
_PREFIX = re.compile(r"^(?P<unit>RSI|R|U)\s?-?\s?[\d.]+$", re.IGNORECASE)


def unit_of(kind: Kind, system: DisplaySystem) -> str:
    """Return the unit of a number that is typed alone; empty for pure numbers.

    Examples
    --------
    >>> unit_of(Kind.AREA, DisplaySystem.IP), unit_of(Kind.COUNT, DisplaySystem.IP)
    ('ft²', '')
    """
    if kind is Kind.FRACTION:
        return "%, or 0 to 1"
    if kind in DIMENSIONLESS:
        return ""
    return shown_unit(kind, system).name


def shown_text(typed: str, kind: Kind, system: DisplaySystem) -> str:
    """Return a quantity of the file as its field shows it.

    It stays as it was typed unless its unit is one of the other system, or it is a share
    without a sign.

    Examples
    --------
    >>> shown_text("8 ft", Kind.LENGTH, DisplaySystem.IP)
    '8 ft'
    >>> shown_text("8 ft", Kind.LENGTH, DisplaySystem.SI)
    '2.438 m'
    >>> shown_text("0.22", Kind.FRACTION, DisplaySystem.SI)
    '22 %'
    """
    is_share = kind is Kind.FRACTION and _BARE.match(typed.strip())
    if not is_share and not _is_of_other_system(typed.strip(), kind, system):
        return typed
    try:
        return quantity_in(parse(typed, kind), kind, system, digits=4)
    except UnitError:
        return typed


def _is_of_other_system(typed: str, kind: Kind, system: DisplaySystem) -> bool:
    other = DisplaySystem.SI if system is DisplaySystem.IP else DisplaySystem.IP
    found = _PREFIX.match(typed) or _UNIT.match(typed)
    unit = find_unit(found["unit"], kind) if found else None
    if unit is None:
        return False
    return unit.name in usual_units(kind, other) and unit.name not in usual_units(kind, system)


def with_usual_unit(text: str, kind: Kind, system: DisplaySystem) -> str:
    """Return what was typed, with the unit of its field where it has none.

    Examples
    --------
    >>> with_usual_unit("320", Kind.AREA, DisplaySystem.IP)
    '320 ft²'
    >>> with_usual_unit("38", Kind.THERMAL_RESISTANCE, DisplaySystem.IP)
    'R-38'
    >>> with_usual_unit("22", Kind.FRACTION, DisplaySystem.IP)
    '22 %'
    >>> with_usual_unit("0.3", Kind.FRACTION, DisplaySystem.IP)
    '0.3'
    """
    if not _BARE.match(text):
        return text
    if kind is Kind.FRACTION:
        return text if _is_at_most_one(text) else f"{text} %"
    unit = unit_of(kind, system)
    if unit in PREFIXED:
        return f"{unit}-{text}"
    return f"{text} {unit}" if unit else text


def _is_at_most_one(text: str) -> bool:
    try:
        return float(text.replace(",", "").replace("−", "-")) <= 1.0
    except ValueError:
        return False
