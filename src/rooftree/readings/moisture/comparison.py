"""Which place is the wetter: humidity ratios held against each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.condensation import below_probability
from rooftree.physics.propagation import propagate
from rooftree.readings.moisture.readings import PlaceKind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.physics.propagation import Propagated
    from rooftree.readings.moisture.air import PlaceAir

TOLD_APART = 0.90
"""Probability from which one place is called wetter than another [0-1]; ours."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two places held against each other.

    Attributes
    ----------
    place, against : str
        Names.
    difference : Propagated
        Humidity ratio of `place` above that of `against` [kg/kg].
    wetter : float
        Probability that `place` is the wetter [0-1].
    """

    place: str
    against: str
    difference: Propagated
    wetter: float


def compare(place: PlaceAir, against: PlaceAir) -> Comparison:
    """Hold the humidity ratio of one place against that of another.

    Parameters
    ----------
    place, against : PlaceAir
        Read independently.

    Returns
    -------
    Comparison

    Notes
    -----
    Air carries vapor from the higher humidity ratio to the lower, whatever the relative
    humidities. Both readings are taken as independent; with one probe for all places part
    of its error is shared, and the difference is surer than stated.
    """
    one, other = place.humidity_ratio, against.humidity_ratio
    difference = propagate(
        lambda a, b: a - b, (one.value, other.value), (one.standard, other.standard)
    )
    return Comparison(place.name, against.name, difference, below_probability(other, one))


def rank(places: Sequence[PlaceAir]) -> tuple[PlaceAir, ...]:
    """Return places with the wettest air first.

    Parameters
    ----------
    places : sequence of PlaceAir
        Any number of them.

    Returns
    -------
    tuple of PlaceAir
    """
    return tuple(sorted(places, key=lambda place: -place.humidity_ratio.value))


def first_of(places: Sequence[PlaceAir], kind: PlaceKind) -> PlaceAir | None:
    """Return the first place of a kind.

    Parameters
    ----------
    places : sequence of PlaceAir
        Any number of them.
    kind : PlaceKind
        Wanted.

    Returns
    -------
    PlaceAir or None
    """
    return next((place for place in places if place.kind is kind), None)


def source_in_words(places: Sequence[PlaceAir]) -> str:
    """Return in one or two sentences where the moisture of the house comes from.

    Parameters
    ----------
    places : sequence of PlaceAir
        Outdoors, a living space and any others.

    Returns
    -------
    str
        What the differences can tell, and no more.
    """
    outdoors = first_of(places, PlaceKind.OUTDOORS)
    living = first_of(places, PlaceKind.LIVING)
    if outdoors is None or living is None:
        return (
            "Where the moisture comes from cannot be told without one reading outdoors and one"
            " in the living space, within the same hour."
        )
    against_outdoors = compare(living, outdoors)
    under = [
        place
        for place in places
        if place.kind in (PlaceKind.CRAWLSPACE, PlaceKind.BASEMENT, PlaceKind.ATTIC)
        and compare(place, living).wetter >= TOLD_APART
        and compare(place, outdoors).wetter >= TOLD_APART
    ]
    if under:
        names = " and ".join(place.name for place in rank(under))
        return (
            f"The air of {names} holds more water than both the house and outdoors: water enters"
            " or dries off there, and any air that moves from there to the house wets it."
        )
    if against_outdoors.wetter >= TOLD_APART:
        return (
            "The house holds more water than outdoors: it is made inside (people, cooking, bath,"
            " soil, a leak), and outdoor air would dry the house now."
        )
    if against_outdoors.wetter <= 1.0 - TOLD_APART:
        return (
            "Outdoor air holds more water than the house: it is the source now, and more of it"
            " through leaks, vents or fans wets the house unless it is cooled or dried."
        )
    return (
        "House and outdoors hold as much water within what the readings can tell: ventilation"
        " neither dries nor wets the house now."
    )
