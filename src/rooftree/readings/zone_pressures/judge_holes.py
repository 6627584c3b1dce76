"""Judge the second half of a zone test: what was opened, what it changed, was it closed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.zone_pressures.judge import DISAGREEING, MARGIN, zone_finding
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.zone_pressures.readings import AddedHoleTest, OpenedHatchTest

UNSURE = 0.5
"""Relative standard uncertainty above which the size of a leak is hardly known [-]; ours."""

HELD = 3.0
"""Change of the house pressure between the two readings that is worth a word [Pa]; ours."""


def judge_closed(test: AddedHoleTest | OpenedHatchTest) -> tuple[Finding, ...]:
    """Return the doubt whether what was opened is closed again.

    Parameters
    ----------
    test : AddedHoleTest or OpenedHatchTest
        Readings.

    Returns
    -------
    tuple of Finding
        Empty where somebody confirmed it and the zone reads as before, if it was read.
    """
    zone, read = test.before, test.pressure_closed
    if read is not None:
        away = abs(read - test.zone_pressure)
        distance = away / (test.pressure_uncertainty * math.sqrt(2.0))
        if distance > DISAGREEING:
            sure = sureness(probability_within(distance))
            says = (
                f"After closing, the zone reads {read:.1f} Pa and not {test.zone_pressure:.1f} Pa"
                f" as before. {sure.capitalize()}: it is still open or not tight. Close it, read"
                " again, and repeat whatever was measured since."
            )
            limit = DISAGREEING * test.pressure_uncertainty * math.sqrt(2.0)
            return (zone_finding(zone, "not-restored", says, value=away, limit=limit),)
    if test.closed:
        return ()
    says = (
        "The hole or hatch opened for this test was not confirmed closed: every later test"
        " depends on it. Close it now, and read the zone once more to prove it."
    )
    return (zone_finding(zone, "hole-open", says, source="common practice"),)


def judge_change(test: AddedHoleTest | OpenedHatchTest, change: float) -> tuple[Finding, ...]:
    """Return the doubt about a change of zone pressure that is hardly one.

    Parameters
    ----------
    test : AddedHoleTest or OpenedHatchTest
        Readings.
    change : float
        Fall or rise of the zone pressure in the direction that the change should give
        [Pa]; negative where it went the other way.

    Returns
    -------
    tuple of Finding
        Empty where the change is clear.
    """
    needed = MARGIN * test.pressure_uncertainty * math.sqrt(2.0)
    if change >= needed:
        return ()
    says = (
        f"Opening it changed the zone's pressure by {change:.1f} Pa, and {needed:.1f} Pa are"
        " needed to tell the size of the leaks. Open a larger hole, or look whether it"
        " was on the other side of the zone."
    )
    return (zone_finding(test.before, "small-change", says, value=change, limit=needed),)


def judge_held(test: AddedHoleTest | OpenedHatchTest) -> tuple[Finding, ...]:
    """Return the note that the house was not brought back to its pressure.

    Parameters
    ----------
    test : AddedHoleTest or OpenedHatchTest
        Readings.

    Returns
    -------
    tuple of Finding
        Empty where it was, or where nobody read it.
    """
    if test.house_pressure_after is None:
        return ()
    away = abs(test.house_pressure_after) - abs(test.house_pressure)
    if abs(away) <= HELD:
        return ()
    says = (
        f"The house stood {away:+.1f} Pa from where it was before the opening. The reduction"
        " allows for it; bring the fan back to one pressure and read again to be surer."
    )
    return (zone_finding(test.before, "not-held", says, value=away, limit=HELD, source="ours"),)


def judge_unsure(test: AddedHoleTest | OpenedHatchTest, relative: float | None) -> Finding:
    """Return the doubt about leaks that the readings hardly give.

    Parameters
    ----------
    test : AddedHoleTest or OpenedHatchTest
        Readings.
    relative : float or None
        Relative standard uncertainty of the least known leak [-]; None where the readings
        leave it without any bound.

    Returns
    -------
    Finding
    """
    size = "not at all" if relative is None else f"to {100.0 * relative:.0f} % only"
    says = (
        f"The readings give the size of a leak {size}. Read with two sizes of hole, so"
        " that the zone lies well away from 0 and from the house pressure both times."
    )
    source = "ours, by propagation of the readings' uncertainty"
    return zone_finding(
        test.before, "unsure", says, value=relative, limit=UNSURE, unit="-", source=source
    )


def judge_flow_rise(test: OpenedHatchTest, rise: float, uncertainty: float) -> tuple[Finding, ...]:
    """Return the doubt about a rise of fan flow within its own scatter.

    Parameters
    ----------
    test : OpenedHatchTest
        Readings.
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
    says = (
        f"The fan gained {both(rise, Kind.FLOW)}, hardly more than the"
        f" {both(uncertainty, Kind.FLOW)} by which two readings of one flow differ, so the leaks"
        " cannot be sized from it. Open a larger hatch, or use a measured hole instead."
    )
    limit = MARGIN * uncertainty
    return (zone_finding(test.before, "flow-rise", says, value=rise, limit=limit, unit="m³/s"),)


def judge_hole_size(test: OpenedHatchTest, share: Propagated) -> tuple[Finding, ...]:
    """Return the doubt about an opening that passes less or more than its area lets through.

    Parameters
    ----------
    test : OpenedHatchTest
        Readings, with the area of the hatch.
    share : Propagated
        Flow through the hatch by the balance of the zone over that by its area [-].

    Returns
    -------
    tuple of Finding
        Empty where both agree.
    """
    low, high = share.limits(0.99)
    if low <= 1.0 <= high:
        return ()
    more = "more" if share.value > 1.0 else "less"
    says = (
        f"By fan and pressures the hatch passes {share.value:.1f} times what its area lets"
        f" through. Likely: something else was opened or moved at the same time, the area is"
        f" mistyped, or the zone has another way into the house that passes {more} now. Measure"
        " the opening again and repeat both readings."
    )
    return (
        zone_finding(test.before, "hole-disagrees", says, value=share.value, limit=1.0, unit="-"),
    )
