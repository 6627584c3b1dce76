"""Plan: measures as switches that re-run the year, and the staged plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from rooftree.actions import planning
from rooftree.actions.year import weather_of
from rooftree.web.charts import Drawing, monthly_chart
from rooftree.web.display import display_of
from rooftree.web.energy import FuelYear, fuel_years
from rooftree.web.plan_words import plain_name, saved_range, say
from rooftree.web.rendering import render, wants_fragment
from rooftree.web.requests import job_name, job_of

if TYPE_CHECKING:
    from starlette.requests import Request

    from rooftree.actions.planning import PlanTask
    from rooftree.job import Job
    from rooftree.plan.model import Comparison


@dataclass(frozen=True, slots=True)
class ComparisonPart:
    """What the chosen measures change in a year.

    Attributes
    ----------
    job : Job
        The job.
    chosen : frozenset of str
        Ids of the measures that are switched on.
    comparison : Comparison
        The year before and after, blocked measures and checks.
    says : str
        The result in one sentence.
    fuels : tuple of FuelYear
        Each fuel that is bought, before and after.
    charts : tuple of Drawing
        One for each fuel.
    """

    template: ClassVar[str] = "plan_comparison.html"
    job: Job
    chosen: frozenset[str]
    comparison: Comparison
    says: str
    fuels: tuple[FuelYear, ...]
    charts: tuple[Drawing, ...]


@dataclass(frozen=True, slots=True)
class TaskPart:
    """How far the staged plan is, or the plan itself.

    Attributes
    ----------
    job : Job
        The job.
    task : PlanTask or None
        The plan being made or made for this state of the job.
    """

    template: ClassVar[str] = "plan_task.html"
    job: Job
    task: PlanTask | None

    @property
    def saved_range(self) -> str:
        """Return between which sums a year's saving likely lies, where the plan tells it."""
        return saved_range(self.task)


@dataclass(frozen=True, slots=True)
class PlanPage(ComparisonPart):
    """The whole page: both parts.

    Attributes
    ----------
    task : PlanTask or None
        As in `TaskPart`.
    weather : str
        Name of the year of weather.
    """

    template: ClassVar[str] = "plan.html"
    task: PlanTask | None
    weather: str
    title: str = "Plan"
    sheet: str = "plan"

    @property
    def saved_range(self) -> str:
        """Return between which sums a year's saving likely lies, where the plan tells it."""
        return saved_range(self.task)


def show_plan(request: Request) -> Response:
    """Show the switches with what they change, and the staged plan."""
    job = job_of(request)
    task = planning.plan_task(job)
    part = _compared(request, job, _chosen(request, job, task))
    page = PlanPage(
        job=part.job,
        chosen=part.chosen,
        comparison=part.comparison,
        says=part.says,
        fuels=part.fuels,
        charts=part.charts,
        task=task,
        weather=plain_name(weather_of(job).name),
    )
    return render(request, page)


def show_comparison(request: Request) -> Response:
    """Run the year with the measures that are switched on."""
    job = job_of(request)
    response = render(request, _compared(request, job, _chosen(request, job, None)))
    whole_page = request.app.url_path_for("plan", job=job_name(request))
    response.headers["hx-replace-url"] = f"{whole_page}?{request.url.query}"
    return response


def start(request: Request) -> Response:
    """Start the staged plan in the background."""
    job = job_of(request)
    return _task_answer(request, job, planning.start_plan(job))


def progress(request: Request) -> Response:
    """Show how far the staged plan is."""
    job = job_of(request)
    return render(request, TaskPart(job, planning.plan_task(job)))


def cancel(request: Request) -> Response:
    """Stop the staged plan."""
    job = job_of(request)
    task = planning.plan_task(job)
    if task is not None:
        task.cancel()
    return _task_answer(request, job, task)


def _task_answer(request: Request, job: Job, task: PlanTask | None) -> Response:
    if wants_fragment(request):
        return render(request, TaskPart(job, task))
    return RedirectResponse(f"{request.app.url_path_for('plan', job=job.name)}#staged", 303)


def _chosen(request: Request, job: Job, task: PlanTask | None) -> frozenset[str]:
    """Return what is switched on: what the address says, else the plan, else what was accepted."""
    if "chosen" in request.query_params:
        return frozenset(request.query_params.getlist("measure")) & {m.id for m in job.measures}
    if task is not None and task.result is not None:
        return frozenset(step.measure.id for step in task.result.steps)
    return frozenset(one.measure for one in job.decisions if one.choice == "accepted")


def _compared(request: Request, job: Job, chosen: frozenset[str]) -> ComparisonPart:
    comparison = planning.compare(job, chosen)
    fuels = fuel_years(comparison.before, comparison.after)
    system = display_of(request).system
    return ComparisonPart(
        job=job,
        chosen=chosen,
        comparison=comparison,
        says=say(comparison, len(chosen) - len(comparison.blocked)),
        fuels=fuels,
        charts=tuple(monthly_chart(fuel, system) for fuel in fuels),
    )


ROUTES = [
    Route("/jobs/{job}/plan", show_plan, name="plan"),
    Route("/jobs/{job}/plan/compare", show_comparison, name="compare"),
    Route("/jobs/{job}/plan/start", start, methods=["POST"], name="plan_start"),
    Route("/jobs/{job}/plan/progress", progress, name="plan_progress"),
    Route("/jobs/{job}/plan/cancel", cancel, methods=["POST"], name="plan_cancel"),
]
