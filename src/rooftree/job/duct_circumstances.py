"""What tests of ducts take from the rest of a job."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from rooftree.job.air_circumstances import reduce_air_handler_of
from rooftree.readings.air_handler import AirHandlerTest
from rooftree.readings.duct_leakage import (
    DuctLeakageResult,
    DuctLeakageTest,
    reduce_duct_leakage,
)
from rooftree.readings.duct_leakage_from_house import (
    DeltaQResult,
    DeltaQTest,
    DuctSubtractionResult,
    DuctSubtractionTest,
    reduce_delta_q,
    reduce_duct_subtraction,
)

if TYPE_CHECKING:
    from rooftree.job.kinds import Circumstances

    Ducts = TypeVar("Ducts", DuctLeakageTest, DuctSubtractionTest, DeltaQTest)


def reduce_duct_leakage_of(reading: DuctLeakageTest, at: Circumstances) -> DuctLeakageResult:
    """Reduce a duct leakage test beside the other one of the same system.

    Parameters
    ----------
    reading : DuctLeakageTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    DuctLeakageResult

    Notes
    -----
    The total corrects a test to outdoors for what ducts and house were apart, and each
    test bounds the other; with several tests of one kind the last counts.
    """
    others = [
        flow.value
        for one in at.readings
        if isinstance(one, DuctLeakageTest) and one.to_outdoors is not reading.to_outdoors
        if (flow := reduce_duct_leakage(one).flow_25) is not None
    ]
    other = others[-1] if others else None
    return reduce_duct_leakage(
        _with_handler(reading, at),
        at.enclosure.floor_area,
        total_flow_25=other if reading.to_outdoors else None,
        outdoors_flow_25=None if reading.to_outdoors else other,
    )


def reduce_duct_subtraction_of(
    reading: DuctSubtractionTest, at: Circumstances
) -> DuctSubtractionResult:
    """Reduce the difference of two house tests; the air handler's test tells its flow.

    Parameters
    ----------
    reading : DuctSubtractionTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    DuctSubtractionResult
    """
    return reduce_duct_subtraction(_with_handler(reading, at))


def reduce_delta_q_of(reading: DeltaQTest, at: Circumstances) -> DeltaQResult:
    """Reduce house tests with the air handler off and on; its own test tells its flow.

    Parameters
    ----------
    reading : DeltaQTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    DeltaQResult
    """
    return reduce_delta_q(_with_handler(reading, at))


def _with_handler(reading: Ducts, at: Circumstances) -> Ducts:
    """Return the readings with the air handler's measured flow, where they state none."""
    if reading.air_handler_flow > 0.0:
        return reading
    flows = [
        flow.value
        for one in at.readings
        if isinstance(one, AirHandlerTest)
        if (flow := reduce_air_handler_of(one, at).flow) is not None
    ]
    return replace(reading, air_handler_flow=flows[-1]) if flows else reading
