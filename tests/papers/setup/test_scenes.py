"""Check the pictures of where hoses and probes go."""

from __future__ import annotations

import pytest

from rooftree.papers.setup import PICTURES, setup_svg
from rooftree.papers.setup.parts import HEIGHT, WIDTH
from rooftree.web.sheets import SHEETS


@pytest.mark.parametrize("name", PICTURES)
def test_every_picture_says_in_words_what_it_shows(name: str) -> None:
    """A person who cannot see it is told where hoses and probes go."""
    root = PICTURES[name]().pen.root
    title, text = root.find("title"), root.find("desc")
    assert title is not None
    assert text is not None
    assert len((text.text or "").split()) > 15
    assert (title.text or "") in root.attrib["aria-label"]


@pytest.mark.parametrize("name", PICTURES)
def test_words_stay_on_the_paper_and_off_each_other(name: str) -> None:
    """Nothing is cut off at the edge, and no words cover others."""
    labels = [box for _, box in PICTURES[name]().pen.labels]
    for box in labels:
        assert box.left >= 0.0
        assert box.right <= WIDTH
        assert box.top >= 0.0
        assert box.bottom <= HEIGHT
    for k, box in enumerate(labels):
        assert not any(box.overlap(other) > 0.0 for other in labels[k + 1 :])


def test_no_picture_has_no_name() -> None:
    """A name without a picture shows nothing rather than another picture."""
    assert setup_svg("") == ""


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=lambda one: one.slug)
def test_every_page_of_a_test_has_its_picture(sheet: object) -> None:
    """Nobody has to guess where the reference hose ends."""
    assert sheet.picture in PICTURES  # type: ignore[attr-defined]
