"""Check the page of insulation: it shows what depths give, and keeps what was typed."""

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
KIND = "insulation"
TYPED = {
    "id": "attic-1",
    "kind": "insulation",
    "name": "Attic floor",
    "visit": "visit-1",
    "where": "Attic floor",
    "position": "attic floor",
    "area": "1,200 ft²",
    "patches[0].name": "north",
    "patches[0].area": "700 ft²",
    "patches[0].material": "loose cellulose",
    "patches[0].void_share": "1 %",
    "patches[1].name": "south",
    "patches[1].area": "500 ft²",
    "patches[1].material": "glass fiber batt",
    "patches[1].label_resistance": "R-19",
    "patches[1].label_depth": "6 1/4 in",
    "patches[1].grade": "grade III",
    "patches[1].covers_framing": "no",
    "depths[0].patch": "north",
    "depths[0].depth": "9 in",
    "depths[1].patch": "north",
    "depths[1].depth": "8 1/2 in",
    "depths[2].patch": "north",
    "depths[2].depth": "7 in",
    "depths[3].patch": "south",
    "depths[3].depth": "5 in",
    "depths[4].patch": "south",
    "depths[4].depth": "6 in",
    "depths[5].patch": "south",
    "depths[5].depth": "5 1/2 in",
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
    for words in ("Patches that are insulated alike", "Depths, three or more", "Vermiculite"):
        assert words in page.text


def test_the_result_appears_while_typing(client: TestClient, job_path: str) -> None:
    """Resistance, what each defect costs and the patches are told at once."""
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=TYPED, headers=HTMX)
    assert page.status_code == 200
    assert "Attic floor: the insulation works as R-" in page.text
    assert "What each defect costs" in page.text
    assert "Patch by patch" in page.text
    assert "is left of R-" in page.text


def test_depths_at_the_hatch_are_told(client: TestClient, job_path: str) -> None:
    """Depths read at the access only raise their doubt while typing."""
    hatch = {f"depths[{k}].spot": "at the hatch or access" for k in range(3)}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=TYPED | hatch, headers=HTMX)
    assert "All depths of north were read at the access" in page.text


def test_text_in_a_number_is_no_result_and_no_error(client: TestClient, job_path: str) -> None:
    """A field that cannot be read yet is named; nothing breaks."""
    wrong = TYPED | {"depths[0].depth": "deep"}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=wrong, headers=HTMX)
    assert page.status_code == 200
    assert "Depth" in page.text


def test_what_was_saved_comes_back_as_typed(own_client: TestClient, job_path: str) -> None:
    """Every text that was typed stands in the form again."""
    own = f"{job_path}/readings/{KIND}"
    saved = own_client.post(f"{own}/new", data=TYPED, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/attic-1").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    for path in ("where", "area", "patches[1].label_resistance", "depths[1].depth"):
        assert shown[path] == TYPED[path]
