"""The pages of the documentation: links lead somewhere, commands are real, options are told."""

from __future__ import annotations

import re
import shlex
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from demo_job import demo_text
from rooftree.cli.app import APP

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = [ROOT / "README.md", *sorted(DOCS.rglob("*.md"))]
COMMANDS = [name for name in APP if not name.startswith("-")]
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
FENCED = re.compile(r"^```[^\n]*\n(.*?)^```", re.DOTALL | re.MULTILINE)
INLINE = re.compile(r"`([^`\n]+)`")


def page_id(page: Path) -> str:
    """Return a page's name for the list of tests."""
    return page.relative_to(ROOT).as_posix()


def shown_lines(page: Path) -> Iterator[str]:
    """Yield every line of code of a page, alone or in a sentence."""
    text = page.read_text(encoding="utf-8")
    for block in FENCED.findall(text):
        yield from block.splitlines()
    yield from INLINE.findall(FENCED.sub("", text))


def shown_commands() -> Iterator[tuple[str, str]]:
    """Yield each command that a page shows, with the page."""
    for page in PAGES:
        for line in shown_lines(page):
            words = line.strip().removeprefix("$ ").removeprefix(".venv/bin/")
            if words.startswith("rooftree ") and "COMMAND" not in words:
                yield page_id(page), words.partition("  #")[0].strip()


def headings(page: Path) -> set[str]:
    """Return the anchors of a page's headings."""
    found = re.findall(r"^#+ (.*)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", text.lower()).replace(" ", "-") for text in found}


@pytest.mark.parametrize("page", PAGES, ids=page_id)
def test_links_lead_somewhere(page: Path) -> None:
    """Every link to a file of the project finds it, and its heading."""
    for link in LINK.findall(page.read_text(encoding="utf-8")):
        if link.startswith(("http://", "https://", "mailto:")):
            continue
        path, _, anchor = link.partition("#")
        there = (page.parent / path).resolve() if path else page
        assert there.exists(), link
        if anchor:
            assert anchor in headings(there), link


@pytest.mark.parametrize("page", sorted(DOCS.rglob("*.md")), ids=page_id)
def test_every_page_is_in_the_index(page: Path) -> None:
    """Nobody has to know of a page to find it."""
    index = (DOCS / "index.md").read_text(encoding="utf-8")
    assert page.name == "index.md" or f"({page.relative_to(DOCS).as_posix()})" in index


def test_pages_show_commands() -> None:
    """The test below has something to hold on to."""
    assert len(set(shown_commands())) > 15


@pytest.mark.parametrize(("page", "words"), sorted(set(shown_commands())))
def test_commands_that_are_shown_are_real(page: str, words: str) -> None:
    """Every command on a page is taken as it stands, options and all, or is a name that exists."""
    assert page
    typed = [word for word in shlex.split(words)[1:] if not word.startswith("[")]
    if len(typed) > 1 or typed[0].startswith("-"):
        APP.parse_args(typed, exit_on_error=False, print_error=False)
    else:
        assert typed[0] in COMMANDS


def test_make_targets_that_are_shown_are_real() -> None:
    """Every `make` on a page is a target of the Makefile."""
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    targets = set(re.findall(r"^([a-z-]+):", makefile, re.MULTILINE))
    shown = {
        line.split()[1] for page in PAGES for line in shown_lines(page) if line.startswith("make ")
    }
    assert {"demo", "test"} <= shown <= targets


def command_sections() -> dict[str, str]:
    """Return the sections of the page of commands by name."""
    text = (DOCS / "reference" / "command-line.md").read_text(encoding="utf-8")
    parts = re.split(r"^## (\w+)\n", text, flags=re.MULTILINE)
    return {"": parts[0]} | dict(zip(parts[1::2], parts[2::2], strict=True))


def test_the_page_of_commands_has_each_command() -> None:
    """Neither a command without a section nor a section without a command."""
    assert sorted(command_sections()) == sorted(["", *COMMANDS])


@pytest.mark.parametrize("command", COMMANDS)
def test_the_page_of_commands_tells_what_help_tells(command: str) -> None:
    """Each section has the command's own sentence and exactly its options."""
    sections = command_sections()
    app = APP[command]
    assert str(app.help).strip() in sections[command]
    real = {
        name
        for argument in app.assemble_argument_collection()
        for name in argument.names
        if name.startswith("-")
    }
    rows = re.findall(r"^\| (`-.*?) \|", sections[""] + sections[command], re.MULTILINE)
    told = {word for row in rows for word in re.findall(r"`(-[\w-]+)", row)}
    assert told == real


@pytest.mark.parametrize("command", COMMANDS)
def test_the_page_of_commands_shows_the_arguments(command: str) -> None:
    """What must be typed after the name is what the command asks for."""
    shown = re.search(rf"^`rooftree {command}([^`]*)`$", command_sections()[command], re.MULTILINE)
    assert shown is not None
    arguments = APP[command].assemble_argument_collection()
    asked = [a.names[0].lower() for a in arguments if not a.names[0].startswith("-")]
    given = re.sub(r"-o \S+", "", shown[1]).lower().replace("[", "").replace("]", "").split()
    assert given == asked


def test_the_mistake_of_the_tutorial_can_be_made() -> None:
    """The value that the tutorial tells to spoil is in the demo."""
    text = (DOCS / "tutorial" / "first-job.md").read_text(encoding="utf-8")
    spoiled = re.search(r'from `"([^"]+)"` to `"320"`', text)
    assert spoiled is not None
    assert f'"value": "{spoiled[1]}"' in demo_text()


def test_the_folders_that_are_told_are_the_real_ones() -> None:
    """The page on backups names the folder of each system as the program has it."""
    from rooftree.actions import place

    text = (DOCS / "how-to" / "back-up-and-move-jobs.md").read_text(encoding="utf-8")
    for told in (place.VARIABLE, ".local/share/rooftree", "Application Support/rooftree"):
        assert told in text
