"""Check the page of duct runs: it shows what readings give, and keeps what was typed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from starlette.testclient import TestClient

from rooftree.records import open_store
from rooftree.records.document import read_test
from rooftree.web import create_app
from rooftree.web.entry import nest

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

OWN = "http://127.0.0.1:8437"
HTMX = {"hx-request": "true"}
KIND = "duct-heat"
TYPED = {
    "id": "runs-1",
    "kind": "duct heat",
    "name": "Runs",
    "visit": "visit-1",
    "runs[0].name": "bedroom",
    "runs[0].length": "25 ft",
    "runs[0].diameter": "6 in",
    "runs[0].entering_temperature": "55 °F",
    "runs[0].surroundings_temperature": "135 °F",
    "runs[0].register_temperature": "61 °F",
    "runs[0].running_time": "12 min",
    "runs[0].air_speed": "600 fpm",
    "runs[0].insulation_resistance": "R-4",
    "runs[0].surroundings_dew_point": "72 °F",
    "runs[0].standing_time": "30 min",
    "runs[0].kind": "flexible",
    "room_temperature": "76 °F",
}
"""A full entry, as somebody types it."""

CHOSEN = (".kind",)


@pytest.fixture
def own_client(tmp_path: Path, demo_file: bytes) -> Iterator[TestClient]:
    """Return a client of a database that the test may write."""
    kept = open_store(tmp_path)
    kept.import_file("demo.json", demo_file, "test")
    with TestClient(create_app(kept, port=8437), base_url=OWN, headers={"origin": OWN}) as made:
        yield made
    kept.close()


def preview(client: TestClient, job_path: str, typed: dict[str, str]) -> str:
    """Return what the page shows while somebody types."""
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=typed, headers=HTMX)
    assert page.status_code == 200
    return page.text


def test_an_empty_form_opens(client: TestClient, job_path: str) -> None:
    """The form names its fields and shows the checklist before anything was typed."""
    page = client.get(f"{job_path}/readings/{KIND}/new")
    assert page.status_code == 200
    for words in ("Air that enters", "Wrap, labelled", "it can be asbestos"):
        assert words in page.text


def test_the_result_appears_while_typing(client: TestClient, job_path: str) -> None:
    """What arrives, what insulates and the first minute are told at once."""
    text = preview(client, job_path, TYPED)
    assert "reaches the room" in text
    assert "Air in bedroom warms by 5." in text
    assert "What insulates" in text
    assert "comes out of bedroom first" in text


def test_fahrenheit_typed_as_celsius_is_told(client: TestClient, job_path: str) -> None:
    """An attic of 135 °C was read in °F."""
    text = preview(client, job_path, TYPED | {"runs[0].surroundings_temperature": "135 °C"})
    assert "almost certain that the surroundings was read in °F" in text


def test_a_register_read_too_early_is_told(client: TestClient, job_path: str) -> None:
    """A minute after the start nothing is made of a register."""
    text = preview(client, job_path, TYPED | {"runs[0].running_time": "1 min"})
    assert "after the fan started" in text


def test_what_was_saved_comes_back_as_typed(own_client: TestClient, job_path: str) -> None:
    """Every text that was typed stands in the form again."""
    own = f"{job_path}/readings/{KIND}"
    saved = own_client.post(f"{own}/new", data=TYPED, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/runs-1").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    for path, text in TYPED.items():
        if path not in ("id", "kind", "visit") and not path.endswith(CHOSEN):
            assert shown[path] == text


def test_the_entry_is_the_reading() -> None:
    """What was typed and what the job file keeps are one reading in SI."""
    run = read_test(nest(TYPED)).runs[0]  # type: ignore[attr-defined]
    assert run.diameter == pytest.approx(0.1524)
    assert run.air_speed == pytest.approx(3.048)
    assert run.insulation_resistance == pytest.approx(0.7044, abs=1e-4)
    assert run.standing_time == 1800.0
    assert run.bare_share == 0.0
