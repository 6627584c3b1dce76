"""Serve the database in a folder on a free port and print the address: for browser tests."""

from __future__ import annotations

import sys
from pathlib import Path

from rooftree.records import open_store
from rooftree.web import serve

if __name__ == "__main__":
    serve(
        open_store(Path(sys.argv[1])),
        0,
        developer=True,
        announce=lambda address: print(address, flush=True),  # noqa: T201
    )
