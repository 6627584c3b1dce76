"""Write files whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import tempfile
from pathlib import Path
from typing import IO, TYPE_CHECKING

from rooftree.errors import StoreError

if TYPE_CHECKING:
    from collections.abc import Iterator


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that it is either there whole or as it was before.

    Parameters
    ----------
    path : Path
        Where; its folder is made if it is not there.
    content : bytes
        What.

    Raises
    ------
    StoreError
        If the disk is full or the folder may not be written; nothing half-written stays.
    """
    with whole_file(path) as file:
        file.write(content)


@contextlib.contextmanager
def whole_file(path: Path) -> Iterator[IO[bytes]]:
    """Open a file that takes the place of the one at a path only once it is whole.

    Parameters
    ----------
    path : Path
        Where; its folder is made if it is not there.

    Yields
    ------
    file
        To write bytes to; if anything goes wrong before the block ends, the path stays
        as it was.

    Raises
    ------
    StoreError
        If the disk is full or the folder may not be written; nothing half-written stays.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:80]}.")
    except OSError as error:
        raise StoreError(_says(path, error)) from error
    try:
        with os.fdopen(handle, "w+b") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        Path(name).chmod(0o644)
        Path(name).replace(path)
    except StoreError:
        raise
    except OSError as error:
        raise StoreError(_says(path, error)) from error
    finally:
        with contextlib.suppress(OSError):
            Path(name).unlink()


def _says(path: Path, error: OSError) -> str:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return (
            f"{path} could not be saved: the disk is full. Free some space and save again; "
            "what was there before is untouched"
        )
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return (
            f"{path} could not be saved: this user may not write there. Choose another folder or "
            "change its permissions"
        )
    return f"{path} could not be saved: {error.strerror or error}"
