"""Print the published schema: ``python -m rooftree.records.document``."""

import sys

from rooftree.records.document.schema import schema_text

sys.stdout.write(schema_text())
