"""Check the page of an air handler: it shows what readings give, and keeps what was typed."""

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
KIND = "air-handler"
SHOWN = ("Before the equipment", "Drop of each part", "Probe holes in straight sheet metal")
TYPED = {
    "id": "air-1",
    "kind": "air handler",
    "name": "Furnace, filter as found",
    "visit": "visit-1",
    "operation": "heating",
    "entering_static": "-0.37 in. w.c.",
    "leaving_static": "0.35 in. w.c.",
    "rated_static": "0.5 in. w.c.",
    "drops[0].part": "return duct",
    "drops[0].drop": "0.13 in. w.c.",
    "drops[1].part": "filter",
    "drops[1].drop": "0.24 in. w.c.",
    "drops[2].part": "coil",
    "drops[2].drop": "0.21 in. w.c.",
    "drops[2].inside": "no",
    "drops[3].part": "supply duct",
    "drops[3].drop": "0.14 in. w.c.",
    "fan_curve[0].static": "0.5 in. w.c.",
    "fan_curve[0].flow": "1240 cfm",
    "fan_curve[1].static": "0.9 in. w.c.",
    "fan_curve[1].flow": "925 cfm",
    "return_temperature": "67 °F",
    "supply_temperature": "121.5 °F",
    "heat_input": "79000 Btu/h",
    "heat_efficiency": "80 %",
    "blower_power": "560 W",
    "rated_capacity": "3 ton",
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
    """Flow by both methods, their mean and the high static pressure are told at once."""
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=TYPED, headers=HTMX)
    assert page.status_code == 200
    assert "The air handler moves" in page.text
    assert "The methods agree within their doubt" in page.text
    assert "cfm/ton" in page.text
    assert "above its 0.5 in. w.c." in page.text


def test_a_probe_in_the_wrong_place_is_told(client: TestClient, job_path: str) -> None:
    """The filter's drop is missing from the total: the doubt names the filter."""
    wrong = TYPED | {"entering_static": "-0.13 in. w.c."}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=wrong, headers=HTMX)
    assert "wrong side of the filter" in page.text


def test_half_an_entry_tells_what_it_can(client: TestClient, job_path: str) -> None:
    """Static pressures alone give their total, and the drops are drawn."""
    half = {key: text for key, text in TYPED.items() if "curve" not in key and "heat" not in key}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=half, headers=HTMX)
    assert "The fan works against 0.72 in. w.c." in page.text
    assert "The filter takes 0.24 in. w.c." in page.text


def test_text_in_a_number_is_no_result_and_no_error(client: TestClient, job_path: str) -> None:
    """A field that cannot be read yet is named; what was typed stays."""
    wrong = TYPED | {"leaving_static": "much"}
    page = client.post(f"{job_path}/readings/{KIND}/new/preview", data=wrong, headers=HTMX)
    assert page.status_code == 200
    assert "After the equipment" in page.text


def test_what_was_saved_comes_back_as_typed(own_client: TestClient, job_path: str) -> None:
    """Every text that was typed stands in the form again."""
    own = f"{job_path}/readings/{KIND}"
    saved = own_client.post(f"{own}/new", data=TYPED, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/air-1").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    for path, text in TYPED.items():
        if path not in ("id", "kind", "visit", "operation") and not path.endswith(
            (".part", ".inside")
        ):
            assert shown[path] == text
