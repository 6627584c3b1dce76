"""Check that photos are photos, lose their position and stay the same picture."""

from __future__ import annotations

import io
import struct
import zlib
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

from rooftree.errors import DocumentError
from rooftree.records import pictures
from rooftree.records.pictures import clean_picture

if TYPE_CHECKING:
    from collections.abc import Callable

ORIENTATION, MAKER, EXIF_PART, POSITION, TAKEN = 0x0112, 0x010F, 0x8769, 0x8825, 0x9003
FORMS = [("JPEG", "a.jpg"), ("PNG", "a.png"), ("WEBP", "a.webp")]


def photo(form: str, *, size: tuple[int, int] = (32, 24), orientation: int = 6) -> bytes:
    """Return a photo with a position, a maker's name and a way up."""
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKER] = orientation, "Somebody's camera"
    exif[EXIF_PART] = {TAKEN: "2026:01:21 10:00:00", 0x9286: b"a comment of the camera"}
    exif[POSITION] = {1: "N", 2: (IFDRational(36), IFDRational(4), IFDRational(12))}
    picture = Image.linear_gradient("L").resize(size).convert("RGB")
    file = io.BytesIO()
    picture.save(file, form, exif=exif)
    return file.getvalue()


def opened(content: bytes) -> Image.Image:
    """Return a picture, decoded."""
    picture = Image.open(io.BytesIO(content))
    picture.load()
    return picture


@pytest.mark.parametrize(("form", "name"), FORMS)
def test_the_position_goes_and_the_picture_stays(form: str, name: str) -> None:
    """Every pixel is as before; position and camera are gone, way up and time are kept."""
    before = photo(form)
    after = clean_picture(before, name)
    assert POSITION in opened(before).getexif()
    exif = opened(after).getexif()
    assert dict(exif.get_ifd(POSITION)) == {}
    assert MAKER not in exif
    assert exif[ORIENTATION] == 6
    assert exif.get_ifd(EXIF_PART) == {TAKEN: "2026:01:21 10:00:00"}
    assert opened(after).format == form
    assert opened(after).tobytes() == opened(before).tobytes()
    assert b"Somebody" not in after
    assert b"comment of the camera" not in after


@pytest.mark.parametrize(("form", "name"), FORMS)
def test_a_clean_photo_stays_as_it_is(form: str, name: str) -> None:
    """Cleaning twice changes nothing more."""
    once = clean_picture(photo(form), name)
    assert clean_picture(once, name) == once


@pytest.mark.parametrize(("form", "name"), FORMS)
def test_a_photo_without_any_extras_passes(form: str, name: str) -> None:
    """A bare picture, the smallest there is, is a photo too."""
    file = io.BytesIO()
    Image.new("RGB", (1, 1)).save(file, form)
    assert opened(clean_picture(file.getvalue(), name)).size == (1, 1)


def test_a_progressive_photo_keeps_all_its_scans() -> None:
    """Several scans with tables in between are carried over whole."""
    file = io.BytesIO()
    Image.radial_gradient("L").save(file, "JPEG", progressive=True)
    clean = clean_picture(file.getvalue(), "a.jpeg")
    assert opened(clean).tobytes() == opened(file.getvalue()).tobytes()


def test_what_follows_the_picture_is_cut_off() -> None:
    """A film or a second picture hidden behind the first does not travel along."""
    clean = clean_picture(photo("JPEG") + b"GPS of a hidden film", "a.jpg")
    assert clean.endswith(b"\xff\xd9")


def test_texts_in_a_png_go() -> None:
    """Text parts can hold a position as well."""
    part = b"tEXt" + b"where\x0036.07 N"
    text = struct.pack(">I", len(part) - 4) + part + struct.pack(">I", zlib.crc32(part))
    whole = photo("PNG")
    with_text = whole[:33] + text + whole[33:]
    assert b"36.07 N" in with_text
    assert b"36.07 N" not in clean_picture(with_text, "a.png")


@pytest.mark.parametrize(
    ("content", "name", "says"),
    [
        (lambda: b"", "empty.jpg", r"empty\.jpg is not a picture that can be read; attach a .*"),
        (lambda: b"<svg onload='x()'/>", "x.jpg", r"x\.jpg is not a picture .*"),
        (lambda: b"%PDF-1.7", "report.pdf", r"report\.pdf is not a picture .*"),
        (lambda: b"GIF89a" + bytes(20), "a.gif", r"a\.gif is not a picture .*"),
        (lambda: photo("JPEG")[:-60], "cut.jpg", r"cut\.jpg is cut short or damaged; copy .*"),
        (lambda: photo("PNG")[:-30], "cut.png", r"cut\.png is cut short or damaged; copy .*"),
        (lambda: photo("PNG"), "a.jpg", r"a\.jpg is a PNG picture; end its name in \.png"),
    ],
)
def test_what_is_no_photo_is_refused_by_name(
    content: Callable[[], bytes], name: str, says: str
) -> None:
    """The message names the file and says what to do."""
    with pytest.raises(DocumentError, match=f"^{says}$") as caught:
        clean_picture(content(), name)
    assert caught.value.problems[0][0] == name


def test_a_photo_that_would_fill_the_memory_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """The number of pixels is read before any of them is."""
    monkeypatch.setattr(pictures, "MOST_PIXELS", 100)
    with pytest.raises(DocumentError, match=r"^a\.png has 32 x 24 pixels; use a smaller picture$"):
        clean_picture(photo("PNG"), "a.png")


def test_a_file_that_claims_a_billion_pixels_is_refused() -> None:
    """A few bytes that promise a giant picture are refused before anything is unpacked."""
    header = b"IHDR" + struct.pack(">IIBBBBB", 40_000, 30_000, 8, 2, 0, 0, 0)
    bomb = (
        b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + header
        + struct.pack(">I", zlib.crc32(header)) + struct.pack(">I", 0) + b"IDAT"
        + struct.pack(">I", zlib.crc32(b"IDAT"))
    )  # fmt: skip
    with pytest.raises(DocumentError, match=r"^bomb\.png .*; \w"):
        clean_picture(bomb, "bomb.png")


def test_a_file_too_large_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Before it is even looked at."""
    monkeypatch.setattr(pictures, "LARGEST", 10)
    with pytest.raises(DocumentError, match=r"^a\.png has 0 MB; use a photo of at most 0 MB$"):
        clean_picture(photo("PNG"), "a.png")


@given(st.sampled_from(FORMS), st.data())
def test_no_damage_breaks_the_check(form: tuple[str, str], data: st.DataObject) -> None:
    """A photo with any byte changed is a picture still, or is refused by name."""
    content = bytearray(photo(form[0], size=(8, 8)))
    at = data.draw(st.integers(0, len(content) - 1))
    content[at] ^= data.draw(st.integers(1, 255))
    try:
        clean = clean_picture(bytes(content), form[1])
    except DocumentError as error:
        clean = b""
        assert str(error).startswith(form[1])  # noqa: PT017 either outcome is right
    assert not clean or opened(clean).size
