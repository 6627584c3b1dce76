"""Check the leak map against laws: it adds up, and evidence moves it the right way."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.physics.propagation import Propagated
from rooftree.readings.air_sealing import LeakPlace, Taken
from rooftree.readings.air_sealing.leak_map import ELSEWHERE, PlaceLeft, leaks_left


def known(value: float, standard: float = 0.02) -> Propagated:
    """Return a flow with its uncertainty."""
    return Propagated(value, standard, value - 2 * standard, value + 2 * standard)


def by_name(
    places: tuple[LeakPlace, ...],
    now: float,
    sealed: dict[str, tuple[float, float]],
    work: float = 0.0,
) -> dict[str, PlaceLeft]:
    """Return what is left of a house that leaked 1 m³/s, by place."""
    done = {place: Taken(flow, standard, work) for place, (flow, standard) in sealed.items()}
    return {each.place: each for each in leaks_left(places, known(1.0), known(now), done)}


PLACES = (LeakPlace("attic", 0.4), LeakPlace("basement", 0.3), LeakPlace("ducts", 0.2))


@given(
    st.lists(st.floats(0.02, 0.5), min_size=1, max_size=6),
    st.floats(0.2, 1.0),
    st.floats(0.0, 0.3),
)
def test_places_add_up_to_the_house(shares: list[float], now: float, taken: float) -> None:
    """Whatever was guessed and sealed, what is left adds up to the leakage now."""
    places = tuple(LeakPlace(f"place {k}", share) for k, share in enumerate(shares))
    left = leaks_left(places, known(1.0), known(now), {"place 0": Taken(taken, 0.02, 0.0)})
    assert sum(each.left.value for each in left) == pytest.approx(now, rel=1e-6)
    assert all(each.left.low > 0.0 for each in left)


def test_what_the_map_leaves_over_is_elsewhere() -> None:
    """Shares of 90 % leave a tenth elsewhere; shares of all leave no such line."""
    assert by_name(PLACES, 1.0, {})[ELSEWHERE].at_start == pytest.approx(0.1)
    whole = (*PLACES, LeakPlace("walls", 0.1))
    assert ELSEWHERE not in by_name(whole, 1.0, {})


def test_untouched_map_stays_as_guessed() -> None:
    """Without sealing and without news of the house the guesses stand."""
    for place in by_name(PLACES, 1.0, {}).values():
        assert place.left.value == pytest.approx(place.at_start, rel=1e-6)


def test_sealing_takes_from_its_own_place() -> None:
    """What is taken from the attic comes off the attic, nearly all."""
    after = by_name(PLACES, 0.8, {"attic": (0.2, 0.015)})
    assert after["attic"].left.value == pytest.approx(0.2, abs=0.06)
    assert after["basement"].left.value == pytest.approx(0.3, abs=0.03)


def test_more_found_than_guessed_means_more_left() -> None:
    """A place that gave more than its guess must have been larger than guessed."""
    small = by_name(
        (LeakPlace("chase", 0.05), LeakPlace("rest", 0.95)), 0.9, {"chase": (0.1, 0.01)}
    )
    assert small["chase"].left.value > 0.01
    assert small["chase"].sealed == 0.1


def test_nothing_found_means_little_there_or_badly_sealed() -> None:
    """A place where sealing did nothing is now guessed smaller than before."""
    after = by_name(PLACES, 1.0, {"attic": (0.0, 0.01)})
    assert after["attic"].left.value < 0.4
    assert after["basement"].left.value > 0.3


def test_sealing_narrows_what_is_known() -> None:
    """The sum is known far better than its parts, and parts together no worse than alone."""
    after = by_name(PLACES, 1.0, {})
    assert after["attic"].left.standard < 0.5 * 0.4


def test_zone_test_goes_before_a_share() -> None:
    """A flow from a zone test is used instead of the share, and believed more."""
    places = (LeakPlace("attic", 0.1, 0.4, 0.1), *PLACES[1:])
    assert by_name(places, 1.0, {})["attic"].left.value == pytest.approx(0.4, rel=0.05)


def test_sealed_place_offers_nothing_more() -> None:
    """A place that was worked on has nothing to offer, another its share."""
    after = by_name(PLACES, 0.8, {"attic": (0.2, 0.015)})
    assert after["attic"].sealable.value == 0.0
    assert after["basement"].sealable.value == pytest.approx(0.5 * after["basement"].left.value)


def test_empty_map_is_no_map() -> None:
    """Without places, or with shares of nothing, there is no map."""
    assert leaks_left((), known(1.0), known(0.9), {}) == ()
    assert leaks_left((LeakPlace("attic"),), known(1.0), known(0.9), {}) == ()


def test_half_the_work_leaves_half_to_do() -> None:
    """A place with half of its work done still offers some, one with all of it nothing."""
    places = (LeakPlace("attic", 0.4, work=3600.0), *PLACES[1:])
    half, whole, none = (
        by_name(places, 0.9, sealed, work)["attic"]
        for sealed, work in (
            ({"attic": (0.1, 0.01)}, 1800.0),
            ({"attic": (0.1, 0.01)}, 3600.0),
            ({}, 0.0),
        )
    )
    assert (half.done, whole.done, none.done) == (0.5, 1.0, 0.0)
    assert whole.sealable.value == 0.0
    share = half.sealable.value / half.left.value
    assert share == pytest.approx(0.5 * 0.5 / 0.75)
    assert share < none.sealable.value / none.left.value == pytest.approx(0.5)
