"""What the record of an instrument says about one reading."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.instruments import (
    Accuracy,
    InstrumentTerms,
    pooled_scatter,
    repeatability,
)

sizes = st.floats(0.0, 1e3)
shares = st.floats(0.0, 0.2)
records = st.builds(
    InstrumentTerms,
    absolute=sizes,
    share=shares,
    accuracy=st.sampled_from(Accuracy),
    resolution=sizes,
    drift_per_year=sizes,
    drift_share_per_year=shares,
)


@given(records, st.floats(-1e4, 1e4), st.floats(0.0, 10.0), st.floats(1e-3, 1e3))
def test_the_unit_does_not_matter(
    record: InstrumentTerms, value: float, age: float, factor: float
) -> None:
    """Everything in another unit gives the same uncertainty in that unit."""
    other = InstrumentTerms(
        record.absolute * factor,
        record.share,
        record.accuracy,
        record.divisor,
        record.resolution * factor,
        record.drift_per_year * factor,
        record.drift_share_per_year,
    )
    expected = factor * record.standard_uncertainty(value, age)
    assert other.standard_uncertainty(value * factor, age) == pytest.approx(expected)


@given(records, st.floats(0.0, 1e4), st.floats(0.0, 10.0), st.floats(0.0, 100.0))
def test_larger_readings_and_older_calibrations_are_less_sure(
    record: InstrumentTerms, value: float, age: float, more: float
) -> None:
    """Uncertainty never shrinks with the reading or the age, and has no sign."""
    now = record.standard_uncertainty(value, age)
    assert record.standard_uncertainty(value + more, age) >= now
    assert record.standard_uncertainty(value, age + more) >= now
    assert record.standard_uncertainty(-value, age) == now


@given(records, st.floats(-1e4, 1e4), st.floats(0.0, 10.0))
def test_the_shared_part_and_the_resolution_make_the_whole(
    record: InstrumentTerms, value: float, age: float
) -> None:
    """What all readings have in common and what each hides add in quadrature."""
    both = math.hypot(record.shared_uncertainty(value, age), record.resolution / math.sqrt(12.0))
    assert record.standard_uncertainty(value, age) == pytest.approx(both)


def test_the_larger_part_of_an_accuracy_holds() -> None:
    """Of "1 % or 0.15 Pa, whichever is more", it is 0.5 Pa at 50 Pa and 0.15 Pa at 4 Pa."""
    gauge = InstrumentTerms(absolute=0.15, share=0.01, accuracy=Accuracy.LARGER, divisor=1.0)
    assert gauge.standard_uncertainty(50) == pytest.approx(0.5)
    assert gauge.standard_uncertainty(4) == pytest.approx(0.15)
    added = InstrumentTerms(absolute=0.15, share=0.01, divisor=1.0)
    assert added.standard_uncertainty(50) == pytest.approx(0.65)


def test_a_display_hides_half_a_step_either_way() -> None:
    """A step of 1 gives 1/√12, whatever the reading."""
    assert InstrumentTerms(resolution=1).standard_uncertainty(7) == pytest.approx(12**-0.5)


def test_nothing_said_is_nothing_known() -> None:
    """An empty record has no terms of size."""
    assert InstrumentTerms().standard_uncertainty(50.0, 3.0) == 0.0


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"absolute": -0.1}, r"^absolute accuracy is -0.1 \(unit of the reading\); the method"),
        ({"divisor": 0.5}, r"^divisor of the accuracy is 0.5 \[-\]; the method covers 1 to inf"),
        ({"resolution": math.nan}, r"^resolution is nan \(unit of the reading\); the method"),
    ],
)
def test_an_impossible_record_is_refused(fields: dict[str, float], message: str) -> None:
    """A part of an accuracy cannot be negative or no number."""
    with pytest.raises(OutOfRangeError, match=message):
        InstrumentTerms(**fields)


def test_a_calibration_in_the_future_is_refused() -> None:
    """The age counts from the calibration."""
    with pytest.raises(OutOfRangeError, match=r"^age of the calibration is -1 years; the method"):
        InstrumentTerms().terms(1.0, -1.0)


def test_repeated_readings_of_equal_value_do_not_scatter() -> None:
    """Two equal readings give no scatter and one degree of freedom."""
    term = repeatability([5, 5])
    assert (term.standard, term.degrees_of_freedom) == (0.0, 1.0)


def test_sets_are_pooled_by_their_freedom() -> None:
    """Sets with different means lend their scatter to one another; single readings do not."""
    pooled = pooled_scatter([[1.0, 3.0], [10.0, 12.0, 14.0], [7.0]])
    assert pooled.standard == pytest.approx(math.sqrt((2.0 + 8.0) / 3.0))
    assert pooled.degrees_of_freedom == 3.0


def test_one_reading_tells_no_scatter() -> None:
    """A reading that was not repeated is refused with the remedy."""
    with pytest.raises(
        NotEnoughDataError, match=r"^repeatability needs two readings .* repeat it$"
    ):
        repeatability([1.0])
    with pytest.raises(NotEnoughDataError, match=r"^no reading was repeated; repeat at least one$"):
        pooled_scatter([[1.0], [2.0]])
