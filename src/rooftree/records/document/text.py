"""From the text of a job file to plain lists and mappings, strictly."""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING, Any

from rooftree.errors import DocumentError
from rooftree.records.document.problems import Problem, path_of

if TYPE_CHECKING:
    from collections.abc import Iterator


class _Doubled(dict[str, Any]):
    """An object of the file in which some names stand twice."""

    names: tuple[str, ...] = ()


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    plain = dict(pairs)
    if len(plain) == len(pairs):
        return plain
    doubled = _Doubled(plain)
    seen = [name for name, _ in pairs]
    doubled.names = tuple(name for name in plain if seen.count(name) > 1)
    return doubled


def read_text(text: str | bytes) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """Return what a text holds, with the problems of its JSON.

    Parameters
    ----------
    text : str or bytes
        Of a job file; bytes are UTF-8.

    Returns
    -------
    tuple of dict and tuple of Problem
        Plain lists and mappings, and names that stand twice and numbers that are none.

    Raises
    ------
    DocumentError
        If the text is not the JSON of an object at all.
    """
    raw = _parsed(_decoded(text))
    if not isinstance(raw, dict):
        raise _refused("is not a job file: it holds no object", "export the job again")
    return raw, tuple(_doubts(raw, ()))


def _decoded(text: str | bytes) -> str:
    if isinstance(text, str):
        return text
    try:
        return text.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        remedy = "save it as UTF-8 text"
        raise _refused(f"is not UTF-8 text (byte {error.start})", remedy) from None


def _parsed(text: str) -> object:
    try:
        return json.loads(text, object_pairs_hook=_object)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        if not text.strip():
            raise _refused("is empty", "export the job again") from None
        if not text[error.pos :].strip() or error.msg.startswith("Unterminated string"):
            raise _refused(
                f"ends in the middle ({where})",
                "it was cut short: copy or export it again, or restore an earlier copy",
            ) from None
        raise _refused(f"is not JSON: {error.msg} ({where})", "correct that place") from None
    except RecursionError:
        raise _refused("is nested too deeply", "it is not a job file") from None


def _refused(says: str, remedy: str) -> DocumentError:
    problem = Problem("", says, remedy)
    return DocumentError(str(problem), (("", f"{says}; {remedy}"),))


def _doubts(raw: object, along: tuple[str | int, ...]) -> Iterator[Problem]:
    """Yield names that stand twice and numbers that are not finite."""
    if isinstance(raw, float) and not math.isfinite(raw):
        yield Problem(path_of(along), f"is {raw}", "leave out what was not measured")
    steps: list[tuple[str | int, Any]] = []
    if isinstance(raw, _Doubled):
        for name in raw.names:
            yield Problem(path_of((*along, name)), "stands twice", "keep one of them")
    if isinstance(raw, dict):
        steps = list(raw.items())
    elif isinstance(raw, list):
        steps = list(enumerate(raw))
    for step, value in steps:
        yield from _doubts(value, (*along, step))
