"""Check that a number that no house has is refused in its field, with a remedy."""

from __future__ import annotations

import re

import pytest

from rooftree.errors import DocumentError
from rooftree.records.document import read_test
from rooftree.records.document.magnitudes import greatest
from rooftree.units import Kind

ZONE = {
    "kind": "zone pressure",
    "space": "attic",
    "house_pressure": "-50 Pa",
    "zone_pressure": "-42 Pa",
}


@pytest.mark.parametrize("typed", ["1e30 Pa", "-1e30 Pa", "200,001 Pa", "803 in. w.c."])
def test_more_than_any_gauge_reads_is_refused(typed: str) -> None:
    """The message names the field, what stands there, and the most that can be."""
    says = (
        f"zone_pressure is {typed}, more than any house or instrument reaches; check the "
        "number and its unit; the most is 200 kPa either way"
    )
    with pytest.raises(DocumentError, match=re.escape(says)):
        read_test(ZONE | {"zone_pressure": typed})


def test_what_no_gauge_tells_from_zero_is_refused() -> None:
    """Nothing is written as zero."""
    with pytest.raises(DocumentError, match=r"less than any instrument tells from zero; write 0"):
        read_test(ZONE | {"zone_pressure": "1e-300 Pa"})


@pytest.mark.parametrize("typed", ["0 Pa", "-200 kPa", "200000 Pa", "1e-30 Pa"])
def test_ends_of_the_range_are_taken(typed: str) -> None:
    """Zero, the smallest and the greatest are readings; what they mean is judged later."""
    read_test(ZONE | {"zone_pressure": typed})


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_has_an_end(kind: Kind) -> None:
    """No quantity can be so large that its square is not a number."""
    assert 0.0 < greatest(kind) <= 1e15


@pytest.mark.parametrize(("typed", "is_taken"), [("0 K", False), ("-128.6 °F", True)])
def test_what_is_colder_than_any_air_is_refused(typed: str, is_taken: bool) -> None:
    """Zero kelvin is a slip; the coldest air ever read on earth is not."""
    attic = {"name": "attic", "kind": "attic", "temperature": typed}
    if is_taken:
        read_test({"kind": "moisture", "places": [attic]})
        return
    with pytest.raises(DocumentError, match=r"is 0 K, colder than it ever was on earth"):
        read_test({"kind": "moisture", "places": [attic]})
