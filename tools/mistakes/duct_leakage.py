"""Mistakes made with duct leakage tests, and whether the reductions notice them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from covered.duct_leakage import (
    BANDS,
    CFM,
    GAUGE,
    Ducts,
    calibration,
    draw_ducts,
    fan_reading,
    outdoors_flow,
    shown_flow,
    total_flow,
)
from known_air import Path, hold, hole
from mistakes.mistake import Mistake
from rooftree.physics.fan_calibration import calibrated_flow
from rooftree.readings.duct_leakage import (
    DuctFanReading,
    DuctLeakageTest,
    compare_duct_tests,
    reduce_duct_leakage,
)

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.finding import Finding

INCH_OF_WATER = 249.089
HANDLER = 1000.0 * CFM
REGISTER = 0.02
"""Free area of a register [m²]."""


def _near(random: Generator, pressure: float) -> float:
    return round(float(pressure + random.normal(0.0, GAUGE)), 1)


def clean_total(random: Generator) -> DuctLeakageTest:
    """Read the total with everything sealed, open and counted as it should be."""
    flow = shown_flow(total_flow(draw_ducts(random), random, 25.0), calibration(random), random)
    registers = int(random.integers(6, 15))
    return DuctLeakageTest(
        False,
        25.0,
        flow,
        HANDLER,
        house_pressure=_near(random, 0.0),
        far_pressure=_near(random, 25.0),
        registers=registers,
        registers_sealed=registers,
        filter_out=True,
        dampers_open=True,
        door_open=True,
    )


def _open_register(test: DuctLeakageTest, random: Generator) -> DuctLeakageTest:
    """Leave one register open at the far end, and let nobody count."""
    n = 0.6
    leak = test.flow / 25.0**n
    # 0 house, 1 ducts by the fan, 2 ducts at the far end
    paths = (
        hole(0, 3, 1.8),
        Path(1, 0, 0.5 * leak, n),
        Path(2, 0, 0.5 * leak, n),
        hole(1, 2, 0.03, 0.8),
        hole(2, 0, REGISTER),
    )
    flow, shown = hold(3, paths, 25.0, space=1)
    return replace(
        test,
        flow=flow,
        registers=None,
        registers_sealed=None,
        far_pressure=_near(random, float(shown[2] - shown[0])),
    )


def clean_outdoors(random: Generator) -> DuctLeakageTest:
    """Read the leakage to outdoors with house and ducts equal and the crawlspace open."""
    flow = shown_flow(outdoors_flow(draw_ducts(random), random, 25.0), calibration(random), random)
    return DuctLeakageTest(
        True,
        25.0,
        flow,
        HANDLER,
        duct_house_pressure=_near(random, 0.0),
        house_pressure=_near(random, 25.0),
        space_pressure=_near(random, 0.0),
    )


def _apart(test: DuctLeakageTest, random: Generator) -> DuctLeakageTest:
    apart = float(random.choice([-1.0, 1.0]) * random.uniform(1.5, 5.0))
    return replace(
        test,
        duct_house_pressure=_near(random, apart),
        house_pressure=_near(random, 25.0 - apart),
    )


Pair = tuple[DuctLeakageTest, DuctLeakageTest]


def clean_pair(random: Generator) -> Pair:
    """Read total and leakage to outdoors of the same ducts."""
    ducts, right = draw_ducts(random), calibration(random)
    ducts = Ducts(max(ducts.inside, 0.3 * ducts.outdoors), ducts.outdoors, 0.6, 0.6)
    total, outdoors = (
        shown_flow(flow, right, random)
        for flow in (total_flow(ducts, random, 25.0), outdoors_flow(ducts, random, 25.0))
    )
    return DuctLeakageTest(False, 25.0, total), DuctLeakageTest(True, 25.0, outdoors)


def _pair_findings(pair: Pair) -> tuple[Finding, ...]:
    total, outdoors = (reduce_duct_leakage(test) for test in pair)
    return (*total.findings, *outdoors.findings, *compare_duct_tests(total, outdoors))


def _blocked(pair: Pair, random: Generator) -> Pair:
    """Close dampers in the test of the total: only a part of the ducts is under pressure."""
    total, outdoors = pair
    return replace(total, flow=outdoors.flow * random.uniform(0.3, 0.7)), outdoors


def clean_lines(random: Generator) -> DuctLeakageTest:
    """Read three pressures, the lowest with a smaller ring."""
    ducts, right = draw_ducts(random), calibration(random)
    outdoors = 50.0 * CFM * math.exp(random.normal(0.0, 0.1))
    ducts = replace(ducts, outdoors=outdoors, inside=outdoors)
    rings = [(35.0, "ring"), (25.0, "ring"), (15.0, "small")]
    readings = tuple(
        fan_reading(
            pressure,
            shown_flow(total_flow(ducts, random, pressure), right, random),
            random,
            configuration,
        )
        for pressure, configuration in rings
    )
    return DuctLeakageTest(False, fan_readings=readings, calibration=BANDS)


def _wrong_ring(test: DuctLeakageTest, _: Generator) -> DuctLeakageTest:
    *others, last = test.fan_readings
    return replace(test, fan_readings=(*others, replace(last, configuration="ring")))


def clean_shown(random: Generator) -> DuctLeakageTest:
    """Read the flow that the gauge shows and the fan pressure beside it."""
    flow = total_flow(draw_ducts(random), random, 25.0)
    reading = fan_reading(25.0, flow, random)
    shown = shown_flow(flow, 1.0, random)
    return DuctLeakageTest(False, fan_readings=(replace(reading, flow=shown),), calibration=BANDS)


def _first(test: DuctLeakageTest) -> DuctFanReading:
    return test.fan_readings[0]


def _gauge_set_wrong(test: DuctLeakageTest, random: Generator) -> DuctLeakageTest:
    reading = _first(test)
    others = [band for band in BANDS if band.configuration != reading.configuration]
    band = others[int(random.integers(len(others)))]
    shown = calibrated_flow(band, reading.fan_pressure or 0.0)
    return replace(test, fan_readings=(replace(reading, flow=shown),))


def _wrong_unit(test: DuctLeakageTest, random: Generator) -> DuctLeakageTest:
    factor = 2.11888 if random.random() < 0.5 else 1.0 / 2.11888
    reading = _first(test)
    return replace(test, fan_readings=(replace(reading, flow=(reading.flow or 0.0) * factor),))


def _fan_in_inches(test: DuctLeakageTest, _: Generator) -> DuctLeakageTest:
    readings = tuple(
        replace(reading, fan_pressure=round((reading.fan_pressure or 0.0) / INCH_OF_WATER, 3))
        for reading in test.fan_readings
    )
    return replace(test, fan_readings=readings)


def _findings(test: DuctLeakageTest) -> tuple[Finding, ...]:
    return reduce_duct_leakage(test).findings


MISTAKES = (
    Mistake(
        2,
        "duct fan: another ring on the fan than noted, at one of three pressures",
        ("duct-leakage/wrong-configuration", "duct-leakage/outside-band"),
        clean_lines,
        _wrong_ring,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        2,
        "duct fan: gauge set to another ring than is on the fan",
        ("duct-leakage/wrong-configuration", "duct-leakage/flow-units"),
        clean_shown,
        _gauge_set_wrong,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        18,
        "a register missed: counted",
        ("duct-leakage/register-missed",),
        clean_total,
        lambda test, _: replace(test, registers_sealed=test.registers - 1),
        _findings,
    ),
    Mistake(
        18,
        "a register missed: pressure at the far end read",
        ("duct-leakage/register-missed",),
        clean_total,
        _open_register,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        18,
        "dampers closed in the test of the total, below that to outdoors",
        ("duct-leakage/outdoors-beyond-total",),
        clean_pair,
        _blocked,
        _pair_findings,
        factor_of_two=True,
    ),
    Mistake(
        18,
        "filter in or dampers closed, as noted",
        ("duct-leakage/blocked",),
        clean_total,
        lambda test, random: (
            replace(test, filter_out=False)
            if random.random() < 0.5
            else replace(test, dampers_open=False)
        ),
        _findings,
    ),
    Mistake(
        18,
        "door of the house shut in the test of the total",
        ("duct-leakage/door-closed",),
        clean_total,
        lambda test, random: replace(test, house_pressure=_near(random, random.uniform(2.0, 8.0))),
        _findings,
    ),
    Mistake(
        19,
        "house and ducts not at one pressure",
        ("duct-leakage/not-equalized",),
        clean_outdoors,
        _apart,
        _findings,
    ),
    Mistake(
        19,
        "space of the ducts not open to outdoors",
        ("duct-leakage/space-charged",),
        clean_outdoors,
        lambda test, random: replace(test, space_pressure=_near(random, random.uniform(2.0, 15.0))),
        _findings,
    ),
    Mistake(
        29,
        "duct pressure typed in inches of water",
        ("duct-leakage/units",),
        clean_total,
        lambda test, _: replace(test, duct_pressure=round(test.duct_pressure / INCH_OF_WATER, 3)),
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "pressure of the duct fan typed in inches of water",
        ("duct-leakage/units",),
        clean_lines,
        _fan_in_inches,
        _findings,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "flow in L/s typed as cfm or the reverse, fan pressure beside it",
        ("duct-leakage/flow-units", "duct-leakage/wrong-configuration"),
        clean_shown,
        _wrong_unit,
        _findings,
        factor_of_two=True,
    ),
)
