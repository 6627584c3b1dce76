"""Print reduced tests in the words of the report's annex."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.cli.show import display_system, print_table, print_wrapped
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
            print_table(table["caption"], table["columns"], table["rows"])
        for doubt in page["findings"]:
            source = f" [{doubt['source']}]" if doubt["source"] else ""
            print_wrapped(f"{doubt['severity']}: {doubt['says']}{source}", system=system)
        print()
