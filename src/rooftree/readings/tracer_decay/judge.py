"""Judge a tracer decay: what forbids a result, what casts doubt on it, what to do now."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.tracer_decay.readings import Tracer
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rooftree.readings.tracer_decay.background import Background
    from rooftree.readings.tracer_decay.readings import TracerDecayTest
    from rooftree.readings.tracer_decay.series import Record

MIXED = "one well-mixed zone (ASTM E741, scope)"


@dataclass(frozen=True, slots=True)
class TracerLimit:
    """One row of the table of limits.

    Attributes
    ----------
    value : float
        The limit, in `unit`.
    unit : str
        Its unit.
    source : str
        Document; begins with ``"recalled: "`` where it was not read.
    """

    value: float
    unit: str
    source: str


@cache
def tracer_limits() -> Mapping[str, TracerLimit]:
    """Return every limit by its name."""
    return MappingProxyType(
        {
            row["name"]: TracerLimit(float(row["value"]), row["unit"], _source(row))
            for row in table_rows("rooftree.readings.tracer_decay", "limits.csv")
        }
    )


def _source(row: Mapping[str, str]) -> str:
    known = row["source"].startswith("recalled")
    return f"recalled: {row['source']}" if row["read"] == "memory" and not known else row["source"]


def sureness(deviations: float) -> str:
    """Return in words how sure it is that something is wrong.

    Parameters
    ----------
    deviations : float
        Standard uncertainties by which it is off [-].

    Returns
    -------
    str
    """
    if deviations >= 5.0:
        return "almost certain"
    return "likely" if deviations >= 3.5 else "possible"


def note(
    code: str,
    says: str,
    value: float | None = None,
    limit: str = "",
    *,
    source: str = "",
    about: str = "",
) -> Finding:
    """Return a finding of this test.

    Parameters
    ----------
    code : str
        Behind ``"tracer-decay/"``.
    says : str
        Sentence.
    value : float or None
        What was found, in the unit of the limit [any].
    limit : str
        Name of the row of the table that it was held against.
    source : str
        Document, where it is not that of the row.
    about : str
        Position that it concerns.

    Returns
    -------
    Finding
    """
    row = tracer_limits().get(limit)
    return Finding(
        f"tracer-decay/{code}",
        Severity.NOTE,
        says,
        value,
        row.value if row else None,
        row.unit if row else "",
        source or (row.source if row else ""),
        about,
    )


def judge_record(
    test: TracerDecayTest, record: Record, back: float | None, top: float | None
) -> tuple[Finding, ...]:
    """Return what is wrong with the lines themselves.

    Parameters
    ----------
    test : TracerDecayTest
        Readings.
    record : Record
        The same as arrays.
    back : float or None
        Time that lies before the one above it [s].
    top : float or None
        Reading at which the sensor went no higher [ppm].

    Returns
    -------
    tuple of Finding
    """
    findings = []
    if back is not None:
        findings.append(
            note(
                "time-back",
                f"The time goes back to {_clock(back)} after a later line: almost certainly two"
                " records in one, midnight passed or a typing slip. Sort or mend the times.",
            )
        )
    lost = len(record.time) - int((record.time + record.concentration < math.inf).sum())
    if lost:
        says = f"{lost} lines hold no number: certainly a lost signal. Take them out."
        return (*findings, note("no-number", says))
    low = float(record.concentration.min())
    if low < 0.0:
        findings.append(
            note(
                "negative",
                f"A reading is {low:.0f} ppm, which no sensor can mean: certainly a slip or a"
                " lost signal. Take the line out.",
            )
        )
    if len(record.time) > 2 and float(record.concentration.max()) == low:
        findings.append(
            note(
                "constant",
                f"All {len(record.time)} readings are {low:.0f} ppm: almost certainly a sensor"
                " that hangs or is at the end of its range. Breathe on it and see it move.",
            )
        )
    elif top is not None:
        known = test.highest_concentration is not None
        findings.append(
            note(
                "saturated",
                f"The sensor stood at {top:.0f} ppm, "
                + ("the end of its range: certain" if known else "which looks like its end: likely")
                + ". Only what came after it is used; start lower next time.",
            )
        )
    return tuple(findings)


REFUSING = frozenset(
    f"tracer-decay/{code}" for code in ("time-back", "no-number", "negative", "constant")
)
"""Findings on the lines with which no rate is stated."""


def judge_background(
    test: TracerDecayTest, background: Background, lowest: float
) -> tuple[Finding, ...]:
    """Return the doubts about the background.

    Parameters
    ----------
    test : TracerDecayTest
        Readings.
    background : Background
        As reduced.
    lowest : float
        Reading indoors that is lowest from the start of the window on [ppm].

    Returns
    -------
    tuple of Finding
    """
    findings = []
    if background.is_assumed:
        findings.append(
            note(
                "no-background",
                f"Nobody read outdoors: {background.value:.0f} ppm ± {background.standard:.0f} is"
                " assumed. Read outdoors with the same sensor, now and again at the end.",
                source="recalled: global mean of carbon dioxide",
            )
        )
    elif test.tracer is Tracer.CARBON_DIOXIDE:
        findings += _far_background(min(background.values), max(background.values))
    if lowest - background.value < -3.0 * background.standard:
        findings.append(
            note(
                "below-background",
                f"Indoors reads {lowest:.0f} ppm, below the background of"
                f" {background.value:.0f} ppm: almost certainly one of them was read with"
                " another sensor, near people or exhaust, or typed wrong. Read outdoors again.",
                source=MIXED,
            )
        )
    return tuple(findings)


def _far_background(low: float, high: float) -> list[Finding]:
    if low < tracer_limits()["low-background"].value:
        return [
            note(
                "low-background",
                f"{low:.0f} ppm of carbon dioxide outdoors is lower than anywhere on earth:"
                " almost certainly left at 0, typed in another unit, or a sensor that needs"
                " its zero set. Read outdoors again.",
                low,
                "low-background",
            )
        ]
    if high > tracer_limits()["high-background"].value:
        return [
            note(
                "high-background",
                f"{high:.0f} ppm of carbon dioxide outdoors is hardly ever true: likely read"
                " indoors, near a vent, a car or somebody's breath. Read again in the open.",
                high,
                "high-background",
            )
        ]
    return []


def judge_empty(test: TracerDecayTest, count: int) -> Finding:
    """Return why a record has no decay to fit.

    Parameters
    ----------
    test : TracerDecayTest
        Readings.
    count : int
        Lines of the record [-].

    Returns
    -------
    Finding
    """
    if count > 2 and test.window_start is None and test.window_end is None:
        return note(
            "not-decaying",
            "The highest reading is the last or nothing above the background follows it: almost"
            " certainly somebody is still inside or the gas still flows. Leave, and read on.",
        )
    return note(
        "too-few",
        "Fewer than two readings above the background lie in the window: no rate. Read on, or"
        " widen the window.",
    )


def judge_positions(deviations: Sequence[tuple[str, float, float]]) -> tuple[Finding, ...]:
    """Return the positions that differ from the mean of all.

    Parameters
    ----------
    deviations : sequence of tuple
        Position, relative deviation from the mean and its standard uncertainty.

    Returns
    -------
    tuple of Finding
    """
    limit = tracer_limits()["uneven"]
    worst = max(deviations, key=lambda row: abs(row[1]) - 2.0 * row[2], default=None)
    if worst is None or abs(worst[1]) - 2.0 * worst[2] <= limit.value:
        return ()
    place, off, doubt = worst
    sure = sureness(2.0 + (abs(off) - limit.value) / max(doubt, 1e-9) - 2.0)
    return (
        note(
            "not-mixed",
            f"The {place or 'unnamed position'} stands {100.0 * off:+.0f} % off the mean of all"
            f" positions: the air is not mixed, {sure}. Open the inside doors, run fans that only"
            " stir, and let it decay again.",
            abs(off),
            "uneven",
            about=place,
        ),
    )


def _clock(seconds: float) -> str:
    minutes = round(seconds / 60.0)
    return f"{minutes // 60}:{minutes % 60:02d} h"
