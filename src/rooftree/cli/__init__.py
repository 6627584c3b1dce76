"""The command line: each command parses, calls one action and prints.

Exit codes: 0 done, 1 `check` found a problem that blocks, 2 it could not be done,
130 stopped by Ctrl+C.
"""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

from rooftree.cli.app import APP
from rooftree.errors import RooftreeError

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["main"]

REFUSED, STOPPED = 2, 130


def main(words: Sequence[str] | None = None) -> None:
    """Run a command; what goes wrong is said on standard error, never as a trace.

    Parameters
    ----------
    words : sequence of str or None
        What was typed after the program's name; taken from the command line where None.
    """
    try:
        APP(sys.argv[1:] if words is None else list(words))
    except RooftreeError as error:
        print(f"rooftree: {error}", file=sys.stderr)
        sys.exit(REFUSED)
    except KeyboardInterrupt:
        print("\nrooftree: stopped; nothing half-written stays", file=sys.stderr)
        sys.exit(STOPPED)
    except BrokenPipeError:  # what reads our output, such as `head`, has had enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(REFUSED)
