"""Check the page of fan flows: it shows what readings give, and keeps what was typed."""

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
KIND = "ventilation"
SHOWN = ("What for", "Read again", "Edition of ASHRAE 62.2", "The hood covers the grille")
TYPED = {
    "id": "fans-1",
    "kind": "ventilation",
    "name": "Fans as found",
    "visit": "visit-1",
    "fans[0].name": "hall bath",
    "fans[0].purpose": "bath",
    "fans[0].flow": "41 cfm",
    "fans[0].turned_flow": "43 cfm",
    "fans[0].rated_flow": "50 cfm",
    "fans[0].is_even": "no",
    "fans[1].name": "kitchen",
    "fans[1].purpose": "kitchen hood",
    "fans[1].method": "there is no fan",
    "fans[1].window_opens": "yes",
    "fans[2].name": "ventilator",
    "fans[2].purpose": "whole-house exhaust",
    "fans[2].flow": "30 cfm",
    "fans[2].running": "by a timer or control",
    "fans[2].run_share": "50 %",
    "fans[2].cycle": "2 h",
    "edition": "2016",
    "weather_factor": "0.55",
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
    """What is given, asked for and missing is told, by the edition and by every other."""
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=TYPED, headers=HTMX)
    assert page.status_code == 200
    assert "The whole-house fans give 15 cfm" in page.text
    assert "62.2-2016 asks for" in page.text
    assert "By each edition of ASHRAE 62.2" in page.text
    assert "The kitchen lacks" in page.text


def test_mixed_up_units_are_told(client: TestClient, job_path: str) -> None:
    """A flow far above the label is doubted while the hood is still at hand."""
    wrong = TYPED | {"fans[0].flow": "41 L/s", "fans[0].turned_flow": "43 L/s"}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=wrong, headers=HTMX)
    assert "% of its label, which a fan with a duct hardly ever does" in page.text


def test_a_flow_below_zero_is_told(client: TestClient, job_path: str) -> None:
    """A hood the wrong way round is a doubt, not a refusal."""
    wrong = TYPED | {"fans[2].flow": "-30 cfm"}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=wrong, headers=HTMX)
    assert "the hood is set the wrong way" in page.text


def test_what_was_saved_comes_back_as_typed(own_client: TestClient, job_path: str) -> None:
    """Every text that was typed stands in the form again."""
    own = f"{job_path}/readings/{KIND}"
    saved = own_client.post(f"{own}/new", data=TYPED, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/fans-1").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    chosen = ("purpose", "method", "running", "is_even", "window_opens", "edition")
    for path, text in TYPED.items():
        if path not in ("id", "kind", "visit") and not path.endswith(chosen):
            assert shown[path] == text
