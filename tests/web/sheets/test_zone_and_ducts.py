"""Check the pages of zone pressures and duct tests: what is typed, told, doubted and kept."""

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
ZONE = {
    "visit": "visit-1",
    "space": "attic",
    "zone": "attic",
    "house_pressure": "-50 Pa",
    "zone_pressure": "-42.2 Pa",
}
TYPED: dict[str, dict[str, str]] = {
    "zone-pressure": ZONE
    | {
        "id": "zone-1",
        "kind": "zone pressure",
        "name": "Attic",
        "again_pressure": "-42.6 Pa",
        "outdoor_pressure": "-7.7 Pa",
    },
    "added-hole": ZONE
    | {
        "id": "hole-1",
        "kind": "added hole",
        "name": "Attic, hole",
        "boundary": "between house and zone",
        "area": "60 in²",
        "pressure_after": "-30.8 Pa",
        "closed": "yes",
        "pressure_closed": "-42.0 Pa",
    },
    "opened-hatch": ZONE
    | {
        "id": "hatch-1",
        "kind": "opened hatch",
        "name": "Attic, hatch",
        "boundary": "between house and zone",
        "pressure_after": "-30.8 Pa",
        "flow_before": "2,000 cfm",
        "flow_after": "2,286 cfm",
        "closed": "yes",
    },
    "duct-leakage": {
        "id": "ducts-1",
        "kind": "duct leakage",
        "name": "Ducts",
        "visit": "visit-1",
        "to_outdoors": "no",
        "air_handler_flow": "1,000 cfm",
        "house_pressure": "0.1 Pa",
        "registers": "9",
        "registers_sealed": "9",
        "filter_out": "yes",
        "fan_readings[0].duct_pressure": "25 Pa",
        "fan_readings[0].fan_pressure": "72 Pa",
        "fan_readings[0].configuration": "ring",
        "fan_readings[1].duct_pressure": "18 Pa",
        "fan_readings[1].fan_pressure": "49 Pa",
        "fan_readings[1].configuration": "ring",
        "calibration[0].configuration": "ring",
        "calibration[0].low": "20 Pa",
        "calibration[0].high": "400 Pa",
        "calibration[0].coefficient": "11.7 cfm/Paⁿ",
        "calibration[0].exponent": "0.51",
    },
    "duct-pans": {
        "id": "pans-1",
        "kind": "duct pans",
        "name": "Pans",
        "visit": "visit-1",
        "house_pressure": "-50 Pa",
        "registers": "3",
        "air_handler_off": "yes",
        "pans[0].name": "kitchen",
        "pans[0].pressure": "-0.6 Pa",
        "pans[1].name": "bath",
        "pans[1].pressure": "-9.2 Pa",
        "pans[1].again": "-9.0 Pa",
        "pans[1].place": "crawlspace",
        "pans[2].name": "hall",
        "pans[2].pressure": "-2.1 Pa",
        "pans[2].side": "return",
    },
    "duct-subtraction": {
        "id": "sub-1",
        "kind": "duct subtraction",
        "name": "Registers open and sealed",
        "visit": "visit-1",
        "house_pressure": "50 Pa",
        "flow_open": "2,400 cfm",
        "flow_sealed": "2,050 cfm",
        "duct_pressure": "38 Pa",
    },
    "delta-q": {
        "id": "dq-1",
        "kind": "delta q",
        "name": "Handler off and on",
        "visit": "visit-1",
        "supply_pressure": "0.16 in. w.c.",
        "return_pressure": "60 Pa",
        "air_handler_flow": "1,000 cfm",
    }
    | {
        f"flows[{k}].{name}": text
        for k, (on, pressure, flow) in enumerate(
            [
                ("no", "-30 Pa", "1,076 cfm"),
                ("no", "-10 Pa", "527 cfm"),
                ("no", "10 Pa", "527 cfm"),
                ("no", "30 Pa", "1,076 cfm"),
                ("yes", "-30 Pa", "979 cfm"),
                ("yes", "-10 Pa", "434 cfm"),
                ("yes", "10 Pa", "513 cfm"),
                ("yes", "30 Pa", "1,039 cfm"),
            ]
        )
        for name, text in (("air_handler", on), ("house_pressure", pressure), ("flow", flow))
    },
}
"""A full entry of each kind, as somebody types it."""

TOLD = {
    "zone-pressure": ("The zone is open to outdoors", "falls on the house side"),
    "added-hole": ("pass through the zone", "Zone to outdoors, alone at 50 Pa"),
    "opened-hatch": ("pass through the zone", "House to zone, alone at 50 Pa"),
    "duct-leakage": ("The ducts leak", "Pressures held", "11 % of what the fan moves"),
    "duct-pans": ("1 of 3 runs leaks to outdoors", "Registers, the leakiest first"),
    "duct-subtraction": ("not to prove a repair", "Difference of the flows"),
    "delta-q": ("While the air handler runs", "What the air handler adds"),
}
"""What each page says of that entry."""

DOUBTED = {
    "zone-pressure": ({"zone": "room of the house"}, "rooms cannot be ranked"),
    "added-hole": ({"closed": "no", "pressure_closed": ""}, "was not confirmed closed"),
    "opened-hatch": ({"flow_after": "2,010 cfm"}, "hardly more than"),
    "duct-leakage": ({"registers_sealed": "8"}, "1 register is not sealed"),
    "duct-pans": (
        {"pans[1].pressure": "9.2 Pa", "pans[1].again": ""},
        "the air handler was running",
    ),
    "duct-subtraction": ({"duct_pressure": "2 Pa"}, "still stand at house pressure"),
    "delta-q": ({"supply_pressure": "0.16 Pa"}, "inches of water"),
}
"""A mistake typed in each, and what is told."""

CHOSEN = ("id", "kind", "visit", "space", "zone", "boundary", "closed", "to_outdoors")
CHOSEN_ENDS = (".side", ".air_handler", "filter_out", "air_handler_off")


@pytest.fixture
def own_client(tmp_path: Path, demo_file: bytes) -> Iterator[TestClient]:
    """Return a client of a database that the test may write."""
    kept = open_store(tmp_path)
    kept.import_file("demo.json", demo_file, "test")
    with TestClient(create_app(kept, port=8437), base_url=OWN, headers={"origin": OWN}) as made:
        yield made
    kept.close()


@pytest.mark.parametrize("kind", TYPED)
def test_an_empty_form_opens(client: TestClient, job_path: str, kind: str) -> None:
    """The form and its checklist are there before anything was typed."""
    page = client.get(f"{job_path}/readings/{kind}/new")
    assert page.status_code == 200
    assert "standard uncertainty" in page.text


@pytest.mark.parametrize("kind", TYPED)
def test_the_result_appears_while_typing(client: TestClient, job_path: str, kind: str) -> None:
    """Sentence, values and drawing follow the entry at once."""
    own = f"{job_path}/readings/{kind}/new/preview"
    page = client.post(own, data=TYPED[kind], headers=HTMX)
    assert page.status_code == 200
    for words in TOLD[kind]:
        assert words in page.text, words


@pytest.mark.parametrize("kind", TYPED)
def test_a_mistake_is_told_while_typing(client: TestClient, job_path: str, kind: str) -> None:
    """What looks wrong stands beside the result as soon as it is typed."""
    change, words = DOUBTED[kind]
    own = f"{job_path}/readings/{kind}/new/preview"
    page = client.post(own, data=TYPED[kind] | change, headers=HTMX)
    assert words in page.text


@pytest.mark.parametrize("kind", TYPED)
def test_what_was_saved_comes_back_as_typed(
    own_client: TestClient, job_path: str, kind: str
) -> None:
    """Every text that was typed stands in the form again."""
    own, typed = f"{job_path}/readings/{kind}", TYPED[kind]
    saved = own_client.post(f"{own}/new", data=typed, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/{typed['id']}").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    for path, text in typed.items():
        if path not in CHOSEN and not path.endswith(CHOSEN_ENDS):
            assert shown[path] == text
