"""Mistakes in measuring the air that burners get."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.combustion_air import (
    AirOpening,
    AirSpace,
    CombustionAirTest,
    Cover,
    Joined,
    OpeningKind,
    OpeningPlace,
    RoomBurner,
    reduce_combustion_air,
)

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.finding import Finding


def clean(rng: Generator) -> CombustionAirTest:
    """Measure a closet that is joined to the house by two good openings."""
    rate = float(rng.uniform(10e3, 25e3))
    side = float(rng.uniform(0.27, 0.35))
    openings = tuple(
        AirOpening(OpeningKind.SAME_STOREY, side, side, place)
        for place in (OpeningPlace.HIGH, OpeningPlace.LOW)
    )
    return CombustionAirTest(
        "closet",
        (
            AirSpace("closet", float(rng.uniform(1.5, 4.0)), 2.4),
            AirSpace("house", float(rng.uniform(80.0, 160.0)), 2.4, Joined.OPENING),
        ),
        (RoomBurner("furnace", rate),),
        openings,
    )


def reduce(test: CombustionAirTest) -> tuple[Finding, ...]:
    """Return the findings of a test."""
    return reduce_combustion_air(test).findings


def louvered(test: CombustionAirTest, _: Generator) -> CombustionAirTest:
    """Overlook the wooden louvers, which leave a quarter free."""
    openings = tuple(replace(one, cover=Cover.WOOD) for one in test.openings)
    return replace(test, openings=openings)


def both_high(test: CombustionAirTest, _: Generator) -> CombustionAirTest:
    """Cut both openings near the ceiling."""
    openings = tuple(replace(one, place=OpeningPlace.HIGH) for one in test.openings)
    return replace(test, openings=openings)


def by_door(test: CombustionAirTest, _: Generator) -> CombustionAirTest:
    """Count on a door that is closed at night."""
    spaces = (test.spaces[0], replace(test.spaces[1], joined=Joined.DOOR))
    return replace(test, spaces=spaces, openings=())


def tight(test: CombustionAirTest, rng: Generator) -> CombustionAirTest:
    """Use the standard rule although the house is known to be tight."""
    return replace(test, air_changes=float(rng.uniform(0.05, 0.15)))


MISTAKES = (
    Mistake(None, "louvers overlooked", ("combustion-air/opening-small",), clean, louvered,
            reduce),
    Mistake(None, "both openings near the ceiling", ("combustion-air/opening-small",), clean,
            both_high, reduce),
    Mistake(None, "closed door counted on", ("combustion-air/short",), clean, by_door, reduce,
            factor_of_two=True),
    Mistake(None, "standard rule in a house known to be tight",
            ("combustion-air/short", "combustion-air/standard-not-allowed"), clean, tight,
            reduce, factor_of_two=True),
)  # fmt: skip
