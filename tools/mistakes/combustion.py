"""Mistakes at one burner, on burners drawn with the noise of their readings."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.combustion import (
    Answer,
    CombustionTest,
    FlueSample,
    ProbePlace,
    SpillageCheck,
    TimerStart,
    VentState,
    reduce_combustion,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

    from rooftree.finding import Finding


def clean(rng: Generator) -> CombustionTest:
    """Test a good water heater with care."""
    oxygen = float(min(max(rng.normal(0.08, 0.02), 0.03), 0.125))
    free = float(rng.uniform(10.0, 90.0))
    thinned = 1.0 - oxygen / 0.209
    level = free * thinned
    end = float(rng.uniform(5.0, 45.0))
    looks, time = [], float(rng.uniform(2.0, 6.0))
    while time < end + 15.0:
        looks.append(SpillageCheck(round(time), time < end))
        time += float(rng.uniform(5.0, 10.0))
    samples = tuple(
        FlueSample(seconds, round(level * (1.0 + 0.03 * rng.normal())),
                   round(oxygen + 0.002 * rng.normal(), 3),
                   round(0.121 * thinned + 0.002 * rng.normal(), 3))
        for seconds in (300.0, 480.0, 600.0)
    )  # fmt: skip
    baseline = float(rng.normal(0.0, 0.8))
    return CombustionTest(
        "water heater", "natural draft", round(abs(rng.normal(0.0, 1.0))), None, None,
        round(baseline, 1), round(baseline - rng.uniform(1.5, 6.0) + 0.3 * rng.normal(), 1),
        "dryer and bath fans on", None, round(-float(rng.uniform(2.6, 6.0)), 1), False, 278.15,
        spillage_checks=tuple(looks), vent_state=VentState.COLD, probe=ProbePlace.BEFORE,
        flue_samples=samples, analyser_range=2000.0, zeroed_outdoors=Answer.YES,
        ambient_co_after=round(abs(rng.normal(0.0, 1.0))), flue_temperature=440.0,
        flue_height=6.0, pilot_relit=Answer.YES, thermostat_restored=Answer.YES,
        switches_restored=Answer.YES, doors_restored=Answer.YES,
    )  # fmt: skip


def reduce(test: CombustionTest) -> tuple[Finding, ...]:
    """Return the findings of a test."""
    return reduce_combustion(test).findings


def with_changes(**changes: object) -> Callable[[CombustionTest, Generator], CombustionTest]:
    """Return a mistake that changes fields."""
    return lambda test, _: replace(test, **changes)


def thinned(test: CombustionTest, rng: Generator) -> CombustionTest:
    """Sample behind the draft hood, where two to four parts of air came in; it is not logged."""
    parts = float(rng.uniform(2.0, 4.0))
    samples = tuple(
        replace(
            one,
            carbon_monoxide=round(one.carbon_monoxide / parts),
            oxygen=round(0.209 - (0.209 - (one.oxygen or 0.0)) / parts, 3),
            carbon_dioxide=round((one.carbon_dioxide or 0.0) / parts, 3),
        )
        for one in test.flue_samples
    )
    return replace(test, flue_samples=samples)


def without_oxygen(test: CombustionTest, _: Generator) -> CombustionTest:
    """Read carbon monoxide alone."""
    samples = tuple(replace(one, oxygen=None, carbon_dioxide=None) for one in test.flue_samples)
    return replace(test, flue_samples=samples)


def leaking_line(test: CombustionTest, rng: Generator) -> CombustionTest:
    """Let a worn cell show oxygen four points low."""
    low = float(rng.uniform(0.04, 0.05))
    samples = tuple(
        replace(one, oxygen=max(round((one.oxygen or 0.0) - low, 3), 0.0))
        for one in test.flue_samples
    )
    return replace(test, flue_samples=samples)


def too_early(test: CombustionTest, _: Generator) -> CombustionTest:
    """Take one sample two minutes after fire-up."""
    return replace(test, flue_samples=(replace(test.flue_samples[-1], seconds=120.0),))


def beyond_range(test: CombustionTest, _: Generator) -> CombustionTest:
    """Meet a burner that is beyond what the analyser shows."""
    last = replace(test.flue_samples[-1], carbon_monoxide=2000.0)
    return replace(test, flue_samples=(*test.flue_samples[:-1], last))


def swapped(test: CombustionTest, _: Generator) -> CombustionTest:
    """Read the draft with the hoses swapped."""
    return replace(test, draft_pressure=-(test.draft_pressure or 0.0))


def draft_in_inches(test: CombustionTest, _: Generator) -> CombustionTest:
    """Type the draft in inches of water."""
    return replace(test, draft_pressure=round((test.draft_pressure or 0.0) / 249.09, 3))


def zone_in_inches(test: CombustionTest, _: Generator) -> CombustionTest:
    """Type both pressures of the zone in inches of water."""
    return replace(
        test,
        baseline_pressure=round(test.baseline_pressure / 249.09, 3),
        worst_pressure=round(test.worst_pressure / 249.09, 4),
    )


def swapped_zone(test: CombustionTest, _: Generator) -> CombustionTest:
    """Read both pressures of the zone with the hoses swapped."""
    return replace(
        test, baseline_pressure=-test.baseline_pressure, worst_pressure=-test.worst_pressure
    )


def late_look(test: CombustionTest, rng: Generator) -> CombustionTest:
    """Look at the hood for the first time after seventy seconds or more."""
    first = float(rng.uniform(70.0, 120.0))
    return replace(test, spillage_checks=(SpillageCheck(round(first), spills=False),))


def backwards(test: CombustionTest, _: Generator) -> CombustionTest:
    """Mistype one time of the looks."""
    looks = list(test.spillage_checks)
    looks[0] = replace(looks[0], seconds=looks[-1].seconds + 30.0)
    return replace(test, spillage_checks=tuple(looks))


MISTAKES = (
    Mistake(22, "probe behind the draft hood, logged", ("combustion/probe-after-dilution",),
            clean, with_changes(probe=ProbePlace.AFTER), reduce),
    Mistake(22, "probe behind the draft hood, not noticed",
            ("combustion/probe-after-dilution", "combustion/flue-diluted"), clean, thinned,
            reduce, factor_of_two=True),
    Mistake(22, "no oxygen read with the carbon monoxide", ("combustion/no-oxygen",), clean,
            without_oxygen, reduce),
    Mistake(22, "burner sampled two minutes after fire-up", ("combustion/not-warmed-up",), clean,
            too_early, reduce),
    Mistake(22, "analyser not warmed up and zeroed", ("combustion/not-zeroed",), clean,
            with_changes(zeroed_outdoors=Answer.NO), reduce),
    Mistake(22, "oxygen cell four points low", ("combustion/gases-disagree",), clean,
            leaking_line, reduce),
    Mistake(None, "carbon monoxide above the analyser's range", ("combustion/above-range",),
            clean, beyond_range, reduce),
    Mistake(23, "spillage timed from later than fire-up", ("combustion/timer-start",), clean,
            with_changes(timed_from=TimerStart.LATER), reduce),
    Mistake(23, "vent warm at fire-up", ("combustion/warm-vent",), clean,
            with_changes(vent_state=VentState.WARM), reduce),
    Mistake(23, "vent not logged", ("combustion/vent-not-logged",), clean,
            with_changes(vent_state=VentState.NOT_LOGGED), reduce),
    Mistake(23, "first look at the hood after 70 to 120 s", ("combustion/looks-too-far-apart",),
            clean, late_look, reduce),
    Mistake(None, "time of a look mistyped", ("combustion/time-backwards",), clean, backwards,
            reduce),
    Mistake(3, "hoses swapped at the draft", ("combustion/draft-sign",), clean, swapped, reduce,
            factor_of_two=True),
    Mistake(3, "hoses swapped at the zone", ("combustion/not-worst-case",), clean, swapped_zone,
            reduce, factor_of_two=True),
    Mistake(29, "draft typed in inches of water", ("combustion/draft-unit",), clean,
            draft_in_inches, reduce, factor_of_two=True),
    Mistake(29, "zone typed in inches of water", ("combustion/zone-unit",), clean,
            zone_in_inches, reduce, factor_of_two=True),
    Mistake(32, "pilot not relit", ("combustion/not-restored",), clean,
            with_changes(pilot_relit=Answer.NO), reduce),
    Mistake(32, "thermostat not set back", ("combustion/not-restored",), clean,
            with_changes(thermostat_restored=Answer.NO), reduce),
    Mistake(32, "nobody said whether the hatch is closed", ("combustion/as-left",), clean,
            with_changes(doors_restored=Answer.NOT_SAID), reduce),
)  # fmt: skip
