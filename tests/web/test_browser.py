"""Drive the pages as a person does: a real browser, a real server, a real database.

Everything is found by its role and its label. Any error in the console and any request to
another address fails the test.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

PHONE, DESK = 390, 1440

SHEETS = ("", "/readings", "/readings/fan-test/new", "/house", "/diagnosis", "/plan", "/papers")
"""Pages of a job, by their address below that of the job."""


@pytest.mark.parametrize("sheet", ["jobs", *SHEETS])
@pytest.mark.parametrize("width", [PHONE, DESK])
def test_page_fits_its_width(
    open_page: Callable[..., Page], job_path: str, sheet: str, width: int
) -> None:
    """No page is wider than the screen, and each has one heading of the first level."""
    page = open_page("/" if sheet == "jobs" else job_path + sheet, width=width)
    expect(page.get_by_role("heading", level=1)).to_have_count(1)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    ids = page.eval_on_selector_all("[id]", "all => all.map(e => e.id)")
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("sheet", SHEETS)
def test_what_is_pressed_is_large_enough_for_a_thumb(
    open_page: Callable[..., Page], job_path: str, sheet: str
) -> None:
    """On a phone everything that is pressed or typed into is at least 48 pixels high."""
    page = open_page(job_path + sheet, width=PHONE)
    parts = "button, .button, summary, nav a, input:not([type=hidden]):not([type=checkbox]), select"
    low = page.eval_on_selector_all(
        f":is({parts}, label:has(input[type=checkbox]))",
        "all => all.filter(e => e.offsetParent && e.offsetHeight < 48).map(e => e.outerHTML)",
    )
    assert low == []


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_field_has_a_label(open_page: Callable[..., Page], job_path: str, sheet: str) -> None:
    """Whatever can be filled in or pressed has a name that a screen reader can say."""
    page = open_page(job_path + sheet)
    nameless = page.eval_on_selector_all(
        "input:not([type=hidden]), select, button, a",
        "all => all.filter(e => !(e.labels?.length || e.getAttribute('aria-label') ||"
        " e.textContent.trim())).map(e => e.outerHTML)",
    )
    assert nameless == []


def test_first_tab_skips_to_the_content(open_page: Callable[..., Page], job_path: str) -> None:
    """By keyboard the first stop leads past the head of the page, and shows where it is."""
    page = open_page(job_path)
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="Skip to the content")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    page.keyboard.press("Enter")
    expect(page.get_by_role("main")).to_be_focused()


def test_units_are_those_that_were_chosen(open_page: Callable[..., Page], job_path: str) -> None:
    """Choosing meters turns every number of every page, and stays chosen."""
    page = open_page(f"{job_path}/readings")
    expect(page.get_by_role("main")).to_contain_text(re.compile(r"[\d,]+ cfm"))
    page.get_by_role("button", name="Meters and degrees Celsius").click()
    expect(page.get_by_role("main")).to_contain_text(re.compile(r"[\d,]+ L/s"))
    expect(page.get_by_role("main")).not_to_contain_text(re.compile(r"\d cfm\b"))
    page.get_by_role("link", name="House", exact=True).click()
    expect(page.get_by_role("main")).to_contain_text("°C")


def test_dark_is_dark(open_page: Callable[..., Page], job_path: str) -> None:
    """The dark variant is chosen by name, or follows the device."""
    dark = "rgb(22, 24, 27)"
    page = open_page(job_path)
    expect(page.locator("html")).not_to_have_css("background-color", dark)
    page.get_by_role("button", name="Dark").click()
    expect(page.locator("html")).to_have_css("background-color", dark)
    page.get_by_role("button", name="As the device").click()
    page.emulate_media(color_scheme="dark")
    expect(page.locator("html")).to_have_css("background-color", dark)


def test_every_chart_is_drawn_and_has_its_numbers(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """A chart has a title, words for who cannot see it, a drawing and a table."""
    page = open_page(f"{job_path}/plan")
    figures = page.get_by_role("figure")
    expect(figures.first).to_be_visible()
    for k in range(figures.count()):
        figure = figures.nth(k)
        expect(figure.locator("figcaption")).to_have_text(re.compile(r"\.$"))
        expect(figure.get_by_role("img").first.locator("svg")).to_be_visible()
        figure.get_by_text("Table of its numbers").click()
        expect(figure.get_by_role("row")).to_have_count(13)


def test_section_is_drawn_with_its_words(open_page: Callable[..., Page], job_path: str) -> None:
    """The section has a text alternative, and the moment that it shows can be changed."""
    page = open_page(f"{job_path}/house")
    drawing = page.get_by_role("region", name="Section through the house")
    expect(drawing.locator("svg")).to_be_visible()
    first = drawing.inner_html()
    page.get_by_role("button", name="Hottest hour of the year").click()
    expect(drawing.locator("svg")).to_be_visible()
    assert drawing.inner_html() != first


def test_switching_a_measure_runs_the_year_again(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """A switch changes numbers and charts at once, and the address keeps the choice."""
    page = open_page(f"{job_path}/plan?chosen=yes")
    says = page.get_by_role("heading", name="Nothing is switched on")
    expect(says).to_be_visible()
    switch = page.get_by_role("switch", name=re.compile("water heater", re.IGNORECASE))
    switch.check()
    expect(page.get_by_role("heading", name=re.compile("This measure"))).to_be_visible()
    expect(page).to_have_url(re.compile("measure="))
    page.reload()
    expect(switch).to_be_checked()


def test_fit_follows_what_is_typed(open_page: Callable[..., Page], job_path: str) -> None:
    """The drawing and the doubts of a fan test change while one types, in any unit."""
    page = open_page(f"{job_path}/readings")
    page.get_by_role("link", name="Fan test, house pulled").click()
    title = page.get_by_role("figure").locator("figcaption")
    before = title.inner_text()
    typed = page.get_by_label(re.compile("^Station 1, .*fan pressure"))
    typed.fill("0.3 in. w.c.")
    expect(title).not_to_have_text(before)
    rows = page.get_by_role("region", name="Stations").get_by_role("row")
    count = rows.count()
    page.get_by_role("button", name="Add a station").click()
    expect(rows).to_have_count(count + 1)
    expect(typed).to_have_value("0.3 in. w.c.")


def test_nothing_typed_is_lost(
    open_page: Callable[..., Page], job_path: str, console: list[str]
) -> None:
    """A form that cannot be saved comes back as typed; one that was left offers it back."""
    page = open_page(f"{job_path}/readings")
    page.get_by_role("link", name="Fan test, house pulled").click()
    address = page.url
    field = page.get_by_label("Station 1, house pressure")
    as_saved = field.input_value()
    field.fill("fifty apples")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("alert")).to_contain_text("Not saved yet")
    expect(field).to_have_value("fifty apples")
    expect(field).to_have_attribute("aria-invalid", "true")
    page.wait_for_load_state("load")  # the scripts of the page that came back have run
    # The browser itself notes that the answer was a refusal.
    assert [line for line in console if "422" not in line] == []
    console.clear()

    page.goto(address)
    expect(field).to_have_value(as_saved)
    page.get_by_role("button", name="Bring it back").click()
    expect(field).to_have_value("fifty apples")
    page.goto(address)
    page.get_by_role("button", name="Forget it").click()
    page.reload()
    expect(page.get_by_role("button", name="Bring it back")).to_be_hidden()


def test_saved_test_shows_its_new_result(open_page: Callable[..., Page], job_path: str) -> None:
    """A new fan test, typed in mixed units, is saved and stands among the readings."""
    page = open_page(f"{job_path}/readings/fan-test/new")
    page.get_by_label("Name of the test").fill("Second look, mixed units")
    page.get_by_label("Baseline before, reading 1").fill("-0.4")
    rows = [("-50", "1900"), ("-0.16 in. w.c.", "800 L/s"), ("-30 Pa", "1360 cfm"), ("-20", "1050")]
    for number, (pressure, flow) in enumerate(rows, start=1):
        page.get_by_label(f"Station {number}, house pressure").fill(pressure)
        page.get_by_label(re.compile(f"^Station {number}, .*flow shown")).first.fill(flow)
    page.get_by_label("Indoor temperature").fill("68 °F")
    page.get_by_label("Outdoor temperature").fill("3 °C")
    page.get_by_label("Barometric pressure").fill("29.9 inHg")
    expect(page.get_by_role("figure").locator("figcaption")).to_contain_text("at 50 Pa")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_role("link", name="Second look, mixed units")).to_be_visible()


def test_plan_and_report_are_made(open_page: Callable[..., Page], job_path: str) -> None:
    """The plan is made in the background and shown in stages; then the report can be had."""
    page = open_page(f"{job_path}/plan")
    page.get_by_role("button", name="Make the plan").click()
    expect(page.get_by_role("heading", name=re.compile("^Stage 1"))).to_be_visible(timeout=120_000)
    page.get_by_role("link", name="To the report").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="Download the PDF").click()
    assert download.value.path().read_bytes().startswith(b"%PDF-")


def test_file_of_another_kind_is_refused_in_words(
    open_page: Callable[..., Page], console: list[str]
) -> None:
    """Something that is not a job file is refused with a sentence, and nothing is kept."""
    page = open_page("/")
    file = {"name": "job.json", "mimeType": "application/json", "buffer": b"{ half a fi"}
    page.get_by_label(re.compile("^Job file")).set_input_files(file)  # type: ignore[arg-type]
    page.get_by_role("button", name="Bring it in").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("This cannot be taken as it is")
    assert [line for line in console if "422" not in line] == []
    console.clear()


def test_pages_work_without_a_script(open_page: Callable[..., Page], job_path: str) -> None:
    """Without scripts the buttons do what the script does by itself otherwise."""
    page = open_page(f"{job_path}/plan?chosen=yes", script=False)
    page.get_by_role("switch", name=re.compile("water heater", re.IGNORECASE)).check()
    page.get_by_role("button", name="Compute the year again").click()
    expect(page.get_by_role("heading", name=re.compile("This measure"))).to_be_visible()
    page.goto(page.url.split("/plan")[0] + "/readings/fan-test/new")
    rows = page.get_by_role("region", name="Stations").get_by_role("row")
    count = rows.count()
    page.get_by_label("Station 1, house pressure").fill("-50")
    page.get_by_role("button", name="Add a station").click()
    expect(rows).to_have_count(count + 1)
    expect(page.get_by_label("Station 1, house pressure")).to_have_value("-50")
