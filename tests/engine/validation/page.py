"""The page `docs/reference/validation.md`, made from what the tests of this folder computed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.validation import analytic_cases as analytic
from engine.validation import fabric_ranges, older_room, residential_ranges
from engine.validation.checks import LEDGER

if TYPE_CHECKING:
    from engine.validation.checks import Check, Suite

_ALL: tuple[Suite, ...] = (
    fabric_ranges.SUITE, older_room.SUITE, residential_ranges.SUITE, analytic.CONDUCTION,
    analytic.GAINS, analytic.CUBE, analytic.STORAGE, analytic.AIR, analytic.FURNACE, analytic.SLAB,
    analytic.DRIVERS,
)  # fmt: skip
SUITES = tuple(suite for suite in _ALL if suite.checks)

HEAD = """# Validation

Every number of the engine that is held against a published suite, an analytic or an exact
answer. Made by the tests themselves (`make docs`).

A result is *inside* if it lies in the range to the last printed digit of the range; every
*outside* is listed with its reason, and a test fails once its reason has become untrue. No
constant was fitted to a range; what was changed with the results in view is told in the suite's
note. *Known by* says how the published numbers were obtained. The suites need
typical years that are not part of the project; their tests skip where those are absent.
"""

COLUMNS = ("Case", "Quantity", "Unit", "Ours", "Low", "High", "")


def row(*cells: str) -> str:
    """Return one row of a table."""
    return "| " + " | ".join(cells) + " |"


def check_row(check: Check, value: float) -> str:
    """Return the row of a check."""
    verdict = "inside" if check.holds(value) else "**outside**"
    numbers = (check.shown(each) for each in (value, check.low, check.high))
    return row(check.case, check.quantity, check.unit, *numbers, verdict)


def summary() -> list[str]:
    """Return how many checks of each suite lie inside."""
    lines = [row("Suite", "Checks", "Inside", "Outside"), row("---", "---", "---", "---")]
    for suite in SUITES:
        inside = sum(check.holds(LEDGER[check]) for check in suite.checks)
        count = len(suite.checks)
        lines.append(row(suite.title, str(count), str(inside), str(count - inside)))
    return lines


def reasons(suite: Suite) -> list[str]:
    """Return what lies outside, gathered by reason."""
    gathered: dict[str, list[Check]] = {}
    for check in suite.checks:
        if check.reason:
            gathered.setdefault(check.reason, []).append(check)
    return [
        f"- {', '.join(str(check) for check in checks)}: {reason}."
        for reason, checks in gathered.items()
    ]


def section(suite: Suite) -> str:
    """Return the section of a suite."""
    outside = reasons(suite)
    said = ["", "Outside:", "", *outside] if outside else []
    lines = [
        f"## {suite.title}", "", f"{suite.source}. Known by: {suite.read}.", "", suite.note, *said,
        "", row(*COLUMNS), row(*("---",) * len(COLUMNS)),
        *(check_row(check, LEDGER[check]) for check in suite.checks),
    ]  # fmt: skip
    return "\n".join(lines)


def missing_checks() -> list[Check]:
    """Return the checks that did not run."""
    return [check for suite in SUITES for check in suite.checks if check not in LEDGER]


def render_page() -> str:
    """Return the page; every check must have run."""
    return "\n\n".join([HEAD.strip(), "\n".join(summary()), *map(section, SUITES)]) + "\n"
