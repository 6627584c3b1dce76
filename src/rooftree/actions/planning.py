"""Make the staged plan of a job in the background, and compare measures at once."""

from __future__ import annotations

from dataclasses import dataclass, field
from threading import Event, Lock, Thread
from typing import TYPE_CHECKING

from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.simulation import case_key, case_of, simulate_job
from rooftree.actions.year import weather_of
from rooftree.errors import RooftreeError
from rooftree.job.reduction import TEST_OUT
from rooftree.plan import PlanCancelledError, PlanSettings, compare_measures, make_plan
from rooftree.readings.combustion import CombustionTest

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.job import Job
    from rooftree.plan.model import Comparison, Plan

RUNNING, DONE, FAILED, CANCELLED = "running", "done", "failed", "cancelled"


@dataclass(slots=True)
class PlanTask:
    """A plan that is being made, or was.

    Attributes
    ----------
    state : str
        ``"running"``, ``"done"``, ``"failed"`` or ``"cancelled"``.
    done, total : int
        Houses simulated, and how many there are to simulate.
    message : str
        What it does now, or why it failed.
    result : Plan or None
        The plan, once it is done.
    """

    state: str = RUNNING
    done: int = 0
    total: int = 0
    message: str = "Preparing"
    result: Plan | None = None
    stopped: Event = field(default_factory=Event)
    thread: Thread | None = None

    def cancel(self) -> None:
        """Stop as soon as the houses in hand are done; nothing is kept."""
        self.stopped.set()
        if self.state == RUNNING:
            self.message = "Stopping"

    def tell(self, done: int, total: int) -> None:
        """Note how far it is."""
        self.done, self.total = done, total
        if not self.stopped.is_set():
            self.message = "Simulating packages"


_TASKS: Kept[PlanTask] = Kept(8)
_STARTING = Lock()
"""Two pages that ask at once get the same task."""


def plan_settings(job: Job) -> PlanSettings:
    """Return what the plan of a job is made for.

    Parameters
    ----------
    job : Job
        With its budget and the owner's decisions.

    Returns
    -------
    PlanSettings
        The worst case measured at a burner of the house as found scales the predicted ones.
    """
    after = {visit.id for visit in job.visits if visit.purpose == TEST_OUT}
    pulls = [
        test.reading.baseline_pressure - test.reading.worst_pressure
        for test in job.tests
        if isinstance(test.reading, CombustionTest) and test.visit not in after
    ]
    worst = max(pulls, default=0.0)
    return PlanSettings(
        budget=job.budget,
        wanted=frozenset(d.measure for d in job.decisions if d.choice == "accepted"),
        declined=frozenset(d.measure for d in job.decisions if d.choice == "declined"),
        measured_depressurization=worst if worst > 0.0 else None,
    )


def plan_job(
    job: Job,
    *,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Plan:
    """Make the staged plan of a job, here and now.

    Parameters
    ----------
    job : Job
        With its measures.
    progress : callable or None
        Told how many houses of how many are simulated.
    cancelled : callable or None
        Asked whether to stop.

    Returns
    -------
    Plan

    Raises
    ------
    PlanError
        If measures or settings contradict each other.
    PlanCancelledError
        If it was stopped.
    """
    case = case_of(job)
    return make_plan(
        case.house,
        job.measures,
        case.gates,
        weather_of(job),
        job.tariff,
        settings=plan_settings(job),
        progress=progress,
        cancelled=cancelled,
    )


def start_plan(job: Job) -> PlanTask:
    """Start the plan of a job in the background, unless it runs or is made already.

    Parameters
    ----------
    job : Job
        With its measures.

    Returns
    -------
    PlanTask
    """
    with _STARTING:
        task = plan_task(job)
        if task is not None and task.state in (RUNNING, DONE):
            return task
        task = PlanTask()
        _TASKS.put(_key(job), task)
        task.thread = Thread(target=_run, args=(job, task), daemon=True, name="plan")
        task.thread.start()
        return task


def plan_task(job: Job) -> PlanTask | None:
    """Return the plan started for a job as it stands, or None.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    PlanTask or None
    """
    return _TASKS.peek(_key(job))


def keep_plan(job: Job, plan: Plan) -> None:
    """Keep a plan made elsewhere in this process, so that the pages show it at once.

    Parameters
    ----------
    job : Job
        Whose plan it is.
    plan : Plan
        Made from the job as it stands.
    """
    _TASKS.put(_key(job), PlanTask(state=DONE, message="", result=plan))


def compare(job: Job, chosen: frozenset[str]) -> Comparison:
    """Run the year again with some measures.

    Parameters
    ----------
    job : Job
        Any.
    chosen : frozenset of str
        Ids of measures.

    Returns
    -------
    Comparison
    """
    case = case_of(job)
    return compare_measures(
        case.house,
        job.measures,
        chosen,
        case.gates,
        weather_of(job),
        job.tariff,
        settings=plan_settings(job),
        before=simulate_job(job),
    )


def _key(job: Job) -> str:
    return fingerprint(
        case_key(job), job.weather, job.measures, job.decisions, job.budget, job.tariff
    )


def _run(job: Job, task: PlanTask) -> None:
    """Make the plan; whatever goes wrong is told by the task, for nobody waits here."""
    try:
        task.result = plan_job(job, progress=task.tell, cancelled=task.stopped.is_set)
        task.state, task.message = DONE, ""
    except PlanCancelledError:
        task.state, task.message = CANCELLED, "stopped"
    except RooftreeError as error:
        task.state, task.message = FAILED, str(error)
    except Exception as error:
        task.state, task.message = FAILED, f"unexpected: {error}"
        raise
