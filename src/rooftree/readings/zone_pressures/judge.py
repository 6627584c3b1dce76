"""Judge a zone pressure: can it be read, and what to do where it cannot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.zone_pressures.division import hole_to_open

if TYPE_CHECKING:
    from rooftree.readings.zone_pressures.readings import ZonePressureTest

MARGIN = 4.0
"""Standard uncertainties that a pressure must lie away from 0 and from the house's [-].

Ours: at that distance the smaller one of the two pressures is known to a quarter of
itself and the ratio of the leaks to about a quarter, exponent included."""

LOWEST_HOUSE_PRESSURE = 15.0
"""House pressure below which zone pressures are too small to divide [Pa]; ours, after the
lowest pressure of a one-point fan test (ANSI/RESNET/ICC 380, recalled)."""

ZONE_SHARE = 0.18
"""Guess of a zone's share in the house's leakage [0-1]: the mean of ceilings.

ASHRAE Handbook - Fundamentals 2021, ch. 16, after Dickerhoff 1982 and Harrje 1982."""

MEDIAN_FLOW_50 = 12.0 * 340.0 / 3600.0
"""Leakage at 50 Pa of a house of which nothing is known [m³/s]: 12 air changes, the median of
US houses (Chan, Joh & Sherman, Energy and Buildings 66 (2013) 616), in 340 m³."""

UNSURE = 0.5
"""Relative standard uncertainty above which the size of a leak is hardly known [-]; ours."""

SERIES = "mass balance of a zone between house and outdoors"
SQUARE_INCH = 0.0254**2


def margin(test: ZonePressureTest) -> float:
    """Return how far from both ends a pressure must lie to be divided.

    Parameters
    ----------
    test : ZonePressureTest
        Readings.

    Returns
    -------
    float
        Distance from 0 and from the house pressure [Pa].
    """
    return MARGIN * test.pressure_uncertainty


def judge_pressures(test: ZonePressureTest) -> tuple[Finding, ...]:
    """Return what makes the readings unfit to be divided.

    Parameters
    ----------
    test : ZonePressureTest
        Readings.

    Returns
    -------
    tuple of Finding
        Empty where they are fit; the place of the reading between 0 and the house
        pressure is judged by :func:`judge_end`.
    """
    whole, part = abs(test.house_pressure), abs(test.zone_pressure)
    findings = []
    if whole < LOWEST_HOUSE_PRESSURE:
        findings.append(
            _finding(
                test,
                "house-pressure",
                f"The house was held at {whole:.1f} Pa only, too little to divide between two"
                f" leaks. Hold it at 50 Pa, or at {LOWEST_HOUSE_PRESSURE:.0f} Pa at least.",
                value=whole,
                limit=LOWEST_HOUSE_PRESSURE,
                source="ours, after ANSI/RESNET/ICC 380 (recalled)",
            )
        )
    if test.house_pressure * test.zone_pressure < 0.0 and part > margin(test):
        findings.append(
            _finding(
                test,
                "sign",
                "House to outdoors and house to zone have opposite signs, which no zone"
                " between them can have. Look for swapped hoses, or a hose on the wrong tap.",
                value=test.zone_pressure,
            )
        )
    if part > whole + margin(test):
        findings.append(
            _finding(
                test,
                "beyond-house",
                f"The zone reads {part:.1f} Pa, more than the house itself at {whole:.1f} Pa."
                " Look for a fan in the zone, wind on its vents, or a wrong reference.",
                value=part,
                limit=whole,
            )
        )
    return tuple(findings)


def judge_end(test: ZonePressureTest, house_flow_50: float | None = None) -> Finding | None:
    """Return the refusal of a reading too near 0 or the house pressure, with the remedy.

    Parameters
    ----------
    test : ZonePressureTest
        Readings that :func:`judge_pressures` found fit.
    house_flow_50 : float or None
        Leakage of the house at 50 Pa, to size the hole [m³/s]; a house of median
        tightness is guessed where it is None.

    Returns
    -------
    Finding or None
        None where the reading can be divided.
    """
    whole, part, edge = abs(test.house_pressure), abs(test.zone_pressure), margin(test)
    if edge <= part <= whole - edge:
        return None
    near_house = part < edge
    start, target = (edge, 0.2 * whole) if near_house else (whole - edge, 0.8 * whole)
    area = hole_to_open(start, target, whole, test.exponent, _house_side(test, house_flow_50))
    where, whole_side = (
        ("between the zone and outdoors", "inside the house")
        if near_house
        else ("between the house and the zone", "outdoors")
    )
    guess = "" if house_flow_50 else " (for a house of median tightness)"
    return _finding(
        test,
        "near-house" if near_house else "near-outdoors",
        f"The zone reads {part:.1f} Pa of {whole:.1f} Pa: it is as good as {whole_side}, and"
        f" the ratio of its two leaks cannot be told from {edge:.1f} Pa of doubt. Add a"
        f" measured hole of about {_rounded(area)} {where}{guess},"
        " read, make it half as large again, read, and close it.",
        value=part,
        limit=edge if near_house else whole - edge,
    )


def _house_side(test: ZonePressureTest, house_flow_50: float | None) -> float:
    flow = ZONE_SHARE * (house_flow_50 or MEDIAN_FLOW_50)
    return float(flow / 50.0**test.exponent)


def _rounded(area: float) -> str:
    inches = max(10.0 * round(area / SQUARE_INCH / 10.0), 10.0)
    return f"{inches:.0f} in² ({10.0 * round(inches * 0.64516):.0f} cm²)"


def judge_hole_closed(test: ZonePressureTest, *, closed: bool) -> tuple[Finding, ...]:
    """Return the reminder that an opened hole must be closed again.

    Parameters
    ----------
    test : ZonePressureTest
        Readings before the hole.
    closed : bool
        Whether somebody confirmed that it is closed.

    Returns
    -------
    tuple of Finding
        Empty once it is closed.
    """
    if closed:
        return ()
    says = "The hole opened for this test was not confirmed closed: every later test depends on it."
    return (_finding(test, "hole-open", says, source="common practice"),)


def judge_change(test: ZonePressureTest, change: float) -> tuple[Finding, ...]:
    """Return the doubt about a change of zone pressure that is hardly one.

    Parameters
    ----------
    test : ZonePressureTest
        Readings before the change.
    change : float
        Fall or rise of the zone pressure in the direction that the change should give
        [Pa]; negative where it went the other way.

    Returns
    -------
    tuple of Finding
        Empty where the change is clear.
    """
    needed = MARGIN * test.pressure_uncertainty * 2.0**0.5
    if change >= needed:
        return ()
    return (
        _finding(
            test,
            "small-change",
            f"Opening it changed the zone's pressure by {change:.1f} Pa, and {needed:.1f} Pa are"
            " needed to tell the size of the leaks. Open a larger hole, or look whether it"
            " was on the other side of the zone.",
            value=change,
            limit=needed,
        ),
    )


def judge_unsure(test: ZonePressureTest, relative: float | None) -> Finding:
    """Return the doubt about leaks that the readings hardly give.

    Parameters
    ----------
    test : ZonePressureTest
        Readings before the change.
    relative : float or None
        Relative standard uncertainty of the least known leak [-]; None where the doubt of
        one reading is enough to make a leak vanish.

    Returns
    -------
    Finding
    """
    size = "not at all" if relative is None else f"to {100.0 * relative:.0f} % only"
    return Finding(
        code="zone-pressure/unsure",
        severity=Severity.NOTE,
        says=(
            f"The readings give the size of the leaks {size}. Read with two sizes of hole, so"
            " that the zone lies well away from 0 and from the house pressure both times."
        ),
        value=relative,
        limit=UNSURE,
        unit="-",
        source="ours, by propagation of the readings' uncertainty",
        about=test.space,
    )


def judge_flow_rise(test: ZonePressureTest, rise: float, uncertainty: float) -> tuple[Finding, ...]:
    """Return the doubt about a rise of fan flow within its own scatter.

    Parameters
    ----------
    test : ZonePressureTest
        Readings before the hatch was opened.
    rise : float
        Flow with the hatch open less that with it shut [m³/s].
    uncertainty : float
        Standard uncertainty of that difference [m³/s].

    Returns
    -------
    tuple of Finding
        Empty where the rise is clear.
    """
    if rise >= MARGIN * uncertainty > 0.0:
        return ()
    return (
        Finding(
            code="zone-pressure/flow-rise",
            severity=Severity.NOTE,
            says=(
                "The fan gained hardly more than two readings of one flow differ by, so the"
                " leaks cannot be sized from it. Use a measured hole instead."
            ),
            value=rise,
            limit=MARGIN * uncertainty,
            unit="m³/s",
            source=SERIES,
            about=test.space,
        ),
    )


def _finding(
    test: ZonePressureTest,
    code: str,
    says: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    source: str = SERIES,
) -> Finding:
    return Finding(
        code=f"zone-pressure/{code}",
        severity=Severity.NOTE,
        says=says,
        value=value,
        limit=limit,
        unit="Pa" if value is not None else "",
        source=source,
        about=test.space,
    )
