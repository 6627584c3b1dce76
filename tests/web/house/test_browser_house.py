"""Change the house as a person does: from the drawing, by keyboard, on a phone, in the dark."""

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
FORMS = ("/house/surface?id=wall-north", "/house/use", "/house/room-unit", "/house/space?id=crawl")


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("width", [PHONE, DESK])
def test_a_form_fits_its_width(
    open_page: Callable[..., Page], job_path: str, form: str, width: int
) -> None:
    """No form is wider than the screen, no id stands twice, and every field has a name."""
    page = open_page(job_path + form, width=width)
    expect(page.get_by_role("heading", level=1)).to_have_count(1)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    ids = page.eval_on_selector_all("[id]", "all => all.map(e => e.id)")
    assert len(ids) == len(set(ids))
    nameless = page.eval_on_selector_all(
        "input:not([type=hidden]), select, button, a",
        "all => all.filter(e => !(e.labels?.length || e.getAttribute('aria-label') ||"
        " e.textContent.trim())).map(e => e.outerHTML)",
    )
    assert nameless == []


@pytest.mark.parametrize("form", FORMS)
def test_a_form_suits_a_thumb(open_page: Callable[..., Page], job_path: str, form: str) -> None:
    """On a phone everything that is pressed or typed into is at least 48 pixels high."""
    page = open_page(job_path + form, width=PHONE)
    parts = "button, .button, summary, nav a, input:not([type=hidden]):not([type=checkbox]), select"
    low = page.eval_on_selector_all(
        f":is({parts})",
        "all => all.filter(e => e.offsetParent && e.offsetHeight < 48 &&"
        " !e.classList.contains('only-heard')).map(e => e.outerHTML)",
    )
    assert low == []


def test_a_part_of_the_drawing_is_opened_by_keyboard(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """Tab reaches it, it says what it is and shows where it is, Enter opens its form."""
    page = open_page(f"{job_path}/house")
    crawl = page.get_by_role("region", name="Section through the house").get_by_role(
        "link", name="crawlspace", exact=True
    )
    crawl.focus()
    expect(crawl).to_be_focused()
    assert crawl.locator("polygon").evaluate("e => getComputedStyle(e).fillOpacity") != "0"
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="crawlspace")).to_be_visible()


def test_surfaces_behind_each_other_lead_to_their_line(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """The list opens at the first of them, from where its form is one step away."""
    page = open_page(f"{job_path}/house")
    walls = page.locator(".drawing a.part[href='#surface-wall-north']").first
    walls.focus()
    page.keyboard.press("Enter")
    line = page.get_by_role("link", name="north wall", exact=True)
    expect(line).to_be_in_viewport()


def test_the_year_follows_what_is_typed(open_page: Callable[..., Page], job_path: str) -> None:
    """Before, after and difference; what is discarded is neither saved nor offered again."""
    page = open_page(f"{job_path}/house/window?id=window-living-south")
    result = page.locator("#result")
    expect(result).to_contain_text("The house as it is saved")
    page.get_by_label(re.compile("^Area with frames")).fill("250")
    expect(result).to_contain_text("With this change a year costs", timeout=30_000)
    expect(result.get_by_role("row", name=re.compile("^cooling, electricity"))).to_contain_text("→")
    page.get_by_role("link", name="Discard").click()
    expect(page).to_have_url(re.compile("/house$"))
    page.goto(f"{job_path}/house/window?id=window-living-south")
    expect(page.get_by_text("You typed something else here")).to_be_hidden()
    expect(page.get_by_label(re.compile("^Area with frames"))).not_to_have_value("250")


def test_what_was_not_discarded_is_offered_again(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """Leaving the page loses nothing."""
    page = open_page(f"{job_path}/house/window?id=window-living-west")
    page.get_by_label(re.compile("^Area with frames")).fill("33")
    page.goto(f"{job_path}/house")
    page.goto(f"{job_path}/house/window?id=window-living-west")
    page.get_by_role("button", name="Bring it back").click()
    expect(page.get_by_label(re.compile("^Area with frames"))).to_have_value("33")


def test_a_layer_is_left_out_and_the_rest_stays_typed(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """The form is laid out again where one is; what was typed is still there."""
    page = open_page(f"{job_path}/house/surface?id=bonus-floor")
    page.get_by_label("Name", exact=True).fill("floor over the garage")
    rows = page.locator("[data-rows=layers] tbody tr")
    count = rows.count()
    page.get_by_role("button", name=re.compile("^Leave out layer 1")).click()
    expect(rows).to_have_count(count - 1)
    expect(page.get_by_label("Name", exact=True)).to_have_value("floor over the garage")


def test_a_saved_form_offers_no_draft(open_page: Callable[..., Page], job_path: str) -> None:
    """What is in the record is what the form shows; nothing else is remembered."""
    page = open_page(f"{job_path}/house/fan?id=dryer")
    page.get_by_label(re.compile("^Electric power")).fill("210 W")
    page.get_by_role("button", name="Save", exact=True).last.click()
    expect(page).to_have_url(re.compile("/house#equipment$"))
    page.goto(f"{job_path}/house/fan?id=dryer")
    expect(page.get_by_label(re.compile("^Electric power"))).to_have_value("210 W")
    expect(page.get_by_text("You typed something else here")).to_be_hidden()


def test_without_a_script_everything_still_works(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """A layer is added by the server, and a mistake is marked by it."""
    page = open_page(f"{job_path}/house/surface?id=knee-floor", script=False)
    page.get_by_label(re.compile("^Area without")).fill("wide")
    page.get_by_role("button", name="Add a layer").click()
    expect(page.get_by_label(re.compile("^Area without"))).to_have_value("wide")
