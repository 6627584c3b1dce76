"""The published JSON Schema of the job file."""

from __future__ import annotations

import json
from typing import Any
from urllib.parse import quote

from rooftree.records.document.job import VERSION, JobDocument
from rooftree.units import Kind

_KINDS = frozenset(str(kind) for kind in Kind)


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of the job file.

    Returns
    -------
    dict
        It says the shape of the file; what the parts say together (ids, signs, ways
        to outdoors) only `check_document` knows.
    """
    kinds: dict[str, Any] = {}
    schema = _kinds_apart(JobDocument.model_json_schema(mode="validation"), kinds)
    schema["$defs"] |= kinds
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": f"Rooftree job file, version {VERSION}",
    }


def _kinds_apart(schema: Any, kinds: dict[str, Any]) -> Any:
    """Return a schema in which each kind of quantity stands once, among the definitions."""
    if isinstance(schema, list):
        return [_kinds_apart(one, kinds) for one in schema]
    if not isinstance(schema, dict):
        return schema
    name = schema.get("title")
    if isinstance(name, str) and name in _KINDS and "anyOf" in schema:
        kinds[name] = {key: value for key, value in schema.items() if key != "default"}
        return {"$ref": f"#/$defs/{quote(name)}"}
    return {key: _kinds_apart(value, kinds) for key, value in schema.items()}


def schema_text() -> str:
    """Return the text of the schema as it is published."""
    return json.dumps(job_schema(), indent=2, ensure_ascii=False, sort_keys=True) + "\n"
