"""Where the database lies when nobody says."""

from __future__ import annotations

import os
import sys
from pathlib import Path

VARIABLE = "ROOFTREE_FOLDER"
"""Environment variable that names the folder."""


def data_folder(given: Path | None = None) -> Path:
    """Return the folder of the database.

    Parameters
    ----------
    given : Path or None
        Named by the person; wins over everything.

    Returns
    -------
    Path
        Otherwise the one that ``ROOFTREE_FOLDER`` names, or the usual one for programs'
        data on this system.
    """
    if given is not None:
        return given
    named = os.environ.get(VARIABLE)
    if named:
        return Path(named)
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", home)) / "rooftree"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "rooftree"
    return Path(os.environ.get("XDG_DATA_HOME", home / ".local" / "share")) / "rooftree"
