"""Shared by all tests: the `published` mark and the Hypothesis profiles."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("dev", max_examples=50, deadline=None)
settings.register_profile("ci", max_examples=200, deadline=None, derandomize=True, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci" if os.environ.get("CI") else "dev"))

WEATHER = Path(__file__).parents[2] / "shared" / "weather"
"""Public-domain typical years beside the checkout; tests skip where they are absent."""


def pytest_configure(config: pytest.Config) -> None:
    """Declare the `published` mark."""
    config.addinivalue_line(
        "markers",
        "published(source, where, read): expected values come from this document; read says "
        "how we know them: 'source', 'quoted in ...', 'common practice' or 'memory'",
    )
    config.addinivalue_line("markers", "browser: drives a real browser against a real server")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Refuse a published check that does not say where its values come from."""
    for item in items:
        for mark in item.iter_markers("published"):
            missing = {"source", "where", "read"} - mark.kwargs.keys()
            if missing:
                raise pytest.UsageError(f"{item.nodeid}: published() lacks {sorted(missing)}")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the options that write the pages of published checks and of validation."""
    parser.addoption("--published-page", metavar="PATH", help="write the table of published checks")
    parser.addoption("--write-validation", metavar="PATH", help="write the page of validation")


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write the page of validation from what its tests computed."""
    path = session.config.getoption("--write-validation")
    if path:
        from engine.validation.page import missing_checks, render_page

        if missing_checks():
            print(f"\n{path} is left as it is: {len(missing_checks())} checks did not run")  # noqa: T201
        else:
            Path(path).write_text(render_page(), encoding="utf-8")


def pytest_collection_finish(session: pytest.Session) -> None:
    """Write one line for each published check that was collected."""
    path = session.config.getoption("--published-page")
    if not path:
        return
    rows = sorted(
        {
            (
                *(mark.kwargs[key] for key in ("source", "where", "read")),
                item.nodeid.partition("[")[0],
            )
            for item in session.items
            for mark in item.iter_markers("published")
        }
    )
    lines = [
        "# Published checks",
        "",
        "Each row is a test that holds the program against something outside it.",
        "*Known by* says how the expected value was obtained: `source` (seen in the document),",
        "`quoted in ...` (seen in a document that quotes it), `common practice` (a fact of the",
        "trade), or `memory` (recalled; to be verified in the document).",
        "",
        "| Source | Where | Known by | Check |",
        "| --- | --- | --- | --- |",
    ]
    lines += [f"| {source} | {where} | {read} | `{check}` |" for source, where, read, check in rows]
    Path(path).write_text("\n".join(lines) + "\n", encoding="utf-8")
