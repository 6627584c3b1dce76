"""What a plan says, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.web.rendering import money, money_range

if TYPE_CHECKING:
    from rooftree.actions.planning import PlanTask
    from rooftree.plan.model import Comparison


def saved_range(task: PlanTask | None) -> str:
    """Return the savings of a year when uncertain measures come out least and most effective."""
    plan = task.result if task is not None else None
    if plan is None or plan.whole_low is None or plan.whole_high is None:
        return ""
    ends = sorted((plan.whole_low.money_saved, plan.whole_high.money_saved))
    span = money_range(*ends)
    return f"likely {span}" if " to " in span else ""


def say(comparison: Comparison, count: int) -> str:
    """Return in one sentence what the measures that count do for a year's cost."""
    if count <= 0 and comparison.blocked:
        return "Nothing that is switched on counts yet: something must come first."
    if count <= 0:
        return "Nothing is switched on: this is the house as found."
    subject = "This measure" if count == 1 else f"These {count} measures together"
    saved = comparison.effect.money_saved
    does = f"save about {money(saved)}" if saved >= 0 else f"cost about {money(-saved)} more"
    verb = does.replace("save", "saves").replace("cost", "costs") if count == 1 else does
    cost = money_range(comparison.cost_low, comparison.cost_high)
    return f"{subject} {verb} a year, for {cost} once."


def plain_name(station: str) -> str:
    """Return the name of a weather station without shouting.

    Examples
    --------
    >>> plain_name("GREENSBORO PIEDMONT TRIAD"), plain_name("Denver Intl AP")
    ('Greensboro Piedmont Triad', 'Denver Intl AP')
    """
    return station.title() if station.isupper() else station
