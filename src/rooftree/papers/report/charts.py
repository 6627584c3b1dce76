"""The energy chart of the report, as SVG with a title that says what it shows.

Drawn with the pen of the section: a chart library would take longer to start than the
whole report takes to set.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.house import EndUse, Fuel
from rooftree.papers.pen import LIGHT, Pen
from rooftree.units import DisplaySystem, Kind, show, shown_unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.engine.results import YearResult
    from rooftree.plan.model import Plan

FOUND, PLANNED = "as found", "after the plan"

_UNITS = {"MMBtu": "million Btu"}
"""Names of units in full."""

_SIZE_OF_UNIT = {DisplaySystem.IP: 1.1e9, DisplaySystem.SI: 3.6e6}
"""Size of energy that is shown in the unit of the chart: one unit for all its bars [J]."""

_WIDTH, _NAMES, _NUMBERS = 540.0, 214.0, 70.0
"""Width of the chart, of its column of names, and of the room for the longest bar's number."""

_OUTLINE: dict[str, str | float] = {
    "fill": LIGHT.paper,
    "stroke": LIGHT.ink,
    "stroke_width": 1.2,
}
_FILLED: dict[str, str | float] = {
    "fill": LIGHT.cool,
    "stroke": LIGHT.cool,
    "stroke_width": 1.2,
}

_HEAD, _ROW, _BAR = 34.0, 41.0, 18.0
_SIZE = 16.0


def energy_chart(plan: Plan, system: DisplaySystem) -> dict[str, Any]:
    """Return the chart of energy bought by use, before and after the plan.

    Parameters
    ----------
    plan : Plan
        With at least the house as found.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    dict
        With svg, title, alt, unit, and rows of the numbers by use and by fuel.
    """
    before, after = plan.before, plan.stages[-1].year if plan.stages else plan.before
    uses = uses_of(before, after)
    title = energy_title(before, after)
    unit = shown_unit(Kind.ENERGY, system, size=_SIZE_OF_UNIT[system])
    bars = [
        (
            use.value,
            unit.from_core(before.bought(use=use)),
            unit.from_core(after.bought(use=use)),
        )
        for use in uses
    ]
    rows = [{"use": use, "before": figure(was), "after": figure(then)} for use, was, then in bars]
    numbers = "; ".join(f"{r['use']}: {r['before']}, then {r['after']}" for r in rows)
    named = _UNITS.get(unit.name, unit.name)
    text = f"Bars of the energy bought in a year by use, in {named}. {numbers}."
    return {
        "svg": draw_bars(bars, title, text, named),
        "title": title,
        "alt": text,
        "unit": named,
        "rows": rows,
        "fuels": _fuels(before, after, system),
    }


def figure(amount: float) -> str:
    """Return a number to two significant digits.

    Parameters
    ----------
    amount : float
        In any unit.

    Returns
    -------
    str
        Such as ``"5,200"``, ``"58"`` or ``"0.06"``.

    Examples
    --------
    >>> figure(5234.0), figure(57.7), figure(0.0604), figure(0.0)
    ('5,200', '58', '0.06', '0')
    """
    return f"{float(f'{amount:.2g}'):,g}"


def uses_of(before: YearResult, after: YearResult) -> list[EndUse]:
    """Return what energy is bought for, largest use as found first.

    Parameters
    ----------
    before, after : YearResult
        As found and after the plan.

    Returns
    -------
    list of EndUse
    """
    uses = {use for year in (before, after) for _, use in year.energy if year.bought(use=use)}
    return sorted(uses, key=lambda use: (-before.bought(use=use), use.value))


def energy_title(before: YearResult, after: YearResult) -> str:
    """Return what the energy chart shows, as a sentence.

    Parameters
    ----------
    before, after : YearResult
        As found and after the plan.

    Returns
    -------
    str
    """
    cut = 1.0 - after.bought() / before.bought() if before.bought() else 0.0
    if abs(cut) < 0.01:
        return "The house buys about as much energy after the plan as before"
    direction = "less" if cut > 0.0 else "more"
    return f"The house buys about {100.0 * abs(cut):.0f} % {direction} energy after the plan"


def _fuels(before: YearResult, after: YearResult, system: DisplaySystem) -> list[dict[str, str]]:
    """Return each fuel before and after, in the unit in which it is billed."""
    rows = []
    for fuel in Fuel:
        amounts = [year.bought(fuel) for year in (before, after)]
        if any(amounts):
            kind = Kind.ELECTRICITY if fuel is Fuel.ELECTRICITY else Kind.FUEL
            was, then = (show(amount, kind, system, digits=2) for amount in amounts)
            rows.append({"use": fuel.value, "before": was, "after": then})
    return rows


def draw_bars(rows: Sequence[tuple[str, float, float]], title: str, text: str, unit: str) -> str:
    """Return bars by use: an outline as found, a filled bar after the plan.

    The two differ in grey too, and each bar carries its number, so that no axis is needed.

    Parameters
    ----------
    rows : sequence of (str, float, float)
        Name, and energy before and after, in `unit`.
    title : str
        What the chart shows.
    text : str
        What stands for it.
    unit : str
        Of the numbers.

    Returns
    -------
    str
        An ``svg`` element.
    """
    largest = max((max(before, after) for _, before, after in rows), default=0.0) or 1.0
    pen = Pen(_WIDTH, _HEAD + _ROW * len(rows) + 6.0, LIGHT, title, text)
    pen.box(0.0, 0.0, pen.width, pen.height, fill=pen.ink.paper)
    _legend(pen, unit)
    for place, (name, before, after) in enumerate(rows):
        top = _HEAD + _ROW * place
        pen.words(_NAMES - 12.0, top + _BAR + 5.0, name, size=_SIZE, anchor="end")
        for down, amount, look in ((0.0, before, _OUTLINE), (_BAR, after, _FILLED)):
            length = (_WIDTH - _NAMES - _NUMBERS) * amount / largest
            pen.box(_NAMES, top + down + 1.5, max(length, 1.0), _BAR - 3.0, **look)
            level = top + down + _BAR - 4.0
            pen.words(_NAMES + length + 8.0, level, figure(amount), size=_SIZE - 1.0)
    pen.line(_NAMES, _HEAD - 4.0, _NAMES, pen.height - 6.0, stroke=pen.ink.ink, stroke_width=1.2)
    return pen.svg()


def _legend(pen: Pen, unit: str) -> None:
    pen.words(_NAMES - 12.0, 17.0, f"{unit} a year", size=_SIZE - 2.0, anchor="end",
              color=pen.ink.soft)  # fmt: skip
    x = _NAMES
    for words, look in ((FOUND, _OUTLINE), (PLANNED, _FILLED)):
        pen.box(x, 6.0, 22.0, 12.0, **look)
        x = pen.words(x + 30.0, 17.0, words, size=_SIZE).right + 24.0
