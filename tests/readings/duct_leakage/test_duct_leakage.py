"""Check the reduction of duct leakage tests, its limits and its doubts."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.finding import Severity
from rooftree.readings.duct_leakage import (
    DuctLeakageTest,
    compare_duct_tests,
    duct_limit,
    duct_limits,
    reduce_duct_leakage,
)
from rooftree.readings.duct_leakage.flow import flow_at_25_pascals
from rooftree.readings.duct_leakage.limits import CFM_PER_100_FT2
from rooftree.units import told

CFM, FT2 = 0.471947e-3, 0.09290304
TIGHT = DuctLeakageTest(False, 25.0, 72 * CFM, 1200 * CFM)


@pytest.mark.parametrize(("pressure", "flow"), [(50.0, 151.6), (12.5, 65.98), (60.0, 169.1)])
def test_power_law_by_hand(pressure: float, flow: float) -> None:
    """100 at 25 Pa is what the default exponent makes of it elsewhere, to 0.1."""
    assert flow_at_25_pascals(flow, pressure) == pytest.approx(100.0, abs=0.07)


@given(st.floats(5.0, 100.0), st.floats(0.0, 1.0), st.floats(0.5, 1.0))
def test_power_law_goes_there_and_back(pressure: float, flow: float, exponent: float) -> None:
    """Going to 25 Pa and back by the same exponent changes nothing."""
    there = flow_at_25_pascals(flow, pressure, exponent)
    assert there * (pressure / 25.0) ** exponent == pytest.approx(flow)


@pytest.mark.published(
    source="California Energy Commission, 2008 Reference Residential Appendices",
    where="RA3.1.4.3.2.1, leakage as a share of air handler flow; Table RA3.1-2, 6 % for new ducts",
    read="source",
)
def test_share_of_the_air_handler() -> None:
    """72 cfm of 1200 cfm is the 6 % that new sealed ducts may leak."""
    result = reduce_duct_leakage(TIGHT)
    assert result.share is not None
    assert result.share.value == pytest.approx(0.06, abs=5e-4)
    assert result.findings == ()


@pytest.mark.published(
    source="IECC 2012, R403.2.2",
    where="rough-in, total leakage at 25 Pa: 4 cfm/100 ft2, 3 without air handler",
    read="quoted in City of Everett, sheet on the Washington adoption of the 2012 IECC",
)
@pytest.mark.parametrize(
    ("when", "allowed"), [("rough-in", 4), ("rough-in without air handler", 3)]
)
def test_rough_in_limits_of_2012(when: str, allowed: float) -> None:
    """Printed in both systems: 113.3 and 85 L/min for each 9.29 m²."""
    limit = duct_limit("2012", to_outdoors=False, when=when)  # type: ignore[arg-type]
    assert limit is not None
    assert limit.per_floor_area == pytest.approx(allowed * CFM_PER_100_FT2)
    assert limit.per_floor_area * 9.29 * 60_000 == pytest.approx(28.32 * allowed, rel=1e-3)
    assert not limit.recalled


@pytest.mark.published(
    source="IECC 2009 to 2021, duct testing",
    where="finished work: 2009 8 to outdoors or 12 total; 2015, 2018, 2021 4 total",
    read="memory",
)
@pytest.mark.parametrize(
    ("edition", "to_outdoors", "allowed"),
    [("2009", True, 8), ("2009", False, 12), ("2015", False, 4), ("2018", False, 4),
     ("2021", False, 4)],
)  # fmt: skip
def test_recalled_limits_say_so(edition: str, to_outdoors: bool, allowed: float) -> None:
    """What is only recalled is marked, in the table and in its source."""
    limit = duct_limit(edition, to_outdoors=to_outdoors)
    assert limit is not None
    assert limit.per_floor_area == pytest.approx(allowed * CFM_PER_100_FT2)
    assert limit.recalled
    assert limit.source.startswith("recalled: ")


def test_editions_are_listed_once() -> None:
    """No limit stands twice in the table."""
    keys = [(limit.edition, limit.to_outdoors, limit.when) for limit in duct_limits()]
    assert len(keys) == len(set(keys)) == 23


def test_edition_without_that_limit_has_none() -> None:
    """2012 limits total leakage only, and an unknown edition nothing."""
    assert duct_limit("2012", to_outdoors=True) is None
    assert duct_limit("1999", to_outdoors=False) is None


@pytest.mark.parametrize(
    ("cfm", "verdict"), [(60, "within"), (96, "too close to"), (150, "beyond")]
)
def test_limit_verdict_respects_uncertainty(cfm: float, verdict: str) -> None:
    """2400 ft² may leak 96 cfm by 2012; at just that the test cannot tell."""
    test = replace(TIGHT, flow=cfm * CFM)
    result = reduce_duct_leakage(test, 2400 * FT2, edition="2012")
    (finding,) = [f for f in result.findings if f.code == "duct-leakage/limit"]
    assert finding.says.startswith(f"Leakage is {verdict} the limit")
    assert finding.severity is Severity.NOTE


def test_recalled_limit_tells_the_reader() -> None:
    """The sentence says that a recalled limit must be checked."""
    result = reduce_duct_leakage(TIGHT, 200.0, edition="2018")
    assert result.findings[-1].says.endswith("The limit is recalled, not read: check it.")


def test_leaky_ducts_are_noted() -> None:
    """A third of the flow lost is more than typical; 15 % is typical; neither is well built."""
    for cfm, words in ((400, "more than from a typical"), (180, "as from many")):
        (finding,) = reduce_duct_leakage(replace(TIGHT, flow=cfm * CFM)).findings
        assert finding.code == "duct-leakage/share"
        assert words in finding.says


def test_result_reads_as_a_sentence() -> None:
    """The leakage is told with its limits in both units, or that it cannot be told."""
    says = told(reduce_duct_leakage(TIGHT).says, None)
    size = "68 to 77 cfm (31.9 to 36.2 L/s)"
    assert says == f"The ducts leak {size} in all at 25 Pa, 6 % of what the fan moves."
    silent = reduce_duct_leakage(replace(TIGHT, duct_pressure=2.0)).says
    assert silent == "The readings do not give the leakage at 25 Pa."


def test_pressure_not_reached_widens_the_limits() -> None:
    """From 12.5 Pa the same leakage comes out with wider limits and a note."""
    low = reduce_duct_leakage(replace(TIGHT, duct_pressure=12.5, flow=72 * 0.6598 * CFM))
    full = reduce_duct_leakage(TIGHT)
    assert low.flow_25 is not None
    assert full.flow_25 is not None
    assert low.flow_25.value == pytest.approx(full.flow_25.value, rel=1e-3)
    assert low.flow_25.standard > full.flow_25.standard
    assert [finding.code for finding in low.findings] == ["duct-leakage/pressure-not-reached"]


@pytest.mark.parametrize("pressure", [22.0, 28.0])
def test_nearly_25_pascals_counts_as_reached(pressure: float) -> None:
    """Three pascals off raise no doubt."""
    assert reduce_duct_leakage(replace(TIGHT, duct_pressure=pressure)).findings == ()


@pytest.mark.parametrize("pressure", [4.0, 0.0, 101.0])
def test_pressure_too_far_off_is_refused_as_a_finding(pressure: float) -> None:
    """A pressure from which nobody can go to 25 Pa gives no flow but a remedy."""
    result = reduce_duct_leakage(replace(TIGHT, duct_pressure=pressure))
    assert result.flow_25 is None
    assert [finding.code for finding in result.findings] == ["duct-leakage/pressure-range"]


@pytest.mark.parametrize("pressure", [5, 100])
def test_ends_of_the_range_are_taken(pressure: int) -> None:
    """Exactly 5 and 100 Pa are reduced."""
    assert reduce_duct_leakage(replace(TIGHT, duct_pressure=pressure)).flow_25 is not None


def test_missing_fan_flow_is_a_finding() -> None:
    """Without the air handler's flow there is leakage but no share."""
    result = reduce_duct_leakage(replace(TIGHT, air_handler_flow=0.0))
    assert result.flow_25 is not None
    assert result.share is None
    assert [finding.code for finding in result.findings] == ["duct-leakage/no-fan-flow"]


def test_ducts_below_outdoors_are_doubted() -> None:
    """In the test to outdoors a negative pressure is pointed out; the size is still reduced."""
    result = reduce_duct_leakage(replace(TIGHT, to_outdoors=True, duct_pressure=-25.0))
    assert result.flow_25 is not None
    assert [finding.code for finding in result.findings] == ["duct-leakage/sign"]


def test_outdoors_beyond_total_is_noticed() -> None:
    """Leakage to outdoors is a part of the total; the finding says whether chance explains it."""
    total = reduce_duct_leakage(replace(TIGHT, flow=100 * CFM))
    for cfm, words in ((101, "may be chance"), (200, "cannot be")):
        outdoors = reduce_duct_leakage(replace(TIGHT, to_outdoors=True, flow=cfm * CFM))
        (finding,) = compare_duct_tests(total, outdoors)
        assert words in finding.says
    less = reduce_duct_leakage(replace(TIGHT, to_outdoors=True, flow=50 * CFM))
    assert compare_duct_tests(total, less) == ()


def test_flow_that_is_no_flow_is_refused_by_the_formula() -> None:
    """A negative flow is not leakage."""
    with pytest.raises(
        OutOfRangeError, match=r"^flow is -1 m³/s; the method covers 0 to inf m³/s$"
    ):
        flow_at_25_pascals(-1.0, 25.0)


@given(st.floats(0.005, 0.3), st.floats(1.01, 3.0), st.floats(6.0, 90.0))
def test_more_flow_and_less_pressure_are_more_leakage(
    flow: float, more: float, pressure: float
) -> None:
    """More flow leaks more in proportion, the same flow at less pressure more; shares agree."""
    base, double, lower = (
        reduce_duct_leakage(DuctLeakageTest(False, p, q, 0.6))
        for p, q in ((pressure, flow), (pressure, more * flow), (pressure / 1.1, flow))
    )
    assert base.flow_25 is not None
    assert base.share is not None
    assert double.flow_25 is not None
    assert lower.flow_25 is not None
    assert double.flow_25.value == pytest.approx(more * base.flow_25.value)
    assert lower.flow_25.value > base.flow_25.value or pressure / 1.1 < 5.0
    assert base.share.value * 0.6 == pytest.approx(base.flow_25.value)
