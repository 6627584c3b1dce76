"""Check the pages about burners: room air, gas leaks, worst case, burner and combustion air."""

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

AIR = {
    "id": "air-1", "kind": "room air", "name": "Room air", "visit": "visit-1",
    "zeroed_outdoors": "yes",
    "air[0].seconds": "0 min", "air[0].place": "outdoors", "air[0].carbon_monoxide": "0 ppm",
    "air[1].seconds": "10 min", "air[1].place": "kitchen", "air[1].carbon_monoxide": "2 ppm",
    "air[2].seconds": "25 min", "air[2].place": "kitchen", "air[2].carbon_monoxide": "4 ppm",
    "air[2].running": "range",
}  # fmt: skip
LEAKS = {
    "id": "gas-1", "kind": "gas leaks", "name": "Gas line", "visit": "visit-1",
    "gas": "natural gas", "all_reached": "yes", "connectors": "no", "joints_checked": "14",
    "leaks[0].place": "union at the meter", "leaks[0].found_by": "gas detector",
    "leaks[0].confirmed": "yes", "leaks[0].reported_to": "utility, job 4711",
}  # fmt: skip
WORST = {
    "id": "worst-1", "kind": "worst case", "name": "Closet", "visit": "visit-1",
    "zone": "utility closet", "appliance": "water heater", "draft": "natural draft",
    "hearth": "cold and clean", "closed_up": "yes", "has_range_hood": "no",
    "has_air_handler": "no", "has_interior_doors": "no",
    "baseline_before[0]": "-0.4 Pa", "baseline_before[1]": "-0.6 Pa",
    "baseline_before[2]": "-0.5 Pa",
    "states[0].dryer": "yes", "states[0].pressure": "-1.4 Pa",
    "states[1].dryer": "yes", "states[1].bath_fans": "yes", "states[1].pressure": "-3.2 Pa",
    "dryer_flow": "130 cfm", "bath_fans_flow": "90 cfm", "door_gap": "30 in²",
}  # fmt: skip
BURNER = {
    "id": "burner-1", "kind": "combustion", "name": "Water heater", "visit": "visit-1",
    "appliance": "water heater", "draft": "natural draft", "outdoor_temperature": "45 °F",
    "gas_leak": "no", "ambient_co": "1 ppm", "baseline_pressure": "-0.5 Pa",
    "worst_pressure": "-1.9 Pa", "worst_case": "dryer and bath fans", "vent_state": "cold",
    "spillage_checks[0].seconds": "10 s", "spillage_checks[0].spills": "yes",
    "spillage_checks[1].seconds": "20 s", "spillage_checks[1].spills": "no",
    "draft_pressure": "-2.4 Pa", "probe": "before dilution", "flue_temperature": "330 °F",
    "flue_height": "18 ft",
    "flue_samples[0].seconds": "10 min", "flue_samples[0].carbon_monoxide": "30 ppm",
    "flue_samples[0].oxygen": "8 %", "flue_samples[0].carbon_dioxide": "7.4 %",
    "pilot_relit": "yes", "thermostat_restored": "yes", "switches_restored": "yes",
    "doors_restored": "yes",
}  # fmt: skip
ROOM = {
    "id": "room-1", "kind": "combustion air", "name": "Closet", "visit": "visit-1",
    "room": "utility closet",
    "burners[0].appliance": "water heater", "burners[0].input_rate": "40000 Btu/h",
    "spaces[0].name": "closet", "spaces[0].floor_area": "20 ft²", "spaces[0].height": "8 ft",
    "spaces[0].joined": "room of the burner",
    "spaces[1].name": "hall and living", "spaces[1].floor_area": "700 ft²",
    "spaces[1].height": "8 ft", "spaces[1].joined": "by permanent openings",
    "openings[0].kind": "indoors, same storey", "openings[0].width": "12 in",
    "openings[0].height": "12 in", "openings[0].place": "within 12 in of the top",
    "openings[0].cover": "open, or a wide screen",
    "openings[1].kind": "indoors, same storey", "openings[1].width": "12 in",
    "openings[1].height": "12 in", "openings[1].place": "within 12 in of the bottom",
    "openings[1].cover": "open, or a wide screen",
}  # fmt: skip

ENTRIES = {"room-air": AIR, "gas-leaks": LEAKS, "worst-case": WORST, "combustion": BURNER,
           "combustion-air": ROOM}  # fmt: skip
SHOWN = {
    "room-air": ("Headache, nausea, drowsiness?", "Read outdoors first and last"),
    "gas-leaks": ("Every joint from meter or tank to burner?", "touch no switch"),
    "worst-case": ("Fireplaces and stoves", "No fan runs while there are embers"),
    "combustion": ("Looks at the draft hood", "Start the timer when the burner fires"),
    "combustion-air": ("Rooms joined to it".lower(), "decided by the fuel gas code"),
}
TOLD = {
    "room-air": ("At most 4 ppm of carbon monoxide indoors (kitchen)",),
    "gas-leaks": ("A leak is open: no other work goes on", "Gas leaks at: union at the meter"),
    "worst-case": ("2.7 Pa below outdoors", "Next: From the deepest so far", "Read next"),
    "combustion": ("This burner passed today", "the flue draws 2.4 Pa", "10 to 20 s"),
    "combustion-air": ("2.9 times the air that the burners need", "openings, same storey"),
}
MISTAKES = {
    "room-air": ({"air[0].carbon_monoxide": "9 ppm"}, "Zero it outdoors"),
    "gas-leaks": ({"leaks[0].reported_to": ""}, "Nobody has been told of the leak"),
    "worst-case": ({"hearth": "embers or fire"}, "no fan may pull on that chimney today"),
    "combustion": ({"probe": "after the draft hood"}, "The probe was behind the draft hood"),
    "combustion-air": ({"openings[0].cover": "wood louver"}, "the air does not count"),
}
SELECT = re.compile(r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', re.DOTALL)
KINDS = pytest.mark.parametrize("kind", ENTRIES)


@pytest.fixture
def own_client(tmp_path: Path, demo_file: bytes) -> Iterator[TestClient]:
    """Return a client of a database that the test may write."""
    kept = open_store(tmp_path)
    kept.import_file("demo.json", demo_file, "test")
    with TestClient(create_app(kept, port=8437), base_url=OWN, headers={"origin": OWN}) as made:
        yield made
    kept.close()


@KINDS
def test_an_empty_form_opens(client: TestClient, job_path: str, kind: str) -> None:
    """The form names its fields, its checklist and its cautions before anything was typed."""
    page = client.get(f"{job_path}/readings/{kind}/new")
    assert page.status_code == 200
    for words in SHOWN[kind]:
        assert words in page.text


@KINDS
def test_the_result_appears_while_typing(client: TestClient, job_path: str, kind: str) -> None:
    """What the readings give is told at once."""
    page = client.post(f"{job_path}/readings/{kind}/new/preview", data=ENTRIES[kind], headers=HTMX)
    assert page.status_code == 200
    for words in TOLD[kind]:
        assert words in page.text


@KINDS
def test_a_mistake_is_told(client: TestClient, job_path: str, kind: str) -> None:
    """A mistake while typing shows its finding."""
    changes, says = MISTAKES[kind]
    page = client.post(
        f"{job_path}/readings/{kind}/new/preview", data=ENTRIES[kind] | changes, headers=HTMX
    )
    assert says in page.text


@KINDS
def test_what_was_saved_comes_back_as_typed(
    own_client: TestClient, job_path: str, kind: str
) -> None:
    """Every text that was typed, and every choice, stands in the form again."""
    own, typed = f"{job_path}/readings/{kind}", ENTRIES[kind]
    saved = own_client.post(f"{own}/new", data=typed, follow_redirects=False)
    assert saved.status_code == 303
    page = own_client.get(f"{own}/{typed['id']}").text
    shown = dict(re.findall(r'name="([^"]+)"[^>]* value="([^"]+)"', page))
    chosen = {
        name: found[1]
        for name, options in re.findall(
            r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', page, re.S
        )
        if (found := re.search(r'value="([^"]*)"[^>]* selected', options))
    }
    for path, text in typed.items():
        if path not in ("id", "kind", "visit"):
            assert (shown | chosen).get(path) == text, path


def test_a_guided_search_ends(client: TestClient, job_path: str) -> None:
    """The page asks for one reading after another until the search is complete."""
    preview = f"{job_path}/readings/worst-case/new/preview"
    more = {
        "states[2].dryer": "yes", "states[2].bath_fans": "yes", "states[2].zone_door_closed": "yes",
        "states[2].pressure": "-2.6 Pa",
    }  # fmt: skip
    page = client.post(preview, data=WORST | more, headers=HTMX).text
    assert "Set the worst case once more" in page
    more |= {
        "states[3].dryer": "yes",
        "states[3].bath_fans": "yes",
        "states[3].pressure": "-3.3 Pa",
    }
    page = client.post(preview, data=WORST | more, headers=HTMX).text
    assert "read the baseline three times more" in page
    more |= {f"baseline_after[{i}]": "-0.5 Pa" for i in range(3)}
    page = client.post(preview, data=WORST | more, headers=HTMX).text
    assert "The search is complete." in page


def test_embers_are_told_before_any_reading(client: TestClient, job_path: str) -> None:
    """A zone and embers are enough to stop the fans."""
    typed = {"kind": "worst case", "zone": "closet", "hearth": "embers or fire"}
    page = client.post(f"{job_path}/readings/worst-case/new/preview", data=typed, headers=HTMX)
    assert "no fan may pull on that chimney today" in page.text
