"""Write the published JSON Schema of the job file beside the pages that describe it."""

from __future__ import annotations

import sys
from pathlib import Path

from rooftree.records.document import schema_text
from rooftree.records.files import write_whole

FILE = Path(__file__).parents[1] / "docs" / "reference" / "job.schema.json"


def write_schema(path: Path = FILE) -> None:
    """Write the schema, whole or not at all."""
    write_whole(path, schema_text().encode())
    print(path.name)


if __name__ == "__main__":
    write_schema(*map(Path, sys.argv[1:]))
