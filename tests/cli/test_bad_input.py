"""Whatever is wrong with the input: a message with field and remedy, and nothing half-written."""

from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
import zipfile
from functools import partial
from typing import TYPE_CHECKING, Any

import pandas as pd
import pytest
import sqlalchemy as sa

from demo_job import demo_text
from rooftree.errors import RooftreeError
from rooftree.records import open_store
from rooftree.records.weather_files import epw_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from cli.conftest import Ran

NAME = "ranch-with-bonus-room"


def set_area(text: object) -> Callable[[dict[str, Any]], object]:
    """Return what gives the first surface another area."""
    return lambda job: job["house"]["surfaces"][0].update(area=text)


def swap_signs(job: dict[str, Any]) -> None:
    """Turn every pressure of a fan test around, as swapped hoses do."""
    for station in job["tests"][0]["stations"]:
        station["pressure"] = station["pressure"].removeprefix("-")


def shut_in(job: dict[str, Any]) -> None:
    """Take away every path of the attic but the one to the crawlspace, shut in as well."""
    shut = {"attic", "crawl"}
    job["house"]["leaks"] = [
        leak for leak in job["house"]["leaks"] if not shut & {leak["first"], leak["second"]}
    ]
    job["house"]["leaks"].append(
        {
            "id": "between",
            "name": "hole between the two",
            "first": "attic",
            "second": "crawl",
            "level": "2 ft",
            "azimuth": None,
            "coefficient": "10 cfm/Pa^n",
        }
    )


BROKEN: dict[str, tuple[Callable[[dict[str, Any]], object], str, str]] = {
    "wrong unit": (
        set_area("320 lb"),
        "house.surfaces[0].area",
        '"320 lb" is written as mass, not area; write it like "12 ft²"',
    ),
    "missing unit": (
        set_area("320"),
        "house.surfaces[0].area",
        'has no unit; write it like "12 ft²"',
    ),
    "bare number": (
        set_area(320),
        "house.surfaces[0].area",
        "is the bare number 320; write it with",
    ),
    "negative area": (set_area("-320 ft2"), "house.surfaces[0].area", "it must be more than 0"),
    "not a number": (
        set_area("nan ft2"),
        "house.surfaces[0].area",
        '"nan ft2" is not a number with a unit',
    ),
    "NaN of JSON": (
        lambda job: job["house"]["use"].update(bedrooms=float("nan")),
        "house.use.bedrooms",
        "leave out what was not measured",
    ),
    "unknown field": (
        lambda job: job["house"]["windows"][0].update(areas="60 ft2"),
        "house.windows[0].areas",
        'is not a field of the job file; did you mean "area"?',
    ),
    "space without a path to outdoors": (
        shut_in,
        "house.spaces[2]",
        "no leak leads outdoors, directly or through other spaces; add a leak",
    ),
    "swapped signs": (
        swap_signs,
        "tests[0].stations[0].pressure",
        "should be negative; check the hoses and correct the sign",
    ),
    "newer version": (
        lambda job: job.update(version=99),
        "version",
        "this program knows job files up to version",
    ),
}


@pytest.mark.parametrize("damage", BROKEN)
def test_check_names_field_and_remedy(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any], damage: str
) -> None:
    """Each kind of damage is told with its path and what to do; exit code 1."""
    break_it, path, says = BROKEN[damage]
    break_it(raw)
    ran = run("check", write(raw))
    assert ran.code == 1
    told = [line for line in ran.out.splitlines() if line.startswith(path)]
    assert told, ran.out
    assert says in told[0]
    assert "; " in told[0], "no remedy"


@pytest.mark.parametrize("damage", BROKEN)
def test_what_is_broken_is_not_imported(
    run: Callable[..., Ran],
    write: Callable[..., Path],
    raw: dict[str, Any],
    folder: Path,
    damage: str,
) -> None:
    """A broken file is refused with the same words; the job in the database stays."""
    assert run("import", write(raw, "good.json")).code == 0
    before = open_store(folder).load(NAME)
    break_it, path, says = BROKEN[damage]
    break_it(raw)
    ran = run("import", write(raw, "broken.json"))
    assert ran.code == 2
    assert ran.out == ""
    assert path in ran.err
    assert says in ran.err
    assert "Traceback" not in ran.err
    assert open_store(folder).load(NAME) == before
    assert open_store(folder).revision(NAME) == 1


@pytest.mark.parametrize("share", [0.0, 0.2, 0.9, 0.999])
def test_a_truncated_file_says_so(
    run: Callable[..., Ran], write: Callable[..., Path], folder: Path, share: float
) -> None:
    """A file that ends in the middle is told from one that is wrong; nothing is imported."""
    text = demo_text()
    path = write(text[: int(share * len(text))])
    ran = run("check", path)
    assert ran.code == 1
    assert ("is empty" if share == 0.0 else "ends in the middle") in ran.out
    assert run("import", path).code == 2
    assert open_store(folder).names() == ()


def test_every_problem_is_told_at_once(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any]
) -> None:
    """Three mistakes are three lines, so that nobody mends them one run at a time."""
    set_area(320)(raw)
    swap_signs(raw)
    raw["house"]["site"]["latitude"] = "136°"
    ran = run("check", write(raw))
    told = ran.out
    assert "house.surfaces[0].area" in told
    assert "tests[0].stations[6].pressure" in told
    assert "house.site.latitude" in told


def test_a_test_with_one_point_is_reduced_with_a_wide_range(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any]
) -> None:
    """A single point is taken as a single-point test, said as such, and less sure."""
    raw["tests"][0]["stations"] = raw["tests"][0]["stations"][1:2]
    tests = run("reduce", write(raw), "--json").json["tests"]
    one, many = (tests[k]["result"]["sizes"]["flow50"] for k in (0, 1))
    assert one["high"] - one["low"] > many["high"] - many["low"]
    says = " ".join(finding["says"] for finding in tests[0]["findings"])
    assert "the exponent is assumed" in says


def typical_year(without_month: int = 0) -> str:
    """Return an EPW file of an even year, from which a month may be missing."""
    table = pd.DataFrame(
        {
            "temp_air": [15.0] * 8760,
            "relative_humidity": 60.0,
            "pressure": 99_000.0,
            "ghi": 100.0,
            "dni": 50.0,
            "dhi": 70.0,
            "IR(h)": 330.0,
            "wind_speed": 3.0,
            "wind_direction": 180.0,
        }
    )
    lines = epw_text(table, 36.1, -79.95, -5, 273.0).splitlines()
    return "\n".join(line for line in lines if not line.startswith(f"2001,{without_month},"))


def test_a_year_beside_the_job_file_is_used(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any]
) -> None:
    """A job names a year of weather by the file beside it."""
    write(typical_year(), "even.epw")
    raw["weather"] = "even.epw"
    ran = run("simulate", write(raw))
    assert ran.code == 0, ran.err
    assert "typical year of even.epw" in ran.out


def test_a_missing_month_is_named(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any]
) -> None:
    """An EPW file without March says that March is missing."""
    write(typical_year(without_month=3), "holed.epw")
    raw["weather"] = "holed.epw"
    ran = run("simulate", write(raw))
    assert ran.code == 2
    assert "holed.epw" in ran.err
    assert "March" in ran.err
    assert "Traceback" not in ran.err


def test_an_unknown_year_says_what_there_is(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any]
) -> None:
    """A year of weather that is nowhere is told with what to do."""
    raw["weather"] = "nowhere"
    ran = run("simulate", write(raw))
    assert ran.code == 2
    assert 'there is no year of weather "nowhere"' in ran.err


def test_a_photo_that_is_no_picture_is_refused(
    run: Callable[..., Ran], raw: dict[str, Any], tmp_path: Path, folder: Path
) -> None:
    """A bundle with a text that calls itself a photo is refused by that name."""
    place = raw["places"][0]["id"]
    raw["photos"] = [{"id": "p", "place": place, "caption": "", "file": "eave.jpg"}]
    path = tmp_path / "in.zip"
    with zipfile.ZipFile(path, "w") as bundle:
        bundle.writestr("job.json", json.dumps(raw))
        bundle.writestr("photos/eave.jpg", b"this is no picture")
    ran = run("import", path)
    assert ran.code == 2
    assert "eave.jpg is not a picture that can be read; attach a JPEG" in ran.err
    assert open_store(folder).names() == ()
    assert not (folder / "photos").exists()
    assert run("check", path).code == 1


HOLD = """
import sqlite3, sys
held = sqlite3.connect(sys.argv[1], isolation_level=None)
held.execute("BEGIN IMMEDIATE")
print("held", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def locked(folder: Path) -> Iterator[None]:
    """Let another process write to the database for as long as the test lasts."""
    open_store(folder).close()
    with subprocess.Popen(
        [sys.executable, "-c", HOLD, str(folder / "rooftree.db")],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        yield
        other.communicate("")


@pytest.mark.usefixtures("locked")
def test_a_database_locked_by_another_process_says_so(
    run: Callable[..., Ran], job_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While another program writes, nothing is changed, and what to do is said."""
    impatient = partial(open_store, busy=0.1)
    monkeypatch.setattr("rooftree.actions.subject.open_store", impatient)
    ran = run("import", job_file)
    assert ran.code == 2
    assert "is being written by another program; nothing was changed. Wait until" in ran.err


def test_a_full_disk_leaves_the_database_as_it_was(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any], folder: Path
) -> None:
    """A save that does not fit is undone whole."""
    assert run("import", write(raw)).code == 0
    before = open_store(folder).load(NAME)
    raw["complaints"][0]["words"] = "It is cold. " * 20_000

    def no_more_pages(connection: Any, _: object) -> None:
        connection.execute("PRAGMA max_page_count=1").close()  # as many as there are already

    sa.event.listen(sa.Engine, "connect", no_more_pages)
    try:
        ran = run("import", write(raw, "long.json"))
    finally:
        sa.event.remove(sa.Engine, "connect", no_more_pages)
    assert ran.code == 2
    assert "the disk is full; nothing was changed. Free some space" in ran.err
    assert open_store(folder).load(NAME) == before


def full(_: int) -> None:
    """Fail as the system does when there is no space left."""
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize("name", ["out.json", "out.zip"])
def test_a_full_disk_leaves_the_file_that_was_there(
    run: Callable[..., Ran],
    job_file: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
) -> None:
    """An export that does not fit leaves the earlier one whole, and no remains."""
    path = tmp_path / "papers" / name
    path.parent.mkdir()
    path.write_bytes(b"the earlier one")
    monkeypatch.setattr(os, "fsync", full)
    ran = run("export", job_file, "-o", path)
    assert ran.code == 2
    assert "the disk is full. Free some space and save again" in ran.err
    assert path.read_bytes() == b"the earlier one"
    assert list(path.parent.iterdir()) == [path]


def test_a_report_on_a_full_disk_leaves_the_earlier_one(
    run: Callable[..., Ran], job_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A report is there whole or as it was."""
    path = tmp_path / "papers" / "report.pdf"
    path.parent.mkdir()
    path.write_bytes(b"the earlier one")
    monkeypatch.setattr(os, "fsync", full)
    ran = run("report", job_file, "-o", path)
    assert ran.code == 2
    assert "the disk is full" in ran.err
    assert list(path.parent.iterdir()) == [path]
    assert path.read_bytes() == b"the earlier one"


@pytest.mark.parametrize(
    ("output", "says"),
    [("report.txt", "end it in .pdf"), ("folder", "is a folder; name a file in it")],
)
def test_a_place_for_no_report_is_refused_before_the_work(
    run: Callable[..., Ran], job_file: Path, tmp_path: Path, output: str, says: str
) -> None:
    """Where the report cannot go is said before anything is simulated."""
    (tmp_path / "folder").mkdir()
    ran = run("report", job_file, "-o", tmp_path / output)
    assert ran.code == 2
    assert says in ran.err
    assert "Simulating" not in ran.err


def test_an_export_ends_in_json_or_zip(
    run: Callable[..., Ran], job_file: Path, tmp_path: Path
) -> None:
    """Any other ending is refused, for nobody could import the file."""
    ran = run("export", job_file, "-o", tmp_path / "out.txt")
    assert ran.code == 2
    assert "ends in neither .json nor .zip; end it in one of them" in ran.err


@pytest.mark.parametrize("command", ["check", "reduce", "simulate", "plan"])
def test_a_missing_file_makes_no_database(
    run: Callable[..., Ran], folder: Path, command: str
) -> None:
    """A command that only reads says what is missing and makes nothing."""
    ran = run(command, "nowhere.json")
    assert ran.code == 2
    assert "rooftree: there is no file nowhere.json; check its path\n" in ran.err
    ran = run(command, "no such job")
    assert ran.code == 2
    assert f'neither a file "no such job" nor a database in {folder}' in ran.err
    assert not folder.exists()


def test_an_unknown_job_is_told_with_those_there_are(
    run: Callable[..., Ran], job_file: Path
) -> None:
    """A name that is not in the database comes with the names that are."""
    run("import", job_file)
    ran = run("reduce", "ranch")
    assert ran.code == 2
    assert f"jobs there: {NAME}" in ran.err


def test_a_missing_file_is_not_imported(run: Callable[..., Ran], folder: Path) -> None:
    """Importing what is not there says so, and makes no database."""
    ran = run("import", "nowhere.json")
    assert ran.code == 2
    assert "nowhere.json cannot be read: No such file or directory; check its name" in ran.err
    assert not folder.exists()


@pytest.mark.parametrize(
    "words", [("nonsense",), ("plan",), ("report", "a.json"), ("check", "a", "--wrong")]
)
def test_words_that_are_no_command_end_with_two(
    run: Callable[..., Ran], words: tuple[str, ...]
) -> None:
    """An unknown command, a missing argument and an unknown option are refused."""
    ran = run(*words)
    assert ran.code == 2
    assert ran.out == ""
    assert ran.err


def test_errors_are_one_tree() -> None:
    """Whatever a command can say on purpose is one kind of error, so none becomes a trace."""
    from rooftree import errors

    raised = [
        member
        for member in vars(errors).values()
        if isinstance(member, type) and issubclass(member, Exception)
    ]
    assert all(issubclass(member, RooftreeError) for member in raised)
