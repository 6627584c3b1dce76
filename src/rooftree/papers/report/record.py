"""Every value of the record as typed, with how it is known, in plain words.

A job file names its values by path, such as ``house.surfaces[2].layers[1].thickness``.
Nobody should have to read that: the path is walked along the job, so that the thing gets
its own name ("ceiling under the attic") and the value a label ("batts, thickness").
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING, Any

from rooftree.known import How, Known
from rooftree.papers.report.words import capitalised

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rooftree.job import Job, Typed

Segment = tuple[str, int | None]

_SEGMENT = re.compile(r"([^.\[\]]+)(?:\[(\d+)\])?")

_PARTS = {
    "spaces": "Spaces",
    "surfaces": "Walls, ceilings, floors and roofs",
    "windows": "Windows",
    "leaks": "Leaks, vents and openings",
    "ducts": "Ducts",
    "fans": "Fans",
    "dehumidifiers": "Dehumidifiers",
    "air_handler": "Heating, cooling and hot water",
    "heating": "Heating, cooling and hot water",
    "cooling": "Heating, cooling and hot water",
    "water_heater": "Heating, cooling and hot water",
    "use": "People and what they do",
    "site": "The place",
    "enclosure": "The tested enclosure",
    "tests": "Readings of the tests",
    "bills": "Bills",
    "tariff": "Prices and emissions",
    "measures": "Measures on offer",
    "budget": "Budget",
}
"""Part of the annex by the first telling name of a path."""

_REPEATED = "Layers and parts that occur more than once"
"""Part of the annex for what is alike in several things."""

_WORDS = {
    "u_value": "U-value",
    "flow_50": "flow at 50 Pa",
    "target_flow_50": "target flow at 50 Pa",
    "azimuth": "faces",
    "known": "",
}
"""Labels that are not simply the field's name with spaces."""


@dataclass(frozen=True, slots=True)
class _Line:
    """One value, ready to be grouped."""

    part: str
    item: str
    detail: str
    label: str
    text: str
    known: Known


def known_parts(job: Job) -> list[dict[str, Any]]:
    """Return every typed value, by part of the record, by thing and by how it is known.

    Parameters
    ----------
    job : Job
        With its typed quantities.

    Returns
    -------
    list of dict
        Parts with name and items; an item has a name and groups, each with how and values.
    """
    lines = _told_once(_joined(_line(job, typed) for typed in job.typed))
    order = list(dict.fromkeys(_PARTS.values()))
    order.insert(order.index(_PARTS["surfaces"]) + 1, _REPEATED)
    lines.sort(key=lambda line: order.index(line.part) if line.part in order else len(order))
    parts = []
    for part, of_part in groupby(lines, key=lambda line: line.part):
        items: dict[str, list[_Line]] = {}
        for line in of_part:
            items.setdefault(line.item, []).append(line)
        parts.append(
            {
                "name": part,
                "items": [{"name": name, "groups": _groups(of)} for name, of in items.items()],
            }
        )
    return parts


def count_words(job: Job) -> str:
    """Return how many values are known in which way.

    Parameters
    ----------
    job : Job
        With its typed quantities.

    Returns
    -------
    str
        One sentence.
    """
    counts = {how: sum(typed.known.how is how for typed in job.typed) for how in How}
    told = ", ".join(f"{count:,} {how.value}" for how, count in counts.items() if count)
    return f"{len(job.typed):,} values: {told}." if job.typed else "No values were typed."


def _told_once(lines: list[_Line]) -> list[_Line]:
    """Tell what is alike wherever it occurs, such as a layer of four walls, only once."""
    runs = [
        tuple(run)
        for _, run in groupby(lines, key=lambda line: (line.part, line.item, line.detail))
    ]
    forms: dict[str, list[tuple[_Line, ...]]] = {}
    for run in runs:
        forms.setdefault(run[0].detail, []).append(_bare(run))
    shared = {
        detail: found[0]
        for detail, found in forms.items()
        if detail and len(found) > 1 and len(set(found)) == 1
    }
    told: list[_Line] = []
    for run in runs:
        told += [replace(run[0], label="", text="")] if run[0].detail in shared else run
    return told + [
        replace(line, part=_REPEATED, item=line.detail, detail="")
        for run in shared.values()
        for line in run
    ]


def _bare(run: tuple[_Line, ...]) -> tuple[_Line, ...]:
    """Return lines without the thing that they belong to, to compare them."""
    return tuple(replace(line, part="", item="") for line in run)


def _groups(lines: list[_Line]) -> list[dict[str, str]]:
    """Return values that are known in the same way, written out."""
    groups: dict[Known, list[_Line]] = {}
    for line in lines:
        groups.setdefault(line.known, []).append(line)
    return [
        {
            "how": f"{known.how.value}: {known.note}" if known.note else known.how.value,
            "values": _written(of),
        }
        for known, of in groups.items()
    ]


def _written(lines: list[_Line]) -> str:
    """Return values in a row; a part of a thing, such as a layer, is named once."""
    parts = []
    for detail, of_detail in groupby(lines, key=lambda line: line.detail):
        values = ", ".join(f"{line.label} {line.text}".strip() for line in of_detail)
        parts.append(": ".join(part for part in (detail, values) if part))
    return "; ".join(parts)


def _segments(path: str) -> list[Segment]:
    return [(name, int(at) if at else None) for name, at in _SEGMENT.findall(path)]


def _line(job: Job, typed: Typed) -> _Line:
    segments = _segments(typed.path)
    if segments[0][0] == "house" and len(segments) > 1:
        segments = segments[1:]
        thing: object = job.house
    else:
        thing = job
    (name, at), *rest = segments
    thing = _member(thing, name, at)
    if not rest:  # the value itself, such as the budget
        return _Line(_part(name), "", "", _plain(name), typed.text, typed.known)
    item = _name_of(thing) or _plain(name) + (f" {at + 1}" if at is not None else "")
    detail, label = _label(thing, rest)
    return _Line(_part(name), item, detail, label, typed.text, typed.known)


def _part(name: str) -> str:
    return _PARTS.get(name, capitalised(_plain(name)))


def _label(thing: object, segments: list[Segment]) -> tuple[str, str]:
    """Return the words for the rest of a path: what has a name on the way, and the value."""
    words = []
    for place, (name, at) in enumerate(segments):
        thing = _member(thing, name, at)
        is_last = place == len(segments) - 1
        own = "" if is_last else _name_of(thing)
        if own:
            words.append(own)
        elif at is not None and not is_last:
            words.append(f"{_singular(_plain(name))} {at + 1}")
        elif name not in ("settings", "reading"):
            words.append(_plain(name))
    return ", ".join(words[:-1]), "".join(words[-1:])


def _member(thing: object, name: str, at: int | None) -> object:
    """Return what a segment of a path leads to; None where the job is built differently."""
    found = thing.get(name) if isinstance(thing, dict) else getattr(thing, name, None)
    if found is None and hasattr(thing, "reading"):
        found = getattr(thing.reading, name, None)
    if at is None:
        return found
    return found[at] if isinstance(found, (tuple, list)) and at < len(found) else None


def _name_of(thing: object) -> str:
    for attribute in ("title", "name", "configuration"):
        own = getattr(thing, attribute, "")
        if isinstance(own, str) and own:
            return own
    fuel = getattr(thing, "fuel", "")
    start = getattr(thing, "start", "")
    return f"{fuel}, {start} to {getattr(thing, 'end', '')}" if fuel and start else ""


def _plain(name: str) -> str:
    return _WORDS.get(name, name.replace("_", " "))


def _singular(word: str) -> str:
    return word.removesuffix("s")


def _joined(lines: Iterable[_Line]) -> list[_Line]:
    """Join values of one label that follow each other, such as 24 hours of a thermostat."""
    return [
        replace(same, text=", ".join(_repeated(line.text for line in run)))
        for same, run in groupby(lines, key=lambda line: replace(line, text=""))
    ]


def _repeated(texts: Iterable[str]) -> Iterator[str]:
    for text, run in groupby(texts):
        count = sum(1 for _ in run)
        yield text if count == 1 else f"{text} ({count} times)"
