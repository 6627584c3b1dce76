"""Photos as they come from a phone: checked to be pictures, stripped of where they were taken.

The picture itself is never decoded and encoded again. Only what surrounds it is left out:
the position, the serial number of the camera and whatever else a camera writes into a
file, except which way is up and when the photo was taken.
"""

from __future__ import annotations

import io
import struct
import warnings
import zlib
from pathlib import PurePath
from typing import TYPE_CHECKING

from rooftree.errors import DocumentError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from PIL import Image

LARGEST = 30 * 1024 * 1024
"""Largest photo that is taken [bytes]."""

MOST_PIXELS = 100_000_000
"""More pixels than any phone makes: a small file that claims them would fill the memory."""

SUFFIXES = {"JPEG": (".jpg", ".jpeg"), "PNG": (".png",), "WEBP": (".webp",)}
_ORIENTATION, _TAKEN, _EXIF_PART = 0x0112, 0x9003, 0x8769
_EXIF_HEAD = b"Exif\x00\x00"


def clean_picture(content: bytes, name: str) -> bytes:
    """Return a photo without its position, or refuse what is not a photo.

    Parameters
    ----------
    content : bytes
        Of the file.
    name : str
        Of the file, for the message.

    Returns
    -------
    bytes
        The same picture in the same format.

    Raises
    ------
    DocumentError
        If it is not a whole JPEG, PNG or WebP picture of ordinary size.
    """
    if len(content) > LARGEST:
        size = f"{len(content) / 1024**2:.0f} MB"
        raise _refused(name, f"has {size}", f"use a photo of at most {LARGEST // 1024**2} MB")
    form, kept = _verified(content, name)
    if PurePath(name).suffix.lower() not in SUFFIXES[form]:
        raise _refused(name, f"is a {form} picture", f"end its name in {SUFFIXES[form][0]}")
    try:
        return {"JPEG": _clean_jpeg, "PNG": _clean_png, "WEBP": _clean_webp}[form](content, kept)
    except (struct.error, IndexError, ValueError):
        raise _refused(name, "is damaged", "take the photo from the phone again") from None


def _verified(content: bytes, name: str) -> tuple[str, bytes]:
    """Return the format of a picture, and what is kept of its EXIF part."""
    from PIL import Image

    says, remedy = "is not a picture that can be read", "attach a JPEG, PNG or WebP picture"
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(content), formats=list(SUFFIXES)) as picture:
                if picture.width * picture.height > MOST_PIXELS:
                    says = f"has {picture.width} x {picture.height} pixels"
                    raise _refused(name, says, "use a smaller picture")
                says, remedy = "is cut short or damaged", "copy it again"
                picture.load()
                return str(picture.format), _kept(picture.getexif())
    except DocumentError:
        raise
    except Exception:  # noqa: BLE001 a damaged picture fails in as many ways as formats have
        raise _refused(name, says, remedy) from None


def _kept(exif: Image.Exif) -> bytes:
    """Return an EXIF part that holds which way is up and when the photo was taken."""
    from PIL import Image

    kept = Image.Exif()
    if _ORIENTATION in exif:
        kept[_ORIENTATION] = exif[_ORIENTATION]
    if taken := exif.get_ifd(_EXIF_PART).get(_TAKEN):
        kept[_EXIF_PART] = {_TAKEN: taken}
    return kept.tobytes() if len(kept) else b""


def _clean_jpeg(content: bytes, exif: bytes) -> bytes:
    """Return a JPEG with the given EXIF part only; nothing that follows the picture stays."""
    result = bytearray(b"\xff\xd8")
    if exif:
        part = exif if exif.startswith(_EXIF_HEAD) else _EXIF_HEAD + exif
        result += b"\xff\xe1" + struct.pack(">H", len(part) + 2) + part
    for marker, segment in _jpeg_segments(content):
        # Applications 1 to 15 and comments hold what cameras write; 0 and 14 say how to decode.
        if marker == 0xFE or (0xE1 <= marker <= 0xEF and marker not in (0xE2, 0xEE)):
            continue
        if marker == 0xE2 and not segment[4:].startswith(b"ICC_PROFILE"):
            continue
        result += segment
    return bytes(result)


def _jpeg_segments(content: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield marker and bytes of each segment after the start, scans with their data."""
    at = 2
    while True:
        while content[at + 1] == 0xFF:  # fill bytes
            at += 1
        marker = content[at + 1]
        if marker == 0xD9:
            yield marker, content[at : at + 2]
            return
        end = at + 2 + struct.unpack_from(">H", content, at + 2)[0]
        if marker == 0xDA:
            end = _end_of_scan(content, end)
        yield marker, content[at:end]
        at = end


def _end_of_scan(content: bytes, at: int) -> int:
    """Return where the data of a scan ends: at the next marker that is no restart."""
    while True:
        at = content.index(b"\xff", at)
        if content[at + 1] != 0x00 and not 0xD0 <= content[at + 1] <= 0xD7:
            return at
        at += 2


def _clean_png(content: bytes, exif: bytes) -> bytes:
    """Return a PNG without texts, times and the camera's EXIF part."""
    result, at = bytearray(content[:8]), 8
    while at < len(content):
        length = struct.unpack_from(">I", content, at)[0]
        kind, chunk = content[at + 4 : at + 8], content[at : at + 12 + length]
        if kind not in (b"eXIf", b"tEXt", b"zTXt", b"iTXt", b"tIME"):
            result += chunk
        if kind == b"IHDR" and exif:
            part = b"eXIf" + exif.removeprefix(_EXIF_HEAD)
            result += struct.pack(">I", len(part) - 4) + part + struct.pack(">I", zlib.crc32(part))
        if kind == b"IEND":
            break
        at += 12 + length
    return bytes(result)


def _clean_webp(content: bytes, exif: bytes) -> bytes:
    """Return a WebP with the given EXIF part only."""
    body, at, exif = bytearray(), 12, exif.removeprefix(_EXIF_HEAD)
    while at + 8 <= len(content):
        kind, length = content[at : at + 4], struct.unpack_from("<I", content, at + 4)[0]
        chunk = bytearray(content[at : at + 8 + length + length % 2])
        if kind == b"VP8X":
            chunk[8] = chunk[8] & ~0b1100 | (0b1000 if exif else 0)
        if kind not in (b"EXIF", b"XMP "):
            body += chunk
        at += len(chunk)
    if exif and body.startswith(b"VP8X"):
        body += b"EXIF" + struct.pack("<I", len(exif)) + exif + b"\x00" * (len(exif) % 2)
    return b"RIFF" + struct.pack("<I", len(body) + 4) + b"WEBP" + bytes(body)


def _refused(name: str, says: str, remedy: str) -> DocumentError:
    return DocumentError(f"{name} {says}; {remedy}", ((name, f"{says}; {remedy}"),))
