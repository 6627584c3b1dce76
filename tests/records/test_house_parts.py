"""Parts of the house in the job file: taken out, put in and left out one at a time."""

from __future__ import annotations

import json
from typing import Any

import pytest

from records.test_house_document import full_job
from rooftree.errors import DocumentError
from rooftree.records.document import read_document
from rooftree.records.document.house_parts import (
    HOUSE_PARTS,
    obstacles,
    part_entry,
    part_problems,
    with_part,
    without_part,
)
from strategies import small_job


def document(job: dict[str, Any] | None = None) -> Any:
    """Return a job file, by default the one with every field of the house."""
    return read_document(json.dumps(job or full_job()))


def test_a_part_is_given_as_it_stands_in_the_file() -> None:
    """By its id; what a house has once needs none."""
    job = full_job()
    assert part_entry(document(), "surface", "ceiling") == job["house"]["surfaces"][0]
    assert part_entry(document(), "heating") == job["house"]["heating"]


@pytest.mark.parametrize(("kind", "part"), [("leak", "nowhere"), ("dehumidifier", "0")])
def test_a_part_that_is_not_there_is_refused(kind: str, part: str) -> None:
    """The kind and the name are told."""
    with pytest.raises(DocumentError, match=f'no {kind} "{part}'):
        part_entry(document(), kind, part)
    with pytest.raises(DocumentError, match=f'no {kind} "{part}'):
        with_part(document(), kind, part, {"name": "x"})


def test_a_changed_part_replaces_the_old_one_and_nothing_else() -> None:
    """Every other part of the file stays as it was typed."""
    entry = part_entry(document(), "window", "window-south") | {"area": "90 ft2"}
    changed, name = with_part(document(), "window", "window-south", entry)
    job = full_job()
    job["house"]["windows"][0]["area"] = "90 ft2"
    assert (changed.plain(), name) == (job, "window-south")


def test_a_new_part_gets_an_id_that_nothing_has() -> None:
    """It is made of the name; the same name again gets a number."""
    entry = {
        "name": "Ceiling", "first": "attic", "second": "outdoors", "level": "12 ft",
        "azimuth": None, "coefficient": "3 cfm/Pa^n",
    }  # fmt: skip
    once, first = with_part(document(), "leak", "", entry)
    _, second = with_part(once, "leak", "", entry)
    assert (first, second) == ("ceiling-2", "ceiling-3")  # the surface is the first of the name


def test_a_machine_is_added_where_there_is_none() -> None:
    """And a dehumidifier, which has no id, is named by its place."""
    entry = {"space": "living", "capacity": "40 pt/day", "energy_factor": "1.8 L/kWh"}
    changed, name = with_part(document(), "dehumidifier", "", entry)
    assert name == "0"
    assert part_entry(changed, "dehumidifier", "0") == entry
    handler = {"space": "attic", "flow": "900 cfm", "power": "400 W"}
    changed, _ = with_part(document(), "air handler", "", handler)
    assert part_entry(changed, "air handler") == handler


@pytest.mark.parametrize(
    ("kind", "part", "change", "path", "says"),
    [
        ("space", "attic", {"volume": "12"}, "volume", "has no unit"),
        ("surface", "ceiling", {"inside": "hall"}, "inside", "use an id of house.spaces"),
        ("surface", "ceiling", {"layers": []}, "layers", "add at least one"),
        ("window", "window-south", {"panes": 7}, "panes", "must be at most 3"),
        ("leak", "leak-ceiling", {"second": "attic"}, "second", "two sides"),
        # What no longer fits elsewhere is told with its whole path.
        ("space", "living", {"kind": "attic"}, "house.spaces", "has no living space"),
        ("space", "living", {"kind": "attic"}, "house.use.thermostat", "no living space"),
    ],
)
def test_what_cannot_be_taken_is_told_at_the_field_of_the_part(
    kind: str, part: str, change: dict[str, Any], path: str, says: str
) -> None:
    """Paths of its own fields begin at the part."""
    entry = part_entry(document(), kind, part) | change
    with pytest.raises(DocumentError) as caught:
        with_part(document(), kind, part, entry)
    assert says in dict(caught.value.problems)[path]


def test_the_fields_of_a_part_are_checked_alone() -> None:
    """Without the rest of the job."""
    (problem,) = part_problems("air handler", {"space": "attic", "flow": "9 W", "power": "4 W"})
    assert problem.path == "flow"
    assert part_problems("air handler", {"space": "a", "flow": "9 cfm", "power": "4 W"}) == ()


def test_a_space_goes_only_when_nothing_names_it() -> None:
    """Surfaces, leaks and tests that name it are told, each once, with kind and id."""
    found = obstacles(document(), "space", "attic")
    told = {(one.kind, one.part, one.title) for one in found}
    assert ("surface", "ceiling", "surface “ceiling”") in told
    assert ("leak", "leak-ceiling", "leak “ceiling”") in told
    assert ("", "", "test “Attic”") in told
    assert len(told) == len(found)
    assert all("outside" in one.says for one in found if one.kind == "surface")
    with pytest.raises(DocumentError, match="attic"):
        without_part(document(), "space", "attic")


def test_a_part_that_nothing_names_goes() -> None:
    """Only it is missing afterwards."""
    assert obstacles(document(), "window", "window-south") == ()
    left = without_part(document(), "window", "window-south")
    assert left.plain()["house"]["windows"] == []
    assert obstacles(document(), "cooling") == ()
    assert "cooling" not in without_part(document(), "cooling").plain()["house"]


def test_a_burner_whose_flue_fires_stays() -> None:
    """The leak that belongs to it must change first."""
    (one,) = obstacles(document(), "water heater")
    assert (one.kind, one.part) == ("leak", "leak-wall")


def test_the_last_way_outdoors_stays() -> None:
    """Without it a space would be cut off from the air."""
    found = obstacles(document(small_job()), "leak", "leak-wall")
    assert {one.part for one in found} == {"living", "attic"}


@pytest.mark.parametrize("kind", ["site", "use"])
def test_what_every_house_has_stays(kind: str) -> None:
    """It can be changed, not taken out."""
    assert HOUSE_PARTS[kind].is_needed
    assert "change it instead" in obstacles(document(), kind)[0].says
    with pytest.raises(DocumentError, match="change it instead"):
        without_part(document(), kind)
