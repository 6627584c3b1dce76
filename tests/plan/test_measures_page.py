"""Check that the page of measures says what the registry holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from rooftree.plan.measures import KINDS, Kind, Setting
from rooftree.plan.rules import stage_names
from rooftree.units import DisplaySystem, show

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "measures.md"


def default_of(setting: Setting) -> str:
    """Return a setting's default as the page shows it."""
    if setting.default is None:
        return "must be given" if setting.required else "none"
    if isinstance(setting.default, str):
        return f"`{setting.default}`" if setting.default else "none"
    assert setting.unit is not None
    inch, metric = (
        show(setting.default, setting.unit, each) for each in (DisplaySystem.IP, DisplaySystem.SI)
    )
    return inch if inch == metric else f"{inch} ({metric})"


def row_of(name: str, setting: Setting) -> str:
    """Return the row of one setting."""
    unit = setting.unit.value if setting.unit else "word"
    choices = f"; one of {', '.join(f'`{each}`' for each in setting.choices)}"
    says = setting.says + (choices if setting.choices else "")
    return f"| `{name}` | {unit} | {default_of(setting)} | {says} |"


def section_of(kind: Kind) -> str:
    """Return the section of one kind, head and table."""
    lines = [
        f"### `{kind.name}`: {kind.title}",
        "",
        (
            f"Stage: {stage_names()[kind.stage]}. Trade: {kind.trade}. Life: {kind.life:g} years "
            f"({kind.life_source}). Changes: {', '.join(sorted(kind.touches)) or 'nothing'}."
        ),
        "",
    ]
    if kind.settings:
        lines += ["| Setting | Kind | Default | What it is |", "| --- | --- | --- | --- |"]
        lines += [row_of(name, setting) for name, setting in kind.settings.items()]
        lines += [""]
    return "\n".join(lines)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_the_page_has_the_kind_as_the_registry_has_it(kind: Kind) -> None:
    """Title, stage, life and every setting with its default stand on the page."""
    assert section_of(kind) in PAGE.read_text(encoding="utf-8")
