"""Each command from the words typed to what is printed and written."""

from __future__ import annotations

import io
import json
import re
import zipfile
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image
from pypdf import PdfReader

from cli.test_bad_input import typical_year
from demo_job import demo_text, small_demo
from rooftree.actions.demo import run_demo
from rooftree.actions.plain import plain
from rooftree.actions.planning import plan_job
from rooftree.actions.readings import reduce_job
from rooftree.actions.simulation import year_of
from rooftree.actions.subject import check_subject, open_subject
from rooftree.actions.use import usual_use_of
from rooftree.records import open_store

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from cli.conftest import Ran


def as_json(value: object) -> Any:
    """Return what an action returned as a reader of the JSON would have it."""
    return json.loads(json.dumps(plain(value)))


def test_check_says_that_all_is_well(run: Callable[..., Ran], job_file: Path) -> None:
    """A good job file has no problem, and the command ends well."""
    ran = run("check", job_file)
    assert ran.code == 0
    assert ran.out == f"{job_file}: no problems, no doubts\n"


def test_check_tells_doubts_without_refusing(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any]
) -> None:
    """A single-point test is a doubt, not a problem that blocks."""
    raw["tests"][0]["stations"] = raw["tests"][0]["stations"][:1]
    ran = run("check", write(raw))
    assert ran.code == 0
    assert "(doubt) tests[0].stations has one station" in ran.out
    assert ran.out.endswith("no problems, 1 doubt\n")


def test_reduce_prints_every_test(run: Callable[..., Ran], job_file: Path) -> None:
    """Each test stands with its method, results, limits and doubts."""
    ran = run("reduce", job_file)
    assert ran.code == 0
    for test in small_demo()["tests"]:
        assert test["name"] in ran.out
    assert "ISO 9972:2015, air pulled out of the house, 7 stations" in ran.out
    assert "cfm" in ran.out
    assert "repeat it, and check" in " ".join(ran.out.split())


def test_reduce_shows_si_units_on_request(run: Callable[..., Ran], job_file: Path) -> None:
    """With --metric, flows are in litres a second."""
    out = run("reduce", job_file, "--metric").out
    assert " L/s" in out
    assert "cfm" not in out.replace("cfm per", "")


def test_simulate_prints_energy_air_and_spaces(run: Callable[..., Ran], job_file: Path) -> None:
    """The year stands with its fuels, loads, air and every space."""
    out = run("simulate", job_file).out
    assert "therms  natural gas, heating" in out
    assert "kWh  electricity, cooling" in out
    assert "air leaking in, mean" in out
    assert re.search(r"\$\d,\d{3}  energy bills", out)
    assert "carbon dioxide" in out
    assert re.search(r"Btu/h  rooms need for heating at \d+ °F outdoors", out)
    for space in small_demo()["house"]["spaces"]:
        assert f"  {space['id']} " in out


def test_simulate_prints_money_sources_and_doubts(run: Callable[..., Ran], job_file: Path) -> None:
    """Each use has its money, each living space the sources of its air, the year its doubts."""
    out = run("simulate", job_file).out
    assert re.search(r"therms  natural gas, heating: \$\d", out)
    assert "standing charges" in out
    for space in small_demo()["house"]["spaces"]:
        named = f"Air that enters the {space['name']}\n"
        assert (named in out) == (space["kind"] == "living")
    assert re.search(r"\d+ h  cooling falls short although it runs without a pause", out)
    assert "Heat unaccounted for" in out
    assert "h above 80 %" in out


def test_simulate_writes_every_hour(
    run: Callable[..., Ran], job_file: Path, tmp_path: Path
) -> None:
    """With --hourly there is a row for each hour; progress goes to standard error."""
    path = tmp_path / "new" / "hours.csv"
    ran = run("simulate", job_file, "--hourly", path, "--json")
    assert ran.code == 0
    assert ran.json["year"]["energy"]
    lines = path.read_text(encoding="utf-8").splitlines()
    assert len(lines) == 8761
    assert lines[0].startswith("hour_begins,outdoors.air_degC,")
    assert lines[-1].startswith("2003-12-31T23:00:00,")
    assert "Writing hours: 8,760 of 8,760" in ran.err


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("hours.xlsx", "hours.xlsx ends in neither .csv nor .parquet; end it in one of them"),
        ("", "is a folder; name a file in it"),
    ],
)
def test_simulate_refuses_a_file_before_the_work(
    run: Callable[..., Ran], job_file: Path, tmp_path: Path, name: str, says: str
) -> None:
    """A wrong ending or a folder is told at once."""
    ran = run("simulate", job_file, "--hourly", tmp_path / name)
    assert ran.code == 2
    assert says in ran.err
    assert "Running" not in ran.err


def test_loads_prints_rooms_parts_and_machines(run: Callable[..., Ran], job_file: Path) -> None:
    """The loads stand by room, by cause and by part, with the machines beside them."""
    out = run("loads", job_file).out
    assert "As found" in out
    for space in small_demo()["house"]["spaces"]:
        assert (space["name"] in out) or space["kind"] != "living"
    assert re.search(r"all together( +[\d,]+ Btu/h){3}", out)
    assert "sun through glass" in out
    assert re.search(r"furnace, heating .* to [\d,]+ Btu/h", out)
    assert "the local code asks for" in " ".join(out.split())


def test_loads_take_the_days_of_a_code(run: Callable[..., Ran], job_file: Path) -> None:
    """Temperatures that are typed with their unit are used; one without is refused."""
    out = run("loads", job_file, "--cold", "0 F", "--hot", "38 C", "--metric").out
    assert "Cold day: −17.8 °C outdoors" in out
    assert "up to 38 °C outdoors" in " ".join(out.split())
    assert " W" in out
    refused = run("loads", job_file, "--cold", "14")
    assert refused.code == 2
    assert "--cold" in refused.err


def test_loads_tell_each_stage(run: Callable[..., Ran], job_file: Path) -> None:
    """With --stages the house stands as found and after each stage, and all in one table."""
    ran = run("loads", job_file, "--stages", "--json")
    names = [state["name"] for state in ran.json["states"]]
    assert names[0] == "As found"
    assert len(names) > 1
    first, last = ran.json["states"][0]["loads"], ran.json["states"][-1]["loads"]
    assert last["heating"] < first["heating"]
    parts = sum(part["sensible"] for part in first["heating_parts"])
    assert parts == pytest.approx(first["heating"])
    out = run("loads", job_file, "--stages").out
    assert "Loads of all rooms, stage by stage" in out


def test_use_prints_parts_sources_and_what_the_job_says(
    run: Callable[..., Ran], job_file: Path, folder: Path
) -> None:
    """Each part stands with what it buys and leaves inside, the sums beside the job's own."""
    out = run("use", job_file).out
    assert re.search(r"refrigerator +691 kWh +\d+ Btu/h", out)
    assert re.search(r"range and oven +[\d.]+ kWh +[\d.]+ therms", out)
    assert re.search(r"electricity +[\d,]+ kWh +[\d,]+ kWh", out)
    assert "assumed, ANSI/RESNET/ICC 301-2014" in " ".join(out.split())
    usual = usual_use_of(open_subject(str(job_file), folder))
    assert run("use", job_file, "--json").json == as_json(usual)
    assert " kg/day" in run("use", job_file, "--metric").out


def test_plan_prints_stages_with_reasons(run: Callable[..., Ran], job_file: Path) -> None:
    """The plan stands stage by stage, each step with cost, saving and reason."""
    ran = run("plan", job_file)
    assert ran.code == 0
    assert "simulated packages" in ran.out
    assert "\n1. " in ran.out
    assert "a year here" in ran.out
    assert "All together" in ran.out


def test_progress_goes_to_standard_error(run: Callable[..., Ran], job_file: Path) -> None:
    """What takes long says so beside the result, never in it."""
    ran = run("plan", job_file)
    assert ran.err.startswith("Fitting the house to its tests ...\nSimulating packages: ")
    assert "Simulating" not in ran.out


@pytest.mark.parametrize(
    ("command", "action"),
    [
        ("reduce", reduce_job),
        ("simulate", year_of),
        ("plan", plan_job),
    ],
)
def test_json_is_what_the_action_returns(
    run: Callable[..., Ran],
    job_file: Path,
    folder: Path,
    command: str,
    action: Callable[[Any], object],
) -> None:
    """With --json a command prints what its action returns, and nothing else."""
    ran = run(command, job_file, "--json")
    assert ran.code == 0
    assert ran.json == as_json(action(open_subject(str(job_file), folder)))


def test_json_of_check_lists_problems(
    run: Callable[..., Ran], write: Callable[..., Path], raw: dict[str, Any], folder: Path
) -> None:
    """With --json the problems are a list of path, what is wrong, remedy and weight."""
    raw["house"]["spaces"][0]["volume"] = "13120"
    path = write(raw)
    ran = run("check", path, "--json")
    assert ran.code == 1
    assert ran.json == as_json(check_subject(str(path), folder))
    assert ran.json["problems"][0]["path"] == "house.spaces[0].volume"
    assert ran.json["problems"][0]["blocks"] is True


def test_report_writes_a_pdf(run: Callable[..., Ran], job_file: Path, tmp_path: Path) -> None:
    """The report begins with the complaint in the client's words."""
    path = tmp_path / "papers" / "report.pdf"
    ran = run("report", job_file, "-o", path)
    assert ran.code == 0
    assert ran.out.startswith(f"{path}: ")
    first = " ".join(PdfReader(path).pages[0].extract_text().split())
    assert "icebox in January" in first


def test_report_tells_file_and_size_as_json(
    run: Callable[..., Ran], job_file: Path, tmp_path: Path
) -> None:
    """With --json the report tells where it is and how large."""
    path = tmp_path / "report.pdf"
    ran = run("report", job_file, "--output", path, "--json", "--metric")
    assert ran.json == {"file": str(path), "bytes": path.stat().st_size}


def test_a_job_is_taken_from_the_database_by_name(
    run: Callable[..., Ran], job_file: Path, folder: Path
) -> None:
    """A job that was imported gives the same results by its name as by its file."""
    brought = run("import", job_file)
    assert brought.code == 0
    assert brought.out == 'job "ranch-with-bonus-room", revision 1\n'
    assert (folder / "rooftree.db").is_file()
    assert run("check", "ranch-with-bonus-room").code == 0
    by_name = run("reduce", "ranch-with-bonus-room", "--json").json
    assert by_name == run("reduce", job_file, "--json").json


def test_importing_twice_changes_nothing(run: Callable[..., Ran], job_file: Path) -> None:
    """The same file again is no new revision."""
    run("import", job_file)
    again = run("import", job_file, "--json")
    assert again.json == {"job": "ranch-with-bonus-room", "revision": 1}


def test_the_folder_can_be_named(run: Callable[..., Ran], job_file: Path, tmp_path: Path) -> None:
    """--folder wins over the environment."""
    elsewhere = tmp_path / "elsewhere"
    assert run("import", job_file, "--folder", elsewhere).code == 0
    assert open_store(elsewhere).names() == ("ranch-with-bonus-room",)


def test_a_job_survives_export_and_import(
    run: Callable[..., Ran], job_file: Path, tmp_path: Path
) -> None:
    """What is exported is the job that was imported, word by word."""
    run("import", job_file)
    path = tmp_path / "out.json"
    assert run("export", "ranch-with-bonus-room", "-o", path, "--json").json == {
        "file": str(path),
        "bytes": path.stat().st_size,
    }
    here = open_subject(str(path), tmp_path)
    assert here == open_subject(str(job_file), tmp_path)


def bundle_with_photo(path: Path, job: dict[str, Any], photo: bytes) -> Path:
    """Write a bundle with one photo."""
    job["photos"] = [
        {"id": "photo-1", "place": "attic-place", "caption": "North eave", "file": "eave.jpg"}
    ]
    job["photos"][0]["place"] = job["places"][0]["id"]
    with zipfile.ZipFile(path, "w") as bundle:
        bundle.writestr("job.json", json.dumps(job))
        bundle.writestr("photos/eave.jpg", photo)
    return path


def picture() -> bytes:
    """Return a small picture."""
    file = io.BytesIO()
    Image.new("RGB", (8, 8), "teal").save(file, "JPEG")
    return file.getvalue()


@pytest.mark.parametrize("through", ["database", "file"])
def test_photos_travel_in_bundles(
    run: Callable[..., Ran], tmp_path: Path, raw: dict[str, Any], through: str
) -> None:
    """A bundle keeps its photos, through the database and from bundle to bundle."""
    bundle = bundle_with_photo(tmp_path / "in.zip", raw, picture())
    assert run("check", bundle).code == 0
    subject: Path | str = bundle
    if through == "database":
        run("import", bundle)
        subject = "ranch-with-bonus-room"
    out = tmp_path / "out.zip"
    assert run("export", subject, "-o", out).code == 0
    with zipfile.ZipFile(out) as written:
        assert sorted(written.namelist()) == ["job.json", "photos/eave.jpg"]
        assert Image.open(io.BytesIO(written.read("photos/eave.jpg"))).size == (8, 8)


def test_the_demo_runs_the_whole_job(
    run: Callable[..., Ran],
    raw: dict[str, Any],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The demo fills a database, writes the report and fits its summary on one screen."""
    monkeypatch.setattr("rooftree.actions.demo.demo_text", lambda: json.dumps(raw))
    folder, report = tmp_path / "demo", tmp_path / "demo-report.pdf"
    ran = run("demo", "--folder", folder, "--report", report, "--no-serve")
    assert ran.code == 0
    lines = ran.out.splitlines()
    assert len(lines) <= 23
    assert max(map(len, lines)) <= 100
    assert "icebox in January" in ran.out
    assert "invented" in lines[0]
    assert report.read_bytes().startswith(b"%PDF")
    assert open_store(folder).names() == ("ranch-with-bonus-room",)


def test_the_demo_keeps_what_was_changed_in_it(
    raw: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A second demo in the same folder takes the job as it stands there."""
    monkeypatch.setattr("rooftree.actions.demo.demo_text", lambda: json.dumps(raw))
    run_demo(tmp_path / "demo", tmp_path / "one.pdf")
    store = open_store(tmp_path / "demo")
    changed = store.load("ranch-with-bonus-room").model_copy(update={"client": "Somebody else"})
    store.save(changed, "test")
    run_demo(tmp_path / "demo", tmp_path / "two.pdf")
    assert store.load("ranch-with-bonus-room").client == "Somebody else"


def test_the_demo_tells_its_summary_as_json(
    run: Callable[..., Ran],
    raw: dict[str, Any],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """With --json the demo tells folder, report, packages, seconds and the lines."""
    monkeypatch.setattr("rooftree.actions.demo.demo_text", lambda: json.dumps(raw))
    folder, report = tmp_path / "demo", tmp_path / "demo-report.pdf"
    told = run("demo", "--folder", folder, "--report", report, "--no-serve", "--json").json
    assert sorted(told) == ["folder", "lines", "packages", "report", "seconds"]
    assert told["packages"] > 1
    assert told["report"] == str(report)


def test_the_demo_text_is_the_file_in_the_package() -> None:
    """The command loads the job file that comes with the package."""
    from rooftree.actions import demo

    assert demo.demo_text() == demo_text()


def test_weather_is_kept_and_listed(run: Callable[..., Ran], write: Callable[..., Path]) -> None:
    """A year that was added stands in the list, in words and as JSON."""
    added = run("weather", write(typical_year(), "even.epw"))
    assert added.code == 0
    assert added.out == "greensboro\neven.epw\n"
    assert run("weather", "--json").json == {"added": [], "names": ["greensboro", "even.epw"]}
