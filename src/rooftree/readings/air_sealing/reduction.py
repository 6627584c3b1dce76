"""From a log of guided air sealing to what it brought, what is left, and whether to go on.

Sources
-------
[PRACTICE] Guided air sealing: the fan holds the house while leaks are sealed, and the flow is
    read after each (common practice).
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.physics.propagation import propagate
from rooftree.readings.air_sealing.ahead import Value, advise, expect_next, limits_ahead
from rooftree.readings.air_sealing.held_flow import (
    LEAST_PRESSURE,
    flow_at,
    induced_pressure,
    is_usable,
    reduction,
    relative_noise,
    row_flow,
)
from rooftree.readings.air_sealing.judge import (
    judge_earlier,
    judge_limits,
    judge_map,
    judge_missing,
    judge_noise,
    judge_rows,
)
from rooftree.readings.air_sealing.judge_steps import judge_steps
from rooftree.readings.air_sealing.leak_map import Taken, leaks_left
from rooftree.readings.air_sealing.results import (
    Advice,
    AirSealingResult,
    FlowPoint,
    LocationResult,
)
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.physics.propagation import Propagated
    from rooftree.readings.air_sealing.readings import AirSealingLog, SealingRow

    Numbered = tuple[int, SealingRow]

CLEAR = 2.0
"""Standard uncertainties from which a change is larger than the noise [-]."""

TEST_PRESSURE = 50.0
"""At which the value of leakage and the limits are stated [Pa]."""


def reduce_air_sealing(
    log: AirSealingLog,
    *,
    value_per_flow: float | None = None,
    years: float = 15.0,
    discount_rate: float = 0.03,
    ventilation_flow_50: float | None = None,
    combustion_flow_50: float | None = None,
    earlier_flow_50: float | None = None,
    earlier_uncertainty: float = 0.02,
) -> AirSealingResult:
    """Reduce a log of guided air sealing.

    Parameters
    ----------
    log : AirSealingLog
        As written, finished or not.
    value_per_flow : float or None
        Saved in a year for each unit of leakage at 50 Pa taken away
        [$·s/(year·m³)]; None where not worked out: costs only.
    years : float
        For which savings count [years].
    discount_rate : float
        By which later savings count less [1/year].
    ventilation_flow_50 : float or None
        Leakage at 50 Pa below which infiltration does not meet the need for fresh air
        [m³/s].
    combustion_flow_50 : float or None
        Leakage at 50 Pa below which fans may pull an appliance's zone beyond its limit
        [m³/s].
    earlier_flow_50 : float or None
        Leakage at 50 Pa by the fan test before sealing [m³/s].
    earlier_uncertainty : float
        Relative standard uncertainty of that, without what both readings of one fan share
        [0-1].

    Returns
    -------
    AirSealingResult

    Raises
    ------
    OutOfRangeError
        If the held pressure or the exponent cannot be what it says.

    Notes
    -----
    Each flow is carried to the held pressure by the power law; a reduction is a
    difference of two rows, in which fan and exponent are wrong the same way and readings
    are not (JCGM 100:2008, 5.1.3 note 2). Savings over the horizon by the uniform present
    value. The leak map by Bayes' rule (:mod:`.leak_map`). [PRACTICE]_

    References
    ----------
    .. [PRACTICE] Common practice.

    Examples
    --------
    >>> from rooftree.readings.air_sealing.readings import AirSealingLog, SealingRow
    >>> rows = (SealingRow(0.0, "", -50.0, 1.20), SealingRow(1800.0, "chase", -50.0, 1.02))
    >>> done = reduce_air_sealing(AirSealingLog(rows))
    >>> round(done.reduction.value, 2), done.is_clear
    (0.18, True)
    """
    _require(log)
    value = Value(value_per_flow, years, discount_rate)
    rows = [(k, row) for k, row in enumerate(log.rows, start=1) if is_usable(log, row)]
    findings = (*judge_rows(log), *judge_map(log))
    if not rows:
        says = "No row has a flow and a pressure from which anything could be worked out."
        return AirSealingResult(
            None, None, None, None, None, False, 0.0, 0.0, None, (), (), (), None,
            Advice.YOURS, "Read the fan first.", says, findings,
        )  # fmt: skip
    to_50 = math.pow(TEST_PRESSURE / log.held_pressure, log.exponent)
    locations = _locations(log, rows, value, to_50)
    start_50 = row_flow(log, rows[0][1], TEST_PRESSURE)
    now_50 = row_flow(log, rows[-1][1], TEST_PRESSURE)
    left = leaks_left(log.places, start_50, now_50, _sealed(log, rows))
    following = expect_next(log, left, locations, value, to_50)
    limits = limits_ahead(now_50, following, ventilation_flow_50, combustion_flow_50)
    advice, reason = advise(following, limits, has_map=bool(left))
    flows = [_carried(log, row) for _, row in rows]
    findings += (
        *judge_steps(log, rows, flows),
        *judge_noise(locations),
        *judge_earlier(
            start_50, relative_noise(log, rows[0][1]), earlier_flow_50, earlier_uncertainty
        ),
        *judge_limits(limits),
        *judge_missing(value_per_flow, ventilation_flow_50, combustion_flow_50),
    )
    whole = reduction(log, rows[0][1], rows[-1][1], log.held_pressure) if locations else None
    is_clear = whole is not None and _is_clear(log, rows[0][1], rows[-1][1])
    cost = sum(each.cost for each in locations)
    worth_each = value.worth_per_flow
    return AirSealingResult(
        start=row_flow(log, rows[0][1], log.held_pressure),
        flow=row_flow(log, rows[-1][1], log.held_pressure),
        flow_50=now_50,
        reduction=whole,
        share=_share(log, rows) if locations else None,
        is_clear=is_clear,
        work=sum(each.work for each in locations),
        cost=cost,
        worth=None if worth_each is None or whole is None else worth_each * whole.value * to_50,
        locations=locations,
        left=left,
        limits=limits,
        next_location=following,
        advice=advice,
        reason=reason,
        says=_in_words(whole, flows[0], is_clear=is_clear, advice=advice, reason=reason),
        findings=findings,
        curve=tuple(
            FlowPoint(row.time, row.location, flow, flow * relative_noise(log, row))
            for (_, row), flow in zip(rows, flows, strict=True)
        ),
    )


def _require(log: AirSealingLog) -> None:
    if not 0.0 < log.held_pressure <= 500.0:
        raise OutOfRangeError("held pressure", log.held_pressure, 0.0, 500.0, "Pa")
    if not 0.5 <= log.exponent <= 1.0:
        raise OutOfRangeError("exponent", log.exponent, 0.5, 1.0, "-")
    most = 0.4 * LEAST_PRESSURE
    for name, value in (
        ("pressure uncertainty", log.pressure_uncertainty),
        ("repeatability of the pressure", log.pressure_repeatability),
    ):
        if not 0.0 <= value <= most:
            raise OutOfRangeError(name, value, 0.0, most, "Pa")


def _carried(log: AirSealingLog, row: SealingRow) -> float:
    return flow_at(row.fan_flow, abs(induced_pressure(log, row)), log.held_pressure, log.exponent)


def _is_clear(log: AirSealingLog, before: SealingRow, after: SealingRow) -> bool:
    one, other = _carried(log, before), _carried(log, after)
    noise = math.hypot(one * relative_noise(log, before), other * relative_noise(log, after))
    return abs(one - other) >= CLEAR * noise


def _locations(
    log: AirSealingLog, rows: Sequence[Numbered], value: Value, to_50: float
) -> tuple[LocationResult, ...]:
    return tuple(
        _location(log, before, number, after, value, to_50)
        for (_, before), (number, after) in pairwise(rows)
    )


def _location(
    log: AirSealingLog,
    before: SealingRow,
    number: int,
    after: SealingRow,
    value: Value,
    to_50: float,
) -> LocationResult:
    less = reduction(log, before, after, log.held_pressure)
    is_clear = _is_clear(log, before, after)
    brought = is_clear and less.value > 0.0
    cost = after.work * log.labor_rate + after.material_cost
    worth, yearly = value.worth_per_flow, value.per_flow
    return LocationResult(
        number=number,
        location=after.location,
        time=after.time,
        flow=row_flow(log, after, log.held_pressure),
        reduction=less,
        is_clear=is_clear,
        work=after.work,
        cost=cost,
        cost_per_flow=cost / less.value if brought else None,
        rate=less.value / after.work if after.work > 0.0 else None,
        worth=None if worth is None else worth * less.value * to_50,
        payback=cost / (yearly * less.value * to_50) if brought and yearly else None,
    )


def _sealed(log: AirSealingLog, rows: Sequence[Numbered]) -> dict[str, Taken]:
    """Return what was done at each place."""
    taken: dict[str, Taken] = {}
    for (_, before), (_, after) in pairwise(rows):
        place = after.place or after.location
        less = reduction(log, before, after, TEST_PRESSURE)
        found = taken.get(place, Taken(0.0, 0.0, 0.0))
        standard = math.hypot(found.standard, less.standard)
        taken[place] = Taken(found.flow + less.value, standard, found.work + after.work)
    return taken


def _share(log: AirSealingLog, rows: Sequence[Numbered]) -> Propagated:
    (_, first), (_, last) = rows[0], rows[-1]
    p1, p2 = (abs(induced_pressure(log, row)) for row in (first, last))

    def share(q1: float, pressure1: float, q2: float, pressure2: float, exponent: float) -> float:
        return 1.0 - q2 / q1 * math.pow(pressure1 / pressure2, exponent)

    return propagate(
        share,
        (first.fan_flow, p1, last.fan_flow, p2, log.exponent),
        (
            first.fan_flow * log.repeatability,
            log.pressure_repeatability,
            last.fan_flow * log.repeatability,
            log.pressure_repeatability,
            log.exponent_uncertainty,
        ),
    )


def _in_words(
    whole: Propagated | None, start: float, *, is_clear: bool, advice: Advice, reason: str
) -> str:
    if whole is None:
        return f"The fan was read once, before sealing. {reason}"
    if not is_clear:
        return f"What was sealed cannot be told from the noise of the readings. {reason}"
    way = "took away" if whole.value > 0.0 else "added"
    size = both(abs(whole.value), Kind.FLOW, digits=2)
    share = both(abs(whole.value) / start, Kind.FRACTION, digits=2)
    ends = {Advice.GO_ON: " Go on.", Advice.YOURS: ""}.get(advice, " Stop here.")
    return f"Sealing {way} {size}, {share} of the leakage.{ends} {reason}"
