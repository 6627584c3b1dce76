"""Shared by the tests of the actions: the demo with few measures, in memory and in a database."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from demo_job import small_demo
from rooftree.records import Store, open_store
from rooftree.records.document import read_document

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from rooftree.job import Job

NAME = "ranch-with-bonus-room"


@pytest.fixture(scope="session")
def job() -> Job:
    """Return the demo with few measures."""
    return read_document(json.dumps(small_demo())).to_core()


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """Return a database with the demo with few measures."""
    made = open_store(tmp_path / "database")
    made.import_file("demo.json", json.dumps(small_demo()).encode(), "test")
    yield made
    made.close()
