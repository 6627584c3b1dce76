"""Check that every problem of a job file is listed with its path and its remedy."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from rooftree.errors import DocumentError
from rooftree.records.document import JobDocument, check_document, migrate, read_document
from rooftree.records.document.part import quantities
from rooftree.units import DIMENSIONLESS, Kind
from strategies import changed, job_files, put, small_job, take

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.records.document import Problem


def problems_of(job: dict[str, Any]) -> dict[str, Problem]:
    """Return the problems of a job by their path."""
    return {problem.path: problem for problem in check_document(json.dumps(job))}


def test_a_legal_job_has_no_problem() -> None:
    """The small job has something of everything and nothing to complain about."""
    assert check_document(json.dumps(small_job())) == ()


@given(job_files())
def test_whatever_is_legal_has_no_problem(job: dict[str, Any]) -> None:
    """Other words, quantities in any unit and other stations are just as legal."""
    assert check_document(json.dumps(job)) == ()


BROKEN: list[tuple[Callable[[dict[str, Any]], object], str, str, str]] = [
    (lambda j: put(j, "budget", 20000), "budget", "is the bare number 20000", '.*like "12 \\$".*'),
    (
        lambda j: put(j, "house.spaces.0.volume", "8000"),
        "house.spaces[0].volume",
        '"8000" has no unit',
        ".*ft³.*",
    ),
    (
        lambda j: put(j, "house.spaces.0.floor_area", "-12 ft2"),
        "house.spaces[0].floor_area",
        "is -12 ft2",
        "it must be more than 0",
    ),
    (
        lambda j: put(j, "tests.0.stations.2.pressure", "40 cfm"),
        "tests[0].stations[2].pressure",
        '"40 cfm" is written as flow, not pressure',
        ".*Pa.*",
    ),
    (
        lambda j: put(j, "tests.0.baseline_before.1", {"value": "1 Pa", "sure": True}),
        "tests[0].baseline_before[1]",
        'has the unknown field "sure"',
        "use value, known and note only",
    ),
    (
        lambda j: put(j, "house.spaces.0.height", {"value": "8 ft", "known": "guessed"}),
        "house.spaces[0].height",
        "has \"known\": 'guessed'",
        "use one of: measured, observed, told, assumed, not seen",
    ),
    (
        lambda j: put(j, "house.spaces.0.height", {"known": "not seen"}),
        "house.spaces[0].height",
        "has no value",
        ".*not seen is assumed.*",
    ),
    (
        lambda j: put(j, "house.spaces.0.hight", "8 ft"),
        "house.spaces[0].hight",
        "is not a field of the job file",
        'did you mean "height".*',
    ),
    (lambda j: take(j, "house.spaces.0.height"), "house.spaces[0].height", "is missing", "add it"),
    (
        lambda j: put(j, "house.windows.0.solar_heat_gain_coefficient", "140 %"),
        "house.windows[0].solar_heat_gain_coefficient",
        "is 140 %",
        "it must be at most 100 %",
    ),
    (
        lambda j: put(j, "house.windows.0.panes", 2.5),
        "house.windows[0].panes",
        "is 2.5",
        ".*whole.*",
    ),
    (
        lambda j: put(j, "house.use.cooling_setpoint", ["76 F"] * 23),
        "house.use.cooling_setpoint",
        "has 23 hours",
        ".* or 24 of them",
    ),
    (
        lambda j: put(j, "house.use.heating_setpoint", "68"),
        "house.use.heating_setpoint",
        '"68" has no unit',
        ".*°F.*",
    ),
    (
        lambda j: put(j, "house.use.cooling_setpoint.5", "76"),
        "house.use.cooling_setpoint[5]",
        '"76" has no unit',
        ".*°F.*",
    ),
    (
        lambda j: put(j, "house.surfaces.0.layers.0.resistance", "R-0.45"),
        "house.surfaces[0].layers[0]",
        "has both a resistance and a conductivity",
        "state one of them",
    ),
    (
        lambda j: take(j, "house.surfaces.0.layers.0.conductivity"),
        "house.surfaces[0].layers[0]",
        "has neither a resistance nor a conductivity",
        "state one of them, such as R-38.*",
    ),
    (
        lambda j: put(j, "house.surfaces.0.layers", []),
        "house.surfaces[0].layers",
        "is empty",
        "add at least one",
    ),
    (
        lambda j: put(j, "house.spaces.1.kind", "loft"),
        "house.spaces[1].kind",
        'is "loft"',
        "use one of: .*'attic'.*",
    ),
    (
        lambda j: put(j, "house.spaces.0.kind", "garage"),
        "house.spaces",
        "has no living space",
        ".*thermostat.*",
    ),
    (
        lambda j: put(j, "house.spaces.1.id", "living"),
        "house.spaces[1].id",
        'is "living", which house.spaces\\[0\\].id has too',
        "give each its own id",
    ),
    (
        lambda j: put(j, "house.windows.0.id", "leak-wall"),
        "house.leaks[0].id",
        'is "leak-wall", which house.windows\\[0\\].id has too',
        "give each its own id",
    ),
    (
        lambda j: put(j, "house.spaces.1.id", "outdoors"),
        "house.spaces[1].id",
        'is "outdoors"',
        "give the space another id.*",
    ),
    (
        lambda j: put(j, "house.windows.0.space", "cellar"),
        "house.windows[0].space",
        'is "cellar"',
        "use an id of house.spaces: attic, living",
    ),
    (
        lambda j: put(j, "observations.0.photos.0", "photo-9"),
        "observations[0].photos[0]",
        'is "photo-9"',
        "use an id of photos: photo-1",
    ),
    (
        lambda j: put(j, "decisions.0.measure", "nothing"),
        "decisions[0].measure",
        'is "nothing"',
        "use an id of measures: seal",
    ),
    (
        lambda j: put(j, "instruments", []),
        "tests[0].instrument",
        'is "fan-1"',
        "there is nothing in instruments yet.*",
    ),
    (
        lambda j: put(j, "house.leaks.1.second", "attic"),
        "house.leaks[1].second",
        'is "attic" like "first": a leak needs two sides',
        "name the other side",
    ),
    (
        lambda j: take(j, "house.leaks.1"),
        "house.spaces[1]",
        'is the space "attic", from which no leak leads outdoors.*',
        "add a leak .*",
    ),
    (
        lambda j: put(j, "tests.0.stations", []),
        "tests[0].stations",
        "is empty",
        "add at least one",
    ),
    (
        lambda j: put(j, "tests.0.stations.1.pressure", "50 Pa"),
        "tests[0].stations[1].pressure",
        'is "50 Pa" in a test that is said to depressurize.*should be negative',
        "check the hoses.*",
    ),
    (
        lambda j: put(j, "tests.0.direction", "pressurize"),
        "tests[0].stations[0].pressure",
        'is "-60 Pa" in a test that is said to pressurize.*should be positive',
        "check the hoses.*",
    ),
    (
        lambda j: put(j, "tests.0.stations.0.fans.0.fan", "fan-2"),
        "tests[0].stations[0].fans[0].fan",
        'is "fan-2"',
        "use the id of a fan of this test: fan-1",
    ),
    (
        lambda j: take(j, "tests.0.stations.0.fans.0.flow"),
        "tests[0].stations[0].fans[0]",
        "has no reading",
        "state either .*",
    ),
    (
        lambda j: put(j, "tests.0.stations.0.fans.0", {"fan": "fan-1", "fan_pressure": "80 Pa"}),
        "tests[0].stations[0].fans[0].fan_pressure",
        'is read on the fan "fan-1", which has no calibration',
        'add its "bands".*',
    ),
    (lambda j: put(j, "tests.1.kind", "guess"), "tests[1]", 'is "guess"', "use one of: .*"),
    (lambda j: take(j, "tests.1.kind"), "tests[1]", "does not say what kind.*", "add .*"),
    (
        lambda j: put(j, "tests.3.gas_leak", "no"),
        "tests[3].gas_leak",
        'is "no", not true or false',
        ".*without quotes",
    ),
    (
        lambda j: put(j, "bills.0.end", "2025-01-02"),
        "bills[0].end",
        "is 2025-01-02, not after.*",
        ".*",
    ),
    (lambda j: put(j, "bills.0.start", "Jan 3"), "bills[0].start", 'is "Jan 3", not a date', ".*"),
    (
        lambda j: put(j, "measures.0.cost_high", "$1,000"),
        "measures[0].cost_high",
        r"is \$1,000, less than cost_low \$1,200",
        "put the lower cost first",
    ),
    (
        lambda j: put(j, "measures.0.kind", "magic"),
        "measures[0].kind",
        'is "magic"',
        "use one of: .*air-sealing.*",
    ),
    (
        lambda j: put(j, "measures.0.settings.target_flow_50", "1100"),
        "measures[0].settings.target_flow_50",
        '"1100" has no unit',
        ".*cfm.*",
    ),
    (
        lambda j: put(j, "measures.0.settings.target", "1100 cfm"),
        "measures[0].settings.target",
        "is no setting of air-sealing",
        "it takes: .*target_flow_50.*",
    ),
    (
        lambda j: put(j, "measures.0.settings.target_flow_50", "-5 cfm"),
        "measures[0].settings.target_flow_50",
        "is -5 cfm",
        "it must be within .*",
    ),
    (
        lambda j: put(j, "photos.0.file", "../secret.jpg"),
        "photos[0].file",
        r'is "\.\./secret.jpg"',
        "use letters, digits.*",
    ),
    (lambda j: put(j, "id", "job-1"), "id", 'is "job-1", not a UUID', ".*"),
    (lambda j: put(j, "name", ""), "name", 'is ""', "write something"),
    (lambda j: put(j, "client", 7), "client", "is 7, not text", "write it in quotes"),
    (lambda j: put(j, "house.leaks", {}), "house.leaks", "is {}, not a list", r"write .* \[ \]"),
    (lambda j: put(j, "house.use", []), "house.use", r"is \[\], not an object", "write .* { }"),
]


@pytest.mark.parametrize(("change", "path", "says", "remedy"), BROKEN)
def test_a_broken_field_is_named_with_its_remedy(
    change: Callable[[dict[str, Any]], object], path: str, says: str, remedy: str
) -> None:
    """The problem stands at the path of the field, says what is wrong and what to do."""
    problem = problems_of(changed(change))[path]
    assert problem.blocks
    assert re.fullmatch(says, problem.says)
    assert re.fullmatch(remedy, problem.remedy)
    with pytest.raises(DocumentError, match=r"^the job file has "):
        read_document(json.dumps(changed(change)))


def test_every_problem_is_listed_at_once() -> None:
    """Wrong fields, wrong references and wrong readings do not hide each other."""
    job = small_job()
    for path, value in {
        "budget": 5,
        "house.spaces.0.volume": "-1 ft3",
        "house.windows.0.space": "cellar",
        "tests.0.stations.1.pressure": "50 Pa",
        "measures.0.kind": "magic",
    }.items():
        put(job, path, value)
    paths = {
        "budget", "house.spaces[0].volume", "house.windows[0].space",
        "tests[0].stations[1].pressure", "measures[0].kind",
    }  # fmt: skip
    assert set(problems_of(job)) == paths
    with pytest.raises(DocumentError, match=r"^the job file has 5 problems:\n") as caught:
        read_document(json.dumps(job))
    assert {path for path, _ in caught.value.problems} == paths
    assert all("; " in text for _, text in caught.value.problems)


@pytest.mark.parametrize(
    ("count", "says"),
    [
        (1, "has one station: a single-point test, whose exponent is assumed"),
        (2, "has 2 stations, too few for a multi-point test"),
        (4, "has 4 stations, too few for a multi-point test"),
    ],
)
def test_few_stations_are_told_but_taken(count: int, says: str) -> None:
    """A single-point test is a test; that its exponent is assumed is worth saying."""
    job = small_job()
    job["tests"][0]["stations"] = job["tests"][0]["stations"][:count]
    (problem,) = check_document(json.dumps(job))
    assert (problem.path, problem.says, problem.blocks) == ("tests[0].stations", says, False)
    assert len(read_document(json.dumps(job)).tests[0].to_core().reading.stations) == count


def test_the_baseline_counts_for_the_sign() -> None:
    """A small positive reading is right where the baseline is more positive still."""
    job = small_job()
    put(job, "tests.0.baseline_before", ["8 Pa"])
    put(job, "tests.0.baseline_after", ["8 Pa"])
    put(job, "tests.0.stations.4.pressure", "3 Pa")
    assert check_document(json.dumps(job)) == ()
    put(job, "tests.0.stations.4.pressure", "8 Pa")
    assert set(problems_of(job)) == {"tests[0].stations[4].pressure"}


def test_a_configuration_must_be_calibrated() -> None:
    """A fan pressure read with a ring that has no calibration cannot become a flow."""
    job = small_job()
    band = {"configuration": "open", "low": "10 Pa", "high": "300 Pa",
            "coefficient": "400 cfm/Pa^n", "exponent": 0.5}  # fmt: skip
    put(job, "tests.0.fans.0.bands", [band])
    reading = {"fan": "fan-1", "fan_pressure": "80 Pa", "configuration": "open"}
    put(job, "tests.0.stations.0.fans.0", reading)
    assert check_document(json.dumps(job)) == ()
    put(job, "tests.0.stations.0.fans.0.configuration", "ring A")
    problem = problems_of(job)["tests[0].stations[0].fans[0].configuration"]
    assert problem.remedy == "use one that the fan is calibrated for: open"


@pytest.mark.parametrize(
    ("text", "path", "says"),
    [
        ("", "", "is empty"),
        ("[1, 2]", "", "is not a job file: it holds no object"),
        ("{} {}", "", "is not JSON: Extra data (line 1, column 4)"),
        ('{"a": nope}', "", "is not JSON: Expecting value (line 1, column 7)"),
        ("[" * 200_000, "", "is nested too deeply"),
        ('{"format": "other"}', "format", "is 'other', not \"rooftree-job\""),
        ('{"format": "rooftree-job", "version": "1"}', "version", "is '1'"),
        ('{"format": "rooftree-job", "version": true}', "version", "is True"),
        (
            '{"format": "rooftree-job", "version": 2}',
            "version",
            "is 2; this program knows job files up to version 1",
        ),
    ],
)
def test_what_is_no_job_file_is_refused(text: str, path: str, says: str) -> None:
    """Each is told apart, with one problem and a remedy."""
    (problem,) = check_document(text)
    assert problem.path == path
    assert f"{problem.says}; {problem.remedy}".startswith(says + "; ")
    with pytest.raises(DocumentError, match=r"; \w"):
        read_document(text)


def test_bytes_that_are_no_text_are_refused() -> None:
    """A file in another encoding says so; a byte order mark does no harm."""
    (problem,) = check_document(b'{"name": "caf\xe9"}')
    assert problem.says == "is not UTF-8 text (byte 13)"
    assert check_document(b"\xef\xbb\xbf" + json.dumps(small_job()).encode()) == ()


@given(st.data())
def test_a_truncated_file_is_refused(data: st.DataObject) -> None:
    """Wherever a file was cut, it is refused, and nearly always known as cut."""
    text = json.dumps(small_job())
    cut = text[: data.draw(st.integers(1, len(text) - 1))]
    (problem,) = check_document(cut)
    assert problem.path == ""
    assert problem.says.startswith(("ends in the middle", "is not JSON"))


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_numbers_that_are_none_are_refused_where_they_stand(number: str) -> None:
    """NaN in a file is found at its path, not somewhere in the results."""
    text = json.dumps(small_job()).replace('"exponent": 0.65', f'"exponent": {number}')
    (problem,) = check_document(text)
    assert problem.path == "house.leaks[0].exponent"
    assert problem.remedy == "leave out what was not measured"


def test_a_name_that_stands_twice_is_told() -> None:
    """The JSON rules let the last one win silently; we do not."""
    text = json.dumps(small_job()).replace('"address"', '"client"')
    (problem,) = check_document(text)
    assert (problem.path, problem.says) == ("client", "stands twice")


QUANTITIES = [
    (path, one.known is not None)
    for path, one in quantities(JobDocument.model_validate(small_job()))
    if isinstance(one.typed, str) and "%" not in one.typed
]
"""Paths of all quantities of the small job that have a unit, and whether they are objects."""


@given(st.sampled_from(QUANTITIES), st.sampled_from(["12", 12, 12.5, True, [], {}]))
def test_any_quantity_without_its_unit_is_refused_by_its_path(
    where: tuple[str, bool], value: object
) -> None:
    """Take the unit from any quantity of the file: exactly that path is named."""
    path, is_object = where
    assume(value != [] or "baseline" not in path)  # no baseline is a finding, not a problem
    steps = re.sub(r"\[(\d+)\]", r".\1", path)
    job = put(small_job(), f"{steps}.value" if is_object else steps, value)
    assert path in problems_of(job)


def test_the_kinds_that_take_bare_numbers_are_few() -> None:
    """Only shares, ratios and counts are complete without a unit."""
    assert {Kind.FRACTION, Kind.RATIO, Kind.COUNT} == DIMENSIONLESS


def test_an_older_version_is_brought_up_step_by_step() -> None:
    """Each migration makes the next version; the file itself is not changed."""
    old = {"format": "rooftree-job", "version": 1, "customer": "Ann"}

    def rename(raw: dict[str, Any]) -> dict[str, Any]:
        raw["client"] = raw.pop("customer")
        return raw

    def shout(raw: dict[str, Any]) -> dict[str, Any]:
        return raw | {"client": raw["client"].upper()}

    new = migrate(old, {1: rename, 2: shout}, version=3)
    assert new == {"format": "rooftree-job", "version": 3, "client": "ANN"}
    assert old == {"format": "rooftree-job", "version": 1, "customer": "Ann"}


def test_a_version_too_old_says_so() -> None:
    """Where a step is gone, the remedy is an older program."""
    with pytest.raises(DocumentError, match=r"^version is 1; version 1 can no longer .* again$"):
        migrate({"format": "rooftree-job", "version": 1}, {}, version=2)
