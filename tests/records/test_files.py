"""Check that files are written whole or not at all."""

from __future__ import annotations

import errno
import os
from typing import TYPE_CHECKING

import pytest

from rooftree.errors import StoreError
from rooftree.records.files import whole_file, write_whole

if TYPE_CHECKING:
    from pathlib import Path


def test_a_file_is_written_with_its_folder(tmp_path: Path) -> None:
    """Folders on the way are made."""
    path = tmp_path / "a" / "b" / "file.bin"
    write_whole(path, b"content")
    assert path.read_bytes() == b"content"
    assert [one.name for one in path.parent.iterdir()] == ["file.bin"]


def test_a_file_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    """A shorter content leaves nothing of the longer one."""
    path = tmp_path / "file"
    write_whole(path, b"a long content")
    write_whole(path, b"short")
    assert path.read_bytes() == b"short"


@pytest.mark.parametrize(
    ("code", "says"),
    [
        (errno.ENOSPC, "the disk is full. Free some space and save again; what was there before"),
        (errno.EDQUOT, "the disk is full. Free some space and save again; what was there before"),
        (errno.EACCES, "this user may not write there. Choose another folder or change its"),
        (errno.EIO, "Input/output error"),
    ],
)
def test_a_full_disk_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int, says: str
) -> None:
    """What was there stays, nothing half-written lies beside it, the message says what to do."""
    path = tmp_path / "file"
    write_whole(path, b"old")

    def fail(_handle: int) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(StoreError, match=rf"^{path} could not be saved: {says}"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["file"]


def test_an_error_while_writing_leaves_the_old_file(tmp_path: Path) -> None:
    """Whatever goes wrong inside, the path stays as it was."""
    path = tmp_path / "file"
    write_whole(path, b"old")

    def write_half() -> None:
        with whole_file(path) as file:
            file.write(b"half")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        write_half()
    assert path.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["file"]


def test_a_folder_in_the_way_is_told(tmp_path: Path) -> None:
    """A folder cannot be replaced by a file."""
    (tmp_path / "there" / "inside").mkdir(parents=True)
    with pytest.raises(StoreError, match=r"could not be saved: "):
        write_whole(tmp_path / "there", b"x")
    assert [one.name for one in tmp_path.iterdir()] == ["there"]
