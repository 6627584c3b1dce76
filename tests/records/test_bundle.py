"""Check that a job travels in one zip, and that nothing else gets in with it."""

from __future__ import annotations

import io
import json
import zipfile
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from rooftree.errors import DocumentError, StoreError
from rooftree.records import bundle as module
from rooftree.records.bundle import read_bundle, write_bundle
from rooftree.records.document import JobDocument
from strategies import small_job

if TYPE_CHECKING:
    from pathlib import Path

DOCUMENT = JobDocument.model_validate(small_job())


def picture() -> bytes:
    """Return a photo."""
    file = io.BytesIO()
    Image.new("RGB", (4, 4), "brown").save(file, "JPEG")
    return file.getvalue()


def zipped(members: dict[str, bytes]) -> bytes:
    """Return a zip with these members."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as bundle:
        for name, content in members.items():
            bundle.writestr(name, content)
    return file.getvalue()


JOB = json.dumps(small_job()).encode()


def test_a_bundle_gives_back_what_went_in(tmp_path: Path) -> None:
    """The job file is the same and the photo is there."""
    photo = tmp_path / "p.jpg"
    photo.write_bytes(picture())
    path = tmp_path / "out" / "job.zip"
    size = write_bundle(path, DOCUMENT, {"wall 1.jpg": photo})
    assert size == path.stat().st_size
    bundle = read_bundle(path.read_bytes())
    assert bundle.document == DOCUMENT
    assert Image.open(io.BytesIO(bundle.photos["wall 1.jpg"])).size == (4, 4)


def test_the_same_job_gives_the_same_bundle(tmp_path: Path) -> None:
    """No clock gets into it, so that two exports can be compared."""
    write_bundle(tmp_path / "a.zip", DOCUMENT, {})
    write_bundle(tmp_path / "b.zip", DOCUMENT, {})
    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()


def test_photos_that_are_not_there_are_left_out(tmp_path: Path) -> None:
    """A job whose photos were lost can still be carried elsewhere."""
    write_bundle(tmp_path / "a.zip", DOCUMENT, {"wall 1.jpg": tmp_path / "gone.jpg"})
    assert read_bundle((tmp_path / "a.zip").read_bytes()).photos == {}


@pytest.mark.parametrize(
    "name",
    [
        "../evil.jpg", "photos/../../evil.jpg", "/etc/passwd", "photos/a/b.jpg", "photos\\x.jpg",
        "C:evil.jpg", "photos/C:evil.jpg", "photos/.hidden.jpg", "setup.py", "job.json.bak",
    ],
)  # fmt: skip
def test_a_member_that_does_not_belong_is_refused_by_name(name: str) -> None:
    """Whatever could be written outside the job's folder, or is simply something else."""
    with pytest.raises(DocumentError, match=r"; remove it$") as caught:
        read_bundle(zipped({"job.json": JOB, name: picture()}))
    assert caught.value.problems[0][0] == name.replace("\\", "/") or name in str(caught.value)


@given(st.from_regex(r"\A[./\\a:]{1,12}\Z"))
def test_no_path_leads_out_of_the_folder(name: str) -> None:
    """Dots, slashes and drives in any order are refused."""
    with pytest.raises(DocumentError):
        read_bundle(zipped({"job.json": JOB, f"photos/{name}x/../y.jpg": picture()}))


def test_a_photo_that_is_no_picture_is_refused_by_name() -> None:
    """The message names the file."""
    with pytest.raises(DocumentError, match=r"^wall 1\.jpg is not a picture .*picture$"):
        read_bundle(zipped({"job.json": JOB, "photos/wall 1.jpg": b"MZ\x90"}))


def test_a_photo_that_no_record_names_is_refused() -> None:
    """Nothing lies in the folder of which the job does not know."""
    with pytest.raises(DocumentError, match=r"^photos/other\.jpg is a photo that the job does not"):
        read_bundle(zipped({"job.json": JOB, "photos/other.jpg": picture()}))


def test_a_broken_job_file_is_refused_with_its_problems() -> None:
    """The problems are those of the job file."""
    job = small_job()
    job["budget"] = 5
    with pytest.raises(DocumentError, match=r"^the job file has a problem:\n  budget is the bare"):
        read_bundle(zipped({"job.json": json.dumps(job).encode()}))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "^the bundle is not a whole zip: .*again$"),
        (b"PK\x03\x04 nothing more", "^the bundle is not a whole zip: .*again$"),
        (zipped({"photos/wall 1.jpg": b""}), r"^the bundle holds no job\.json; export .*again$"),
    ],
)
def test_what_is_no_bundle_is_refused(content: bytes, says: str) -> None:
    """A file that is no zip, or a zip without a job."""
    with pytest.raises(DocumentError, match=says):
        read_bundle(content)


def test_a_cut_bundle_is_refused(tmp_path: Path) -> None:
    """A copy that stopped half-way does not become half a job."""
    write_bundle(tmp_path / "a.zip", DOCUMENT, {})
    with pytest.raises(DocumentError, match=r"^the bundle is not a whole zip: "):
        read_bundle((tmp_path / "a.zip").read_bytes()[:-40])


def test_a_changed_byte_is_found(tmp_path: Path) -> None:
    """The checksum of a member is held against what was read."""
    write_bundle(tmp_path / "a.zip", DOCUMENT, {})
    content = bytearray((tmp_path / "a.zip").read_bytes())
    content[200] ^= 0xFF
    with pytest.raises(DocumentError):
        read_bundle(bytes(content))


def test_a_member_packed_in_another_way_is_refused() -> None:
    """Only what every program can pack and unpack is taken."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_LZMA) as bundle:
        bundle.writestr("job.json", JOB)
    with pytest.raises(DocumentError, match=r"^job\.json is packed in an unusual way; pack it"):
        read_bundle(file.getvalue())


@given(st.integers(0, 10_000), st.integers(1, 255))
def test_no_damage_breaks_the_reader(place: int, change: int) -> None:
    """A bundle with any byte changed is the same job still, or is refused."""
    content = bytearray(zipped({"job.json": JOB, "photos/wall 1.jpg": picture()}))
    content[place % len(content)] ^= change
    try:
        assert read_bundle(bytes(content)).document == DOCUMENT
    except DocumentError as error:
        refused = error
        assert refused.problems


def test_a_member_that_unpacks_to_too_much_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Reading stops at the limit, whatever the header says."""
    monkeypatch.setattr(module, "LARGEST_JOB", 1000)
    with pytest.raises(DocumentError, match=r"^job\.json has more than 0 MB; leave it out"):
        read_bundle(zipped({"job.json": b" " * 5000}))


def test_a_bundle_with_too_many_members_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """A zip of a million empty files is no job."""
    monkeypatch.setattr(module, "MOST_MEMBERS", 2)
    with pytest.raises(DocumentError, match=r"^the bundle has 3 members, or some twice; export"):
        read_bundle(zipped({"job.json": JOB, "photos/a.jpg": b"", "photos/b.jpg": b""}))


def test_a_bundle_that_cannot_be_written_leaves_nothing(tmp_path: Path) -> None:
    """Where a file stands in the way of the folder, the error says so."""
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(StoreError, match=r"could not be saved"):
        write_bundle(tmp_path / "file" / "a.zip", DOCUMENT, {})
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
