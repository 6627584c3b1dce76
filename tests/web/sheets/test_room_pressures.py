"""Check the page of room pressures: it shows what readings give, and keeps what was typed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from starlette.testclient import TestClient

from rooftree.records import open_store
from rooftree.web import create_app

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

OWN = "http://127.0.0.1:8437"
HTMX = {"hx-request": "true"}
KIND = "room-pressures"
SHOWN = ("Doors shut?", "Door gap", "Tube under the door not pinched")
TYPED = {
    "id": "rooms-1",
    "kind": "room pressures",
    "name": "Bedrooms",
    "visit": "visit-1",
    "pressures[0].room": "bedroom 1",
    "pressures[0].pressure": "9.4 Pa",
    "pressures[0].doors_closed": "yes",
    "pressures[0].air_handler": "yes",
    "pressures[1].room": "bedroom 1",
    "pressures[1].pressure": "0.1 Pa",
    "pressures[1].air_handler": "no",
    "pressures[2].pressure": "-1.1 Pa",
    "pressures[2].doors_closed": "no",
    "pressures[2].air_handler": "no",
    "pressures[3].pressure": "-3.4 Pa",
    "pressures[3].doors_closed": "no",
    "pressures[3].air_handler": "yes",
    "pressures[4].pressure": "-2.2 Pa",
    "pressures[4].doors_closed": "no",
    "pressures[4].air_handler": "no",
    "pressures[4].exhausts": "dryer",
    "rooms[0].name": "bedroom 1",
    "rooms[0].undercut": "1/2 in",
    "rooms[0].door_width": "30 in",
    "exhausts[0].name": "dryer",
    "exhausts[0].flow": "120 cfm",
}
"""A full entry, as somebody types it."""


@pytest.fixture
def own_client(tmp_path: Path, demo_file: bytes) -> Iterator[TestClient]:
    """Return a client of a database that the test may write."""
    kept = open_store(tmp_path)
    kept.import_file("demo.json", demo_file, "test")
    with TestClient(create_app(kept, port=8437), base_url=OWN, headers={"origin": OWN}) as made:
        yield made
    kept.close()


def test_an_empty_form_opens(client: TestClient, job_path: str) -> None:
    """The form names its fields and shows the checklist before anything was typed."""
    page = client.get(f"{job_path}/readings/{KIND}/new")
    assert page.status_code == 200
    for words in SHOWN:
        assert words in page.text


def test_the_result_appears_while_typing(client: TestClient, job_path: str) -> None:
    """The room beyond the limit, what relieves it, and the leaking side are told at once."""
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=TYPED, headers=HTMX)
    assert page.status_code == 200
    assert "Bedroom 1 goes beyond 3 Pa when the door is closed." in page.text
    assert "supply leakage to outdoors dominates" in page.text
    assert "1 of 1 closed rooms stand beyond 3 Pa." in page.text
    assert "of clear opening to the main space" in page.text


def test_an_open_door_that_was_not_is_told(client: TestClient, job_path: str) -> None:
    """A pressure across a door that is said to be open is doubted by name."""
    wrong = TYPED | {"pressures[0].doors_closed": "no"}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=wrong, headers=HTMX)
    assert "the door of bedroom 1 was not open" in page.text


def test_inches_of_water_are_told(client: TestClient, job_path: str) -> None:
    """A pressure that no room has is doubted with its unit."""
    wrong = TYPED | {"pressures[0].pressure": "9.4 in. w.c."}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=wrong, headers=HTMX)
    assert "no pressure of a room or house" in page.text


def test_what_was_saved_comes_back_as_typed(own_client: TestClient, job_path: str) -> None:
    """Every text that was typed stands in the form again."""
    own = f"{job_path}/readings/{KIND}"
    saved = own_client.post(f"{own}/new", data=TYPED, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/rooms-1").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    for path, text in TYPED.items():
        if path not in ("id", "kind", "visit") and not path.endswith(("_closed", ".air_handler")):
            assert shown[path] == text
