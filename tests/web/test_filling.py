"""Check that tables and loggers fill the forms of tests, with and without a script."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pytest
from starlette.testclient import TestClient

from rooftree.actions.jobs import load_job
from rooftree.records.streams import Sending
from rooftree.units import DisplaySystem
from rooftree.web import create_app
from rooftree.web.sheets import SHEETS
from rooftree.web.sheets.form import form_of
from rooftree.web.sheets.wanted import MOST_FIELDS, wanted_fields, wanted_lists

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.records import Store

OWN = "http://127.0.0.1:8437"
HTMX = {"hx-request": "true"}
TABLE = "nr\tBldg dp (Pa)\tQ cfm\n1\t-60,2\t2210\n2\tabc\t1985\n"


@pytest.fixture
def page(job_path: str) -> str:
    """Return the address of a new fan test."""
    return f"{job_path}/readings/fan-test/new"


@pytest.fixture
def listening(store: Store) -> Iterator[TestClient]:
    """Return a client of an application to which a logger has sent."""
    app = create_app(store, port=8437)
    sending = Sending(app.state.streams.stream("gauge"))
    for k in range(41):
        entry = {
            "time": f"2026-11-25T10:00:{k:02d}Z",
            "values": {"house_pressure": f"-50.{k % 3} Pa", "flow": "1980 cfm"},
        }
        sending.feed(json.dumps(entry).encode() + b"\n")
    sending.finish()
    with TestClient(app, base_url=OWN, headers={"origin": OWN}) as made:
        yield made


def fields(html: str) -> dict[str, str]:
    """Return what the browser would send of the stations that are filled in."""
    found = re.findall(r'name="(stations[^"]*)" value="([^"]+)"', html)
    return dict(found)


def controls(html: str) -> dict[str, str]:
    """Return what the step sends: chosen options, hidden fields and the table itself."""
    sent = dict(re.findall(r'<input type="hidden" name="(table[^"]*)" value="([^"]*)"', html))
    for name, options in re.findall(
        r'<select id="[^"]*" name="(table[^"]*)">(.*?)</select>', html, re.S
    ):
        chosen = re.search(r'<option value="([^"]*)" selected', options)
        sent[name] = chosen[1] if chosen else ""
    text = re.search(r'<textarea name="(table[^"]*)"[^>]*>\n(.*?)</textarea>', html, re.S)
    assert text is not None
    return sent | {text[1]: text[2]}


def test_a_pasted_table_becomes_rows(client: TestClient, page: str) -> None:
    """Look, confirm, filled in: each cell that cannot be read is marked, and nothing is saved."""
    pasted = {"table.text.stations": TABLE, "table.look": "stations"}
    step = client.post(f"{page}/table", data=pasted, headers=HTMX)
    assert step.status_code == 200
    assert "guessed from its name" in step.text
    assert "“abc” is not a number with a unit" in step.text
    filled = client.post(
        f"{page}/table", data=controls(step.text) | {"table.take": "stations"}, headers=HTMX
    )
    assert fields(filled.text) == {
        "stations[0].pressure": "-60.2 Pa", "stations[0].fans[0].flow": "2210 cfm",
        "stations[1].pressure": "abc", "stations[1].fans[0].flow": "1985 cfm",
    }  # fmt: skip
    assert filled.text.count('aria-invalid="true"') == 1
    assert "One field cannot be read" in filled.text


@pytest.mark.parametrize("code", ["utf-8-sig", "utf-16", "cp1252"])
def test_a_file_is_read_as_it_is_coded(client: TestClient, page: str, code: str) -> None:
    """A file of a spreadsheet is taken like pasted cells, and carried on as text."""
    content = "Bldg dp (Pa);Q (m³/h)\n-60,2;3750\n".encode(code)
    step = client.post(
        f"{page}/table",
        data={"table.look": "stations"},
        files={"table.file.stations": ("log.csv", content, "text/csv")},
        headers=HTMX,
    )
    assert "Q (m³/h) (3750)" in step.text
    filled = client.post(
        f"{page}/table", data=controls(step.text) | {"table.take": "stations"}, headers=HTMX
    )
    assert fields(filled.text)["stations[0].fans[0].flow"] == "3750 m³/h"


def test_typed_rows_are_kept_or_replaced_as_asked(client: TestClient, page: str) -> None:
    """Rows go below what was typed; only the other button puts them in its place."""
    typed = {"stations[0].pressure": "-70 Pa", "table.text.stations": TABLE}
    step = client.post(f"{page}/table", data=typed | {"table.look": "stations"}, headers=HTMX)
    assert "Fill in 2 rows below" in step.text
    assert "Put them in place of the 1 there" in step.text
    for button, first in (("table.take", "-70 Pa"), ("table.replace", "-60.2 Pa")):
        sent = typed | controls(step.text) | {button: "stations"}
        filled = client.post(f"{page}/table", data=sent, headers=HTMX)
        assert fields(filled.text)["stations[0].pressure"] == first


def test_it_works_without_a_script(client: TestClient, page: str) -> None:
    """The whole page comes back with the step in it, everything typed still there."""
    sent = {"name": "By hand", "table.text.stations": TABLE}
    answer = client.post(f"{page}/table", data=sent | {"table.look": "stations"})
    assert answer.text.startswith("<!doctype html>")
    assert 'value="By hand"' in answer.text
    assert "guessed from its name" in answer.text
    filled = client.post(
        f"{page}/table", data=sent | controls(answer.text) | {"table.take": "stations"}
    )
    assert 'value="By hand"' in filled.text
    assert fields(filled.text)["stations[0].pressure"] == "-60.2 Pa"


def test_what_is_no_table_is_said_on_the_spot(client: TestClient, page: str) -> None:
    """Nothing, or a picture, is refused where it was brought."""
    empty = client.post(f"{page}/table", data={"table.look": "stations"}, headers=HTMX)
    assert "there is no table in it" in empty.text
    picture = client.post(
        f"{page}/table",
        data={"table.look": "stations"},
        files={"table.file.stations": ("a.png", b"\x89PNG\x00\xff", "image/png")},
        headers=HTMX,
    )
    assert "it is not text; save the sheet as CSV first" in picture.text
    other = client.post(f"{page}/table", data={"table.other": "stations"}, headers=HTMX)
    assert 'name="table.text.stations"' in other.text


@pytest.mark.parametrize("sent", [{}, {"table.look": "nowhere"}])
def test_a_request_without_a_list_is_refused(
    client: TestClient, page: str, sent: dict[str, str]
) -> None:
    """Only the buttons of the page lead here."""
    assert client.post(f"{page}/table", data=sent).status_code == 422


def test_a_long_table_fits_where_there_is_room(client: TestClient, page: str) -> None:
    """Ten thousand rows are read, the first are filled in, and the rest is told."""
    table = "house pressure,flow\n" + "-50.1,1980\n" * 10_000
    sent = {"table.text.stations": table, "table.look": "stations"}
    step = client.post(f"{page}/table", data=sent, headers=HTMX)
    assert "The table has 10,000 rows and there is room for 60" in step.text
    filled = client.post(
        f"{page}/table", data=controls(step.text) | {"table.take": "stations"}, headers=HTMX
    )
    assert len(fields(filled.text)) == 120
    large = {"table.text.stations": "pressure,flow\n" + "-50.1,1980\n" * 150_000}
    assert client.post(f"{page}/preview", data=large).status_code == 413
    assert client.post(f"{page}/table", data=large | {"table.look": "stations"}).status_code == 200
    assert client.post(f"{page}/again", data=fields(filled.text)).status_code == 200


def test_a_logger_can_fill_a_fan_test(listening: TestClient, page: str) -> None:
    """The page offers the stream and where its readings go; the numbers come by themselves."""
    part = listening.get(f"{page}/live", headers=HTMX)
    assert "gauge" in part.text
    assert "Stations, next row: house pressure and flow" in part.text
    assert 'hx-get="/live/gauge?window=20"' in part.text
    now = listening.get("/live/gauge?window=10", headers=HTMX)
    assert 'data-reading="house_pressure" data-mean="-50.09 Pa" data-settling="settled"' in now.text
    assert listening.get("/live/gauge?window=x", headers=HTMX).status_code == 200
    assert listening.get("/live/Odd%20name", headers=HTMX).status_code == 422


@pytest.mark.parametrize("slug", sorted(SHEETS))
def test_a_logger_can_fill_every_test(listening: TestClient, job_path: str, slug: str) -> None:
    """Each kind of test offers its lists and fields for what the logger sends."""
    part = listening.get(f"{job_path}/readings/{slug}/new/live", headers=HTMX)
    assert part.status_code == 200
    assert "Listen" not in part.text
    assert ("data-live-target" in part.text) != ("has no field" in part.text)


@pytest.mark.parametrize("slug", sorted(SHEETS))
def test_every_list_of_every_test_takes_a_table(
    client: TestClient, store: Store, job_name: str, job_path: str, slug: str
) -> None:
    """For each list, a table with its own headings is matched column by column."""
    form = form_of(SHEETS[slug], {}, load_job(store, job_name), DisplaySystem.IP)
    assert all(column.units for column in wanted_fields(form))
    for wanted in wanted_lists(form):
        assert wanted.most * len(wanted.columns) <= MOST_FIELDS
        page = f"{job_path}/readings/{slug}/new"
        assert f'id="bring-in-{wanted.name}"' in client.get(page).text
        heads = [
            f"{one.words} ({one.units[0]})" if one.units else one.words for one in wanted.columns
        ]
        cells = [
            "1.5" if one.kind is not None else next((v for v, _ in one.choices if v), "word")
            for one in wanted.columns
        ]
        table = "\n".join("\t".join(row) for row in (heads, cells, cells))
        sent = {f"table.text.{wanted.name}": table, "table.look": wanted.name}
        step = client.post(f"{page}/table", data=sent, headers=HTMX)
        assert "Fill in 2 rows" in step.text
        chosen = [text for name, text in controls(step.text).items() if ".place." in name]
        assert chosen == [str(k) for k in range(len(heads))]
