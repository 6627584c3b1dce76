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
    system = display_system(metric=metric)
    for page in pages_of(job, reductions, system):
        print(page["name"])
        print_wrapped(page["method"], system=system)
        for row in page["rows"]:
            print_wrapped(f"{row['name']}: {row['value']}", system=system)
        for table in page["tables"]:
            _print_table(table)
        for doubt in page["findings"]:
            source = f" [{doubt['source']}]" if doubt["source"] else ""
            print_wrapped(f"{doubt['severity']}: {doubt['says']}{source}", system=system)
        print()


def _print_table(table: dict[str, Any]) -> None:
    """Print a list of results, each column as wide as its widest cell."""
    lines = [table["columns"], *table["rows"]]
    widths = [max(len(cell) for cell in column) for column in zip(*lines, strict=True)]
    print(f"  {table['caption']}")
    for first, *rest in lines:
        cells = [f"{cell:>{width}}" for cell, width in zip(rest, widths[1:], strict=True)]
        print("    " + "  ".join([f"{first:<{widths[0]}}", *cells]).rstrip())
