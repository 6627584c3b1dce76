"""Three runs of the demo's crawlspace ducts, read with the furnace on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.job import Test
from rooftree.physics.air import STANDARD_PRESSURE
from rooftree.readings.duct_heat import DuctHeatTest, DuctRunReading
from rooftree.readings.duct_heat.conduction import arriving_temperature
from rooftree.readings.duct_heat.run import build_run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

FOOT, INCH, R = 0.3048, 0.0254, 0.17611018
RUNS = (
    # name, length [ft], air speed [ft/min], share of the wrap that is gone, minutes of running
    ("bedroom 1", 18.0, 590.0, 0.0, 12.0),
    ("bedroom 3", 34.0, 520.0, 0.45, 14.0),
    ("bonus room", 41.0, 430.0, 0.0, 1.5),
)
"""The wrap of bedroom 3 drags on the ground; the bonus room was read too early."""


def _kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) / 1.8


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield one walk along three runs."""
    del house
    yield Test(
        id="test-duct-heat",
        name="Duct runs, furnace on",
        visit="visit-1",
        reading=DuctHeatTest(tuple(_run(*run, rng) for run in RUNS), _kelvin(69.0)),
    )


def _run(
    name: str, feet: float, speed: float, gone: float, minutes: float, rng: Generator
) -> DuctRunReading:
    entering, around = 117.0, 49.0
    noted = DuctRunReading(
        name,
        feet * FOOT,
        _kelvin(entering),
        _kelvin(around),
        diameter=7.0 * INCH,
        air_speed=speed * FOOT / 60.0,
        insulation_resistance=4.2 * R,
        surroundings_humidity=0.86,
        running_time=60.0 * minutes,
        standing_time=20.0 * 60.0 if name == "bonus room" else None,
    )
    run = build_run(replace(noted, bare_share=gone), STANDARD_PRESSURE)
    if run is None:
        message = f"the run to the {name} cannot be built"
        raise ValueError(message)
    arriving = arriving_temperature(
        noted.entering_temperature,
        noted.surroundings_temperature,
        run.length * run.conductance(),
        run.capacity_rate,
    )
    if minutes < 5.0:  # the duct was still warming up
        arriving -= 3.5
    shown = round(1.8 * arriving - 459.67 + float(rng.normal(0.0, 0.5)), 1)
    return replace(
        noted,
        entering_temperature=_kelvin(round(entering + float(rng.normal(0.0, 0.5)), 1)),
        register_temperature=_kelvin(shown),
    )
