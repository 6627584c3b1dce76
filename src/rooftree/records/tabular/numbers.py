"""Numbers as spreadsheets and loggers write them, still as text."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from rooftree.units.spelling import plain_signs

if TYPE_CHECKING:
    from collections.abc import Iterable

POINT, COMMA = ".", ","

DECIMAL_COMMA = re.compile(r"[+\-−]?\d+,\d+")
"""A number with a decimal comma, or two whole numbers parted by a comma."""

_NUMBER = re.compile(
    r"([+-]?) ?((?:\d[\d.,' ]*|[.,]\d+)(?:[eE][+-]?\d+)?)(?![\d/:])(.*)", re.DOTALL
)
_UNIT = re.compile(r"\s*(?:[A-Za-zµ%°\"$][^\d:]{0,20}\d?[^\d:]{0,8})?")
_START = re.compile(r"\s*(?:(?:R|RSI|U)\s?-?\s?)?[+\-−]?\s?[.,]?\d", re.IGNORECASE)
_POINTED = re.compile(r"(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_COMMAED = re.compile(r"(?:\d+,?\d*|,\d+)(?:[eE][+-]?\d+)?")
_GROUPED_BY_COMMA = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d*)?")
_GROUPED_BY_POINT = re.compile(r"\d{1,3}(?:\.\d{3})+(?:,\d*)?")
_GROUPED_BY_SPACE = re.compile(r"\d{1,3}(?:[ ']\d{3})+(?:[.,]\d*)?")

NO_READING = frozenset(
    {"-", "--", "---", "n/a", "na", "#n/a", "nan", "null", "none", "n.a.", "na.", "."}
)
"""What instruments and spreadsheets write where there was no reading, in small letters."""


def parted(cell: str) -> tuple[str, str] | None:
    """Return number and unit of a cell, both as text; None where it is no number.

    Examples
    --------
    >>> parted("−52,3 Pa"), parted("1980"), parted("10:05"), parted("open")
    (('-52,3', 'Pa'), ('1980', ''), None, None)
    """
    plain = " ".join(plain_signs(cell).split())
    found = _NUMBER.fullmatch(plain)
    if found is None or not _UNIT.fullmatch(found[3]):
        return None
    return f"{found[1]}{found[2].strip()}", found[3].strip()


def is_number(cell: str) -> bool:
    """Return whether a cell holds a number, with or without a unit."""
    return parted(cell) is not None


def starts_a_quantity(cell: str) -> bool:
    """Return whether a cell begins as a quantity does, also ``R-38``, ``3 1/2`` or ``10:05``."""
    return _START.match(cell) is not None


def is_no_reading(cell: str) -> bool:
    """Return whether a cell says that there was no reading."""
    return plain_signs(cell).strip().casefold() in NO_READING


def decimal_sign(cells: Iterable[str]) -> tuple[str, int, int]:
    """Return the decimal sign of a table's numbers, and how many tell a point or a comma.

    Examples
    --------
    >>> decimal_sign(["-52,3", "1.980"]), decimal_sign(["1,980"])
    ((',', 0, 1), ('.', 0, 0))
    """
    points = commas = 0
    for cell in cells:
        found = parted(cell)
        if found is None:
            continue
        number = found[0].lstrip("+-")
        points += _tells(number, POINT, COMMA)
        commas += _tells(number, COMMA, POINT)
    return (COMMA if commas > points else POINT), points, commas


def _tells(number: str, sign: str, other: str) -> bool:
    """Return whether a number can only be read with this decimal sign."""
    before, found, after = number.rpartition(sign)
    if not found or sign in before or other in after:
        return False
    return other in before or len(after) != 3 or before in ("", "0")


def with_point(number: str, decimal: str) -> str | None:
    """Return a number with a decimal point; None where it cannot be read with this sign.

    Thousands are parted by commas only, or not at all; what is written so is kept.

    Examples
    --------
    >>> with_point("-1.980,5", ","), with_point("1,980", "."), with_point("52,3", ".")
    ('-1980.5', '1,980', None)
    """
    sign = number[:1] if number[:1] in "+-" else ""
    size = number.removeprefix(sign)
    if _GROUPED_BY_SPACE.fullmatch(size):
        size = size.replace(" ", "").replace("'", "")
    if decimal == COMMA:
        if _GROUPED_BY_POINT.fullmatch(size):
            size = size.replace(".", "")
        if _COMMAED.fullmatch(size):
            return sign + size.replace(",", ".")
        return sign + size if _POINTED.fullmatch(size) else None
    if _POINTED.fullmatch(size) or _GROUPED_BY_COMMA.fullmatch(size):
        return sign + size
    return None
