"""One line of a stream: a time and what the instruments showed at it, each with its unit."""

from __future__ import annotations

import json
import math
import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from rooftree.units import Kind
from rooftree.units.reading import PRIMARY
from rooftree.units.spelling import find_unit, plain_signs

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.units import Unit

LONGEST = 16 * 1024
"""Longest line that is taken [bytes]."""

EXAMPLE = (
    '{"time": "2026-11-25T10:00:01.2Z", "values": '
    '{"house_pressure": "-50.2 Pa", "flow": "1980 cfm"}}'
)
"""A line as it should be."""

NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]{0,63}")
"""How a reading may be called."""

_MEMBERS = frozenset({"time", "sequence", "values"})
_QUANTITY = re.compile(
    r"([+-]?\s?(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.(\d*))?(?:[eE][+-]?\d+)?)\s*(\D.*)?"
)
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)
_LARGEST = 2**62


@dataclass(frozen=True, slots=True)
class Reading:
    """One quantity of a line.

    Attributes
    ----------
    text : str
        As it was sent.
    value : float
        In the unit of the core for its kind.
    kind : Kind
        What it measures.
    unit : str
        Name of its unit.
    resolution : float
        One step of the last digit that was sent, in the unit of the core.
    """

    text: str
    value: float
    kind: Kind
    unit: str
    resolution: float


@dataclass(frozen=True, slots=True)
class Sample:
    """One line of a stream.

    Attributes
    ----------
    time : int
        Since 1970 [µs].
    sequence : int or None
        Number that the logger gave the line.
    values : dict of str to Reading
        What was read, by name.
    raw : bytes
        The line as it was sent, without its end.
    """

    time: int
    sequence: int | None
    values: dict[str, Reading]
    raw: bytes


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a line cannot be taken.

    Attributes
    ----------
    says : str
        What is wrong with it.
    remedy : str
        What to send instead.
    is_cut : bool
        Whether the line may have been cut short rather than written wrongly.
    """

    says: str
    remedy: str
    is_cut: bool = False


class _RefusedError(Exception):
    def __init__(self, says: str, remedy: str) -> None:
        super().__init__(says)
        self.refusal = Refusal(says, remedy)


def read_line(raw: bytes) -> Sample | Refusal:
    """Return the sample that a line holds, or why it cannot be taken.

    Parameters
    ----------
    raw : bytes
        One line, in UTF-8, without its end.

    Returns
    -------
    Sample or Refusal

    Examples
    --------
    >>> line = read_line(b'{"time": "2026-11-25T10:00:01Z", "values": {"flow": "1980 cfm"}}')
    >>> round(line.values["flow"].value, 4)
    0.9345
    """
    if len(raw) > LONGEST:
        return Refusal(f"is longer than {LONGEST} bytes", "end each line with a line break")
    try:
        entry = json.loads(raw, object_pairs_hook=_once)
    except (json.JSONDecodeError, UnicodeDecodeError, RecursionError):
        return Refusal("is not a line of JSON", f"send each reading like {EXAMPLE}", is_cut=True)
    except _RefusedError as refused:
        return refused.refusal
    try:
        return _sample(entry, raw)
    except _RefusedError as refused:
        return refused.refusal


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise _RefusedError("has a name twice", "send each name once in a line")
    return found


def _sample(entry: object, raw: bytes) -> Sample:
    if not isinstance(entry, dict):
        raise _RefusedError("is not an object", f"send each reading like {EXAMPLE}")
    if odd := sorted(set(entry) - _MEMBERS):
        remedy = 'put readings into "values"; beside it only "time" and "sequence" are known'
        raise _RefusedError(f'has the unknown member "{odd[0]}"', remedy)
    sequence = entry.get("sequence")
    if sequence is not None and not _is_count(sequence):
        remedy = "number the lines 0, 1, 2 and so on, or leave it out"
        raise _RefusedError('has a "sequence" that is not a whole number', remedy)
    values = entry.get("values")
    if not isinstance(values, dict) or not values:
        raise _RefusedError('has no "values"', f"send each reading like {EXAMPLE}")
    return Sample(_time(entry.get("time")), sequence, dict(_readings(values)), raw)


def _is_count(raw: object) -> bool:
    return isinstance(raw, int) and not isinstance(raw, bool) and 0 <= raw < _LARGEST


def _time(raw: object) -> int:
    remedy = 'write it as in "2026-11-25T10:00:01.2Z", with Z or its distance from UTC'
    if not isinstance(raw, str):
        raise _RefusedError('has no "time" in quotes', remedy)
    try:
        time = datetime.fromisoformat(raw)
    except ValueError:
        raise _RefusedError(f'has the time "{raw[:40]}", which is none', remedy) from None
    if time.tzinfo is None:
        raise _RefusedError(f'has the time "{raw}" without its distance from UTC', remedy)
    return (time - _EPOCH) // _MICROSECOND


def time_text(time: int) -> str:
    """Return a time [µs since 1970] as it stands in a line.

    Examples
    --------
    >>> time_text(1200000)
    '1970-01-01T00:00:01.2Z'
    """
    text = (_EPOCH + time * _MICROSECOND).isoformat().removesuffix("+00:00")
    return f"{text.rstrip('0') if '.' in text else text}Z"


def _readings(values: dict[str, object]) -> Iterator[tuple[str, Reading]]:
    for name, raw in values.items():
        if not NAME.fullmatch(name):
            remedy = 'name readings in letters, digits and "_", such as house_pressure'
            raise _RefusedError(f'has the name "{name[:40]}", which cannot be taken', remedy)
        yield name, _reading(name, raw)


def _reading(name: str, raw: object) -> Reading:
    if not isinstance(raw, str):
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            says = f"{name} is the number {raw} without its unit"
            raise _RefusedError(says, f'write it in quotes with its unit, such as "{raw} Pa"')
        says = f"{name} is not a reading"
        raise _RefusedError(says, 'leave out what was not read; else write it like "-50.2 Pa"')
    found = _QUANTITY.fullmatch(plain_signs(raw).strip())
    number = _number(found[1]) if found else None
    if found is None or number is None:
        says = f'{name} is "{raw[:40]}", which is not a number with its unit'
        raise _RefusedError(says, 'leave out what was not read; else write it like "-50.2 Pa"')
    known = _known_unit((found[3] or "").strip())
    if known is None:
        has = f'has the unknown unit "{found[3][:20]}"' if found[3] else "has no unit"
        remedy = "write a unit of the trade, such as Pa, in. w.c., cfm, L/s, °F, °C, % or ppm"
        raise _RefusedError(f'{name}, "{raw[:40]}", {has}', remedy)
    unit, kind = known
    value = unit.to_core(number)
    if not math.isfinite(value) or (kind is Kind.TEMPERATURE and value < 0.0):
        says = f'{name} is "{raw[:40]}", which cannot be'
        raise _RefusedError(says, "check the instrument; leave out what was not read")
    step = abs(unit.to_core(10.0 ** -len(found[2] or "")) - unit.to_core(0.0))
    return Reading(raw, value, kind, unit.name, step)


def _number(text: str) -> float | None:
    try:
        return float(text.replace(",", "").replace(" ", ""))
    except ValueError:
        return None


@lru_cache(maxsize=512)
def _known_unit(text: str) -> tuple[Unit, Kind] | None:
    """Return the unit of this name with the first kind that it measures."""
    for kind in PRIMARY if text else ():
        unit = find_unit(text, kind)
        if unit is not None and not unit.is_inverse and not unit.is_prefix:
            return unit, kind
    return None
