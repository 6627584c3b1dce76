"""Check the page of moisture readings: it shows what readings give, and keeps what was typed."""

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

    from rooftree.readings.moisture import MoistureTest

OWN = "http://127.0.0.1:8437"
HTMX = {"hx-request": "true"}
KIND = "moisture"
TYPED = {
    "id": "damp-1",
    "kind": "moisture",
    "name": "Moisture",
    "visit": "visit-1",
    "places[0].name": "yard",
    "places[0].kind": "outdoors",
    "places[0].temperature": "34 °F",
    "places[0].relative_humidity": "74 %",
    "places[1].name": "hall",
    "places[1].kind": "living space",
    "places[1].temperature": "69 °F",
    "places[1].relative_humidity": "38 %",
    "places[2].name": "crawl",
    "places[2].kind": "crawlspace",
    "places[2].temperature": "60 °F",
    "places[2].dew_point": "58 °F",
    "surfaces[0].name": "boot",
    "surfaces[0].temperature": "52 °F",
    "surfaces[0].place": "crawl",
    "surfaces[0].side": "other surface",
    "surfaces[0].thermometer": "contact probe",
    "surfaces[1].name": "corner",
    "surfaces[1].temperature": "58.5 °F",
    "surfaces[1].place": "hall",
    "surfaces[1].sunless_time": "5 h",
    "woods[0].name": "joist 3",
    "woods[0].moisture_content": "22 %",
    "woods[0].place": "crawl",
    "woods[0].wood": "southern pine",
    "woods[0].meter_set_to": "southern pine",
    "wind_speed": "5 mph",
}
"""A full entry, as somebody types it."""

CHOSEN = (".kind", ".side", ".thermometer", ".wood", ".meter_set_to")


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
    for words in ("Relative humidity", "Near the pins", "Crawlspace or attic safe to enter"):
        assert words in page.text


def test_the_result_appears_while_typing(client: TestClient, job_path: str) -> None:
    """The source, the wet surface and the wet wood are told at once."""
    text = preview(client, job_path, TYPED)
    assert "The air of crawl holds more water than both the house and outdoors" in text
    assert "boot is colder than the dew point of the air." in text
    assert "joist 3 holds 2" in text


def test_fahrenheit_typed_as_celsius_is_told(client: TestClient, job_path: str) -> None:
    """A hall of 69 °C was read in °F."""
    text = preview(client, job_path, TYPED | {"places[1].temperature": "69 °C"})
    assert "almost certain that it was read in °F" in text


def test_pins_on_foil_are_told(client: TestClient, job_path: str) -> None:
    """Wood read beside foil means nothing."""
    text = preview(client, job_path, TYPED | {"woods[0].in_the_way": "foil"})
    assert "almost certain that the reading means nothing" in text


def test_what_was_saved_comes_back_as_typed(own_client: TestClient, job_path: str) -> None:
    """Every text that was typed stands in the form again."""
    own = f"{job_path}/readings/{KIND}"
    saved = own_client.post(f"{own}/new", data=TYPED, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/damp-1").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    for path, text in TYPED.items():
        if path not in ("id", "kind", "visit") and not path.endswith(CHOSEN):
            assert shown[path] == text


def test_the_entry_is_the_reading() -> None:
    """What was typed and what the job file keeps are one reading in SI."""
    reading: MoistureTest = read_test(nest(TYPED))  # type: ignore[assignment]
    assert reading.places[0].temperature == pytest.approx(274.261, abs=1e-3)
    assert reading.surfaces[1].sunless_time == 18_000.0
    assert reading.woods[0].moisture_content == pytest.approx(0.22)
    assert reading.places[2].relative_humidity is None
