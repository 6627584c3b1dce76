"""A writer of jobs for a process of its own, which imports it by this name."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from rooftree.records import open_store
from rooftree.records.document import read_document
from strategies import put, small_job

if TYPE_CHECKING:
    from pathlib import Path

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


def save_ten_states(folder: Path, who: str) -> None:
    """Save ten states of the same job."""
    store = open_store(folder)
    for k in range(10):
        job = small_job()
        put(job, "client", f"{who} {k}")
        store.save(read_document(json.dumps(job)), who, NOON)
