"""Check the reduction of zone pressures against a zone whose leaks are known."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.finding import Severity
from rooftree.physics.openings import opening_flow
from rooftree.readings.zone_pressures import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZonePressureTest,
    reduce_added_hole,
    reduce_opened_hatch,
    reduce_zone_pressure,
)
from rooftree.readings.zone_pressures.holes import (
    leaks_with_hole_to_house,
    leaks_with_hole_to_outdoors,
    leaks_with_opened_hatch,
)
from rooftree.units import DisplaySystem, told

CFM, INCH = 0.471947e-3, 0.0254
HOLE = 60 * INCH**2
N = 0.65
AT_50 = math.pow(50.0, N)
HOUSE, OUTDOORS = 400.0 * CFM / AT_50, 1200.0 * CFM / AT_50
ATTIC = ZonePressureTest("attic", -50.0, -42.212)
READ = ("attic", -50.0, -42.212)


def balance(to_house: float, to_outdoors: float, house: float, outdoors: float) -> float:
    """Return the pressure between house and zone at which the zone's air balances."""
    low, high = 0.0, 50.0
    for _ in range(200):
        middle = 0.5 * (low + high)
        into = house * math.pow(middle, N) + opening_flow(to_house, middle)
        out = outdoors * math.pow(50.0 - middle, N) + opening_flow(to_outdoors, 50.0 - middle)
        low, high = (middle, high) if into < out else (low, middle)
    return 0.5 * (low + high)


def in_cfm(leaks: tuple[float, float]) -> tuple[float, float]:
    """Return both leaks as flow at 50 Pa in cfm."""
    return leaks[0] * AT_50 / CFM, leaks[1] * AT_50 / CFM


def test_known_zone_reads_what_was_worked_by_hand() -> None:
    """400 cfm to the house and 1200 to outdoors: 42.212 Pa; with holes 30.808 and 45.661 Pa."""
    assert balance(0.0, 0.0, HOUSE, OUTDOORS) == pytest.approx(42.212, abs=2e-3)
    assert balance(HOLE, 0.0, HOUSE, OUTDOORS) == pytest.approx(30.808, abs=2e-3)
    assert balance(0.0, HOLE, HOUSE, OUTDOORS) == pytest.approx(45.661, abs=2e-3)


def test_ratio_and_path_of_the_known_zone() -> None:
    """The ratio is 3 and the path passes 358.3 cfm at 50 Pa."""
    result = reduce_zone_pressure(ATTIC)
    assert result.ratio is not None
    assert result.path is not None
    assert result.ratio.value == pytest.approx(3.0, rel=1e-3)
    assert 400.0 * result.path.value == pytest.approx(358.3, abs=0.1)
    assert result.ratio.low < 3.0 < result.ratio.high
    assert result.findings == ()
    assert result.says.startswith("The zone is open to outdoors 2.")


def test_hole_to_the_house_gives_the_leaks_back() -> None:
    """60 in² between house and zone pass 352 cfm and give 400 and 1200 back."""
    hole = opening_flow(HOLE, 30.808)
    assert hole / CFM == pytest.approx(352.0, abs=0.2)
    leaks = in_cfm(leaks_with_hole_to_house(42.212, 30.808, hole, 50.0, N))
    assert leaks == pytest.approx((400.0, 1200.0), rel=1e-3)


def test_hole_to_outdoors_gives_the_leaks_back() -> None:
    """60 in² between zone and outdoors pass 132.1 cfm and give 400 and 1200 back."""
    hole = opening_flow(HOLE, 50.0 - 45.661)
    assert hole / CFM == pytest.approx(132.1, abs=0.2)
    leaks = in_cfm(leaks_with_hole_to_outdoors(42.212, 45.661, hole, 50.0, N))
    assert leaks == pytest.approx((400.0, 1200.0), rel=2e-3)


def test_opened_hatch_gives_the_leaks_back() -> None:
    """A gain of 285.7 cfm of the fan gives 400 and 1200 back, whatever the hatch."""
    leaks = in_cfm(leaks_with_opened_hatch(42.212, 30.808, 285.7 * CFM, 50.0, N))
    assert leaks == pytest.approx((400.0, 1200.0), rel=1e-3)


@pytest.mark.parametrize(
    ("before", "after", "house", "outdoors"),
    [
        (1, 0, 333, 1109), (-1, 0, 479, 1307), (0, 1, 442, 1325), (0, -1, 365, 1094),
        (1, -1, 306, 1018), (-1, 1, 534, 1458),
    ],
)  # fmt: skip
def test_one_pascal_moves_the_answer_far(
    before: float, after: float, house: float, outdoors: float
) -> None:
    """What a pascal on either reading makes of 400 and 1200, worked by hand."""
    p1, p2 = 42.212 + before, 30.808 + after
    leaks = in_cfm(leaks_with_hole_to_house(p1, p2, opening_flow(HOLE, p2), 50.0, N))
    assert leaks == pytest.approx((house, outdoors), abs=1.0)


@given(st.floats(0.005, 0.1), st.floats(0.005, 0.1), st.floats(0.02, 0.1), st.floats(0.0, 0.01))
def test_two_sizes_of_hole_give_any_zone_back(
    house: float, outdoors: float, area: float, smaller: float
) -> None:
    """Readings made from a zone, with a small and a large hole, give that zone back."""
    p1, p2 = balance(smaller, 0.0, house, outdoors), balance(area, 0.0, house, outdoors)
    leaks = leaks_with_hole_to_house(
        p1, p2, opening_flow(area, p2), 50.0, N, flow_before=opening_flow(smaller, p1)
    )
    assert leaks == pytest.approx((house, outdoors), rel=1e-5)


def test_added_hole_reduces_with_limits() -> None:
    """The known zone comes back with limits that hold it, and the reminder to close the hole."""
    result = reduce_added_hole(AddedHoleTest(*READ, Boundary.HOUSE, HOLE, -30.808))
    assert result.house is not None
    assert result.outdoors is not None
    assert result.flow_50 is not None
    assert result.house.value == pytest.approx(HOUSE, rel=1e-3)
    assert result.outdoors.value == pytest.approx(OUTDOORS, rel=1e-3)
    assert result.flow_50.value / CFM == pytest.approx(358.3, abs=0.5)
    assert result.house.low < HOUSE < result.house.high
    assert [finding.code for finding in result.findings] == ["zone-pressure/hole-open"]


def test_added_hole_to_outdoors_reduces() -> None:
    """A hole on the other side gives the same zone, and its closing may be confirmed."""
    result = reduce_added_hole(AddedHoleTest(*READ, Boundary.OUTDOORS, HOLE, -45.661, closed=True))
    assert result.house is not None
    assert result.house.value == pytest.approx(HOUSE, rel=2e-3)
    assert result.findings == ()


def test_opened_hatch_reduces() -> None:
    """The fan's gain gives the known zone back."""
    result = reduce_opened_hatch(
        OpenedHatchTest(*READ, -30.808, 2000 * CFM, 2285.7 * CFM, closed=True)
    )
    assert result.outdoors is not None
    assert result.outdoors.value == pytest.approx(OUTDOORS, rel=1e-3)
    assert result.findings == ()


def test_gain_within_the_fans_scatter_is_refused() -> None:
    """18.8 cfm on 2000 says nothing of the leaks."""
    result = reduce_opened_hatch(
        OpenedHatchTest(*READ, -30.808, 2000 * CFM, 2018.8 * CFM, closed=True)
    )
    assert result.house is None
    assert [finding.code for finding in result.findings] == ["zone-pressure/flow-rise"]


def test_change_the_wrong_way_is_refused() -> None:
    """A hole to the house that raises the zone pressure was somewhere else."""
    result = reduce_added_hole(AddedHoleTest(*READ, Boundary.HOUSE, HOLE, -45.0, closed=True))
    assert result.house is None
    assert [finding.code for finding in result.findings] == ["zone-pressure/small-change"]


def test_near_outdoors_with_one_hole_is_told_to_use_two() -> None:
    """From 49.8 Pa one hole cannot size the house side: the doubt swallows it."""
    result = reduce_added_hole(
        AddedHoleTest("attic", -50.0, -49.8, Boundary.HOUSE, 6 * HOLE, -40.0, closed=True)
    )
    assert result.house is None
    assert [finding.code for finding in result.findings] == ["zone-pressure/unsure"]
    assert "two sizes of hole" in result.findings[0].says


def test_near_outdoors_is_refused_with_a_hole() -> None:
    """A reading within the margin of the house pressure gives no ratio but a size of hole."""
    result = reduce_zone_pressure(replace(ATTIC, zone_pressure=-49.0))
    assert result.ratio is None
    assert result.path is None
    (refusal,) = result.findings
    assert refusal.code == "zone-pressure/near-outdoors"
    assert refusal.severity is Severity.NOTE
    assert "in² (" in told(refusal.says, None)
    assert "between the house and the zone" in refusal.says


def test_near_house_is_refused_with_a_hole() -> None:
    """A reading of almost nothing asks for a hole to outdoors, sized by the house's leakage."""
    zone = replace(ATTIC, zone_pressure=-0.5)
    small = reduce_zone_pressure(zone, house_flow_50=0.5).findings[0]
    large = reduce_zone_pressure(zone, house_flow_50=5.0).findings[0]
    assert small.code == large.code == "zone-pressure/near-house"
    assert "between the zone and outdoors" in small.says
    inches = [
        int(told(f.says, DisplaySystem.IP).split("about ")[1].split(" in²")[0])
        for f in (small, large)
    ]
    assert inches[1] == pytest.approx(10 * inches[0], rel=0.5)


@pytest.mark.parametrize("pressure", [-2.0, -48.0])
def test_ends_of_the_margin_are_taken(pressure: float) -> None:
    """Exactly at the margin the reading is divided."""
    assert reduce_zone_pressure(replace(ATTIC, zone_pressure=pressure)).ratio is not None


def test_zone_inside_is_said_so() -> None:
    """A zone at a fifth of the house pressure shares the house's air."""
    says = reduce_zone_pressure(replace(ATTIC, zone_pressure=-10)).says
    assert says.startswith("The zone is open to the house 2.")


def test_even_zone_is_said_so() -> None:
    """Half the pressure is half and half."""
    says = reduce_zone_pressure(replace(ATTIC, zone_pressure=-25)).says
    assert says == "The zone is joined to the house about as freely as to outdoors."


def test_opposite_signs_are_a_finding() -> None:
    """Swapped hoses are noticed, whichever way the fan blew."""
    for house, zone in ((-50.0, 40.0), (50.0, -40.0)):
        result = reduce_zone_pressure(replace(ATTIC, house_pressure=house, zone_pressure=zone))
        assert [finding.code for finding in result.findings] == ["zone-pressure/sign"]
        assert result.ratio is None


def test_more_than_the_house_is_a_finding() -> None:
    """No passive zone lies beyond the house pressure."""
    result = reduce_zone_pressure(replace(ATTIC, zone_pressure=-55.0))
    assert [finding.code for finding in result.findings] == ["zone-pressure/beyond-house"]


def test_low_house_pressure_is_a_finding() -> None:
    """At 10 Pa, or with the fan off, nothing can be divided."""
    for pressure in (-10.0, 0.0):
        result = reduce_zone_pressure(
            replace(ATTIC, house_pressure=pressure, zone_pressure=0.8 * pressure)
        )
        assert result.findings[0].code == "zone-pressure/house-pressure"


def test_direction_does_not_matter() -> None:
    """Pressurizing and depressurizing by the same amount divide alike."""
    one = reduce_zone_pressure(ATTIC)
    other = reduce_zone_pressure(replace(ATTIC, house_pressure=50.0, zone_pressure=42.212))
    assert one == other


@given(st.floats(2.0, 47.0), st.floats(0.05, 0.45))
def test_worse_gauge_means_wider_limits(pressure: float, doubt: float) -> None:
    """More uncertainty of the gauge never narrows the limits."""
    test = replace(ATTIC, zone_pressure=-pressure, pressure_uncertainty=doubt)
    fine, coarse = (
        reduce_zone_pressure(t).ratio for t in (test, replace(test, pressure_uncertainty=0.5))
    )
    assert fine is not None
    assert coarse is not None
    assert coarse.low <= fine.low <= fine.value <= fine.high <= coarse.high


def test_pressure_that_did_not_fall_is_refused_by_the_formula() -> None:
    """The formula itself takes only a pressure that fell."""
    with pytest.raises(OutOfRangeError, match=r"^after is 45 Pa; the method covers 0 to 40 Pa$"):
        leaks_with_hole_to_house(40.0, 45.0, 0.1, 50.0, N)
