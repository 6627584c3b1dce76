"""Check tests of zones and ducts in words."""

from __future__ import annotations

import pytest

from rooftree.papers.results import WORDS
from rooftree.papers.results import duct_leakage as leakage
from rooftree.papers.results import duct_leakage_from_house as house
from rooftree.papers.results import duct_pans as pans
from rooftree.papers.results import zone_pressures as zones
from rooftree.readings.duct_leakage import DuctFanReading, DuctLeakageTest, reduce_duct_leakage
from rooftree.readings.duct_leakage_from_house import (
    DeltaQTest,
    DuctSubtractionTest,
    reduce_delta_q,
    reduce_duct_subtraction,
)
from rooftree.readings.duct_pans import DuctPanTest, PanReading, reduce_duct_pans
from rooftree.readings.zone_pressures import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZonePressureTest,
    reduce_added_hole,
    reduce_zone_pressure,
)
from rooftree.units import DisplaySystem

IP = DisplaySystem.IP


def test_every_kind_is_told() -> None:
    """Each of the seven kinds has its words."""
    kinds = (
        ZonePressureTest, AddedHoleTest, OpenedHatchTest, DuctLeakageTest, DuctPanTest,
        DuctSubtractionTest, DeltaQTest,
    )  # fmt: skip
    assert set(kinds) <= set(WORDS)


def test_zone_lines_have_limits_and_only_what_was_read() -> None:
    """Ratio and shares come with their ranges; a pressure that was not read has no line."""
    test = ZonePressureTest("attic", -50.0, -42.0, vent_area=0.2)
    lines = {line.words: line for line in zones.WORDS.results(reduce_zone_pressure(test), IP)}
    assert " to " in lines["Outdoor leak over house leak"].limits
    assert lines["Zone pressure over house pressure"].value == "84 %"
    assert lines["Through the vents alone, house at 50 Pa"].value.endswith("cfm")
    read = [line.words for line in zones.WORDS.readings(test, IP)]
    assert "Vents of the zone" in read
    assert "Zone against outdoors" not in read


def test_refused_zone_still_tells_its_share() -> None:
    """Where nothing can be divided, what was read stands alone."""
    result = reduce_zone_pressure(ZonePressureTest("attic", -50.0, -49.8))
    (line,) = zones.WORDS.results(result, IP)
    assert line.limits == ""


def test_opened_zone_lists_both_leaks() -> None:
    """Both leaks and the flow through them are told at 50 Pa, and where it was opened."""
    test = AddedHoleTest("attic", -50.0, -42.2, Boundary.HOUSE, 0.0387, -30.8)
    assert len(zones.ADDED_HOLE.results(reduce_added_hole(test), IP)) == 3
    read = [line.words for line in zones.ADDED_HOLE.readings(test, IP)]
    assert "House against the zone, open to the house" in read
    hatch = OpenedHatchTest("attic", -50.0, -42.2, -30.8, 1.0, 1.1, pressure_closed=-42.0)
    read = [line.words for line in zones.OPENED_HATCH.readings(hatch, IP)]
    assert {"Flow of the fan, open", "House against the zone, closed again"} <= set(read)


def test_duct_stations_have_a_table() -> None:
    """Several pressures are listed; one needs no table."""
    rows = (DuctFanReading(25.0, 0.05), DuctFanReading(18.0, 0.041))
    many = reduce_duct_leakage(DuctLeakageTest(False, fan_readings=rows))
    (table,) = leakage.WORDS.tables(many, IP)
    assert [row[0] for row in table.rows] == ["25 Pa", "18 Pa"]
    one = reduce_duct_leakage(DuctLeakageTest(False, 25.0, 0.05))
    assert leakage.WORDS.tables(one, IP) == ()


def test_correction_is_told() -> None:
    """Pressures apart leave a line with the factor."""
    test = DuctLeakageTest(True, 25.0, 0.05, duct_house_pressure=2.0)
    words = [line.words for line in leakage.WORDS.results(reduce_duct_leakage(test), IP)]
    assert "Correction for pressures apart" in words
    read = [line.words for line in leakage.WORDS.readings(test, IP)]
    assert "Ducts against the house" in read


def test_registers_are_ranked_in_a_table() -> None:
    """The leakiest register is the first row, with how it stands."""
    test = DuctPanTest(-50.0, (PanReading("hall", 0.5), PanReading("bath", 9.0)))
    (table,) = pans.WORDS.tables(reduce_duct_pans(test), IP)
    assert table.rows[0][:2] == ("bath", "1")
    assert table.rows[0][-1] == "leaks to outdoors"
    counts = pans.WORDS.results(reduce_duct_pans(test), IP)
    assert [line.words for line in counts] == ["Runs: tight", "Runs: leaks to outdoors"]
    assert pans.WORDS.results(reduce_duct_pans(DuctPanTest(-50.0)), IP) == ()


def test_difference_tells_its_own_scatter() -> None:
    """The difference stands beside what two readings of one flow differ by."""
    result = reduce_duct_subtraction(DuctSubtractionTest(50.0, 1.0, 0.9, 40.0, 0.5))
    words = [line.words for line in house.SUBTRACTION.results(result, IP)]
    assert words == [
        "Difference of the flows",
        "By which two readings of one flow differ",
        "Leakage at 25 Pa to outdoors",
        "Over the air handler's flow",
    ]


def test_readings_that_were_not_made_say_so() -> None:
    """A pressure that nobody read is told as such."""
    lines = house.SUBTRACTION.readings(DuctSubtractionTest(50.0, 1.0, 0.9), IP)
    assert lines[-1].value == "not read"


def test_too_few_readings_have_no_table() -> None:
    """Without a fit there is nothing to list."""
    result = reduce_delta_q(DeltaQTest(40.0, 60.0))
    assert house.DELTA_Q.tables(result, IP) == ()
    assert house.DELTA_Q.results(result, IP) == ()
    read = house.DELTA_Q.readings(DeltaQTest(40.0, 60.0), IP)
    assert read[2].value == "0 and 0"


@pytest.mark.parametrize("words", [zones.WORDS, leakage.WORDS, house.DELTA_Q, house.SUBTRACTION])
def test_method_names_its_way(words: object) -> None:
    """The method is told whatever was read."""
    assert words.method(None, None)  # type: ignore[attr-defined]
