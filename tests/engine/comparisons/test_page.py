"""The page of comparisons shows what the engine gives now."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from engine.comparisons.page import render_page

PAGE = Path(__file__).parents[3] / "docs" / "reference" / "comparisons.md"
NUMBER = re.compile(r"-?\d+\.\d+|-?\d+")


def test_page_is_current() -> None:
    """Text is the same; numbers are, to one unit of their last digit. Else: make it again."""
    now, kept = render_page(), PAGE.read_text(encoding="utf-8")
    assert NUMBER.sub("#", now) == NUMBER.sub("#", kept), "run: python tools/comparisons_page.py"
    for new, old in zip(NUMBER.findall(now), NUMBER.findall(kept), strict=True):
        digits = len(old.partition(".")[2])
        assert float(new) == pytest.approx(float(old), abs=1.01 * 10.0**-digits)
