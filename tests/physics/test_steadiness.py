"""Check when a reading counts as settled, on generated readings and by laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import NotEnoughDataError
from rooftree.physics.steadiness import FEWEST, Settling, judge_steadiness

values = st.lists(st.floats(-1e4, 1e4), min_size=FEWEST, max_size=60)


def test_a_straight_rise_is_found_exactly() -> None:
    """Slope and drift of a line are its own, and it is never called settled."""
    steady = judge_steadiness([0, 1, 2, 3, 4, 5], [10, 12, 14, 16, 18, 20])
    assert steady.slope == pytest.approx(2.0)
    assert steady.drift == pytest.approx(10.0)
    assert steady.mean == pytest.approx(15.0)
    assert steady.scatter == pytest.approx(0.0, abs=1e-9)
    assert steady.settling is Settling.DRIFTING


def test_equal_readings_are_settled() -> None:
    """A display that does not move has settled, without scatter."""
    steady = judge_steadiness(range(10), [50.0] * 10, window=10.0)
    assert (steady.settling, steady.scatter, steady.standard) == (Settling.SETTLED, 0.0, 0.0)


@pytest.mark.parametrize("lag", [1.0, 2.0, 5.0, 10.0, 50.0])
def test_a_reading_on_its_way_is_drifting(lag: float) -> None:
    """An approach to the final value is no noise, however its bend looks."""
    time = np.arange(0.0, 10.1, 0.5)
    steady = judge_steadiness(time, 50.0 * (1.0 - np.exp(-time / lag)), window=10.0)
    assert steady.settling is Settling.DRIFTING


@pytest.mark.parametrize(("count", "window"), [(1, 0.0), (FEWEST - 1, 0.0), (10, 20.0)])
def test_a_short_window_is_not_judged(count: int, window: float) -> None:
    """Too few readings, or too short a time, are neither settled nor drifting."""
    steady = judge_steadiness(range(count), [1.0, 2.0] * (count // 2) + [1.0] * (count % 2),
                              window=window)  # fmt: skip
    assert steady.settling is Settling.TOO_SHORT
    assert steady.count == count


def test_readings_at_one_moment_are_not_judged() -> None:
    """Without time between them, readings have a mean but no trend."""
    steady = judge_steadiness([3.0] * 6, [1, 2, 3, 4, 5, 6])
    assert (steady.mean, steady.slope, steady.settling) == (3.5, 0.0, Settling.TOO_SHORT)


@pytest.mark.parametrize(("time", "value"), [([], []), ([1.0], [1.0, 2.0])])
def test_no_readings_are_refused(time: list[float], value: list[float]) -> None:
    """A window without readings, or without a time for each, has no mean."""
    with pytest.raises(
        NotEnoughDataError, match=r"^\d times and \d readings; a window needs one time for each"
    ):
        judge_steadiness(time, value)


def test_a_step_of_the_display_is_no_drift() -> None:
    """A display that steps once by its last digit has settled."""
    value = [50.0] * 30 + [50.1] * 30
    assert judge_steadiness(range(60), value, resolution=0.1).settling is Settling.SETTLED
    assert judge_steadiness(range(60), value).settling is Settling.DRIFTING


def test_still_readings_are_seldom_called_drifting() -> None:
    """Independent noise about a still value is called drifting in about 1 % of windows."""
    noise = np.random.default_rng(11)
    time = np.arange(21.0)
    called = sum(
        judge_steadiness(time, 50.0 + noise.normal(0.0, 0.5, 21)).settling is Settling.DRIFTING
        for _ in range(2000)
    )
    assert called / 2000 < 0.02


@pytest.mark.parametrize(("alike", "least"), [(0.0, 1.0), (0.5, 0.99), (0.8, 0.99)])
def test_a_plain_drift_is_noticed(alike: float, least: float) -> None:
    """A drift of eight times the scatter is noticed, and hardly ever hidden by gusts."""
    noise = np.random.default_rng(12)
    time = np.arange(21.0)
    readings = (50.0 + _alike(noise, 21, alike) + 8.0 * time / 20.0 for _ in range(300))
    called = sum(judge_steadiness(time, one).settling is Settling.DRIFTING for one in readings)
    assert called / 300 >= least


def _alike(noise: np.random.Generator, count: int, alike: float) -> np.ndarray:
    made = noise.normal(0.0, 1.0, count)
    for k in range(1, count):
        made[k] = alike * made[k - 1] + np.sqrt(1.0 - alike**2) * made[k]
    return made


def test_the_mean_knows_its_uncertainty() -> None:
    """Twice the standard uncertainty holds the true value about 19 times in 20."""
    noise = np.random.default_rng(13)
    time = np.arange(0.0, 60.0)
    for alike, least in ((0.0, 0.93), (0.5, 0.87)):
        held = 0
        for _ in range(1000):
            steady = judge_steadiness(time, 5.0 + _alike(noise, 60, alike))
            held += abs(steady.mean - 5.0) < 2.0 * steady.standard
        assert held / 1000 > least


@given(values, st.floats(0.1, 10.0), st.floats(-100.0, 100.0))
def test_another_unit_changes_no_verdict(value: list[float], factor: float, shift: float) -> None:
    """Mean, scatter and drift follow the unit; time may start anywhere."""
    rounded = [round(one, 2) for one in value]
    time = np.arange(len(rounded), dtype=float)
    one = judge_steadiness(time, rounded)
    other = judge_steadiness(time + shift, [factor * y for y in rounded])
    size = factor * max(1.0, *map(abs, rounded))
    assert other.mean == pytest.approx(factor * one.mean, abs=1e-9 * size)
    assert other.scatter == pytest.approx(factor * one.scatter, abs=1e-7 * size)
    assert other.drift == pytest.approx(factor * one.drift, abs=1e-7 * size)


@given(values)
def test_turned_round_readings_drift_the_other_way(value: list[float]) -> None:
    """Time reversed, the drift has the other sign and the same size."""
    time = np.arange(len(value), dtype=float)
    one, other = judge_steadiness(time, value), judge_steadiness(time, value[::-1])
    assert one.drift == pytest.approx(-other.drift, rel=1e-6, abs=1e-6)
    assert one.scatter == pytest.approx(other.scatter, rel=1e-6, abs=1e-6)
