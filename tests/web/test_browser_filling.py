"""Fill a fan test from a table and from a logger, in a real browser on a phone and at a desk."""

from __future__ import annotations

import json
from http.client import HTTPConnection
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

PHONE, DESK = 390, 1440
TABLE = "nr\tBldg dp (Pa)\tQ cfm\n1\t-60,2\t2210\n2\t-50,1\t1985\n3\tabc\t1700\n"


def stream(server: str, count: int = 60) -> None:
    """Send readings to the real server, as a logger does; what is there already stays."""
    lines = b"".join(
        json.dumps(
            {
                "time": f"2026-11-25T10:00:{k:02d}Z",
                "values": {"house_pressure": f"-50.{k % 3} Pa", "flow": f"{1980 + k % 4} cfm"},
            }
        ).encode()
        + b"\n"
        for k in range(count)
    )
    connection = HTTPConnection(urlsplit(server).netloc, timeout=60)
    connection.request("POST", "/streams/gauge", lines, {"Content-Type": "application/x-ndjson"})
    assert connection.getresponse().status == 200
    connection.close()


def station(page: Page, number: int, what: str) -> str:
    """Return what stands in a field of a station."""
    return page.get_by_label(f"Station {number}, {what}").input_value()


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_a_pasted_table_fills_the_stations(
    open_page: Callable[..., Page], job_path: str, width: int
) -> None:
    """Paste, look, change a unit, fill in: the rows are there, the doubtful cell is marked."""
    page = open_page(f"{job_path}/readings/fan-test/new", width=width)
    page.get_by_text("Paste or load a table").click()
    page.get_by_label("Cells copied from a spreadsheet").fill(TABLE)
    page.get_by_role("button", name="Look at the table").click()
    expect(page.get_by_text("3 rows, as they will be filled in")).to_be_visible()
    expect(page.get_by_text("“abc” is not a number with a unit")).to_be_visible()
    page.locator(".match", has_text="Flow of the fan").get_by_label("unit").select_option("L/s")
    expect(page.get_by_role("cell", name="2210 L/s")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.get_by_role("button", name="Fill in 3 rows").click()
    expect(page.get_by_label("Station 1, house pressure")).to_have_value("-60.2 Pa")
    assert station(page, 2, "fan-1, flow shown") == "1985 L/s"
    expect(page.get_by_label("Station 3, house pressure")).to_have_attribute("aria-invalid", "true")


def test_a_file_fills_the_stations(open_page: Callable[..., Page], job_path: str) -> None:
    """A file goes the same way as pasted cells."""
    page = open_page(f"{job_path}/readings/fan-test/new")
    page.get_by_text("Paste or load a table").click()
    content = "Bldg dp (Pa);Q (m³/h)\r\n-60,2;3750\r\n".encode("cp1252")
    page.get_by_label("Or a file").set_input_files(
        {"name": "log.csv", "mimeType": "text/csv", "buffer": content}
    )
    page.get_by_role("button", name="Look at the table").click()
    page.get_by_role("button", name="Fill in 1 row").click()
    expect(page.get_by_label("Station 1, fan-1, flow shown")).to_have_value("3750 m³/h")


def test_a_table_that_was_not_filled_in_is_no_draft(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """What waits in the step is no reading: after a reload only what was typed is offered."""
    page = open_page(f"{job_path}/readings/fan-test/new")
    page.get_by_text("Paste or load a table").click()
    page.get_by_label("Cells copied from a spreadsheet").fill(TABLE)
    kept = page.evaluate("JSON.stringify(localStorage)")
    assert "Bldg" not in kept


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_readings_of_a_logger_are_taken_with_one_press(
    open_page: Callable[..., Page], server: str, job_path: str, width: int
) -> None:
    """The mean of the window lands in the first free row, then in the next one."""
    stream(server)
    page = open_page(f"{job_path}/readings/fan-test/new", width=width)
    page.get_by_text("Listen to a logger").click()
    expect(page.get_by_text("Settled: 21 readings in 20 s").first).to_be_visible()
    expect(page.get_by_text("-50.2 Pa", exact=True)).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    take = page.get_by_role("button", name="Take this reading")
    assert (take.bounding_box() or {"height": 0.0})["height"] >= (48 if width == PHONE else 40)
    take.click()
    expect(page.get_by_role("status").filter(has_text="Row 1: -50.")).to_be_visible()
    take.click()
    assert station(page, 1, "house pressure") == station(page, 2, "house pressure") == "-50.10 Pa"
    assert station(page, 2, "fan-1, flow shown").endswith(" cfm")
    page.get_by_label("Take into").select_option(label="Baseline before the test, next row: "
                                                 "house pressure")  # fmt: skip
    take.click()
    expect(page.get_by_label("Baseline before, reading 1")).to_have_value("-50.10 Pa")
