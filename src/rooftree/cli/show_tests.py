"""Print reduced tests in the words of the report's annex."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.cli.show import display_system, print_wrapped
from rooftree.papers.report.annex import pages_of

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.job.reduction import Reductions


def print_tests(job: Job, reductions: Reductions, *, metric: bool) -> None:
    """Print every test with method, readings, results and doubts."""
    for page in pages_of(job, reductions, display_system(metric=metric)):
        print(page["name"])
        print_wrapped(page["method"])
        for row in page["rows"]:
            print_wrapped(f"{row['name']}: {row['value']}")
        _print_stations(page["stations"])
        for doubt in page["findings"]:
            source = f" [{doubt['source']}]" if doubt["source"] else ""
            print_wrapped(f"{doubt['severity']}: {doubt['says']}{source}")
        print()


def _print_stations(stations: list[dict[str, Any]]) -> None:
    if not stations:
        return
    print(f"  {'read, Pa':>10}{'induced, Pa':>13}{'flow':>12}{'off the curve':>16}")
    for station in stations:
        print(
            f"  {station['pressure']:>10}{station['induced']:>13}{station['flow']:>12}"
            f"{station['off']:>16}"
        )
