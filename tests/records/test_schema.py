"""Check the published JSON Schema of the job file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given

from rooftree.records.document import job_schema, schema_text
from strategies import changed, job_files, put, small_job, take

PUBLISHED = Path(__file__).parents[2] / "docs" / "reference" / "job.schema.json"
VALIDATOR = jsonschema.Draft202012Validator(job_schema())


def test_the_published_schema_is_up_to_date() -> None:
    """`python -m rooftree.records.document > docs/reference/job.schema.json` makes it."""
    assert PUBLISHED.read_text(encoding="utf-8") == schema_text()


def test_the_schema_is_a_schema() -> None:
    """It obeys the draft that it names."""
    jsonschema.Draft202012Validator.check_schema(job_schema())


@given(job_files())
def test_legal_jobs_obey_the_schema(job: dict[str, Any]) -> None:
    """Whatever the program takes, the schema takes."""
    VALIDATOR.validate(job)


@pytest.mark.parametrize(
    "job",
    [
        changed(lambda j: put(j, "house.spaces.0.volume", 8000)),
        changed(lambda j: put(j, "house.spaces.0.hight", "8 ft")),
        changed(lambda j: take(j, "house.use")),
        changed(lambda j: put(j, "house.spaces.0.height", {"known": "measured"})),
        changed(lambda j: put(j, "tests.0.kind", "guess")),
        changed(lambda j: put(j, "house.use.cooling_setpoint", ["76 F"] * 23)),
        changed(lambda j: put(j, "version", 2)),
    ],
)
def test_the_schema_refuses_what_has_another_shape(job: dict[str, Any]) -> None:
    """A bare number, an unknown field, a missing part: another program can see it too."""
    assert not VALIDATOR.is_valid(job)


def test_every_quantity_says_its_units() -> None:
    """Who writes a job file with another program finds the units in the schema."""
    text = schema_text()
    assert "cfm, L/s, m³/h, m³/s" in text
    assert VALIDATOR.is_valid(small_job())
