"""The pages behind the parts of a house: shown, tried, saved, taken out, refused."""

from __future__ import annotations

import html
import re
from typing import TYPE_CHECKING

import pytest

from rooftree.web.house import HOUSE_SHEETS, slug_of
from rooftree.web.house.trouble import part_in

if TYPE_CHECKING:
    from starlette.testclient import TestClient

    from rooftree.records import Store

BY_SCRIPT = {"hx-request": "true"}
"""A part of the page only, as its script asks for it."""


def job_of(store: Store) -> str:
    """Return the address of the only job."""
    return f"/jobs/{store.names()[0]}"


def fields(page: str) -> dict[str, str]:
    """Return what the form of a part would send."""
    form = page[page.index('id="house-form"') :]
    form = form[: form.index("</form>")]
    found: dict[str, str] = {}
    for tag in re.findall(r"<input[^>]*>", form):
        name, value = (re.search(rf'{key}="([^"]*)"', tag) for key in ("name", "value"))
        if name and value:
            found[html.unescape(name[1])] = html.unescape(value[1])
    for name, options in re.findall(r'<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>', form, re.S):
        chosen = re.search(r'value="([^"]*)" selected', options)
        found[html.unescape(name)] = html.unescape(chosen[1]) if chosen else ""
    return found


def words(page: str) -> str:
    """Return the text of a page."""
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page)))


@pytest.mark.parametrize("kind", HOUSE_SHEETS)
def test_every_kind_of_part_has_a_form(client: TestClient, store: Store, kind: str) -> None:
    """For one that is there and for a new one, every field with its label."""
    answer = client.get(f"{job_of(store)}/house/{slug_of(kind)}")
    assert answer.status_code == 200
    assert "Discard" in answer.text
    assert answer.text.count("<h1") == 1


def test_the_house_page_leads_to_every_part(client: TestClient, store: Store) -> None:
    """From the lists, and from the drawing."""
    page = client.get(f"{job_of(store)}/house").text
    house = store.load(store.names()[0]).house
    for kind, listed in (
        ("space", house.spaces), ("surface", house.surfaces), ("window", house.windows),
        ("leak", house.leaks), ("duct", house.ducts), ("fan", house.fans),
    ):  # fmt: skip
        for one in listed:
            assert f"/house/{kind}?id={one.id}" in page
    for kind in ("site", "use", "heating", "cooling", "water-heater", "air-handler"):
        assert f"/house/{kind}" in page
    drawing = page[page.index("<svg", page.index("Section drawing")) :]
    drawing = drawing[: drawing.index("</svg>")]
    assert 'role="group"' in drawing
    links = dict(re.findall(r'<a href="([^"]*)" class="part"><title>([^<]*)</title>', drawing))
    assert links[f"{job_of(store)}/house/space?id=crawl"] == "crawlspace"
    assert links[f"{job_of(store)}/house/surface?id=ceiling"] == "ceiling under the attic"
    assert links[f"{job_of(store)}/house/water-heater"] == "water heater in the living space"
    # Where several surfaces lie behind each other, their lines in the list.
    assert any(href.startswith("#surface-") for href in links)
    for anchor in (href.removeprefix("#") for href in links if href.startswith("#")):
        assert f'id="{anchor}"' in page


def test_a_part_that_is_not_there_is_told(client: TestClient, store: Store) -> None:
    """As is a kind that houses do not have."""
    assert client.get(f"{job_of(store)}/house/leak?id=nowhere").status_code == 404
    assert client.get(f"{job_of(store)}/house/cellar").status_code == 404
    assert client.get(f"{job_of(store)}/house/air-handler/remove").status_code == 200
    assert client.get(f"{job_of(store)}/house/dehumidifier/remove").status_code == 404


def test_a_change_is_shown_on_the_year_before_it_is_saved(client: TestClient, store: Store) -> None:
    """Energy, money, rooms, needs and air: before, after, difference; the record stays."""
    own = f"{job_of(store)}/house/window"
    sent = fields(client.get(f"{own}?id=window-living-south").text)
    sent["area"] = "200"
    answer = client.post(f"{own}/preview?id=window-living-south", data=sent, headers=BY_SCRIPT)
    text = words(answer.text)
    assert re.search(r"With this change a year costs \$\d+ (more|less): \$", text)
    assert "Nothing is saved yet" in text
    for caption in ("Bought in a year", "Rooms and spaces", "Needs", "Where the air comes from"):
        assert caption in text
    assert re.search(r"cooling, electricity [\d,]+ kWh → becomes [\d,]+ kWh \+[\d,]+ kWh", text)
    assert store.revision(store.names()[0]) == 1


def test_a_field_that_cannot_be_read_gives_no_year_and_says_so(
    client: TestClient, store: Store
) -> None:
    """By the label of the field; the year that was there stays on the page."""
    own = f"{job_of(store)}/house/space"
    sent = fields(client.get(f"{own}?id=attic").text) | {"volume": "many"}
    answer = client.post(f"{own}/preview?id=attic", data=sent, headers=BY_SCRIPT)
    assert answer.headers["hx-retarget"] == "#result-notice"
    assert "Volume of air: " in words(answer.text)


def test_a_house_that_cannot_be_simulated_says_why(client: TestClient, store: Store) -> None:
    """No coil does what was typed."""
    own = f"{job_of(store)}/house/cooling"
    sent = fields(client.get(own).text) | {"sensible_fraction": "99 %"}
    answer = client.post(f"{own}/preview", data=sent, headers=BY_SCRIPT)
    assert "cannot be simulated so: cooling has a sensible fraction" in words(answer.text)


def test_a_saved_change_is_in_the_record_as_typed(own_client: TestClient, own: Store) -> None:
    """And in the trail; everything else of the part is word by word as before."""
    page = f"{job_of(own)}/house/surface?id=wall-north"
    before = own.load(own.names()[0]).plain()["house"]["surfaces"]
    sent = fields(own_client.get(page).text)
    sent |= {"area": "330", "area.known": "measured", "area.note": "laser"}
    answer = own_client.post(page, data=sent, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"].endswith("/house#surfaces")
    after = own.load(own.names()[0]).plain()["house"]["surfaces"]
    changed = {"value": "330 ft²", "known": "measured", "note": "laser"}
    assert after == [
        one | ({"area": changed} if one["id"] == "wall-north" else {}) for one in before
    ]
    assert own.history(own.names()[0])[-1].kind == "house"


def test_a_refused_form_comes_back_as_typed(own_client: TestClient, own: Store) -> None:
    """Every mistake marked at its field, everything else kept, nothing saved."""
    page = f"{job_of(own)}/house/surface?id=wall-north"
    typed = {"name": "wall to the lane", "area": "-3 m2", "layers[1].thickness": "thick",
             "tilt.note": "by eye"}  # fmt: skip
    answer = own_client.post(page, data=fields(own_client.get(page).text) | typed)
    assert answer.status_code == 422
    back = fields(answer.text)
    assert {name: back[name] for name in typed} == typed
    marked = re.findall(r'id="([^"]+)-said">', answer.text)
    assert "area" in marked
    assert "layers[1].thickness" in marked
    assert answer.text.count('aria-invalid="true"') == 2
    assert own.revision(own.names()[0]) == 1


def test_a_part_is_added_and_taken_out(own_client: TestClient, own: Store) -> None:
    """A new leak gets a name of its own; it goes again after one was asked."""
    add = f"{job_of(own)}/house/leak"
    sent = fields(own_client.get(add).text) | {
        "name": "Hole at the pipe", "kind": "hole", "first": "living", "second": "crawl",
        "level": "2.6", "coefficient": "4",
    }  # fmt: skip
    assert own_client.post(add, data=sent, follow_redirects=False).status_code == 303
    made = own.load(own.names()[0]).plain()["house"]["leaks"][-1]
    assert made["id"] == "hole-at-the-pipe"
    assert (made["level"], made["coefficient"], made["azimuth"]) == ("2.6 ft", "4 cfm/Paⁿ", None)
    ask = f"{add}/remove?id={made['id']}"
    assert "Take out Hole at the pipe?" in words(own_client.get(ask).text)
    assert own_client.post(ask, follow_redirects=False).status_code == 303
    assert made not in own.load(own.names()[0]).plain()["house"]["leaks"]


def test_a_space_that_is_named_cannot_go(client: TestClient, store: Store) -> None:
    """Each part that names it is linked, and there is no button to take it out."""
    page = client.get(f"{job_of(store)}/house/space/remove?id=attic").text
    assert f'href="{job_of(store)}/house/surface?id=ceiling"' in page
    assert "cannot be taken out yet" in words(page)
    assert "Take it out</button>" not in page
    answer = client.post(f"{job_of(store)}/house/space/remove?id=attic")
    assert answer.status_code == 422


def test_rows_are_added_moved_and_left_out_without_a_script(
    client: TestClient, store: Store
) -> None:
    """The form is laid out again as typed; nothing is saved."""
    own = f"{job_of(store)}/house/surface"
    sent = fields(client.get(f"{own}?id=ceiling").text) | {"name": "lid"}
    first, second = sent["layers[0].name"], sent["layers[1].name"]
    page = client.post(f"{own}/again?id=ceiling", data=sent | {"up": "layers 1"}).text
    back = fields(page)
    assert (back["layers[0].name"], back["layers[1].name"]) == (second, first)
    assert back["name"] == "lid"
    page = client.post(f"{own}/again?id=ceiling", data=sent | {"out": "layers 0"}).text
    assert fields(page)["layers[0].name"] == second
    use = f"{job_of(store)}/house/use"
    sent = fields(client.get(use).text)
    periods = sum(name.startswith("heating_setpoint") for name in sent)
    page = client.post(f"{use}/again", data=sent | {"add": "heating_setpoint"}).text
    assert sum(name.startswith("heating_setpoint") for name in fields(page)) == periods + 2


def test_a_house_that_cannot_be_simulated_leads_to_the_part(
    own_client: TestClient, own: Store
) -> None:
    """The House page still lists everything, and its notice leads to what is wrong."""
    page = f"{job_of(own)}/house/cooling"
    sent = fields(own_client.get(page).text) | {"sensible_fraction": "99 %"}
    assert own_client.post(page, data=sent, follow_redirects=False).status_code == 303
    house = own_client.get(f"{job_of(own)}/house").text
    assert "cannot be simulated as it is described" in words(house)
    assert f'<a class="button" href="{page}">Change cooling</a>' in house
    assert "/house/surface?id=wall-north" in house


@pytest.mark.parametrize(
    ("says", "named"),
    [
        ("leak crack-north-sill joins x, which is no space", ("leak", "crack-north-sill")),
        ("cooling has a sensible fraction of 0.99", ("cooling", "")),
        ("fan bath-fan is sideways; use exhaust", ("fan", "bath-fan")),
        ("something else is wrong", ("", "")),
    ],
)
def test_messages_of_the_engine_name_a_part(
    store: Store, says: str, named: tuple[str, str]
) -> None:
    """By its id, or by what a house has once."""
    house = store.load(store.names()[0]).to_core().house
    assert part_in(says, house)[:2] == named
