"""Check that no readings that can be typed break a reduction, its words or its drawing."""

from __future__ import annotations

import copy
import dataclasses
import json
import math
import random
import re
from enum import Enum
from typing import TYPE_CHECKING, Any, Literal, get_args, get_origin

import numpy as np
import pytest

from demo_job import demo_text
from rooftree.errors import DocumentError, RooftreeError
from rooftree.job import Test as FieldTest
from rooftree.job.kinds import reduce_reading
from rooftree.job.reduction import circumstances_of
from rooftree.papers.results import WORDS
from rooftree.readings.duct_leakage_from_house import DeltaQTest, DuctSubtractionTest, HouseFlow
from rooftree.readings.zone_pressures import AddedHoleTest, Boundary
from rooftree.records.document import read_document, read_test
from rooftree.records.document import test_entry as entry_of
from rooftree.records.document.field_tests import KINDS
from rooftree.records.document.fields import QuantityField
from rooftree.records.document.part import Part, first_within
from rooftree.units import DisplaySystem, allowed_units, told
from rooftree.web.sheets import SHEETS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic.fields import FieldInfo

    from rooftree.job.kinds import Circumstances
    from rooftree.units import Kind

TRIES = 60
"""Entries of each kind."""

SIZES = (0.0, 1e-14, 1e-9, 1e-3, 0.01, 0.5, 1.0, 3.0, 20.0, 50.0, 99.0, 400.0, 5e3, 1e5, 9e5, 1e9)
"""What is typed in any unit, of either sign."""

WITHOUT_END = ("degrees_of_freedom", "found_", "relative_uncertainty", "settings")
"""Fields that say themselves that they may be infinite."""

NO_NUMBER = re.compile(r"\b(nan|inf)\b|∞")

OTHERS = (
    AddedHoleTest("attic", -50.0, -42.0, Boundary.OUTDOORS, 0.04, -46.0),
    DuctSubtractionTest(50.0, 1.0, 0.9, 40.0, 0.5),
    DeltaQTest(
        40.0,
        60.0,
        tuple(
            HouseFlow(on, p, q)
            for p, q in ((-40.0, -0.9), (-20.0, -0.6), (20.0, 0.6), (40.0, 0.9))
            for on in (False, True)
        ),
    ),
)
"""Tests of kinds that the demo does not have."""


def seeds() -> dict[str, list[dict[str, Any]]]:
    """Return entries of every kind, from which the odd ones are made."""
    entries = json.loads(demo_text())["tests"]
    entries += [
        entry_of(FieldTest("t", "A test", "visit-1", one), DisplaySystem.IP) for one in OTHERS
    ]
    found: dict[str, list[dict[str, Any]]] = {kind: [] for kind in KINDS}
    for entry in entries:
        entry.pop("known", None)
        found[entry["kind"]].append(entry)
    return found


def places(
    model: type[Part], entry: dict[str, Any]
) -> Iterator[tuple[dict[str, Any], str, FieldInfo]]:
    """Yield every field that an entry has or could have: where it stands, its name and kind."""
    about = {"id", "name", "visit", "place", "instrument", "also_with", "note", "kind"}
    for name, field in model.model_fields.items():
        if model in KINDS.values() and name in about:
            continue
        yield entry, name, field
        rows = first_within((field.annotation, *field.metadata), (), Part)
        if rows is not None and isinstance(entry.get(name), list):
            for row in entry[name]:
                yield from places(rows, row)


def choices(annotation: Any) -> list[Any]:
    """Return what a field can be, where it can be only a few things."""
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return [str(one) for one in annotation]
    if annotation is bool:
        return [True, False]
    if get_origin(annotation) is Literal:
        return list(get_args(annotation))
    return [choice for part in get_args(annotation) for choice in choices(part)]


def typed(kind: Kind, rng: random.Random) -> object:
    """Return a number of any size in any unit."""
    value = rng.choice((1.0, -1.0)) * rng.choice(SIZES)
    units = allowed_units(kind)
    return f"{value!r} {rng.choice(units)}" if units else value


def spoil(entry: dict[str, Any], kind: str, rng: random.Random) -> None:
    """Change one thing of an entry: a number, a choice, a list, or leave it out."""
    where, name, field = rng.choice(list(places(KINDS[kind], entry)))
    shape = (field.annotation, *field.metadata)
    marker = first_within(shape, (QuantityField,))
    before = where.get(name)
    if isinstance(before, list) and before and isinstance(before[0], dict):
        few = [before[:0], before[:1], before[:2], before[::-1], [before[0]] * 5]
        where[name] = copy.deepcopy(rng.choice(few))
    elif rng.random() < 0.1 and not field.is_required():
        where.pop(name, None)
    elif marker is not None and "tuple" in str(field.annotation):
        one = typed(marker.kind, rng)
        where[name] = [one] * rng.randint(0, 5)
    elif marker is not None:
        where[name] = typed(marker.kind, rng)
    elif few := choices(field.annotation):
        where[name] = rng.choice(few)


def odd_numbers(thing: Any, path: str = "") -> Iterator[str]:
    """Yield where something is not a number, or infinite without saying so."""
    if isinstance(thing, np.ndarray | np.generic):
        thing = thing.tolist()
    if isinstance(thing, float):
        says_so = any(name in path for name in WITHOUT_END)
        if math.isnan(thing) or (math.isinf(thing) and not says_so):
            yield f"{path} is {thing}"
    elif dataclasses.is_dataclass(thing):
        for field in dataclasses.fields(thing):
            yield from odd_numbers(getattr(thing, field.name), f"{path}.{field.name}")
    elif isinstance(thing, dict):
        yield from odd_numbers(tuple(thing.values()), path)
    elif isinstance(thing, list | tuple):
        for one in thing:
            yield from odd_numbers(one, path)


def texts(thing: Any) -> Iterator[str]:
    """Yield everything that is said."""
    if isinstance(thing, str):
        yield thing
    elif dataclasses.is_dataclass(thing):
        yield from texts([getattr(thing, field.name) for field in dataclasses.fields(thing)])
    elif isinstance(thing, list | tuple):
        for one in thing:
            yield from texts(one)


@pytest.fixture(scope="module")
def around() -> tuple[Circumstances, ...]:
    """Return what a job tells its tests: all of it, and nothing."""
    job = read_document(demo_text()).to_core()
    whole = circumstances_of(job, None)
    return whole, dataclasses.replace(whole, readings=())


def tell(reading: Any, result: Any, kind: str, system: DisplaySystem) -> Iterator[str]:
    """Yield all words of a result, and draw it."""
    words = WORDS[type(reading)]
    yield words.method(reading, result)
    yield from texts(words.readings(reading, system))
    yield from texts(words.results(result, system))
    yield from texts(words.tables(result, system))
    yield from (told(text, system) for text in texts(result))
    for sheet in SHEETS.values():
        if sheet.kind == kind and sheet.draw is not None:
            sheet.draw(reading, result, system)


@pytest.mark.filterwarnings("error::RuntimeWarning")
@pytest.mark.parametrize("kind", sorted(KINDS))
def test_whatever_is_typed_is_reduced_or_refused(
    kind: str, around: tuple[Circumstances, ...]
) -> None:
    """Odd numbers, choices and lists give a result with its words, or say what is wrong."""
    rng = random.Random(kind)  # noqa: S311
    entries, reduced = seeds()[kind], 0
    for _ in range(TRIES):
        entry = copy.deepcopy(rng.choice(entries))
        for _ in range(rng.choice((1, 1, 1, 2, 3))):
            spoil(entry, kind, rng)
        try:
            reading = read_test(entry)
        except DocumentError:
            continue
        try:
            result = reduce_reading(reading, rng.choice(around))
        except RooftreeError:
            continue
        reduced += 1
        assert list(odd_numbers(result)) == [], entry
        for system in DisplaySystem:
            said = [text for text in tell(reading, result, kind, system) if NO_NUMBER.search(text)]
            assert said == [], entry
    assert reduced > TRIES // 10
