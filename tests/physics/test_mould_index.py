"""Check the mould index against open code of the model, by hand and by its laws.

Expected values of steady climates were computed with the open code of the model that was
issued with measurements of an attic: independent of this program, not published.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.mould_index import (
    Sensitivity,
    highest_mould_index,
    mould_classes,
    mould_index,
)

CLASSES = list(Sensitivity)


def steady(celsius: float, percent: float, days: int) -> np.ndarray:
    """Return the index of the four classes after each hour of a steady climate."""
    shape = (24 * days, len(CLASSES))
    warm, damp = np.full(shape, celsius + 273.15), np.full(shape, percent / 100.0)
    return mould_index(warm, damp, CLASSES)


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        (30, (4.701, 1.448, 0.208, 0.0935)),
        (90, (5.504, 3.637, 0.623, 0.279)),
        (365, (5.504, 4.676, 2.749, 1.029)),
    ],
)
def test_steady_damp_as_in_the_open_code(day: int, expected: tuple[float, ...]) -> None:
    """20 °C and 97 % give what the model's open code gives, to 1 %."""
    assert steady(20.0, 97.0, 365)[24 * day - 1] == pytest.approx(expected, rel=0.01)


def test_hours_to_one_and_three_as_in_the_open_code() -> None:
    """The index passes 1 and 3 in the hours of the model's open code, to 1 %."""
    index = steady(20.0, 97.0, 365)
    hours = [[int(np.argmax(index[:, k] >= m)) + 1 for m in (1.0, 3.0)] for k in (0, 1)]
    assert hours[0] == pytest.approx([250, 500], rel=0.01)
    assert hours[1] == pytest.approx([432, 1729], rel=0.01)
    assert int(np.argmax(index[:, 2] >= 1.0)) + 1 == pytest.approx(3475, rel=0.01)
    assert int(np.argmax(index[:, 3] >= 1.0)) + 1 == pytest.approx(8123, rel=0.01)
    assert index[:, 2:].max() < 3.0


@pytest.mark.parametrize(("day", "expected"), [(30, (1.038, 0.588)), (365, (3.995, 3.041))])
def test_less_damp_as_in_the_open_code(day: int, expected: tuple[float, float]) -> None:
    """20 °C and 90 %, to 1 %."""
    assert steady(20.0, 90.0, 365)[24 * day - 1, :2] == pytest.approx(expected, rel=0.01)


def test_resistant_materials_stay_clean_at_85_percent() -> None:
    """22 °C and 85 %: exactly nothing on the two resistant classes, however long."""
    assert steady(22.0, 85.0, 365)[:, 2:].max() == 0.0


@pytest.mark.parametrize(("days", "expected"), [(30, 0.481), (60, 0.962)])
def test_damp_that_comes_and_goes_as_in_the_open_code(days: int, expected: float) -> None:
    """8 hours at 95 % and 16 at 60 % each day at 20 °C on pine, to 1 %."""
    damp = np.tile([0.95] * 8 + [0.60] * 16, days)[:, None]
    warm = np.full_like(damp, 293.15)
    index = mould_index(warm, damp, [Sensitivity.VERY_SENSITIVE])
    # The last day ends in its dry hours, as in the code.
    assert index[-1, 0] == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize(
    ("percent", "most"), [(85, 2.62), (90, 4.00), (95, 5.12), (97, 5.50), (100, 6.00)]
)
def test_highest_index_by_hand(percent: float, most: float) -> None:
    """In the long run pine at 20 °C comes to what the parabola allows, to 0.01."""
    assert steady(20.0, percent, 1500)[-1, 0] == pytest.approx(most, abs=0.015)


@given(
    st.lists(st.floats(-20.0, 60.0), min_size=48, max_size=48),
    st.lists(st.floats(0.1, 1.2), min_size=48, max_size=48),
    st.floats(0.0, 6.0),
)
def test_index_stays_between_none_and_all(
    celsius: list[float], humidity: list[float], start: float
) -> None:
    """Whatever the climate, no surface has less than none or more than all of it covered."""
    shape = (48, 1)
    index = mould_index(
        np.array(celsius).reshape(shape) + 273.15,
        np.array(humidity).reshape(shape),
        [Sensitivity.SENSITIVE],
        start=start,
    )
    assert index.min() >= 0.0
    assert index.max() <= 6.0


@given(st.floats(1.0, 45.0), st.floats(0.5, 0.99), st.sampled_from(CLASSES))
def test_damper_never_grows_less(celsius: float, humidity: float, kind: Sensitivity) -> None:
    """A hundredth more humidity never gives less mould after a month."""
    warm = np.full((720, 2), celsius + 273.15)
    damp = np.tile([humidity, humidity + 0.01], (720, 1))
    less, more = mould_index(warm, damp, [kind, kind])[-1]
    assert more >= less - 1e-12


def test_highest_of_two_years_is_that_of_running_them_in_a_row() -> None:
    """Surfaces that mould, that dry up by the year's end and that stay clean, all at once."""
    warm = np.full((8760, 3), 293.15)
    damp = np.tile([0.97, 0.5, 0.5], (8760, 1))
    damp[2000:3000, 1] = 0.92
    damp[:1000, 0] = 0.7
    kinds = [Sensitivity.SENSITIVE] * 3
    once = mould_index(warm, damp, kinds)
    again = mould_index(warm, damp, kinds, start=once[-1])
    found = highest_mould_index(warm, damp, kinds)
    assert found == pytest.approx(again.max(axis=0), abs=1e-12)
    assert found[0] > once[:, 0].max() - 1e-12
    assert found[1] > 0.0
    assert found[2] == 0.0


def test_frost_and_drought_only_retreat() -> None:
    """In frost it falls by 0.008 in 6 hours, rests until the 24th, then by 0.016 a day."""
    cold, damp = np.full((72, 1), 263.15), np.full((72, 1), 0.99)
    index = mould_index(cold, damp, [Sensitivity.VERY_SENSITIVE], start=2.0)
    assert index[[5, 23, 71], 0] == pytest.approx([2.0 - 0.008, 2.0 - 0.008, 2.0 - 0.040])
    slow = mould_index(cold, damp, [Sensitivity.VERY_SENSITIVE], start=2.0, decline=0.1)
    assert slow[-1, 0] == pytest.approx(2.0 - 0.004)


def test_what_does_not_fit_is_refused() -> None:
    """Shapes that differ, and a start above 6, are refused by name."""
    one = np.full((4, 1), 290.0)
    with pytest.raises(ValueError, match="give one column and one class for each surface"):
        mould_index(one, one, CLASSES)
    with pytest.raises(OutOfRangeError, match=r"mould index at the start is 7 -; .* 0 to 6"):
        mould_index(one, one / 400.0, CLASSES[:1], start=7.0)
    with pytest.raises(OutOfRangeError, match="decline is 2"):
        mould_index(one, one / 400.0, CLASSES[:1], decline=2.0)


def test_every_class_has_its_constants() -> None:
    """The table names each class once, the slower the more resistant."""
    speeds = [mould_classes()[each].before for each in CLASSES]
    assert speeds == sorted(speeds, reverse=True)
