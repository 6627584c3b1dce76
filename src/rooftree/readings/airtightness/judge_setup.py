"""Doubts about how the house was set up, and the sizes that were noted."""

from __future__ import annotations

import math
from statistics import stdev
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.airtightness import limits
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.readings.airtightness.limits import Limit
    from rooftree.readings.airtightness.readings import Enclosure, FanTest
    from rooftree.readings.airtightness.results import FanTestResult

_DENSITY_SHARE = 0.5
# Flow goes with the root of the density, and that with 1/T.


def judge_setup(result: FanTestResult) -> Iterator[Finding]:
    """Yield every doubt about the set-up of a test.

    Parameters
    ----------
    result : FanTestResult
        Reduced; its own findings are not looked at.

    Yields
    ------
    Finding
        What was noted as not as it should be, and what the readings beside the stations
        tell. What was not noted gives none.
    """
    yield from _judge_states(result.test)
    yield from _judge_rooms(result)
    yield from _judge_gusts(result.test)
    yield from _judge_temperatures(result.test)


def _judge_states(test: FanTest) -> Iterator[Finding]:
    if test.embers:
        yield Finding(
            "fan-test/embers",
            Severity.STOP,
            "A fireplace or stove holds embers or open ash: the fan would draw sparks, soot and "
            "carbon monoxide into the rooms. Stop the fan, let the fire go out, cover the ash, "
            "and only then test.",
            source=limits.COMMON,
        )
    for state, code, says in (
        (
            test.interior_doors_open,
            "doors",
            (
                "An inside door was shut: rooms behind it were not at the pressure of the gauge, "
                "so too little flow was measured; open all doors within the enclosure and repeat."
            ),
        ),
        (
            test.air_handler_off,
            "air-handler",
            (
                "The air handler ran: its duct leaks shift every pressure; switch it off at the "
                "thermostat and at the service switch, read the baseline again and repeat."
            ),
        ),
        (
            test.exhaust_fans_off,
            "exhaust-fan",
            (
                "An exhaust fan or a dryer ran: its flow is missing from that of the test fan; "
                "switch it off, read the baseline again and repeat."
            ),
        ),
        (
            test.openings_closed,
            "opening",
            (
                "A window, outside door, hatch or damper stood open, and counts as leakage; close "
                "it and repeat one station before all others."
            ),
        ),
    ):
        if state is False:
            yield _note(f"fan-test/{code}", says, None, None, limits.COMMON)


def _judge_rooms(result: FanTestResult) -> Iterator[Finding]:
    room, used = result.test.room_pressure, [s for s in result.stations if s.is_used]
    if room is None:
        return
    highest = max(s.induced_pressure for s in used)
    share = abs(room) / highest
    if share > limits.ROOM_SHARE.value:
        yield _note(
            "fan-test/doors",
            f"A room lies {abs(room):.1f} Pa from the space with the gauge, {share:.0%} of the "
            "pressure of the house: open its door, or part of the leakage is not measured.",
            share,
            limits.ROOM_SHARE,
        )


def _judge_gusts(test: FanTest) -> Iterator[Finding]:
    scatter = max(
        (stdev(g) for g in (test.baseline_before, test.baseline_after) if len(g) > 2), default=0.0
    )
    if scatter > limits.GUSTS.value:
        yield _note(
            "fan-test/gusts",
            f"The baseline readings scatter by {scatter:.1f} Pa from one to the next, so stations "
            "near 10 Pa tell little: average each reading for a minute or more, shelter the "
            "outdoor hose, or come back in calm weather.",
            scatter,
            limits.GUSTS,
        )


def _judge_temperatures(test: FanTest) -> Iterator[Finding]:
    difference = abs(test.indoor_temperature - test.outdoor_temperature)
    if difference < limits.SAME_TEMPERATURE.value:
        per_ten = _DENSITY_SHARE * 10.0 / test.indoor_temperature
        yield _note(
            "fan-test/temperatures",
            "Indoors and outdoors were noted at the same temperature, so nothing was corrected "
            f"for density; if that was not read, read both: every 10 K change the flow by "
            f"{per_ten:.1%}.",
            difference,
            limits.SAME_TEMPERATURE,
        )


def judge_enclosure(enclosure: Enclosure) -> Iterator[Finding]:
    """Yield every doubt about the noted size of the enclosure.

    Parameters
    ----------
    enclosure : Enclosure
        Volume, areas and height of the tested space.

    Yields
    ------
    Finding
        Where volume, floor area, envelope area and height do not fit one another.
    """
    ceiling = enclosure.volume / enclosure.floor_area
    for limit, off in (
        (limits.LOWEST_CEILING, ceiling < limits.LOWEST_CEILING.value),
        (limits.HIGHEST_CEILING, ceiling > limits.HIGHEST_CEILING.value),
    ):
        if off:
            yield _note(
                "fan-test/volume",
                f"Volume over floor area comes to a ceiling of {both(ceiling, Kind.LENGTH)}, which "
                "is hardly one: check both, whether both hold the same floors and basement, and "
                "whether the basement door stood as noted.",
                ceiling,
                limit,
            )
    if enclosure.height < 0.85 * ceiling:
        yield _note(
            "fan-test/volume",
            f"The enclosure was noted {both(enclosure.height, Kind.LENGTH)} high, less than the "
            f"{both(ceiling, Kind.LENGTH)} that volume over floor area comes to: check the height "
            "and the volume.",
            enclosure.height,
            limits.Limit(0.85 * ceiling, "m", "geometry"),
        )
    cube = 6.0 * math.pow(enclosure.volume, 2.0 / 3.0)
    ratio = enclosure.envelope_area / cube
    for limit, off in (
        (limits.LEAST_ENVELOPE, ratio < limits.LEAST_ENVELOPE.value),
        (limits.MOST_ENVELOPE, ratio > limits.MOST_ENVELOPE.value),
    ):
        if off:
            yield _note(
                "fan-test/envelope-area",
                f"The envelope area is {ratio:.2f} times that of a cube of the same volume, "
                + ("and no building has less than a cube" if ratio < 1.0 else "far more than usual")
                + ": check walls, floor and ceiling, and the volume.",
                ratio,
                limit,
            )


def _note(
    code: str, says: str, value: float | None, limit: Limit | None, source: str = ""
) -> Finding:
    return Finding(
        code=code,
        severity=Severity.NOTE,
        says=says,
        value=value,
        limit=limit.value if limit else None,
        unit=limit.unit if limit else "",
        source=limit.source if limit else source,
    )
