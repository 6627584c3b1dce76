"""The job file of the demo, whole or with few measures, for tests of everything above the core."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

FEW_MEASURES = (
    "drainage", "water-heater", "bonus-floor", "local-exhaust", "air-sealing", "ventilation",
    "attic",
)  # fmt: skip
"""A plan of these takes seconds, and one holds another back."""


def demo_text() -> str:
    """Return the job file of the demo."""
    return files("rooftree").joinpath("demo", "ranch.json").read_text(encoding="utf-8")


def small_demo() -> dict[str, Any]:
    """Return the demo with few measures and no decision, as plain lists and mappings."""
    job: dict[str, Any] = json.loads(demo_text())
    job["measures"] = [one for one in job["measures"] if one["id"] in FEW_MEASURES]
    job["decisions"] = []
    return job
