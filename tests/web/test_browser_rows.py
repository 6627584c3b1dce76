"""Type lists of readings in a real browser: by keyboard, and with one thumb."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page, Route

PHONE = 390
"""Width of a phone [px]."""


def test_enter_goes_down_the_rows(open_page: Callable[..., Page], job_path: str) -> None:
    """Enter leads from row to row and asks for the next one, in which one types at once."""
    page = open_page(f"{job_path}/readings/room-pressures/new")
    rows = page.get_by_role("region", name="Pressures")
    first = rows.get_by_label("Room, row 1", exact=True)
    first.fill("bedroom 1")
    rows.get_by_label("Pressure, row 1", exact=True).fill("4.2")
    page.keyboard.press("Enter")
    expect(rows.get_by_label("Room, row 2", exact=True)).to_be_focused()
    last = rows.get_by_label("Pressure, row 6", exact=True)
    last.fill("3.1")
    page.keyboard.press("Enter")
    expect(rows.get_by_label("Room, row 7", exact=True)).to_be_focused()
    page.keyboard.type("bedroom 7")
    expect(rows.get_by_label("Room, row 7", exact=True)).to_have_value("bedroom 7")
    expect(first).to_have_value("bedroom 1")


def test_the_button_for_a_row_leads_into_it(open_page: Callable[..., Page], job_path: str) -> None:
    """Whoever adds a row by keyboard types in it next."""
    page = open_page(f"{job_path}/readings/duct-pans/new")
    for row in range(1, 9):
        page.get_by_label(f"Register, row {row}", exact=True).fill(f"register {row}")
    page.get_by_role("button", name="Add a row").press("Enter")
    expect(page.get_by_label("Register, row 9", exact=True)).to_be_focused()


def test_enter_elsewhere_saves(
    open_page: Callable[..., Page], job_path: str, console: list[str]
) -> None:
    """Enter in a single field saves the test: it does not add a row somewhere below."""
    page = open_page(f"{job_path}/readings/duct-leakage/new")
    page.get_by_label("Flow of the duct fan").fill("a lot")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("Not saved yet")
    console.clear()  # the browser itself notes that the answer was a refusal


def test_seldom_fields_wait_and_stay(open_page: Callable[..., Page], job_path: str) -> None:
    """What is seldom written down is a press away, and stays while rows are added."""
    page = open_page(f"{job_path}/readings/ventilation/new", width=PHONE)
    power = page.get_by_label("Power, row 1", exact=True)
    expect(power).to_be_hidden()
    page.get_by_text("More to write down").click()
    expect(power).to_be_visible()
    page.get_by_label("Fan or room, row 1", exact=True).fill("bath")
    page.get_by_role("button", name="Add a row").click()
    expect(page.get_by_label("Fan or room, row 2", exact=True)).to_be_focused()
    expect(power).to_be_visible()


@pytest.mark.parametrize("kind", ["combustion", "moisture", "worst-case", "insulation"])
def test_a_thumb_finds_every_target(
    open_page: Callable[..., Page], job_path: str, kind: str
) -> None:
    """On a phone nothing to press is lower than 44 pixels, and nothing runs out sideways."""
    page = open_page(f"{job_path}/readings/{kind}/new", width=PHONE)
    low = (
        page.get_by_role("main")
        .locator("input, select, button, summary")
        .evaluate_all(
            "all => all.filter(e => e.checkVisibility() && !e.closest('.only-heard')"
            " && !e.matches('.only-heard') && e.getBoundingClientRect().height < 44)"
            ".map(e => e.outerHTML)"
        )
    )
    assert low == []
    assert not page.evaluate("document.documentElement.scrollWidth > innerWidth")


def test_a_row_comes_while_a_result_is_on_its_way(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """A preview that takes long neither holds the next row back nor swallows it."""
    page = open_page(f"{job_path}/readings/duct-pans/new")
    held: list[Route] = []
    page.route("**/preview", lambda route: held.append(route))
    page.get_by_label("House against outdoors").fill("-50 Pa")
    with page.expect_request("**/preview"):
        page.get_by_label("Register, row 1", exact=True).fill("bath")
    page.get_by_label("Under the pan, row 1", exact=True).fill("-2 Pa")
    page.get_by_role("button", name="Add a row").click()
    expect(page.get_by_label("Register, row 2", exact=True)).to_be_focused()
    expect(page.get_by_label("Under the pan, row 1", exact=True)).to_have_value("-2 Pa")
    for late in held:
        late.continue_()
    page.wait_for_load_state("networkidle")
    expect(page.get_by_label("Register, row 2", exact=True)).to_be_focused()


@pytest.mark.parametrize(
    ("kind", "field", "button"),
    [
        ("duct-pans", "Register, row 1", "Add a row"),
        ("fan-test", "Baseline before, reading 1", "Add a station"),
    ],
)
def test_going_on_to_a_button_asks_for_the_result_only(
    open_page: Callable[..., Page], job_path: str, kind: str, field: str, button: str
) -> None:
    """The result of what was typed last comes, although a button has the focus by then."""
    page = open_page(f"{job_path}/readings/{kind}/new")
    held: list[Route] = []
    page.route("**/preview", lambda route: held.append(route), times=1)
    with page.expect_request("**/preview"):
        page.get_by_label(field, exact=True).fill("5")
    page.get_by_label(field, exact=True).fill("6")
    page.get_by_role("button", name=button).focus()  # what it gives is asked for after the first
    with page.expect_request(lambda request: request.method == "POST") as asked:
        held[0].continue_()
    assert asked.value.url.endswith("/preview")
    page.wait_for_load_state("networkidle")
    expect(page.locator("form[data-draft]")).to_have_count(1)
