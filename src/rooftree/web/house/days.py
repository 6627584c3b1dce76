"""The hours of a day as a person tells them: from six o'clock this, from ten at night that."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

HOURS = 24
FROM, VALUE = "from", "value"
"""Columns of a day in a form."""

_CLOCK = re.compile(r"^(?P<hour>\d{1,2})(:00)?\s*(?P<half>a\.?m\.?|p\.?m\.?|h)?$", re.IGNORECASE)
_WORDS = {"midnight": 0, "noon": 12}


def hour_of(text: str) -> int | None:
    """Return the hour of the day that a text names; None where it names none.

    Examples
    --------
    >>> [hour_of(text) for text in ("6", "6:00", "10 pm", "12 am", "noon", "25", "half six")]
    [6, 6, 22, 0, 12, None, None]
    """
    plain = text.strip().casefold()
    if plain in _WORDS:
        return _WORDS[plain]
    found = _CLOCK.match(plain)
    if found is None:
        return None
    hour, half = int(found["hour"]), (found["half"] or "").replace(".", "")
    if half in ("am", "pm"):
        if not 1 <= hour <= HOURS // 2:
            return None
        return hour % 12 + (12 if half == "pm" else 0)
    return hour % HOURS if hour <= HOURS else None


def clock(hour: int) -> str:
    """Return an hour of the day as it is shown.

    Examples
    --------
    >>> clock(6)
    '6:00'
    """
    return f"{hour}:00"


def periods_of(day: Any) -> list[dict[str, str]]:
    """Return a day of the file as periods: from which hour, and the value from then on.

    Examples
    --------
    >>> periods_of(["65 °F"] * 6 + ["68 °F"] * 18)
    [{'from': '0:00', 'value': '65 °F'}, {'from': '6:00', 'value': '68 °F'}]
    """
    hours = day if isinstance(day, list) else [day]
    texts = [str(hour["value"] if isinstance(hour, dict) else hour) for hour in hours]
    starts = [k for k, text in enumerate(texts) if k == 0 or text != texts[k - 1]]
    return [{FROM: clock(k), VALUE: texts[k]} for k in starts]


def day_of(rows: Sequence[Mapping[str, str]]) -> tuple[Any, dict[str, str], list[int]]:
    """Return the day that periods make up; the last one lasts until the first begins.

    Parameters
    ----------
    rows : sequence of mapping from str to str
        Periods as typed, in any order.

    Returns
    -------
    tuple of object, dict and list of int
        The day as in the file, one value or 24; what is wrong, by the path of the field
        within the list; and for each hour the row that it comes from.
    """
    mistakes: dict[str, str] = {}
    starts: dict[int, int] = {}
    for k, row in enumerate(rows):
        text = row.get(FROM, "") or ("0" if len(rows) == 1 else "")
        hour = hour_of(text)
        if hour is None:
            says = f'is "{text}"' if text else "is missing"
            mistakes[f"[{k}].{FROM}"] = f"{says}; write the full hour, such as 6:00 or 10 pm"
        elif hour in starts:
            mistakes[f"[{k}].{FROM}"] = f"is {clock(hour)} twice; give each period its own hour"
        if not row.get(VALUE):
            mistakes[f"[{k}].{VALUE}"] = "is missing; write what holds from then on"
        if hour is not None:
            starts.setdefault(hour, k)
    if mistakes or not starts:
        return None, mistakes, []
    order = sorted(starts)
    origin = [starts[max((s for s in order if s <= h), default=order[-1])] for h in range(HOURS)]
    values = [rows[k][VALUE] for k in origin]
    return (values[0] if len(set(values)) == 1 else values), {}, origin
