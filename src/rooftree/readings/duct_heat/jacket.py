"""Water on a cold duct: its outer face against the dew point round it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.physics.air import saturation_pressure
from rooftree.physics.dew_point import dew_point
from rooftree.physics.propagation import Propagated, propagate
from rooftree.readings.duct_heat.conduction import resistance_against_dew
from rooftree.readings.duct_heat.run import build_run

if TYPE_CHECKING:
    from rooftree.readings.duct_heat.readings import DuctHeatTest, DuctRunReading
    from rooftree.readings.duct_heat.run import Run

THICKEST = 10.0
"""Flat blanket beyond which none can be wrapped round a duct [m²·K/W]; ours."""


def jacket_temperature(reading: DuctRunReading, run: Run, test: DuctHeatTest) -> Propagated:
    """Return the temperature of the coldest part of the outer face.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    run : Run
        The run.
    test : DuctHeatTest
        Uncertainties.

    Returns
    -------
    Propagated
        Where the air enters [K].
    """
    return propagate(
        run.jacket,
        (reading.entering_temperature, reading.surroundings_temperature, 1.0, 1.0),
        (
            test.temperature_uncertainty,
            test.surroundings_uncertainty,
            test.insulation_uncertainty,
            test.film_uncertainty,
        ),
    )


def surrounding_dew_point(reading: DuctRunReading, test: DuctHeatTest) -> Propagated | None:
    """Return the dew point of the air round a run.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    test : DuctHeatTest
        Uncertainties.

    Returns
    -------
    Propagated or None
        [K]; None where neither dew point nor humidity was read.

    Notes
    -----
    The temperature read beside the humidity is taken to be as sure as one in the duct: how
    far the surroundings vary along the run does not touch their dew point.
    """
    if reading.surroundings_dew_point is not None:
        dew = reading.surroundings_dew_point
        return propagate(lambda t: t, (dew,), (test.temperature_uncertainty,))
    if reading.surroundings_humidity is None:
        return None
    return propagate(
        lambda t, share: dew_point(max(share * saturation_pressure(t), 1.0)),
        (reading.surroundings_temperature, reading.surroundings_humidity),
        (test.temperature_uncertainty, test.humidity_uncertainty),
    )


def least_blanket(reading: DuctRunReading, test: DuctHeatTest, dew: float) -> float:
    """Return the flat blanket that keeps the jacket at the dew point.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run; its torn parts are taken as mended.
    test : DuctHeatTest
        Barometric pressure.
    dew : float
        Dew point of the air round it [K].

    Returns
    -------
    float
        Labelled resistance [m²·K/W]; infinite where no blanket of a duct can.

    Notes
    -----
    By halving: a thicker blanket has a larger face, whose film is easier to pass.
    """
    whole = replace(reading, bare_share=0.0, wrap_thickness=None)

    def spare(resistance: float) -> float:
        run = build_run(whole, test.barometric_pressure, resistance)
        if run is None:
            return -math.inf
        need = resistance_against_dew(
            reading.entering_temperature, reading.surroundings_temperature, dew, run.outer
        )
        return run.inner + run.wrap - need

    if spare(0.0) >= 0.0:
        return 0.0
    if spare(THICKEST) < 0.0:
        return math.inf
    low, high = 0.0, THICKEST
    while high - low > 0.005:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if spare(middle) >= 0.0 else (middle, high)
    return high
