"""Between the flat fields of a form and the nested entry of a job file.

A field is named by the path of its value, such as ``stations[2].pressure``: the same
path that a message about it names, so that the message finds its field. Nothing typed
is changed on the way, except that a number typed alone gets the unit which the form
shows for its column.
"""

from __future__ import annotations

import re
from itertools import zip_longest
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

Fields = dict[str, str]
"""What was typed, by path."""

_STEP = re.compile(r"([^.\[\]]+)|\[(\d+)\]")
_BARE = re.compile(r"^[+\-−]?\s?(\d[\d,]*\.?\d*|\.\d+)$")


def steps(path: str) -> tuple[str | int, ...]:
    """Return the names and places along a path.

    Examples
    --------
    >>> steps("stations[2].fans[0].flow")
    ('stations', 2, 'fans', 0, 'flow')
    """
    return tuple(name or int(place) for name, place in _STEP.findall(path))


def to_path(along: tuple[str | int, ...]) -> str:
    """Return the path with these names and places; the inverse of `steps`."""
    text = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in along)
    return text.removeprefix(".")


def flatten(entry: object, along: tuple[str | int, ...] = ()) -> Fields:
    """Return every text of a nested entry by its path; what is absent has no path."""
    if isinstance(entry, dict):
        pairs: list[tuple[str | int, object]] = list(entry.items())
    elif isinstance(entry, list | tuple):
        pairs = list(enumerate(entry))
    else:
        return {} if entry is None else {to_path(along): _plainly(entry)}
    return {
        path: text for step, value in pairs for path, text in flatten(value, (*along, step)).items()
    }


def _plainly(value: object) -> str:
    """Return a text, or a number without a point that says nothing."""
    is_whole = isinstance(value, float) and value.is_integer()
    return f"{value:.0f}" if is_whole else str(value)


def nest(fields: Mapping[str, str]) -> dict[str, object]:
    """Return the nested entry of these fields; rows must be numbered without gaps."""
    root: dict[str, object] = {}
    for path, text in sorted(fields.items(), key=lambda item: _in_order(item[0])):
        _place(root, steps(path), text)
    return root


def _in_order(path: str) -> tuple[tuple[int, str], ...]:
    return tuple((step, "") if isinstance(step, int) else (-1, step) for step in steps(path))


def _place(holder: dict[str, object], along: tuple[str | int, ...], text: str) -> None:
    """Put a text where its path says, making the lists and mappings on the way."""
    here: object = holder
    for step, following in zip(along, (*along[1:], None), strict=True):
        made: object = text if following is None else [] if isinstance(following, int) else {}
        if isinstance(here, list) and isinstance(step, int):
            if step == len(here):
                here.append(made)
            here = here[step]
        elif isinstance(here, dict):
            here = here.setdefault(step, made)


def compact(fields: Mapping[str, str]) -> Fields:
    """Return the fields that hold something, with rows numbered anew without gaps."""
    kept = {path: text.strip() for path, text in fields.items() if text.strip()}
    numbers = {
        prefix: {old: new for new, old in enumerate(sorted(olds))}
        for prefix, olds in _rows(kept).items()
    }
    return {_renumbered(path, numbers): text for path, text in kept.items()}


def _rows(fields: Mapping[str, str]) -> dict[tuple[str | int, ...], set[int]]:
    """Return the places that are taken in each list, by the path of the list."""
    rows: dict[tuple[str | int, ...], set[int]] = {}
    for path in fields:
        for prefix, place in _lists(steps(path)):
            rows.setdefault(prefix, set()).add(place)
    return rows


def _lists(along: tuple[str | int, ...]) -> Iterator[tuple[tuple[str | int, ...], int]]:
    for k, step in enumerate(along):
        if isinstance(step, int):
            yield along[:k], step


def _renumbered(path: str, numbers: Mapping[tuple[str | int, ...], Mapping[int, int]]) -> str:
    along = steps(path)
    return to_path(
        tuple(
            numbers[along[:k]][step] if isinstance(step, int) else step
            for k, step in enumerate(along)
        )
    )


def count(fields: Mapping[str, str], prefix: str) -> int:
    """Return how many rows the list at this path has."""
    along = steps(prefix)
    taken = _rows(fields).get(along, set())
    return max(taken) + 1 if taken else 0


def with_unit(text: str, unit: str) -> str:
    """Return what was typed, with the unit of its column where it has none.

    Examples
    --------
    >>> with_unit("-52.3", "Pa"), with_unit("0.21 in. w.c.", "Pa"), with_unit("", "Pa")
    ('-52.3 Pa', '0.21 in. w.c.', '')
    """
    return f"{text} {unit}" if unit and _BARE.match(text) else text


def keep_numbers(entry: object, before: object) -> object:
    """Return an entry in which what a form did not change is as it was in the file.

    A form turns every value into text; a pure number of the file stays a number.

    Examples
    --------
    >>> keep_numbers({"exponent": "0.5", "note": "7"}, {"exponent": 0.5, "note": "7"})
    {'exponent': 0.5, 'note': '7'}
    """
    match entry, before:
        case dict(), dict():
            return {key: keep_numbers(value, before.get(key)) for key, value in entry.items()}
        case list(), list() | tuple():
            pairs = zip_longest(entry, before[: len(entry)])
            return [keep_numbers(one, other) for one, other in pairs]
        case str(), int() | float():
            return before if _plainly(before) == entry else entry
    return entry
