"""A plan in the background: start, progress, cancel, failure; and measures compared at once."""

from __future__ import annotations

import threading
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from rooftree.actions import planning
from rooftree.actions.planning import (
    CANCELLED,
    DONE,
    FAILED,
    RUNNING,
    PlanTask,
    compare,
    keep_plan,
    plan_job,
    plan_settings,
    plan_task,
    start_plan,
)
from rooftree.actions.simulation import simulate_job
from rooftree.actions.year import weather_of
from rooftree.engine import simulate
from rooftree.errors import PlanError
from rooftree.job import Decision, Visit
from rooftree.plan import PlanCancelledError
from rooftree.readings.combustion import CombustionTest

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.plan.model import Plan


@pytest.fixture(autouse=True)
def _no_tasks() -> None:
    """Begin each test without plans made before."""
    planning._TASKS.clear()


def finished(task: PlanTask) -> PlanTask:
    """Wait for a task's thread."""
    assert task.thread is not None
    task.thread.join(timeout=120.0)
    assert not task.thread.is_alive()
    return task


@pytest.fixture(scope="module")
def plan(job: Job) -> Plan:
    """Return the plan of the demo with few measures."""
    return plan_job(job)


def test_there_is_no_task_before_one_is_started(job: Job) -> None:
    """A job nobody planned has no task."""
    assert plan_task(job) is None


def test_a_started_plan_comes_to_the_plan_made_here_and_now(job: Job, plan: Plan) -> None:
    """The background changes nothing about the plan."""
    task = finished(start_plan(job))
    assert task.state == DONE
    assert task.message == ""
    assert task.result is not None
    assert [s.measure.id for s in task.result.steps] == [s.measure.id for s in plan.steps]
    assert task.result.whole == plan.whole
    assert plan_task(job) is task


def test_progress_grows_to_the_total(job: Job) -> None:
    """Houses done never go back, and end at the total."""
    told: list[tuple[int, int]] = []
    plan_job(job, progress=lambda done, total: told.append((done, total)))
    done = [d for d, _ in told]
    assert done == sorted(done)
    assert told[-1][0] == told[-1][1]


def test_a_task_tells_how_far_it_is(job: Job) -> None:
    """When it is done, it has counted all its houses."""
    task = finished(start_plan(job))
    assert task.done == task.total > 0


def test_a_plan_that_was_made_is_not_made_again(job: Job) -> None:
    """Starting twice gives the same task."""
    task = finished(start_plan(job))
    assert start_plan(job) is task


def test_a_changed_job_has_a_plan_of_its_own(job: Job) -> None:
    """Another budget is another plan; so is a decision of the owner, or another weather."""
    keep_plan(job, finished(start_plan(job)).result or pytest.fail("no plan"))
    assert plan_task(replace(job, budget=100.0)) is None
    assert plan_task(replace(job, weather="elsewhere")) is None
    assert plan_task(replace(job, decisions=(Decision("attic", "declined"),))) is None
    assert plan_task(replace(job, client="Somebody else")) is not None


def test_a_kept_plan_is_done_at_once(job: Job, plan: Plan) -> None:
    """A plan made by a command is there for the pages."""
    keep_plan(job, plan)
    task = plan_task(job)
    assert task is not None
    assert task.state == DONE
    assert task.result is plan


def hold_until_stopped(monkeypatch: pytest.MonkeyPatch, job: Job) -> None:
    """Let plans begin only once they were stopped, so that no test depends on luck."""
    make_plan = planning.make_plan

    def held(*arguments: object, **named: object) -> Plan:
        task = plan_task(job)
        assert task is not None
        assert task.stopped.wait(timeout=60.0)
        return make_plan(*arguments, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(planning, "make_plan", held)


def test_a_cancelled_plan_keeps_nothing(job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stopped plan says so, has no result, and can be started anew."""
    with monkeypatch.context() as patch:
        hold_until_stopped(patch, job)
        task = start_plan(job)
        assert task.state == RUNNING
        assert start_plan(job) is task
        task.cancel()
        assert task.message == "Stopping"
        finished(task)
    assert task.state == CANCELLED
    assert task.result is None
    again = start_plan(job)
    assert again is not task
    assert finished(again).state == DONE


def test_a_plan_stopped_here_raises(job: Job) -> None:
    """A command that is stopped gets an error, never half a plan."""
    with pytest.raises(PlanCancelledError, match=r"^the plan was stopped; start it again"):
        plan_job(job, cancelled=lambda: True)


def test_a_plan_that_cannot_be_made_says_why(job: Job) -> None:
    """Measures that contradict each other fail the task with the reason."""
    twice = replace(job, measures=(*job.measures, job.measures[0]))
    with pytest.raises(PlanError) as raised:
        plan_job(twice)
    task = finished(start_plan(twice))
    assert task.state == FAILED
    assert task.message == str(raised.value)
    assert task.result is None


def test_a_failed_plan_can_be_started_again(job: Job) -> None:
    """A failure is not kept: the next start tries again."""
    twice = replace(job, measures=(*job.measures, job.measures[0]))
    task = finished(start_plan(twice))
    assert finished(start_plan(twice)) is not task


def test_an_unexpected_failure_is_told_and_raised(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A mistake of ours reaches the page as a message and the console as a trace."""

    def broken(*_: object, **__: object) -> Plan:
        raise ZeroDivisionError("by nothing")

    seen: list[str] = []
    monkeypatch.setattr(planning, "make_plan", broken)
    monkeypatch.setattr(threading, "excepthook", lambda told: seen.append(str(told.exc_value)))
    task = finished(start_plan(job))
    assert task.state == FAILED
    assert task.message == "unexpected: by nothing"
    assert seen == ["by nothing"]


def test_decisions_reach_the_plan(job: Job) -> None:
    """What the owner declined is left out with that reason; what was accepted is in."""
    decided = replace(
        job, decisions=(Decision("attic", "declined"), Decision("ventilation", "accepted"))
    )
    plan = plan_job(decided)
    assert {m.id: why for m, why in plan.blocked}["attic"] == "The owner has declined it."
    assert "ventilation" in {step.measure.id for step in plan.steps}


def test_the_worst_burner_as_found_scales_predictions(job: Job) -> None:
    """The deepest pull of any burner counts, but not one measured after the work."""
    pulls = [
        test.reading.baseline_pressure - test.reading.worst_pressure
        for test in job.tests
        if isinstance(test.reading, CombustionTest)
    ]
    assert plan_settings(job).measured_depressurization == max(pulls)
    after = replace(job, visits=tuple(replace(v, purpose="test-out") for v in job.visits))
    assert plan_settings(after).measured_depressurization is None


def test_comparing_nothing_changes_nothing(job: Job) -> None:
    """With no measure the year after is the year before."""
    nothing = compare(job, frozenset())
    assert nothing.effect.money_saved == 0.0
    assert nothing.cost_low == nothing.cost_high == 0.0
    assert nothing.before is simulate_job(job)


def test_a_comparison_runs_the_year_again(job: Job) -> None:
    """The year after is the simulated year of the house after."""
    chosen = compare(job, frozenset(measure.id for measure in job.measures))
    assert chosen.after.heating_load == simulate(chosen.house, weather_of(job)).heating_load
    assert chosen.after.heating_load < chosen.before.heating_load
    assert chosen.effect.money_saved > 0.0


def test_a_held_back_measure_does_not_count(job: Job) -> None:
    """Air sealing is blocked with the reason by what was found; with the remedies it is not."""
    alone = compare(job, frozenset({"air-sealing"}))
    assert [measure.id for measure, _ in alone.blocked] == ["air-sealing"]
    assert alone.blocked[0][1].startswith("Natural-draft burner inside the house: ")
    assert alone.cost_high == 0.0
    together = compare(job, frozenset(measure.id for measure in job.measures))
    assert together.blocked == ()
    assert together.cost_high == sum(measure.cost_high for measure in job.measures)


def test_visits_after_work_are_another_case(job: Job) -> None:
    """What a visit was for changes which tests count, so nothing computed before is reused."""
    assert plan_task(job) is None
    finished(start_plan(job))
    later = replace(job, visits=(*job.visits, Visit("visit-9", "2026-06-01", "A. N. Assessor")))
    assert plan_task(later) is None
