"""The published JSON Schema of the job file."""

from __future__ import annotations

import json
from typing import Any

from rooftree.records.document.job import VERSION, JobDocument


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of the job file.

    Returns
    -------
    dict
        It says the shape of the file; what the parts say together (ids, signs, ways
        to outdoors) only `check_document` knows.
    """
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **JobDocument.model_json_schema(mode="validation"),
        "title": f"Rooftree job file, version {VERSION}",
    }


def schema_text() -> str:
    """Return the text of the schema as it is published."""
    return json.dumps(job_schema(), indent=2, ensure_ascii=False, sort_keys=True) + "\n"
