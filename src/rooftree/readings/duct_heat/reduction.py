"""Reduce duct runs: what arrives, what is lost, what insulates, what sweats."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.physics.condensation import below_probability
from rooftree.physics.propagation import Propagated, propagate
from rooftree.readings.duct_heat.conduction import arriving_temperature
from rooftree.readings.duct_heat.found import blanket_for, reduce_ends
from rooftree.readings.duct_heat.jacket import (
    jacket_temperature,
    least_blanket,
    surrounding_dew_point,
)
from rooftree.readings.duct_heat.judge import MAYBE, is_settled, judge_entries, judge_run
from rooftree.readings.duct_heat.results import DuctHeatResult, RunResult
from rooftree.readings.duct_heat.run import build_run, temperatures_along
from rooftree.readings.duct_heat.standing import reduce_burst
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.finding import Finding
    from rooftree.readings.duct_heat.readings import DuctHeatTest, DuctRunReading
    from rooftree.readings.duct_heat.run import Run


def reduce_duct_heat(test: DuctHeatTest, climate_zone: str | None = None) -> DuctHeatResult:
    """Reduce the duct runs of one visit.

    Parameters
    ----------
    test : DuctHeatTest
        Readings.
    climate_zone : str or None
        Of the place, such as ``"4A"``: decides which wrap a buried duct needs.

    Returns
    -------
    DuctHeatResult

    Notes
    -----
    Each run is one heat exchanger with surroundings of one temperature. It takes the entering
    air as mixed, leaves out the water that condenses inside and the sun and hot deck above,
    and knows nothing of leaks. The simulated year uses the same law with the same area and
    resistance (``area`` and ``resistance`` of a result are those of a duct run of a house).

    Examples
    --------
    >>> from rooftree.readings.duct_heat.readings import DuctHeatTest, DuctRunReading
    >>> run = DuctRunReading(
    ...     "bedroom", 9.0, 286.0, 330.0, diameter=0.15, air_speed=3.0, insulation_resistance=0.7
    ... )
    >>> round(reduce_duct_heat(DuctHeatTest((run,))).runs[0].register.value, 1)
    289.8
    """
    runs: list[RunResult] = []
    findings: list[Finding] = []
    for reading in test.runs:
        run = build_run(reading, test.barometric_pressure)
        number = None if run is None else run.length * run.conductance() / run.capacity_rate
        findings += judge_entries(reading, test, number)
        if run is not None:
            result = _reduce_run(reading, run, test)
            runs.append(result)
            findings += judge_run(reading, result, test, climate_zone)
    heat = None
    if runs:
        value = sum(run.heat.value for run in runs)
        # Runs share their thermometer and their attic: their doubts add up in full.
        doubt = sum(run.heat.standard for run in runs)
        heat = Propagated(value, doubt, value - 2.0 * doubt, value + 2.0 * doubt)
    return DuctHeatResult(tuple(runs), heat, _says(runs, heat, findings), tuple(findings))


def _reduce_run(reading: DuctRunReading, run: Run, test: DuctHeatTest) -> RunResult:
    entering, around = reading.entering_temperature, reading.surroundings_temperature
    values = (entering, around, 1.0, run.length, 1.0, 1.0)
    doubts = (
        test.temperature_uncertainty,
        test.surroundings_uncertainty,
        test.flow_uncertainty,
        test.length_uncertainty,
        test.insulation_uncertainty,
        test.film_uncertainty,
    )

    def arriving(e: float, s: float, flow: float, length: float, wrap: float, film: float) -> float:
        conductance = max(length, 0.0) * run.conductance(max(wrap, 0.05), max(film, 0.05))
        return arriving_temperature(e, s, conductance, run.capacity_rate * max(flow, 0.05))

    def of(formula: Callable[[float, float, float], float]) -> Propagated:
        """Propagate a formula of the entering air, the register and the flow's factor."""
        return propagate(lambda *read: formula(read[0], arriving(*read), read[2]), values, doubts)

    register = of(lambda _e, r, _f: r)
    each = propagate(run.conductance, (1.0, 1.0), (doubts[4], doubts[5]))
    jacket, dew = jacket_temperature(reading, run, test), surrounding_dew_point(reading, test)
    condensing = None if dew is None else below_probability(jacket, dew)
    settled = reading if is_settled(reading) else replace(reading, register_temperature=None)
    found = reduce_ends(settled, run, test)
    read = settled.register_temperature
    area = run.outer_perimeter * run.length
    return RunResult(
        name=reading.name,
        flow=run.flow,
        air_speed=run.flow / run.size.section,
        register=register,
        heat=of(lambda e, r, f: run.capacity_rate * f * (r - e)),
        delivered=_delivered(test.room_temperature, entering, of),
        conductance=each,
        area=area,
        resistance=run.outer_perimeter / each.value,
        flat_resistance=blanket_for(run, each.value),
        found_conductance=found.conductance,
        found_resistance=found.resistance,
        least_found=found.least,
        difference=None if read is None else read - register.value,
        jacket=jacket,
        dew_point=dew,
        condensing=condensing,
        least_blanket=(
            least_blanket(reading, test, dew.value)
            if dew is not None and condensing is not None and condensing >= MAYBE
            else None
        ),
        burst=reduce_burst(reading, run, test),
        along=temperatures_along(run, entering, around),
    )


def _delivered(
    room: float | None,
    entering: float,
    of: Callable[[Callable[[float, float, float], float]], Propagated],
) -> Propagated | None:
    """Return which share of what the entering air could do arrives; None near room warmth."""
    if room is None or abs(entering - room) < 3.0:
        return None
    return of(lambda e, r, _f: (r - room) / (e - room))


def _says(runs: list[RunResult], heat: Propagated | None, findings: list[Finding]) -> str:
    if not runs or heat is None:
        return "No run could be computed: size, flow and temperatures of at least one are needed."
    verb = "gain" if heat.value >= 0.0 else "lose"
    count = f"The run {verb}s" if len(runs) == 1 else f"The {len(runs)} runs {verb}"
    parts = [f"{count} {both(abs(heat.value), Kind.POWER)} on the way."]
    known = [run for run in runs if run.delivered is not None]
    if known:
        worst = min(known, key=lambda run: run.delivered.value if run.delivered else math.inf)
        share = worst.delivered.value if worst.delivered else math.nan
        parts.append(
            f"Of what enters {worst.name}, {both(share, Kind.FRACTION)} reaches the room, at"
            f" {both(worst.register.value, Kind.TEMPERATURE)}."
        )
    if any(found.code == "duct_heat/condensation" for found in findings):
        parts.append("Some of it may sweat.")
    return " ".join(parts)
