"""Read what a person named."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.errors import StoreError

if TYPE_CHECKING:
    from pathlib import Path


def read_file(path: Path) -> bytes:
    """Return the content of a file.

    Parameters
    ----------
    path : Path
        Of the file.

    Returns
    -------
    bytes

    Raises
    ------
    StoreError
        If it is not there or may not be read.
    """
    try:
        return path.read_bytes()
    except OSError as error:
        message = f"{path} cannot be read: {error.strerror}; check its name and permissions"
        raise StoreError(message) from error
