"""Hold the whole core to the house rules that no linter knows."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from typing import TYPE_CHECKING

import pytest

import rooftree

if TYPE_CHECKING:
    from collections.abc import Callable

CORE = (
    "physics",
    "weather",
    "readings",
    "survey",
    "bills",
    "house",
    "engine",
    "fit",
    "diagnosis",
    "plan",
)
UNIT = re.compile(r"\[[^\]]+\]")
ENTRY = re.compile(r"^([\w, ]+) : (.+)\n((?:    .*\n?|\n)+)", re.MULTILINE)


def core_functions() -> list[Callable[..., object]]:
    """Return every public function that the computing core defines."""
    names = [
        found.name
        for found in pkgutil.walk_packages(rooftree.__path__, "rooftree.")
        if found.name.split(".")[1] in CORE
    ]
    return [
        member
        for module in names
        for name, member in inspect.getmembers(importlib.import_module(module), inspect.isfunction)
        if not name.startswith("_") and member.__module__ == module
    ]


def section(doc: str, title: str) -> str:
    """Return the text under a numpydoc heading, or an empty string."""
    match = re.search(rf"^{title}\n-+\n(.*?)(?=^\w[\w ]*\n-+\n|\Z)", doc, re.MULTILINE | re.DOTALL)
    return match[1] if match else ""


@pytest.mark.parametrize("function", core_functions(), ids=lambda f: f"{f.__module__}.{f.__name__}")
def test_each_number_says_its_unit(function: Callable[..., object]) -> None:
    """A parameter that is a number or an array names its unit in brackets."""
    doc = inspect.getdoc(function) or ""
    entries = {
        name.strip(): (kind, text)
        for names, kind, text in ENTRY.findall(section(doc, "Parameters") + "\n")
        for name in names.split(",")
    }
    for name in inspect.signature(function).parameters:
        assert name in entries, f"{name} is not described"
        kind, text = entries[name]
        if kind.startswith(("float", "array_like", "ndarray")):
            assert UNIT.search(text), f"{name} has no unit in brackets"
