"""The command line: each command parses, calls one action and prints."""

from __future__ import annotations

import sys

from rooftree.cli.app import APP
from rooftree.errors import DocumentError, RooftreeError

__all__ = ["main"]


def main() -> None:
    """Run the command; what goes wrong is one sentence on standard error and exit code 2."""
    try:
        APP()
    except DocumentError as error:
        print(f"rooftree: {error}", file=sys.stderr)
        for path, says in error.problems:
            print(f"  {path}: {says}", file=sys.stderr)
        sys.exit(2)
    except RooftreeError as error:
        print(f"rooftree: {error}", file=sys.stderr)
        sys.exit(2)
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        sys.exit(130)
