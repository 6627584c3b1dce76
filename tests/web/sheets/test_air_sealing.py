"""Check the page of air sealing: it shows what rows give, and keeps what was typed."""

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
KIND = "air-sealing"
TYPED = {
    "id": "seal-1",
    "kind": "air sealing",
    "name": "First day of sealing",
    "visit": "visit-1",
    "holes_closed": "yes",
    "labor_rate": "$60/h",
    "rows[0].time": "0 min",
    "rows[0].house_pressure": "-50.2 Pa",
    "rows[0].fan_flow": "2950 cfm",
    "rows[1].time": "45 min",
    "rows[1].location": "Plumbing chase",
    "rows[1].house_pressure": "-49.6 Pa",
    "rows[1].fan_flow": "2680 cfm",
    "rows[1].work": "40 min",
    "rows[1].material_cost": "$25",
    "rows[2].time": "80 min",
    "rows[2].location": "Top plates",
    "rows[2].house_pressure": "-50.1 Pa",
    "rows[2].fan_flow": "2520 cfm",
    "rows[2].work": "30 min",
    "rows[2].material_cost": "$20",
    "places[0].place": "Plumbing chase",
    "places[0].share": "15 %",
    "places[1].place": "Top plates",
    "places[1].share": "12 %",
    "places[2].place": "Hatch",
    "places[2].share": "6 %",
    "places[2].work": "20 min",
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
    for words in ("Readings, the first before anything is sealed", "Leak map", "No vermiculite"):
        assert words in page.text


def test_the_result_appears_while_typing(client: TestClient, job_path: str) -> None:
    """What was taken away, each location, what is left and the money are told at once."""
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=TYPED, headers=HTMX)
    assert page.status_code == 200
    assert "Sealing took away" in page.text
    assert "Location by location" in page.text
    assert "What is left, at 50 Pa" in page.text
    assert "Worth of it" in page.text
    assert "Carbon monoxide" in client.get(f"{job_path}/readings/{KIND}/new").text


def test_a_hole_that_opened_is_told(client: TestClient, job_path: str) -> None:
    """A flow that rises is placed between two rows while typing."""
    wrong = TYPED | {"rows[2].fan_flow": "3100 cfm"}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=wrong, headers=HTMX)
    assert "between rows 2 and 3" in page.text


def test_one_row_says_what_comes_next(client: TestClient, job_path: str) -> None:
    """The first row alone gives the flow before sealing."""
    first = {key: text for key, text in TYPED.items() if not key.startswith(("rows[1]", "rows[2]"))}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=first, headers=HTMX)
    assert "The fan was read once, before sealing." in page.text


def test_what_was_saved_comes_back_as_typed(own_client: TestClient, job_path: str) -> None:
    """Every text that was typed stands in the form again."""
    own = f"{job_path}/readings/{KIND}"
    saved = own_client.post(f"{own}/new", data=TYPED, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/seal-1").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    for path in ("labor_rate", "rows[1].location", "rows[2].fan_flow", "places[2].work"):
        assert shown[path] == TYPED[path]
