"""A reference page of measured rates, one section for each kind of test."""

from __future__ import annotations

import importlib
import pkgutil
import re
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path
    from types import ModuleType


def members(
    package: ModuleType, name: str, kinds: Iterable[str] = ()
) -> dict[str, tuple[Any, ...]]:
    """Return what each sibling module lists under a name, by kind of test."""
    asked = set(kinds)
    modules = sorted(found.name for found in pkgutil.iter_modules(package.__path__))
    unknown = asked - set(modules)
    if unknown:
        raise SystemExit(
            f"no such kind: {', '.join(sorted(unknown))}; there is {', '.join(modules)}"
        )
    lists = {
        module: getattr(importlib.import_module(f"{package.__name__}.{module}"), name, None)
        for module in modules
        if module != "__main__" and (not asked or module in asked)
    }
    return {kind: listed for kind, listed in lists.items() if listed is not None}


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table as text."""
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)


def write_sections(page: Path, head: str, sections: Mapping[str, str], *, is_whole: bool) -> None:
    """Write a page; unless it is whole, keep the sections that were not made again."""
    kept = {} if is_whole or not page.exists() else _sections(page.read_text(encoding="utf-8"))
    both = {**kept, **sections}
    text = "\n\n".join(
        [head.strip(), *(f"## {kind}\n\n{both[kind].strip()}" for kind in sorted(both))]
    )
    page.write_text(text + "\n", encoding="utf-8")


def _sections(text: str) -> dict[str, str]:
    parts = re.split(r"^## (.+)$", text, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))
