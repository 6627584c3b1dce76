"""Check that a form's fields and an entry of the job file are two shapes of the same thing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.web.entry import (
    compact,
    count,
    flatten,
    keep_numbers,
    nest,
    steps,
    to_path,
    with_unit,
)

names = st.from_regex(r"[a-z][a-z_]{0,8}", fullmatch=True)
texts = st.text("−-0123456789. Pacfm°", min_size=1).filter(lambda text: text.strip() == text)
entries = st.recursive(
    texts,
    lambda inner: (
        st.dictionaries(names, inner, min_size=1, max_size=4)
        | st.lists(inner, min_size=1, max_size=4)
    ),
    max_leaves=20,
)


@given(st.dictionaries(names, entries, min_size=1, max_size=5))
def test_entry_goes_through_a_form_unchanged(entry: dict[str, object]) -> None:
    """An entry laid out as fields and put together again is the same entry."""
    assert nest(flatten(entry)) == entry


@given(st.lists(st.one_of(names, st.integers(0, 99)), min_size=1, max_size=6))
def test_path_and_steps_are_inverse(along: list[str | int]) -> None:
    """A path says exactly the steps that it was made of."""
    assert steps(to_path(tuple(along))) == tuple(along)


@given(st.dictionaries(names, entries, min_size=1, max_size=5))
def test_full_form_is_compact_already(entry: dict[str, object]) -> None:
    """A form without empty rows is not changed."""
    fields = flatten(entry)
    assert compact(fields) == fields


def test_empty_rows_are_dropped_and_the_rest_moves_up() -> None:
    """A row left empty in the middle leaves no gap, and what was typed stays in order."""
    fields = {
        "stations[0].pressure": "-50 Pa",
        "stations[1].pressure": " ",
        "stations[2].pressure": "-40 Pa",
        "stations[2].fans[1].flow": "900 cfm",
    }
    assert compact(fields) == {
        "stations[0].pressure": "-50 Pa",
        "stations[1].pressure": "-40 Pa",
        "stations[1].fans[0].flow": "900 cfm",
    }


def test_rows_beyond_ten_stay_in_order() -> None:
    """Row 10 comes after row 9, not after row 1."""
    fields = {f"stations[{k}].pressure": f"{k} Pa" for k in range(12)}
    stations = nest(fields)["stations"]
    assert [row["pressure"] for row in stations] == [f"{k} Pa" for k in range(12)]  # type: ignore[attr-defined]


def test_rows_are_counted() -> None:
    """A list has as many rows as its highest place says; an absent one has none."""
    fields = {"stations[3].pressure": "-50 Pa"}
    assert count(fields, "stations") == 4
    assert count(fields, "baseline_before") == 0
    assert count({}, "stations") == 0


@pytest.mark.parametrize(
    ("typed", "taken"),
    [
        ("-52.3", "-52.3 Pa"),
        ("−52", "−52 Pa"),
        ("1,200", "1,200 Pa"),
        (".5", ".5 Pa"),
        ("50.", "50. Pa"),
        ("0.21 in. w.c.", "0.21 in. w.c."),
        ("fifty", "fifty"),
        ("", ""),
        ("1e3", "1e3"),
    ],
)
def test_only_a_number_alone_gets_the_unit_of_its_column(typed: str, taken: str) -> None:
    """A unit that was typed is kept; a number alone gets the one that the form shows."""
    assert with_unit(typed, "Pa") == taken


def test_column_without_a_unit_adds_none() -> None:
    """A column whose form shows no unit leaves numbers alone."""
    assert with_unit("3", "") == "3"


@given(
    st.dictionaries(
        names,
        st.recursive(
            texts | st.integers(-99, 99) | st.floats(-9, 9, allow_nan=False),
            lambda inner: (
                st.lists(inner, min_size=1, max_size=3) | st.dictionaries(names, inner, min_size=1)
            ),
            max_leaves=12,
        ),
        min_size=1,
        max_size=4,
    )
)
def test_number_that_was_not_touched_stays_a_number(entry: dict[str, object]) -> None:
    """An entry with pure numbers comes back from a form as it was in the file."""
    assert keep_numbers(nest(flatten(entry)), entry) == entry


def test_number_that_was_changed_is_what_was_typed() -> None:
    """What a person typed is kept as typed, also in place of a number."""
    assert keep_numbers({"exponent": "0.52"}, {"exponent": 0.5}) == {"exponent": "0.52"}
    assert keep_numbers({"bands": ["1", "2"]}, {"bands": [1]}) == {"bands": [1, "2"]}
    assert keep_numbers({"note": "5"}, {}) == {"note": "5"}
