"""Look at every chart of the demo's tests in a real browser: its words can be read."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from rooftree.web.sheets import SHEETS

if TYPE_CHECKING:
    from collections.abc import Callable

    from playwright.sync_api import Page

SLUGS = {sheet.kind: sheet.slug for sheet in SHEETS.values()} | {"fan test": "fan-test"}

OVERLAPS = """() => {
  const words = [...document.querySelectorAll("figure.chart svg text")].filter(
    (text) => text.textContent.trim() && text.checkVisibility({ opacityProperty: true })
      && getComputedStyle(text).opacity !== "0");
  const boxes = words.map((text) => text.getBoundingClientRect());
  const found = [];
  boxes.forEach((one, i) => boxes.slice(i + 1).forEach((other, j) => {
    const wide = Math.min(one.right, other.right) - Math.max(one.left, other.left);
    const high = Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top);
    if (wide > 2 && high > 5) found.push([words[i].textContent, words[i + 1 + j].textContent]);
  }));
  return found;
}"""
"""Pairs of words in charts that cover each other."""


def one_of_each(demo: bytes) -> dict[str, str]:
    """Return the address of one test of each kind."""
    return {SLUGS[one["kind"]]: one["id"] for one in json.loads(demo)["tests"]}


@pytest.mark.parametrize("slug", sorted(SLUGS.values()))
def test_words_of_a_chart_can_be_read_on_a_phone(
    open_page: Callable[..., Page], job_path: str, demo_file: bytes, slug: str
) -> None:
    """No name is cut short, and no two words cover each other."""
    found = one_of_each(demo_file)
    if slug not in found:
        pytest.skip("the demo has no test of this kind")
    page = open_page(f"{job_path}/readings/{slug}/{found[slug]}", width=390)
    charts = page.locator("figure.chart")
    if charts.count():
        charts.locator("svg").first.wait_for()
    cut = charts.locator("svg text").evaluate_all(
        "all => all.map(e => e.textContent).filter(t => t.includes('…'))"
    )
    assert cut == []
    assert page.evaluate(OVERLAPS) == []
