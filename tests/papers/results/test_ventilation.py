"""Check fan flows in words."""

from __future__ import annotations

from rooftree.papers.results.ventilation import WORDS
from rooftree.readings.ventilation import (
    FanPurpose,
    FanReading,
    FlowMethod,
    Running,
    VentilationTest,
    reduce_ventilation,
)
from rooftree.units import DisplaySystem

TEST = VentilationTest(
    fans=(
        FanReading("ventilator", FanPurpose.WHOLE_EXHAUST, 0.010, running=Running.ALWAYS),
        FanReading("bath", FanPurpose.BATH, 0.012),
        FanReading("kitchen", FanPurpose.KITCHEN_HOOD, method=FlowMethod.NO_FAN),
    ),
    weather_factor=0.5,
)
RESULT = reduce_ventilation(TEST, floor_area=150.0, bedrooms=3, flow_50=0.5)


def test_each_fan_each_edition_and_each_way_to_run_have_a_row() -> None:
    """Three tables: fans, editions, settings."""
    fans, editions, settings = WORDS.tables(RESULT, DisplaySystem.SI)
    assert [row[0] for row in fans.rows] == ["ventilator", "bath", "kitchen"]
    assert fans.rows[0][3] == "10 L/s"
    assert fans.rows[1][3] == "no"
    assert fans.rows[2][1] == "not counted"
    assert [row[0] for row in editions.rows] == ["2010", "2013", "2016", "2019", "2022"]
    assert [row[0] for row in settings.rows] == [
        "all the time", "1 h of every 2 h", "1 h of every 3 h", "8 h of every 24 h",
    ]  # fmt: skip


def test_lines_tell_need_given_and_short() -> None:
    """What is asked for, given and missing stand among the lines, with limits where known."""
    lines = {line.words: line for line in WORDS.results(RESULT, DisplaySystem.IP)}
    assert lines["They give on average"].value == "21 cfm"
    assert " to " in lines["They give on average"].limits
    assert lines["Short by"].value.endswith(" cfm")
    assert lines["Chance that it is enough"].value == "0 %"


def test_method_names_edition_and_factor() -> None:
    """The edition is named, and whether the factor was printed or computed."""
    assert WORDS.method(TEST, None).startswith("ASHRAE 62.2-2019")
    assert WORDS.method(TEST, RESULT).endswith(
        "Weather-and-shielding factor as printed by the standard for the place, entered by hand."
    )


def test_what_is_not_known_has_no_line() -> None:
    """Without the house only what was measured is told."""
    bare = reduce_ventilation(TEST)
    words = [line.words for line in WORDS.results(bare, DisplaySystem.SI)]
    assert words == ["They give on average", "Blown out with every fan on"]
    (fans,) = WORDS.tables(bare, DisplaySystem.SI)
    assert len(fans.rows) == 3


def test_readings_are_told_by_fan() -> None:
    """Each fan has its line; one that is missing says so."""
    lines = WORDS.readings(TEST, DisplaySystem.SI)
    assert lines[0].value == "10 L/s, all the time, by hood that balances itself with a fan"
    assert lines[2].value == "no fan"
