"""A bundle: one zip with the job file and its photos, to carry a job elsewhere.

It holds ``job.json`` and ``photos/NAME`` for each photo that the job names, nothing else:
a bundle with any other member is refused by the name of that member.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rooftree.errors import DocumentError
from rooftree.records.document import JobDocument, read_document
from rooftree.records.files import whole_file
from rooftree.records.pictures import LARGEST as LARGEST_PHOTO
from rooftree.records.pictures import clean_picture

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

JOB, PHOTOS = "job.json", "photos/"
LARGEST_JOB = 64 * 1024 * 1024
"""Largest job file that is read [bytes]."""
LARGEST_BUNDLE = 1024**3
"""Largest sum of all members, unpacked [bytes]."""
MOST_MEMBERS = 5000


@dataclass(frozen=True, slots=True)
class Bundle:
    """A job with its photos.

    Attributes
    ----------
    document : JobDocument
        The job file.
    photos : mapping from str to bytes
        Content of each photo by its file name.
    """

    document: JobDocument
    photos: Mapping[str, bytes] = field(default_factory=dict)


def read_bundle(content: bytes) -> Bundle:
    """Return what a bundle holds: the job file checked, photos checked and stripped of position.

    Parameters
    ----------
    content : bytes
        Of the zip.

    Returns
    -------
    Bundle

    Raises
    ------
    DocumentError
        If it is not a bundle, holds anything else, or its job file or a photo cannot be
        taken; nothing is written anywhere.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as bundle:
            return _read(bundle)
    except (zipfile.BadZipFile, zlib.error, RuntimeError, EOFError, OSError) as error:
        says = f"is not a whole zip: {error}"
        raise _refused("the bundle", says, "export or copy it again") from None


def _read(bundle: zipfile.ZipFile) -> Bundle:
    names = _member_names(bundle)
    document = read_document(_member(bundle, JOB, LARGEST_JOB))
    wanted = {photo.file for photo in document.photos if photo.file}
    left, photos = LARGEST_BUNDLE, {}
    for name in names - {JOB}:
        file = name.removeprefix(PHOTOS)
        if file not in wanted:
            raise _refused(name, "is a photo that the job does not name", "remove it")
        photo = _member(bundle, name, LARGEST_PHOTO)
        left -= len(photo)
        if left < 0:
            size = f"{LARGEST_BUNDLE // 1024**2} MB"
            raise _refused("the bundle", f"holds more than {size}", "split the job")
        photos[file] = clean_picture(photo, file)
    return Bundle(document, photos)


def _member_names(bundle: zipfile.ZipFile) -> set[str]:
    """Return the names of the members, each of which must be one that belongs."""
    members = [member for member in bundle.infolist() if not member.is_dir()]
    for member in members:
        if member.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            says = "is packed in an unusual way"
            raise _refused(member.filename, says, "pack it again as an ordinary zip")
    names = [member.filename for member in members]
    if len(names) > MOST_MEMBERS or len(set(names)) < len(names):
        says = f"has {len(names)} members, or some twice"
        raise _refused("the bundle", says, "export it again")
    for name in names:
        file = name.removeprefix(PHOTOS)
        is_photo = name.startswith(PHOTOS) and file and not set(file) & set("/\\:\x00")
        if name != JOB and not (is_photo and not file.startswith(".")):
            says = f"does not belong in a bundle: only {JOB} and {PHOTOS} do"
            raise _refused(name, says, "remove it")
    if JOB not in names:
        raise _refused("the bundle", f"holds no {JOB}", "export the job again")
    return set(names)


def _member(bundle: zipfile.ZipFile, name: str, largest: int) -> bytes:
    """Return a member's content, read no further than allowed whatever its header claims."""
    with bundle.open(name) as member:
        content = member.read(largest + 1)
    if len(content) > largest:
        says = f"has more than {largest // 1024**2} MB"
        raise _refused(name, says, "leave it out or make it smaller")
    return content


def write_bundle(path: Path, document: JobDocument, photos: Mapping[str, Path]) -> int:
    """Write a bundle, whole or not at all.

    Parameters
    ----------
    path : Path
        Of the zip.
    document : JobDocument
        The job file.
    photos : mapping from str to Path
        Where the photo of each file name lies; photos that are not there are left out.

    Returns
    -------
    int
        Size of the zip [bytes].

    Raises
    ------
    StoreError
        If it cannot be written; what was there before stays.
    """
    with whole_file(path) as file:
        with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as bundle:
            _add(bundle, JOB, document.to_json().encode())
            for name, photo in sorted(photos.items()):
                if photo.is_file():
                    _add(bundle, PHOTOS + name, photo.read_bytes())
        return file.tell()


def _add(bundle: zipfile.ZipFile, name: str, content: bytes) -> None:
    """Add a member with a fixed date, so that the same job always gives the same bundle."""
    member = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    is_packed = name.startswith(PHOTOS)
    member.compress_type = zipfile.ZIP_STORED if is_packed else zipfile.ZIP_DEFLATED
    bundle.writestr(member, content)


def _refused(name: str, says: str, remedy: str) -> DocumentError:
    return DocumentError(f"{name} {says}; {remedy}", ((name, f"{says}; {remedy}"),))
