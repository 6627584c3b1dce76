"""Print a staged plan in the words of the report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.cli.show import print_wrapped
from rooftree.papers.report.stages import about_plan, likely_whole, stage_rows
from rooftree.papers.report.words import likely_saving_words

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.plan.model import Plan


def print_plan(job: Job, plan: Plan) -> None:
    """Print the stages with their steps, the reason for each one's place, and their checks."""
    print(f"{job.name}: plan out of {len(plan.packages):,} simulated packages")
    for stage in stage_rows(plan, calibrated=False):
        print(f"\n{stage['number']}. {stage['name']} ({stage['cost']})")
        for step in stage["steps"]:
            print_wrapped(f"- {step['title']} ({step['cost']}, {step['trade']})", "   ")
            print_wrapped(f"{step['in_place']} a year here; {step['alone']} alone", "     ")
            print_wrapped(step["why"], "     ")
        for one in stage["checks"]:
            print_wrapped(f"{one['severity']}: {one['says']}", "   ")
    print()
    for measure, why in plan.blocked:
        print_wrapped(f"Not {measure.title}: {why}", "")
    for sentence in about_plan(plan):
        print_wrapped(sentence, "")
    print_wrapped(
        f"All together {likely_saving_words(*likely_whole(plan, calibrated=False))} a year; the "
        f"model alone says ${plan.whole.money_saved:,.0f}.",
        "",
    )
