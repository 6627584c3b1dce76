"""Check how much of a fan's mean flow counts when it rests."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.ventilation import WholeHouseFan, effectiveness, running_flow
from rooftree.readings.ventilation.editions import CFM, SQUARE_FOOT
from rooftree.readings.ventilation.intermittent import average_flow, turnovers

MECHANICAL_CODE = "Uniform Mechanical Code, appendix E (reproduces ASHRAE 62.2)"
HOUSE = 2000.0 * SQUARE_FOOT


@pytest.mark.published(
    source=MECHANICAL_CODE, where="605.1.7.1, cycles up to three hours", read="source"
)
def test_short_cycles_count_in_full() -> None:
    """60 cfm on average, half of each three hours, is 120 cfm while it runs."""
    assert running_flow(60 * CFM, 0.5, 3.0, HOUSE) / CFM == pytest.approx(120.0)
    assert average_flow(WholeHouseFan("fan", 120 * CFM, 0.5, 3.0)) / CFM == pytest.approx(60.0)


@pytest.mark.published(
    source=MECHANICAL_CODE, where="605.1.7.2, N = 12.8 Q T / A in cfm, h and ft²", read="source"
)
def test_turnovers_of_a_cycle() -> None:
    """60 cfm for four hours in 2000 ft² is 1.536 turnovers."""
    assert turnovers(60 * CFM, 4, HOUSE) == pytest.approx(1.536, abs=5e-4)


def mean_concentration(run_share: float, running: float, steps: int = 4000) -> float:
    """Return the mean over a cycle of a unit source, by small steps after many cycles."""
    level, total = 1.0 / (running * run_share), 0.0
    for cycle in range(200):
        for step in range(steps // 20):
            flow = running if step < run_share * (steps // 20) else 0.0
            length = 20.0 / steps
            steady = 1.0 / flow if flow else 0.0
            away = math.exp(-flow * length)
            after = steady + (level - steady) * away if flow else level + length
            if cycle == 199:
                mean = (
                    steady + (level - steady) * (1 - away) / (flow * length)
                    if flow
                    else level + 0.5 * length
                )
                total += mean * length
            level = after
    return total


@pytest.mark.parametrize(("run_share", "running"), [(0.5, 8.0), (0.25, 3.0), (0.75, 20.0)])
def test_effectiveness_keeps_the_mean_concentration(run_share: float, running: float) -> None:
    """The steady flow it stands for has the same mean concentration, stepped through time."""
    steady = effectiveness(run_share, running) * run_share * running
    assert 1.0 / steady == pytest.approx(mean_concentration(run_share, running), rel=1e-6)


@given(st.floats(0.05, 1.0), st.floats(1e-4, 100.0))
def test_resting_never_helps(run_share: float, running: float) -> None:
    """The effectiveness lies between nothing and one, and falls with longer cycles."""
    short, long = effectiveness(run_share, running), effectiveness(run_share, 2.0 * running)
    assert 0.0 < long <= short * (1.0 + 1e-9)
    assert short <= 1.0 + 1e-9


@given(st.floats(1e-4, 1.0))
def test_always_running_counts_in_full(flow: float) -> None:
    """A fan that never rests is worth its flow, for any cycle."""
    assert average_flow(WholeHouseFan("fan", flow, 1.0, 24.0), 100.0) == pytest.approx(flow)


@given(st.floats(0.005, 0.05), st.floats(0.2, 1.0), st.floats(3.5, 24.0))
def test_running_flow_is_the_inverse(flow: float, share: float, cycle: float) -> None:
    """What the fan needs while it runs counts for what was asked, where anything does."""
    needed = running_flow(flow, share, cycle, HOUSE)
    if math.isinf(needed):
        return
    fan = WholeHouseFan("fan", needed, share, cycle)
    assert average_flow(fan, HOUSE) == pytest.approx(flow, rel=1e-6)
    assert needed * share >= flow * (1.0 - 1e-9)


def test_long_rest_cannot_be_made_up() -> None:
    """A fan off most of the day cannot stand for much flow, however large it is."""
    assert math.isinf(running_flow(200 * CFM, 0.05, 24.0, 1000 * SQUARE_FOOT))


def test_no_area_or_longer_than_a_day_counts_nothing() -> None:
    """Beyond three hours the floor area is needed, and a day is the longest cycle."""
    assert average_flow(WholeHouseFan("fan", 0.05, 0.5, 8.0)) == 0.0
    assert average_flow(WholeHouseFan("fan", 0.05, 0.5, 24.0), 150.0) > 0.0
    assert average_flow(WholeHouseFan("fan", 0.05, 0.5, 24.1), 150.0) == 0.0


@pytest.mark.parametrize("share", [0.0, 1.1])
def test_share_outside_is_refused(share: float) -> None:
    """A share of the time lies above 0 and up to 1."""
    with pytest.raises(OutOfRangeError, match=r"^run_share is .* -; the method covers 0 to 1 -$"):
        effectiveness(share, 1.0)


def test_bad_sizes_are_refused() -> None:
    """Turnovers, areas and cycles are positive, and a cycle is a day at most."""
    with pytest.raises(OutOfRangeError, match=r"^running_turnovers is 0 -; .* 0 to inf -$"):
        effectiveness(0.5, 0.0)
    with pytest.raises(OutOfRangeError, match=r"^floor_area is 0 m²; .* 0 to inf m²$"):
        turnovers(0.01, 4.0, 0.0)
    with pytest.raises(OutOfRangeError, match=r"^mean_flow is -1 m³/s; .* 0 to inf m³/s$"):
        turnovers(-1.0, 4.0, 100.0)
    with pytest.raises(OutOfRangeError, match=r"^cycle is 25 h; the method covers 0 to 24 h$"):
        running_flow(0.01, 0.5, 25.0, 100.0)
