"""Check that what the page about the job file shows is what the program takes."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from rooftree.errors import UnitError
from rooftree.records.document import field_tests, house, money
from rooftree.records.document.readings import one_fan_test_problems
from rooftree.units import parse_any
from rooftree.units.reading import PRIMARY, parse

if TYPE_CHECKING:
    from rooftree.records.document.part import Part

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "job-file.md"
TEXT = PAGE.read_text(encoding="utf-8")
BLOCKS = [json.loads(block) for block in re.findall(r"```json\n(.*?)```", TEXT, re.DOTALL)]
MODELS: list[type[Part]] = [
    house.SpaceDocument,
    house.SurfaceDocument,
    house.RoomUnitDocument,
    field_tests.FanTestDocument,
    money.MeasureDocument,
]


@pytest.mark.parametrize(("block", "model"), list(zip(BLOCKS[1:], MODELS, strict=True)))
def test_the_examples_of_the_page_are_legal(block: object, model: type[Part]) -> None:
    """Each example is taken by the model that it stands for."""
    assert model.model_validate(block).to_core()


def test_the_fan_test_of_the_page_makes_sense() -> None:
    """Signs, fans and configurations fit; only the number of stations is small."""
    assert [problem.blocks for problem in one_fan_test_problems(BLOCKS[4])] == [False]


def test_how_a_value_is_known_is_shown_as_it_is_written() -> None:
    """The example of a value that was not seen is a quantity."""
    wall = house.DuctDocument.model_validate(
        {"id": "d", "name": "d", "side": "supply", "space": "s", "area": "1 m2", "leakage": 0,
         "resistance": BLOCKS[0]}
    )  # fmt: skip
    assert str(wall.to_core().known["resistance"].how) == "not seen"


def test_every_quantity_of_the_page_is_read() -> None:
    """The table of spellings holds no spelling that would be refused."""
    table = TEXT.partition("| Written |")[2].partition("\n\n")[0]
    texts = [json.loads(text) for text in re.findall(r'`("(?:[^"\\]|\\.)*")`', table)]
    assert len(texts) > 30
    for text in texts:
        if text != "SW":
            assert parse_any(text)


@pytest.mark.parametrize("text", ["80 MBtu", "100 ccf", "3,5 in", "2450"])
def test_what_the_page_says_is_refused_is_refused(text: str) -> None:
    """Whatever the field asks for, except a pure number."""
    for kind in PRIMARY:
        if kind != "ratio":
            with pytest.raises(UnitError):
                parse(text, kind)
