"""Check a job file and load it: every problem at once, each with its path and remedy."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from pydantic import ValidationError

from rooftree.errors import DocumentError
from rooftree.records.document.field_tests import KINDS, FieldTestPart
from rooftree.records.document.field_tests.part import NOTHING_KNOWN, Around
from rooftree.records.document.house_sense import house_problems
from rooftree.records.document.job import JobDocument
from rooftree.records.document.migrate import migrate
from rooftree.records.document.problems import Problem, problems_of
from rooftree.records.document.readings import (
    bill_problems,
    fan_test_problems,
    measure_problems,
    one_fan_test_problems,
    one_uncertainty_problems,
    uncertainty_problems,
)
from rooftree.records.document.references import (
    air_path_problems,
    id_problems,
    leak_problems,
    reference_problems,
)
from rooftree.records.document.text import read_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

FAN_TEST = "fan test"
"""Kind of an entry that does not name its kind."""


def check_document(text: str | bytes) -> tuple[Problem, ...]:
    """Return every problem of a job file, those of its fields before those of its sense.

    Parameters
    ----------
    text : str or bytes
        Of the job file.

    Returns
    -------
    tuple of Problem
        Empty where there is none; those that do not block are worth knowing.
    """
    try:
        raw, doubts = read_text(text)
        raw = migrate(raw)
    except DocumentError as error:
        return tuple(_problem(path, text) for path, text in error.problems)
    return _once((*doubts, *_examined(raw)[1]))


def _problem(path: str, text: str) -> Problem:
    says, _, remedy = text.partition("; ")
    return Problem(path, says, remedy)


def check_raw(raw: dict[str, Any]) -> tuple[Problem, ...]:
    """Return every problem of a job file that is already plain lists and mappings.

    Parameters
    ----------
    raw : dict
        Job file of the version of this program.

    Returns
    -------
    tuple of Problem
    """
    return _examined(raw)[1]


def read_document(text: str | bytes) -> JobDocument:
    """Return the job file that a text holds.

    Parameters
    ----------
    text : str or bytes
        Of the job file, of this or an older version.

    Returns
    -------
    JobDocument

    Raises
    ------
    DocumentError
        If there is any problem that blocks; its `problems` list all of them.
    """
    raw, doubts = read_text(text)
    raw = migrate(raw)
    document, problems = _examined(raw)
    refuse_problems(_once((*doubts, *problems)))
    return document or JobDocument.model_validate(raw)


def read_test(entry: Mapping[str, object], around: Around = NOTHING_KNOWN) -> object:
    """Return the readings of one test that has the shape of a test of the job file.

    Parameters
    ----------
    entry : mapping
        Fields of the test; `id`, `name` and `visit` may be left out.
    around : Around
        What its job tells that the test does not: place and instruments.

    Returns
    -------
    object
        Raw readings in SI.

    Raises
    ------
    DocumentError
        If there is any problem that blocks; paths begin at the test.
    """
    return _test(entry).reading(around)


def with_test(document: JobDocument, entry: Mapping[str, object]) -> JobDocument:
    """Return a job with one test more, or with one replaced that has the same id.

    Parameters
    ----------
    document : JobDocument
        The job; it is not changed.
    entry : mapping
        The test as in the job file; without an id it gets a new one.

    Returns
    -------
    JobDocument

    Raises
    ------
    DocumentError
        If there is any problem that blocks; paths begin at the test.
    """
    visit = document.visits[-1].id if document.visits else ""
    kind = str(entry.get("kind") or FAN_TEST)
    usual = {"id": str(uuid4()), "name": kind.capitalize(), "visit": visit, "kind": kind}
    raw = usual | {name: value for name, value in entry.items() if value not in ("", None)}
    _test(raw)
    return _with_member(document, "tests", raw)


def with_instrument(document: JobDocument, entry: Mapping[str, object]) -> JobDocument:
    """Return a job with one instrument more, or with one replaced that has the same id.

    Parameters
    ----------
    document : JobDocument
        The job; it is not changed.
    entry : mapping
        The instrument as in the job file; without an id it gets a new one.

    Returns
    -------
    JobDocument

    Raises
    ------
    DocumentError
        If there is any problem that blocks; paths begin at the instrument.
    """
    given = {name: value for name, value in entry.items() if value not in ("", None)}
    return _with_member(document, "instruments", {"id": str(uuid4())} | given)


def _with_member(document: JobDocument, name: str, raw: dict[str, Any]) -> JobDocument:
    """Return a job in one of whose lists a member was put or replaced."""
    plain = document.plain()
    members = list(plain.get(name, []))
    places = {one["id"]: place for place, one in enumerate(members)}
    place = places.get(raw["id"], len(members))
    members[place : place + 1] = [raw]
    whole = plain | {name: members}
    path = f"{name}[{place}]"
    refuse_problems(
        tuple(
            replace(problem, path=problem.path.removeprefix(path).removeprefix("."))
            for problem in check_raw(whole)
            if problem.path.startswith(path)
        )
    )
    return JobDocument.model_validate(whole)


def _test(entry: Mapping[str, object]) -> FieldTestPart:
    raw = {"id": "test", "name": "", "visit": "", "kind": FAN_TEST} | dict(entry)
    kind = str(raw["kind"])
    if kind not in KINDS:
        refuse_problems((Problem("kind", f'is "{kind}"', f"use one of: {', '.join(KINDS)}"),))
    senses = tuple(one_uncertainty_problems(raw))
    if kind == FAN_TEST:
        senses += tuple(one_fan_test_problems(raw))
    try:
        document = KINDS[kind].model_validate(raw)
    except ValidationError as error:
        refuse_problems(_once((*problems_of(error, raw), *senses)))
        raise
    refuse_problems(_once(senses))
    return document


def refuse_problems(problems: tuple[Problem, ...]) -> None:
    """Raise the error for problems that block; do nothing where none does.

    Parameters
    ----------
    problems : tuple of Problem
        Of a job file.

    Raises
    ------
    DocumentError
        Its `problems` list those that block, each with path and remedy.
    """
    blocking = tuple(problem for problem in problems if problem.blocks)
    if not blocking:
        return
    count = len(blocking)
    head = f"the job file has {count} problems:" if count > 1 else "the job file has a problem:"
    lines = [head, *(f"  {problem}" for problem in blocking)]
    listed = tuple((problem.path, f"{problem.says}; {problem.remedy}") for problem in blocking)
    raise DocumentError("\n".join(lines), listed)


def _examined(raw: dict[str, Any]) -> tuple[JobDocument | None, tuple[Problem, ...]]:
    """Return the model of a job file, if its fields can be taken, and all its problems."""
    document, problems = None, []
    try:
        document = JobDocument.model_validate(raw)
    except ValidationError as error:
        problems = list(problems_of(error, raw))
    for about in _SENSES:
        problems += about(raw)
    return document, _once(problems)


_SENSES = (
    id_problems,
    reference_problems,
    leak_problems,
    air_path_problems,
    house_problems,
    fan_test_problems,
    uncertainty_problems,
    bill_problems,
    measure_problems,
)
"""What the parts of a job file must say together; each reads the plain file."""


def _once(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the first problem of each path: what follows from it needs no second message."""
    found: dict[str, Problem] = {}
    for problem in problems:
        found.setdefault(problem.path, problem)
    return tuple(found.values())
