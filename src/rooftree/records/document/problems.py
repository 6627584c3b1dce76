"""Problems of a job file: where, what is wrong, what to do."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from pydantic import ValidationError
    from pydantic_core import ErrorDetails


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem of a job file.

    Attributes
    ----------
    path : str
        Where it stands, such as ``"house.spaces[0].floor_area"``; empty for the file.
    says : str
        What is wrong with it.
    remedy : str
        What to do.
    blocks : bool
        Whether the file cannot be taken before it is solved.
    """

    path: str
    says: str
    remedy: str
    blocks: bool = True

    def __str__(self) -> str:
        where = self.path or "the file"
        return f"{where} {self.says}; {self.remedy}"


def path_of(along: Iterable[str | int], raw: object = None) -> str:
    """Return the path with these names and places.

    Parameters
    ----------
    along : iterable of str or int
        Names and places as the validator gives them.
    raw : object
        What was validated: names that are no key of it (the kind of a test) and places
        in what is no list (the one hour of a day) are left out, except the last name.

    Returns
    -------
    str
        Such as ``"tests[0].stations[2].pressure"``.
    """
    steps, here, path = list(along), raw, ""
    for place, step in enumerate(steps):
        is_last = place == len(steps) - 1
        if isinstance(step, int):
            if raw is None or isinstance(here, list | tuple):
                path += f"[{step}]"
            here = here[step] if isinstance(here, list | tuple) and step < len(here) else here
        elif raw is None or is_last or (isinstance(here, dict) and step in here):
            path += f".{step}"
            here = here.get(step) if isinstance(here, dict) else None
    return path.removeprefix(".")


def problems_of(error: ValidationError, raw: object) -> Iterator[Problem]:
    """Yield what the validator found, in words that a person can act on.

    Parameters
    ----------
    error : ValidationError
        From a model of the job file.
    raw : object
        What was validated.

    Yields
    ------
    Problem
    """
    for detail in error.errors(include_url=False):
        # A list whose members were all refused counts as empty too: that is no news.
        if detail["type"] != "too_short" or not detail["input"]:
            yield Problem(path_of(detail["loc"], raw), *_words(detail))


_TYPES = {
    "string_type": ("text", "write it in quotes"),
    "bool_type": ("true or false", "write true or false without quotes"),
    "tuple_type": ("a list", "write a list in [ ]"),
    "dict_type": ("an object", "write an object in { }"),
    "model_type": ("an object", "write an object in { }"),
    "model_attributes_type": ("an object", "write an object in { }"),
    "int_type": ("a whole number", "write a whole number without quotes"),
}


def _words(detail: ErrorDetails) -> tuple[str, str]:
    """Return what is wrong and what to do, for one error of the validator."""
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "quantity":
        return context["says"], context["remedy"]
    if kind == "missing":
        return "is missing", "add it"
    if kind == "extra_forbidden":
        return _unknown_field(str(detail["loc"][-1]))
    if kind in ("literal_error", "enum", "union_tag_invalid"):
        wanted = context.get("expected") or context.get("expected_tags")
        given = context.get("tag", detail["input"])
        return f"is {_quoted(given)}", f"use one of: {wanted}"
    if kind == "union_tag_not_found":
        return "does not say what kind of test it is", 'add "kind", such as "fan test"'
    if kind in _TYPES:
        name, remedy = _TYPES[kind]
        return f"is {_quoted(detail['input'])}, not {name}", remedy
    if kind == "too_short":
        return "is empty", "add at least one"
    if kind in ("string_too_short", "string_too_long", "string_pattern_mismatch"):
        return f"is {_quoted(detail['input'])}", _about_text(kind, context)
    return f"is not right: {detail['msg']}", "correct it"


def _about_text(kind: str, context: dict[str, Any]) -> str:
    if kind == "string_too_short":
        return "write something"
    if kind == "string_too_long":
        return f"use at most {context['max_length']} characters"
    return "use letters, digits, spaces and - _ . ( ) only, and begin with a letter or a digit"


def _quoted(value: object) -> str:
    text = f'"{value}"' if isinstance(value, str) else repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _unknown_field(name: str) -> tuple[str, str]:
    close = difflib.get_close_matches(name, _field_names(), n=1)
    hint = f'did you mean "{close[0]}"? Otherwise remove it' if close else "remove it"
    return "is not a field of the job file", hint


def _field_names() -> list[str]:
    """Return the names of all fields of all parts."""
    from rooftree.records.document.part import Part

    names: set[str] = set()
    parts = list(Part.__subclasses__())
    while parts:
        part = parts.pop()
        names |= set(part.model_fields)
        parts += part.__subclasses__()
    return sorted(names)
