"""Mistakes of the fan test."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from fan_simulation import (
    CONFIGURATIONS,
    Visit,
    change_stations,
    draw_visit,
    other_way,
    shown_at,
    times_flow,
)
from mistakes.mistake import Mistake
from rooftree.readings.airtightness import (
    FanReading,
    Station,
    compare_tests,
    reduce_both_directions,
    reduce_fan_test,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.random import Generator

    from rooftree.finding import Finding
    from rooftree.readings.airtightness import FanTest

    Spoil = Callable[[FanTest, Generator], FanTest]

Pair = tuple[Visit, Visit]

INCH = 249.089
CFM = 0.471947


def clean(random: Generator) -> Visit:
    """Draw a test whose fan shows its pressure, by its calibration."""
    return draw_visit(random)


def clean_flows(random: Generator) -> Visit:
    """Draw a test whose gauge shows flow."""
    return draw_visit(random, by_fan_pressure=False)


def clean_shown(random: Generator) -> Visit:
    """Draw a test whose gauge shows flow, with the configuration noted beside it."""
    visit = draw_visit(random)
    return replace(visit, test=change_stations(visit.test, lambda _, s: _shown(s, s)))


def _shown(station: Station, noted: Station, gauge: int = 0) -> Station:
    """Return the flow as a gauge shows it that is set so many places from the one on the fan."""
    (reading,) = station.fans
    names = [band.configuration for band in CONFIGURATIONS]
    place = names.index(reading.configuration) + gauge
    place = place if 0 <= place < len(names) else place - 2 * gauge
    (shown,) = shown_at(station, CONFIGURATIONS[place]).fans
    configuration = noted.fans[0].configuration
    return Station(station.pressure, (replace(shown, configuration=configuration),))


def clean_up_and_down(random: Generator) -> Visit:
    """Draw a test with stations taken up and down again."""
    visit = draw_visit(random)
    stations = visit.test.stations
    return replace(
        visit, test=replace(visit.test, stations=(*stations[::2], *stations[1::2][::-1]))
    )


def findings(visit: Visit) -> Iterable[Finding]:
    """Reduce one test."""
    return reduce_fan_test(visit.test, visit.enclosure).findings


def on_test(spoil: Spoil) -> Callable[[Visit, Generator], Visit]:
    """Make a change of a test one of a visit."""
    return lambda visit, random: replace(visit, test=spoil(visit.test, random))


def field(**changes: object) -> Callable[[Visit, Generator], Visit]:
    """Set fields of the test."""
    return on_test(lambda test, _: replace(test, **changes))  # type: ignore[arg-type]


def _place(test: FanTest, random: Generator, edge: int = 1) -> int:
    return int(random.integers(edge, len(test.stations) - edge + 1))


def hole(factor: float) -> Spoil:
    """Open a hole before one of the stations."""

    def spoil(test: FanTest, random: Generator) -> FanTest:
        k = _place(test, random)
        return change_stations(test, lambda i, s: times_flow(s, factor) if i >= k else s)

    return spoil


def wrong_configuration(test: FanTest, random: Generator) -> FanTest:
    """Note the neighboring configuration from some station on, or up to it."""
    k, is_late = _place(test, random), random.random() < 0.5
    up = 1 if random.random() < 0.5 else -1
    names = [band.configuration for band in CONFIGURATIONS]

    def noted(i: int, station: Station) -> Station:
        if (i >= k) is not is_late:
            return station
        (reading,) = station.fans
        place = names.index(reading.configuration) + up
        if not 0 <= place < len(names):
            place -= 2 * up
        return Station(station.pressure, (replace(reading, configuration=names[place]),))

    return change_stations(test, noted)


def gauge_elsewhere(visit: Visit, random: Generator) -> Visit:
    """Draw a test anew with the gauge one configuration off, and that of the fan noted."""
    del visit
    again, way = draw_visit(random), 1 if random.random() < 0.5 else -1
    return replace(again, test=change_stations(again.test, lambda _, s: _shown(s, s, way)))


def noted_elsewhere(test: FanTest, random: Generator) -> FanTest:
    """Note the neighboring configuration throughout."""
    names, way = [band.configuration for band in CONFIGURATIONS], 1 if random.random() < 0.5 else -1

    def noted(_: int, station: Station) -> Station:
        (reading,) = station.fans
        place = names.index(reading.configuration) + way
        place = place if 0 <= place < len(names) else place - 2 * way
        return Station(station.pressure, (replace(reading, configuration=names[place]),))

    return change_stations(test, noted)


def one_in_cfm(pair: Pair, random: Generator) -> Pair:
    """Note the flows of one direction in the other unit."""
    one, other = pair
    return one, replace(other, test=flow_unit(1.0 / CFM, part=False)(other.test, random))


def flow_unit(factor: float, *, part: bool) -> Spoil:
    """Type flows in another unit, throughout or for the first stations."""

    def spoil(test: FanTest, random: Generator) -> FanTest:
        k = _place(test, random) if part else len(test.stations)
        return change_stations(test, lambda i, s: times_flow(s, factor) if i < k else s)

    return spoil


def shown_unit(test: FanTest, random: Generator) -> FanTest:
    """Type the flow shown in cfm as L/s beside the fan pressure."""
    factor = CFM if random.random() < 0.5 else 1.0 / CFM

    def typed(_: int, station: Station) -> Station:
        (reading,) = station.fans
        band = next(b for b in CONFIGURATIONS if b.configuration == reading.configuration)
        shown = shown_at(station, band)
        (flow,) = shown.fans
        assert flow.flow is not None  # noqa: S101
        return Station(station.pressure, (replace(reading, flow=factor * flow.flow),))

    return change_stations(test, typed)


def pressure_unit(factor: float, *, part: bool) -> Spoil:
    """Type house pressures in another unit, all or one."""

    def spoil(test: FanTest, random: Generator) -> FanTest:
        k = int(random.integers(0, len(test.stations)))
        changed = change_stations(
            test,
            lambda i, s: replace(s, pressure=s.pressure * factor) if not part or i == k else s,
        )
        if part:
            return changed
        return replace(
            changed,
            baseline_before=tuple(b * factor for b in test.baseline_before),
            baseline_after=tuple(b * factor for b in test.baseline_after),
        )

    return spoil


def swapped(test: FanTest, _: Generator) -> FanTest:
    """Swap the hoses of the house pressure."""
    return replace(
        change_stations(test, lambda _, s: replace(s, pressure=-s.pressure)),
        baseline_before=tuple(-b for b in test.baseline_before),
        baseline_after=tuple(-b for b in test.baseline_after),
    )


def swapped_midway(test: FanTest, random: Generator) -> FanTest:
    """Swap the hoses at some stations."""
    k = _place(test, random)
    return change_stations(test, lambda i, s: replace(s, pressure=-s.pressure) if i >= k else s)


def drifted(test: FanTest, random: Generator) -> FanTest:
    """Let the baseline move by 3 to 6 Pa during the test."""
    move = random.uniform(3.0, 6.0) * (1 if random.random() < 0.5 else -1)
    count = len(test.stations) - 1
    moved = change_stations(test, lambda i, s: replace(s, pressure=s.pressure + move * i / count))
    return replace(moved, baseline_after=tuple(b + move for b in test.baseline_after))


def offset(test: FanTest, random: Generator) -> FanTest:
    """Let an air handler shift the house by 2 to 4 Pa after the baseline was read."""
    shift = random.uniform(2.0, 4.0) * (1 if random.random() < 0.5 else -1)
    return change_stations(test, lambda _, s: replace(s, pressure=s.pressure + shift))


def started(test: FanTest, random: Generator) -> FanTest:
    """Let an air handler start midway, shift the house by 3 to 6 Pa, and run on."""
    k = _place(test, random, 2)
    shift = random.uniform(3.0, 6.0) * (1 if random.random() < 0.5 else -1)
    moved = change_stations(
        test, lambda i, s: replace(s, pressure=s.pressure + shift) if i >= k else s
    )
    return replace(moved, baseline_after=tuple(b + shift for b in test.baseline_after))


def gusty(test: FanTest, random: Generator) -> FanTest:
    """Add gusts of 3 Pa to every reading."""
    noisy = change_stations(
        test, lambda _, s: replace(s, pressure=s.pressure + random.normal(0.0, 3.0))
    )
    return replace(
        noisy,
        baseline_before=tuple(b + random.normal(0.0, 3.0) for b in test.baseline_before),
        baseline_after=tuple(b + random.normal(0.0, 3.0) for b in test.baseline_after),
        wind_speed=None,
    )


def unsteady(test: FanTest, random: Generator) -> FanTest:
    """Read the fan before house and gauge have settled: 6 to 12 % too much on the way up."""
    excess = math.log1p(random.uniform(0.06, 0.12))
    pressures = [abs(s.pressure) for s in test.stations]
    up = [pressures[1] > pressures[0]]
    up += [later > earlier for earlier, later in pairwise(pressures)]
    return change_stations(
        test, lambda i, s: times_flow(s, math.exp(0.5 * excess if up[i] else -0.5 * excess))
    )


def stray(test: FanTest, random: Generator) -> FanTest:
    """Read one station 15 to 40 % wrong."""
    k, factor = int(random.integers(0, len(test.stations))), random.uniform(1.15, 1.4)
    factor = factor if random.random() < 0.5 else 1.0 / factor
    return change_stations(test, lambda i, s: times_flow(s, factor) if i == k else s)


def too_weak(test: FanTest, random: Generator) -> FanTest:
    """Keep only stations below 45 Pa or so: the fan cannot do more."""
    most = random.uniform(26.0, 45.0)
    return replace(test, stations=tuple(s for s in test.stations if abs(s.pressure) < most))


def off_band(test: FanTest, _: Generator) -> FanTest:
    """Leave the largest opening on, however small the fan pressure becomes."""
    band = CONFIGURATIONS[0]

    def left(_: int, station: Station) -> Station:
        flow = shown_at(station, None).fans[0].flow or 0.0
        pressure = math.pow(flow / band.coefficient, 1.0 / band.exponent)
        return Station(station.pressure, (FanReading("fan", None, pressure, band.configuration),))

    return change_stations(test, left)


def enclosure(**factors: float) -> Callable[[Visit, Generator], Visit]:
    """Get one size of the enclosure wrong by a factor, one way or the other."""

    def spoil(visit: Visit, random: Generator) -> Visit:
        up = random.random() < 0.5
        sizes = {
            name: getattr(visit.enclosure, name) * (factor if up else 1.0 / factor)
            for name, factor in factors.items()
        }
        return replace(
            visit, truth=replace(visit.truth, enclosure=replace(visit.enclosure, **sizes))
        )

    return spoil


def both_ways(random: Generator) -> Pair:
    """Draw a test in each direction on one house."""
    visit = draw_visit(random)
    return visit, other_way(visit, random)


def findings_of_both(pair: Pair) -> Iterable[Finding]:
    """Reduce a pair and return what is said about it."""
    results = [reduce_fan_test(visit.test, visit.enclosure) for visit in pair]
    return reduce_both_directions(results, pair[0].enclosure).findings


def damper(pair: Pair, random: Generator) -> Pair:
    """Let a flap open in one direction: 25 to 60 % more flow."""
    factor = random.uniform(1.25, 1.6)
    one, other = pair
    return one, replace(other, test=change_stations(other.test, lambda _, s: times_flow(s, factor)))


def in_and_out(random: Generator) -> Pair:
    """Draw a test before and one after, in the same set-up."""
    visit = draw_visit(random)
    return visit, other_way(visit, random, turn=False)


def findings_of_change(pair: Pair) -> Iterable[Finding]:
    """Compare test-in and test-out."""
    before, after = (reduce_fan_test(visit.test, visit.enclosure) for visit in pair)
    return compare_tests(before, after).findings


def turned_round(pair: Pair, random: Generator) -> Pair:
    """Test out in the other direction than in."""
    return pair[0], other_way(pair[0], random)


def doors_shut(pair: Pair, _: Generator) -> Pair:
    """Note open inside doors at test-in and shut ones at test-out."""
    one, other = pair
    return (
        replace(one, test=replace(one.test, interior_doors_open=True)),
        replace(other, test=replace(other.test, interior_doors_open=False)),
    )


MISTAKES = (
    Mistake(
        1, "baseline not read", ("fan-test/baseline-missing",), clean,
        field(baseline_before=(), baseline_after=()), findings,
    ),
    Mistake(
        1, "baseline read before only", ("fan-test/baseline-missing",), clean,
        field(baseline_after=()), findings,
    ),
    Mistake(
        1, "baseline drifts by 3 to 6 Pa", ("fan-test/baseline-drift",), clean,
        on_test(drifted), findings,
    ),
    Mistake(
        2, "another configuration on the fan than noted, for part of the stations",
        ("fan-test/wrong-configuration",), clean, on_test(wrong_configuration), findings,
        factor_of_two=True,
    ),
    Mistake(
        2, "fan runs outside the band of its configuration", ("fan-test/fan-band",),
        clean, on_test(off_band), findings,
    ),
    Mistake(
        2, "gauge set to another configuration than noted throughout, flow shown",
        ("fan-test/shown-flow", "fan-test/wrong-configuration"), clean_shown, gauge_elsewhere,
        findings, factor_of_two=True,
    ),
    Mistake(
        2, "another configuration on the fan than noted throughout, nothing to compare with",
        ("fan-test/fan-band", "fan-test/unit-slip", "fan-test/wrong-configuration"), clean,
        on_test(noted_elsewhere), findings, factor_of_two=True,
    ),
    Mistake(
        3, "hoses swapped", ("fan-test/sign",), clean, on_test(swapped), findings,
        factor_of_two=True,
    ),
    Mistake(
        3, "hoses swapped midway", ("fan-test/sign",), clean, on_test(swapped_midway), findings,
        factor_of_two=True,
    ),
    Mistake(
        4, "leakage doubles midway: something opened",
        ("fan-test/opened", "fan-test/outlier"), clean, on_test(hole(2.0)), findings,
        factor_of_two=True,
    ),
    Mistake(
        4, "leakage halves midway: something closed",
        ("fan-test/opened", "fan-test/outlier"), clean, on_test(hole(0.5)), findings,
        factor_of_two=True,
    ),
    Mistake(
        4, "leakage grows by 20 % midway", ("fan-test/opened", "fan-test/outlier"), clean,
        on_test(hole(1.2)), findings,
    ),
    Mistake(
        4, "opening noted as open", ("fan-test/opening",), clean, field(openings_closed=False),
        findings,
    ),
    Mistake(
        5, "inside doors noted as shut", ("fan-test/doors",), clean,
        field(interior_doors_open=False), findings,
    ),
    Mistake(
        5, "room behind a shut door 10 to 30 Pa away", ("fan-test/doors",), clean,
        on_test(lambda test, random: replace(test, room_pressure=random.uniform(10.0, 30.0))),
        findings,
    ),
    Mistake(
        6, "air handler starts midway, 3 to 6 Pa",
        ("fan-test/baseline-shift", "fan-test/baseline-drift"),
        clean, on_test(started), findings,
    ),
    Mistake(
        6, "air handler shifts all stations by 2 to 4 Pa", ("fan-test/offset",), clean,
        on_test(offset), findings,
    ),
    Mistake(
        6, "air handler noted as running", ("fan-test/air-handler",), clean,
        field(air_handler_off=False), findings,
    ),
    Mistake(
        7, "embers in the stove", ("fan-test/embers",), clean, field(embers=True), findings
    ),
    Mistake(
        8, "volume twice or half of what was tested", ("fan-test/volume",), clean,
        enclosure(volume=2.0), findings, factor_of_two=True,
    ),
    Mistake(
        9, "50 Pa not reached", ("fan-test/extrapolated", "fan-test/highest-pressure"), clean,
        on_test(too_weak), findings,
    ),
    Mistake(
        10, "read before steady, up and down", ("fan-test/unsteady",), clean_up_and_down,
        on_test(unsteady), findings,
    ),
    Mistake(
        11, "gusts of 3 Pa", ("fan-test/gusts", "fan-test/scatter"), clean, on_test(gusty),
        findings,
    ),
    Mistake(
        12, "one temperature typed for both", ("fan-test/temperatures",), clean,
        on_test(lambda test, _: replace(test, outdoor_temperature=test.indoor_temperature)),
        findings,
    ),
    Mistake(
        None, "one station off by 15 to 40 %", ("fan-test/outlier", "fan-test/opened"), clean,
        on_test(stray), findings,
    ),
    Mistake(
        28, "floor area twice or half", ("fan-test/volume",), clean, enclosure(floor_area=2.0),
        findings, factor_of_two=True,
    ),
    Mistake(
        28, "envelope area a third or three times", ("fan-test/envelope-area",), clean,
        enclosure(envelope_area=3.0), findings, factor_of_two=True,
    ),
    Mistake(
        29, "all pressures in inches of water noted as Pa", ("fan-test/unit-slip",), clean,
        on_test(pressure_unit(1.0 / INCH, part=False)), findings, factor_of_two=True,
    ),
    Mistake(
        29, "all pressures in Pa noted as inches of water", ("fan-test/unit-slip",), clean,
        on_test(pressure_unit(INCH, part=False)), findings, factor_of_two=True,
    ),
    Mistake(
        29, "one pressure in inches of water noted as Pa",
        ("fan-test/unit-slip", "fan-test/sign", "fan-test/outlier"), clean,
        on_test(pressure_unit(1.0 / INCH, part=True)), findings, factor_of_two=True,
    ),
    Mistake(
        29, "cfm noted as L/s for the first stations",
        ("fan-test/unit-slip", "fan-test/opened", "fan-test/outlier"), clean_flows,
        on_test(flow_unit(1.0 / CFM, part=True)), findings, factor_of_two=True,
    ),
    Mistake(
        29, "L/s noted as cfm for the first stations",
        ("fan-test/unit-slip", "fan-test/opened", "fan-test/outlier"), clean_flows,
        on_test(flow_unit(CFM, part=True)), findings, factor_of_two=True,
    ),
    Mistake(
        29, "cfm noted as L/s throughout, with the configuration beside it",
        ("fan-test/shown-flow",), clean_shown, on_test(flow_unit(1.0 / CFM, part=False)), findings,
        factor_of_two=True,
    ),
    Mistake(
        29, "L/s noted as cfm throughout, with the configuration beside it",
        ("fan-test/shown-flow",), clean_shown, on_test(flow_unit(CFM, part=False)), findings,
        factor_of_two=True,
    ),
    Mistake(
        29, "m³/h noted as L/s throughout, with the configuration beside it",
        ("fan-test/shown-flow",), clean_shown, on_test(flow_unit(3.6, part=False)), findings,
        factor_of_two=True,
    ),
    Mistake(
        29, "cfm noted as L/s throughout one of two directions", ("fan-test/directions-differ",),
        both_ways, one_in_cfm, findings_of_both, factor_of_two=True,
    ),
    Mistake(
        29, "cfm noted as L/s throughout, nothing to compare with", ("fan-test/unit-slip",),
        clean_flows, on_test(flow_unit(1.0 / CFM, part=False)), findings, factor_of_two=True,
    ),
    Mistake(
        29, "cfm and L/s mixed up in the flow shown beside the fan pressure",
        ("fan-test/unit-slip",), clean, on_test(shown_unit), findings, factor_of_two=True,
    ),
    Mistake(
        31, "test-out in the other direction", ("fan-test/set-up-differs",), in_and_out,
        turned_round, findings_of_change,
    ),
    Mistake(
        31, "inside doors open at test-in and shut at test-out", ("fan-test/set-up-differs",),
        in_and_out, doors_shut, findings_of_change,
    ),
    Mistake(
        None, "a flap opens in one direction, 25 to 60 % more flow",
        ("fan-test/directions-differ",), both_ways, damper, findings_of_both,
    ),
)  # fmt: skip
