"""Mistakes made while sealing with the fan running, and whether the reduction notices them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.air_sealing import AirSealingLog, SealingRow, reduce_air_sealing

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

    from rooftree.finding import Finding


def clean(random: Generator) -> AirSealingLog:
    """Seal a house at 4 to 8 locations, each taking 1 to 15 % of what leaks; none goes wrong."""
    flow, rows = random.uniform(0.4, 2.5), []
    exponent = random.normal(0.65, 0.04)
    fan = 1.0 + 0.03 * random.standard_normal()
    for number in range(int(random.integers(5, 10))):
        if number:
            flow *= 1.0 - random.uniform(0.01, 0.15)
        held = -50.0 + 0.8 * random.standard_normal()
        read = flow * (abs(held) / 50.0) ** exponent
        rows.append(
            SealingRow(
                time=1500.0 * number + random.uniform(0.0, 300.0),
                location=f"location {number}" if number else "",
                house_pressure=round(held + 0.25 * random.standard_normal(), 1),
                fan_flow=read * fan * (1.0 + 0.005 * random.standard_normal()),
                work=1200.0 if number else 0.0,
                configuration="B",
            )
        )
    return AirSealingLog(tuple(rows), labor_rate=0.02, holes_closed=True)


def found(log: AirSealingLog) -> tuple[Finding, ...]:
    """Return the findings of a log."""
    return reduce_air_sealing(log).findings


@dataclass(frozen=True, slots=True)
class Tested:
    """A log, and the leakage at 50 Pa by the fan test that was made before [m³/s]."""

    log: AirSealingLog
    earlier: float


def against_test(tested: Tested) -> tuple[Finding, ...]:
    """Return the findings of a log with the fan test before it."""
    return reduce_air_sealing(tested.log, earlier_flow_50=tested.earlier).findings


def clean_after_test(random: Generator) -> Tested:
    """Draw a log and a fan test before it, of the same house with the same fan."""
    log = clean(random)
    first = log.rows[0]
    flow = first.fan_flow * (50.0 / abs(first.house_pressure)) ** 0.65
    return Tested(log, flow * (1.0 + 0.015 * random.standard_normal()))


def _from_row(log: AirSealingLog, start: int, change: Callable[[SealingRow], SealingRow],
              stop: int | None = None) -> AirSealingLog:  # fmt: skip
    rows = [
        change(row) if start <= k < (len(log.rows) if stop is None else stop) else row
        for k, row in enumerate(log.rows)
    ]
    return replace(log, rows=tuple(rows))


def opened_hole(log: AirSealingLog, random: Generator) -> AirSealingLog:
    """Open a hatch or window between two rows: 8 to 40 % more."""
    more = log.rows[0].fan_flow * random.uniform(0.15, 0.5)
    start = int(random.integers(2, len(log.rows)))
    return _from_row(log, start, lambda row: replace(row, fan_flow=row.fan_flow + more))


def left_hole(tested: Tested, random: Generator) -> Tested:
    """Leave the hole of a zone test open through the whole log: 10 to 40 % more."""
    more = tested.log.rows[0].fan_flow * random.uniform(0.10, 0.4)
    spoilt = _from_row(tested.log, 0, lambda row: replace(row, fan_flow=row.fan_flow + more))
    return replace(tested, log=spoilt)


def let_go(log: AirSealingLog, random: Generator) -> AirSealingLog:
    """Leave the fan's speed as it was, so that the pressure is 6 to 20 Pa off in one row."""
    off = random.uniform(6.0, 20.0) * (1.0 if random.random() < 0.5 else -1.0)
    start = int(random.integers(1, len(log.rows)))

    def moved(row: SealingRow) -> SealingRow:
        pressure = row.house_pressure - off
        flow = row.fan_flow * (abs(pressure) / abs(row.house_pressure)) ** 0.65
        return replace(row, house_pressure=round(pressure, 1), fan_flow=flow)

    return _from_row(log, start, moved, start + 1)


def other_configuration(log: AirSealingLog, random: Generator) -> AirSealingLog:
    """Change the fan's configuration and not the gauge's: all later flows off by a factor."""
    factor = random.uniform(2.0, 3.5) ** (1.0 if random.random() < 0.5 else -1.0)
    start = int(random.integers(1, len(log.rows)))
    return _from_row(log, start, lambda row: replace(row, fan_flow=row.fan_flow * factor))


def small_configuration_step(log: AirSealingLog, random: Generator) -> AirSealingLog:
    """Change the configuration and its name, with calibrations that do not fit: 25 to 40 %."""
    factor = (1.0 + random.uniform(0.25, 0.40)) ** (1.0 if random.random() < 0.5 else -1.0)
    start = int(random.integers(1, len(log.rows)))
    return _from_row(
        log, start, lambda row: replace(row, fan_flow=row.fan_flow * factor, configuration="C")
    )


def other_unit(log: AirSealingLog, random: Generator) -> AirSealingLog:
    """Type one flow in L/s or m³/h where the others are in cfm."""
    factor = (0.471947, 1.699)[int(random.integers(2))]
    start = int(random.integers(0, len(log.rows)))
    return _from_row(
        log, start, lambda row: replace(row, fan_flow=row.fan_flow * factor), start + 1
    )


def back_in_time(log: AirSealingLog, random: Generator) -> AirSealingLog:
    """Write one time with a slip of the hour."""
    start = int(random.integers(1, len(log.rows)))
    return _from_row(log, start, lambda row: replace(row, time=row.time - 3600.0), start + 1)


def no_start(log: AirSealingLog, random: Generator) -> AirSealingLog:
    """Begin to seal before the fan is read."""
    del random
    return replace(log, rows=log.rows[1:])


STEP = ("air_sealing/rise", "air_sealing/jump", "air_sealing/units")

MISTAKES = (
    Mistake(2, "Configuration of the fan changed, not that of the gauge",
            ("air_sealing/jump", "air_sealing/units"), clean, other_configuration, found,
            factor_of_two=True),
    Mistake(2, "Configuration changed in a log that names it, flows off by a third",
            (*STEP, "air_sealing/configuration"), clean, small_configuration_step, found),
    Mistake(4, "A hatch or window opened between two rows", STEP, clean, opened_hole, found),
    Mistake(17, "A hole left open from a zone test", ("air_sealing/hole-left",),
            clean_after_test, left_hole, against_test),
    Mistake(10, "Pressure not brought back to the one held", ("air_sealing/not-held",), clean,
            let_go, found),
    Mistake(29, "One flow in L/s or m³/h for cfm",
            ("air_sealing/units", "air_sealing/jump"), clean, other_unit, found,
            factor_of_two=True),
    Mistake(None, "Time of a row an hour too early", ("air_sealing/time",), clean, back_in_time,
            found),
    Mistake(None, "Sealing begun before the fan was read", ("air_sealing/no-start",), clean,
            no_start, found),
)  # fmt: skip
