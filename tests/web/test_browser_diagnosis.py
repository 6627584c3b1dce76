"""Look at the diagnosis in a real browser: the section moves, and a phone shows all of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from playwright.sync_api import expect

from web.test_browser_charts import OVERLAPS

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page


def test_the_section_plays_and_pauses_by_keyboard(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """Enter on the button starts and stops it; arrows on the slider move by one hour."""
    page = open_page(f"{job_path}/diagnosis")
    when, play = page.locator("[data-when]"), page.get_by_role("button", name="Play")
    expect(when).to_contain_text("7 a.m.")
    play.press("Enter")
    expect(when).to_contain_text("9 a.m.")
    page.get_by_role("button", name="Pause").press("Enter")
    stopped = when.text_content()
    page.wait_for_timeout(1500)
    assert when.text_content() == stopped
    slider = page.get_by_role("slider", name="Moment")
    slider.press("Home")
    slider.press("ArrowRight")
    expect(when).to_contain_text("1 a.m.")
    expect(slider).to_have_attribute("aria-valuetext", when.text_content() or "")


def test_nothing_of_the_section_jumps(open_page: Callable[..., Page], job_path: str) -> None:
    """From night to afternoon the drawing and what stands below it keep their place."""
    page = open_page(f"{job_path}/diagnosis")
    places = """() => [...document.querySelectorAll(
        ".drawing svg text[data-place], .drawing svg, #energy")].map(
        e => [e.getAttribute("x"), e.tagName === "text" ? "" : e.getBoundingClientRect().top])"""
    slider = page.get_by_role("slider", name="Moment")
    slider.press("Home")
    before = page.evaluate(places)
    temperature = page.locator(".drawing svg text[data-place]").all_text_contents()
    slider.press("PageUp")
    slider.press("PageUp")
    assert page.locator(".drawing svg text[data-place]").all_text_contents() != temperature
    assert page.evaluate(places) == before


def test_another_day_is_fetched(open_page: Callable[..., Page], job_path: str) -> None:
    """A choice shows its first moments, any day of the year comes with a slider of its own."""
    page = open_page(f"{job_path}/diagnosis")
    when = page.locator("[data-when]")
    show, day = page.get_by_label("Show"), page.get_by_role("slider", name="Day of the year")
    expect(day).to_be_hidden()
    show.select_option("july")
    expect(when).to_contain_text("July, 7 a.m., mean of the month")
    show.select_option("year")
    expect(when).to_contain_text("August, mean of the month")
    show.select_option("day")
    expect(day).to_be_visible()
    day.press("Home")
    expect(when).to_contain_text("1 January")


def test_a_phone_shows_all_of_it(open_page: Callable[..., Page], job_path: str) -> None:
    """Nothing runs out sideways, and no two words of a chart cover each other."""
    page = open_page(f"{job_path}/diagnosis", width=390)
    charts = page.locator("figure.chart")
    charts.locator("svg").last.wait_for()
    page.wait_for_timeout(500)
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    assert page.evaluate(OVERLAPS) == []
    cut = charts.locator("svg text").evaluate_all(
        "all => all.map(e => e.textContent).filter(t => t.includes('…'))"
    )
    assert cut == []


def test_without_a_script_a_moment_can_be_chosen(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """The form alone leads to any moment."""
    page = open_page(f"{job_path}/diagnosis", script=False)
    page.get_by_label("Show").select_option("january")
    page.get_by_role("button", name="Show").click()
    expect(page.locator("[data-when]")).to_contain_text("January, 7 a.m., mean of the month")
