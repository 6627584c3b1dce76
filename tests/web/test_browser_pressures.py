"""Look at the pressure map in a real browser."""

from __future__ import annotations

from typing import TYPE_CHECKING

from playwright.sync_api import expect

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page


def test_a_phone_shows_each_state_with_what_was_read(
    open_page: Callable[..., Page], job_path: str
) -> None:
    """On a phone nothing runs out sideways, and no state is without its pressures."""
    page = open_page(f"{job_path}/readings/pressures", width=390)
    region = page.get_by_role("region", name="Pressures by state and place")
    expect(region).to_be_visible()
    assert region.evaluate("e => e.scrollWidth <= e.clientWidth")
    rows = region.locator("tbody tr")
    shown = rows.evaluate_all(
        "all => all.map(r => [...r.querySelectorAll('td')].filter(c => c.checkVisibility()).length)"
    )
    assert len(shown) > 3
    assert min(shown) >= 1


def test_the_state_stays_in_sight(open_page: Callable[..., Page], job_path: str) -> None:
    """On a small screen the places move sideways, and what ran stays beside them."""
    page = open_page(f"{job_path}/readings/pressures", width=800)
    region = page.get_by_role("region", name="Pressures by state and place")
    region.evaluate("e => { e.scrollLeft = 300; }")
    state = region.locator("tbody th").first
    left = region.evaluate("e => e.getBoundingClientRect().left")
    assert abs(state.evaluate("e => e.getBoundingClientRect().left") - left) < 2
