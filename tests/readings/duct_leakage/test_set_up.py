"""Check what the set-up of a duct test changes: pressures apart, registers, doors, limits."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.readings.duct_leakage import (
    DuctLeakageTest,
    duct_limit,
    reduce_duct_leakage,
)

CFM = 0.471947e-3
N = 0.6
TOTAL = DuctLeakageTest(False, 25.0, 0.05, 0.5)
OUTDOORS = DuctLeakageTest(True, 25.0, 0.03, 0.5, duct_house_pressure=0.0)


def codes(test: DuctLeakageTest) -> set[str]:
    """Return what was noticed, without the kind of test and what the leakage means."""
    return {f.code.partition("/")[2] for f in reduce_duct_leakage(test).findings} - {"share"}


@given(st.floats(0.01, 0.05), st.floats(0.0, 0.05), st.floats(-5.0, 5.0))
def test_correction_gives_the_leakage_back(outdoors: float, inside: float, apart: float) -> None:
    """With the total known, what house and ducts were apart is taken off exactly."""
    between = math.copysign((abs(apart) / 25.0) ** N, apart)
    fan = outdoors + inside * between
    if fan <= 1e-4:
        return
    test = replace(OUTDOORS, flow=fan, duct_house_pressure=apart)
    result = reduce_duct_leakage(test, total_flow_25=outdoors + inside)
    assert result.flow_25 is not None
    assert result.flow_25.value == pytest.approx(outdoors, rel=1e-6)
    assert result.correction == pytest.approx(outdoors / fan, rel=1e-6)


def test_pressures_apart_widen_the_limits_and_are_told() -> None:
    """Two pascals apart move a fifth of the inner leakage: told, corrected, wider."""
    apart = replace(OUTDOORS, duct_house_pressure=2.0)
    result, equal = reduce_duct_leakage(apart), reduce_duct_leakage(OUTDOORS)
    assert codes(OUTDOORS) == set()
    (finding,) = [f for f in result.findings if f.code == "duct-leakage/not-equalized"]
    assert "22 % of the leakage between ducts and house" in finding.says
    assert result.flow_25 is not None
    assert equal.flow_25 is not None
    assert result.flow_25.value < equal.flow_25.value
    assert result.flow_25.standard > equal.flow_25.standard


def test_equal_pressures_still_have_the_doubt_of_the_gauge() -> None:
    """The law is so steep near 0 that a quarter of a pascal counts for some percent."""
    read = reduce_duct_leakage(OUTDOORS).flow_25
    assert read is not None
    assert 0.04 < read.standard / read.value < 0.12


def test_charged_space_reads_low_and_is_corrected() -> None:
    """Ducts in a crawlspace at 10 Pa leak against 15 Pa: corrected up by (25/15)^0.6."""
    result = reduce_duct_leakage(replace(OUTDOORS, space_pressure=10.0))
    assert result.correction == pytest.approx((25.0 / 15.0) ** N, rel=1e-6)
    assert "space-charged" in {f.code.partition("/")[2] for f in result.findings}


@pytest.mark.parametrize(
    ("test", "expected"),
    [
        (replace(TOTAL, registers=8, registers_sealed=8), set()),
        (replace(TOTAL, registers=8, registers_sealed=7), {"register-missed"}),
        (replace(TOTAL, far_pressure=24.6), set()),
        (replace(TOTAL, far_pressure=17.0), {"register-missed"}),
        (replace(TOTAL, filter_out=False), {"blocked"}),
        (replace(TOTAL, filter_out=False, dampers_open=False), {"blocked"}),
        (replace(TOTAL, door_open=False), {"door-closed"}),
        (replace(TOTAL, house_pressure=4.0), {"door-closed"}),
        (replace(TOTAL, house_pressure=0.5, door_open=True), set()),
        (replace(OUTDOORS, house_pressure=25.2), set()),
        (replace(OUTDOORS, house_pressure=20.0), {"sum"}),
    ],
)
def test_set_up_is_judged(test: DuctLeakageTest, expected: set[str]) -> None:
    """Each slip of the set-up has its code, and a good set-up none."""
    assert codes(test) == expected


def test_other_test_of_the_system_is_held_against_it() -> None:
    """Leakage to outdoors above the known total is doubted, and the other way round."""
    high = reduce_duct_leakage(OUTDOORS, total_flow_25=0.015)
    assert "duct-leakage/outdoors-beyond-total" in [f.code for f in high.findings]
    low = reduce_duct_leakage(TOTAL, outdoors_flow_25=0.2)
    assert "duct-leakage/outdoors-beyond-total" in [f.code for f in low.findings]
    fine = reduce_duct_leakage(TOTAL, outdoors_flow_25=0.03)
    assert "duct-leakage/outdoors-beyond-total" not in [f.code for f in fine.findings]


@pytest.mark.published(
    source="California Energy Commission, 2008 Reference Residential Appendices",
    where="Table RA3.1-2: new ducts 6 % final, 6 % rough-in, 4 % without air handler; ducts in "
    "conditioned space 25 cfm to outdoors; altered 15 % total or 10 % to outdoors",
    read="source",
)
@pytest.mark.parametrize(
    ("to_outdoors", "when", "share", "cfm"),
    [
        (False, "finished", 0.06, None),
        (False, "rough-in", 0.06, None),
        (False, "rough-in without air handler", 0.04, None),
        (False, "altered", 0.15, None),
        (True, "altered", 0.10, None),
        (True, "all inside", None, 25.0),
    ],
)
def test_limits_on_the_share_of_the_fan(
    to_outdoors: bool, when: str, share: float | None, cfm: float | None
) -> None:
    """Limits on a share of the fan, and one on the flow itself, are in the table as read."""
    limit = duct_limit("California 2008", to_outdoors=to_outdoors, when=when)  # type: ignore[arg-type]
    assert limit is not None
    assert limit.share == share
    assert limit.flow == (None if cfm is None else pytest.approx(cfm * CFM))
    assert limit.per_floor_area is None
    assert not limit.recalled


def test_four_cfm_for_a_hundred_square_feet() -> None:
    """2400 ft² at 4 cfm for each 100 ft² are 96 cfm, by hand."""
    limit = duct_limit("2012", to_outdoors=False, when="rough-in")
    assert limit is not None
    assert limit.per_floor_area is not None
    assert limit.per_floor_area * 2400 * 0.09290304 / CFM == pytest.approx(96.0)


@pytest.mark.parametrize(
    ("handler", "code", "words"),
    [
        (1.0, "limit", "5.0 % of the air handler's flow against 6.0 % of"),
        (0.0, "limit-unknown", "needs that flow: enter it"),
    ],
)
def test_verdict_on_a_share(handler: float, code: str, words: str) -> None:
    """A limit on the share is told in percent, or says what is missing."""
    test = replace(TOTAL, air_handler_flow=handler)
    result = reduce_duct_leakage(test, edition="California 2008")
    (finding,) = [f for f in result.findings if f.code == f"duct-leakage/{code}"]
    assert words in finding.says


def test_altered_ducts_are_held_to_their_limit() -> None:
    """The limit of altered systems does not say that existing houses are free of it."""
    result = reduce_duct_leakage(TOTAL, edition="California 2008", when="altered")
    (finding,) = [f for f in result.findings if f.code == "duct-leakage/limit"]
    assert finding.says.startswith("Leakage is within the limit for altered ducts")
    assert "need not meet it" not in finding.says


def test_flow_limit_of_ducts_inside() -> None:
    """Ducts in conditioned space may leak 25 cfm to outdoors."""
    test = replace(OUTDOORS, flow=40.0 * CFM)
    result = reduce_duct_leakage(test, edition="California 2008", when="all inside")
    (finding,) = [f for f in result.findings if f.code == "duct-leakage/limit"]
    assert finding.says.startswith("Leakage is beyond the limit")


def test_share_carries_the_doubt_of_the_air_handler() -> None:
    """An air handler known to a tenth makes the share less sure."""
    sharp, vague = (
        reduce_duct_leakage(replace(TOTAL, air_handler_uncertainty=u)).share for u in (0.0, 0.1)
    )
    assert sharp is not None
    assert vague is not None
    assert vague.standard > sharp.standard
