"""Mistakes in reading carbon monoxide of room air."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.ambient_co import (
    AmbientReading,
    AmbientTest,
    Answer,
    reduce_ambient_co,
)

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.finding import Finding


def clean(rng: Generator) -> AmbientTest:
    """Walk through a quiet house three times, outdoors first and last."""
    places = ["outdoors", *(["kitchen", "hall", "basement"] * 3), "outdoors"]
    levels = {"outdoors": 0.0, **{place: rng.uniform(0.0, 4.0) for place in places[1:4]}}
    readings = tuple(
        AmbientReading(600.0 * i, place, float(max(round(levels[place] + rng.normal()), 0)))
        for i, place in enumerate(places)
    )
    return AmbientTest(readings, Answer.YES, analyser_range=1000.0)


def reduce(test: AmbientTest) -> tuple[Finding, ...]:
    """Return the findings of a test."""
    return reduce_ambient_co(test).findings


def shifted(test: AmbientTest, rng: Generator) -> AmbientTest:
    """Leave the zero six to twelve ppm high."""
    more = float(rng.integers(6, 13))
    readings = tuple(replace(one, carbon_monoxide=one.carbon_monoxide + more) for one in test.air)
    return replace(test, air=readings)


def mistyped(test: AmbientTest, rng: Generator) -> AmbientTest:
    """Mistype one time by an hour or two."""
    place = int(rng.integers(3, len(test.air) - 1))
    earlier = replace(test.air[place], seconds=test.air[place].seconds - 3600.0)
    readings = (*test.air[:place], earlier, *test.air[place + 1 :])
    return replace(test, air=readings)


def filling(test: AmbientTest, rng: Generator) -> AmbientTest:
    """Overlook that the basement fills by 8 to 15 ppm an hour."""
    rate = float(rng.uniform(8.0, 15.0))
    readings = tuple(
        replace(one, carbon_monoxide=round(one.carbon_monoxide + rate * one.seconds / 3600.0))
        if one.place == "basement"
        else one
        for one in test.air
    )
    return replace(test, air=readings)


def beyond(test: AmbientTest, _: Generator) -> AmbientTest:
    """Meet air that is beyond what the analyser shows."""
    last = replace(test.air[3], carbon_monoxide=1000.0)
    return replace(test, air=(*test.air[:3], last, *test.air[4:]))


def never_out(test: AmbientTest, _: Generator) -> AmbientTest:
    """Never read outdoors."""
    return replace(test, air=tuple(one for one in test.air if one.place != "outdoors"))


MISTAKES = (
    Mistake(22, "analyser not zeroed, 6 to 12 ppm high", ("ambient-co/not-zeroed",), clean,
            shifted, reduce, factor_of_two=True),
    Mistake(None, "time of a reading mistyped by an hour", ("ambient-co/time-backwards",), clean,
            mistyped, reduce),
    Mistake(None, "room that fills by 8 to 15 ppm an hour overlooked",
            ("ambient-co/rising", "ambient-co/raised"), clean, filling, reduce),
    Mistake(None, "carbon monoxide in the room above the analyser's range",
            ("ambient-co/above-range",), clean, beyond, reduce, factor_of_two=True),
    Mistake(None, "no reading outdoors", ("ambient-co/no-outdoors",), clean, never_out, reduce),
)  # fmt: skip
