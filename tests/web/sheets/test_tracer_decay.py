"""Check the page of a tracer decay: it shows what readings give, and keeps what was typed."""

from __future__ import annotations

import math
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
KIND = "tracer-decay"
SHOWN = ("Concentration", "Outdoors", "People inside meanwhile", "Everybody and every pet out")
TYPED = {
    "id": "decay-1",
    "kind": "tracer decay",
    "name": "Night with windows shut",
    "visit": "visit-1",
    "outdoors[0].concentration": "421 ppm",
    "outdoors[0].time": "0 min",
    "outdoors[1].concentration": "428 ppm",
    "outdoors[1].time": "3 h",
    "is_mixed": "yes",
    "concentration_scatter": "4 ppm",
    **{
        f"lines[{step}].{name}": text
        for step in range(13)
        for name, text in (
            ("time", f"{15 * step} min"),
            ("concentration", f"{round(424 + 1200 * math.exp(-0.1 * step))} ppm"),
        )
    },
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
    """Rate, flow in the volume of the house and the drawing are there at once."""
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=TYPED, headers=HTMX)
    assert page.status_code == 200
    assert "The air of the house was changed 0.40 times an hour" in page.text
    assert "Outdoor air" in page.text
    assert "A straight line on this scale is a steady air change" in page.text


def test_too_short_a_record_gives_no_rate(client: TestClient, job_path: str) -> None:
    """After half an hour there is no rate yet, but how long to go on."""
    short = {path: text for path, text in TYPED.items() if not re.match(r"lines\[([3-9]|1)", path)}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=short, headers=HTMX)
    assert "too little for a rate. Go on for about 2 h" in page.text
    assert "The air of the house was changed" not in page.text


def test_somebody_inside_is_told(client: TestClient, job_path: str) -> None:
    """People in the house during the decay forbid a rate."""
    page = client.post(
        f"{job_path}/readings/{KIND}/new/preview", data=TYPED | {"people": "2"}, headers=HTMX
    )
    assert "2 people breathed out during the decay" in page.text


def test_what_was_saved_comes_back_as_typed(own_client: TestClient, job_path: str) -> None:
    """Every text that was typed stands in the form again."""
    own = f"{job_path}/readings/{KIND}"
    saved = own_client.post(f"{own}/new", data=TYPED, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/decay-1").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    for path, text in TYPED.items():
        if path not in ("id", "kind", "visit", "is_mixed"):
            assert shown[path] == text
