"""Mistakes of duct-run readings: wrong scale or unit, exchanged probes, read too early."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.readings.duct_heat import DuctHeatTest, DuctRunReading, reduce_duct_heat
from rooftree.readings.duct_heat.conduction import arriving_temperature
from rooftree.readings.duct_heat.run import build_run

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.random import Generator

    from rooftree.finding import Finding

ZERO, INCH, FOOT, R = 273.15, 0.0254, 0.3048, 0.176110


def one_run(random: Generator, *, summer: bool | None = None) -> DuctHeatTest:
    """Return one attic run in summer or winter, well read, its register included."""
    if summer is None:
        summer = random.random() < 0.5
    entering = random.uniform(10.5, 15.5) if summer else random.uniform(38.0, 55.0)
    around = random.uniform(40.0, 58.0) if summer else random.uniform(-8.0, 10.0)
    reading = DuctRunReading(
        "bedroom",
        random.uniform(15.0, 40.0) * FOOT,
        entering + ZERO,
        around + ZERO,
        diameter=float(random.choice([6.0, 7.0, 8.0])) * INCH,
        air_speed=random.uniform(450.0, 750.0) * FOOT / 60.0,
        insulation_resistance=R * float(random.choice([4.2, 6.0, 8.0])),
        running_time=random.uniform(300.0, 1800.0),
    )
    run = build_run(reading, 101_325.0)
    assert run is not None  # noqa: S101
    conductance = (
        run.length
        * (1.0 + random.normal(0.0, 0.02))
        * run.conductance(
            max(1.0 + random.normal(0.0, 0.15), 0.3), max(1.0 + random.normal(0.0, 0.2), 0.3)
        )
    )
    register = arriving_temperature(
        entering + ZERO,
        around + ZERO + random.normal(0.0, 2.0),
        conductance,
        run.capacity_rate * (1.0 + random.normal(0.0, 0.1)),
    )
    noted = replace(
        reading,
        entering_temperature=reading.entering_temperature + random.normal(0.0, 0.4),
        register_temperature=register + random.normal(0.0, 0.4),
    )
    return DuctHeatTest((noted,), room_temperature=random.uniform(20.0, 25.0) + ZERO)


def _findings(test: DuctHeatTest) -> Iterable[Finding]:
    return reduce_duct_heat(test).findings


def _run_of(test: DuctHeatTest, **changes: object) -> DuctHeatTest:
    return replace(test, runs=(replace(test.runs[0], **changes),))  # type: ignore[arg-type]


def _as_fahrenheit(kelvin: float | None) -> float:
    return 1.8 * ((kelvin or 0.0) - ZERO) + 32.0 + ZERO


def _around_in_fahrenheit(test: DuctHeatTest, _random: Generator) -> DuctHeatTest:
    """Type the surroundings in °F where °C was asked."""
    return _run_of(
        test, surroundings_temperature=_as_fahrenheit(test.runs[0].surroundings_temperature)
    )


def _all_in_fahrenheit(test: DuctHeatTest, _random: Generator) -> DuctHeatTest:
    """Type all three temperatures in °F where °C was asked."""
    run = test.runs[0]
    return _run_of(
        test,
        entering_temperature=_as_fahrenheit(run.entering_temperature),
        surroundings_temperature=_as_fahrenheit(run.surroundings_temperature),
        register_temperature=_as_fahrenheit(run.register_temperature),
    )


def _entering_in_fahrenheit(test: DuctHeatTest, _random: Generator) -> DuctHeatTest:
    """Type the entering air in °F where °C was asked."""
    return _run_of(test, entering_temperature=_as_fahrenheit(test.runs[0].entering_temperature))


def _liters_for_cubic_feet(test: DuctHeatTest, _random: Generator) -> DuctHeatTest:
    """Type a flow in cfm where L/s was asked."""
    return _run_of(test, air_speed=2.119 * (test.runs[0].air_speed or 0.0))


def _cubic_feet_for_liters(test: DuctHeatTest, _random: Generator) -> DuctHeatTest:
    """Type a flow in L/s where cfm was asked."""
    return _run_of(test, air_speed=(test.runs[0].air_speed or 0.0) / 2.119)


def _label_in_the_other_system(test: DuctHeatTest, random: Generator) -> DuctHeatTest:
    """Type R-8 as 8 m²·K/W, or 1.4 m²·K/W as R-1.4."""
    label = test.runs[0].insulation_resistance
    factor = 5.678 if random.random() < 0.5 else 1.0 / 5.678
    return _run_of(test, insulation_resistance=factor * label)


def _exchanged(test: DuctHeatTest, _random: Generator) -> DuctHeatTest:
    """Note the entering air at the register and the register's where the air enters."""
    run = test.runs[0]
    return _run_of(
        test,
        entering_temperature=run.register_temperature,
        register_temperature=run.entering_temperature,
    )


def _room_air(test: DuctHeatTest, random: Generator) -> DuctHeatTest:
    """Hold the probe half in room air: a third to two thirds of the way to the room."""
    run = test.runs[0]
    share = random.uniform(0.33, 0.67)
    register, room = run.register_temperature or 0.0, test.room_temperature or 0.0
    return _run_of(test, register_temperature=register + share * (room - register))


def _early(test: DuctHeatTest, random: Generator) -> DuctHeatTest:
    """Read the register 20 to 200 s after the start, still off by 1 to 10 K."""
    run = test.runs[0]
    toward = 1.0 if run.surroundings_temperature > run.entering_temperature else -1.0
    register = (run.register_temperature or 0.0) + toward * random.uniform(1.0, 10.0)
    return _run_of(test, register_temperature=register, running_time=random.uniform(20.0, 200.0))


def _wrap_gone(test: DuctHeatTest, random: Generator) -> DuctHeatTest:
    """Note an unbroken wrap where 30 to 60 % of it has slid off."""
    reading = test.runs[0]
    torn = replace(reading, bare_share=random.uniform(0.3, 0.6))
    run = build_run(torn, 101_325.0)
    assert run is not None  # noqa: S101
    register = arriving_temperature(
        reading.entering_temperature,
        reading.surroundings_temperature,
        run.length * run.conductance(),
        run.capacity_rate,
    )
    return _run_of(test, register_temperature=register + random.normal(0.0, 0.4))


def _inches_for_meters(test: DuctHeatTest, _random: Generator) -> DuctHeatTest:
    """Type a diameter in inches where meters were asked."""
    return _run_of(test, diameter=(test.runs[0].diameter or 0.0) / INCH)


def _mistake(
    number: int | None,
    name: str,
    spoil: Callable[[DuctHeatTest, Generator], DuctHeatTest],
    *codes: str,
    factor_of_two: bool = False,
    clean: Callable[[Generator], DuctHeatTest] = one_run,
) -> Mistake:
    full = tuple(f"duct_heat/{code}" for code in codes)
    return Mistake(number, name, full, clean, spoil, _findings, factor_of_two)


def _summer_run(random: Generator) -> DuctHeatTest:
    return one_run(random, summer=True)


def _winter_run(random: Generator) -> DuctHeatTest:
    return one_run(random, summer=False)


MISTAKES = (
    _mistake(29, "°F typed for °C: a hot attic", _around_in_fahrenheit, "temperature-scale",
             "impossible", factor_of_two=True, clean=_summer_run),
    _mistake(29, "°F typed for °C: a cold attic (the number is a usual warm one)",
             _around_in_fahrenheit, "temperature-scale", "more-than-wrap", clean=_winter_run),
    _mistake(29, "°F typed for °C: all three", _all_in_fahrenheit, "temperature-scale",
             "impossible", factor_of_two=True),
    _mistake(29, "°F typed for °C: entering air", _entering_in_fahrenheit, "temperature-scale",
             "register-beyond", factor_of_two=True),
    _mistake(29, "cfm typed for L/s", _liters_for_cubic_feet, "air-speed", factor_of_two=True),
    _mistake(29, "L/s typed for cfm", _cubic_feet_for_liters, "air-speed", factor_of_two=True),
    _mistake(29, "R of one system typed in the other", _label_in_the_other_system,
             "insulation-unit", factor_of_two=True),
    _mistake(29, "inches typed where meters were asked", _inches_for_meters, "size-unit",
             factor_of_two=True),
    _mistake(None, "entering air and register exchanged", _exchanged, "register-beyond"),
    _mistake(None, "probe half in room air", _room_air, "more-than-wrap", "register-beyond",
             "temperature-scale"),
    _mistake(None, "register read before the duct had settled", _early, "read-too-early"),
    _mistake(None, "wrap noted whole, a third or more of it gone", _wrap_gone, "more-than-wrap",
             factor_of_two=True),
)  # fmt: skip
