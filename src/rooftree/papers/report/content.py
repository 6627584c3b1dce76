"""What the owner's report says, as plain words and numbers ready to be set.

Everything that the template shows is prepared here and in the modules beside it, so that
it can be tested as text and so that the template only sets type. The order follows what
people read: the complaint first, then cause, then what to do.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree import __version__
from rooftree.finding import Severity
from rooftree.papers.report.annex import pages_of, sources_of
from rooftree.papers.report.charts import energy_chart
from rooftree.papers.report.front import CAUTIONS, changes, found_sentences, safety_lines
from rooftree.papers.report.record import count_words, known_parts
from rooftree.papers.report.stages import (
    NOT_CERTIFIED,
    about_plan,
    anyway_sentence,
    check_rows,
    kept_for_annex,
    stage_rows,
    step_rows,
)
from rooftree.papers.report.words import day_words, money_range, saving_words
from rooftree.papers.section import draw_section, measured_pressures
from rooftree.papers.section.alternative import describe_section
from rooftree.papers.section.state import breathing_sentence
from rooftree.units import DisplaySystem, told

if TYPE_CHECKING:
    from rooftree.job import Job, Observation
    from rooftree.papers.report.subject import ReportSubject
    from rooftree.plan.model import Plan

__all__ = ["MOST_STEPS", "money_range", "report_content", "saving_words"]

MOST_STEPS = 5
"""Steps on the first page; more and nobody starts."""

_LETTERS = 1.3
"""Words in the section are set larger than on a page: paper shows it at half the size [-]."""

_ORDER = [Severity.STOP, Severity.GATE, Severity.NOTE]

_PAPER = {DisplaySystem.IP: "us-letter", DisplaySystem.SI: "a4"}


def report_content(subject: ReportSubject, system: DisplaySystem) -> dict[str, Any]:
    """Return everything the report says, ready for the template.

    Parameters
    ----------
    subject : ReportSubject
        What it is about.
    system : DisplaySystem
        Units that its reader likes.

    Returns
    -------
    dict
        Of strings, numbers, lists and dicts only.
    """
    content: dict[str, Any] = _in_units(_content(subject, system), system)
    return content


def _in_units(value: Any, system: DisplaySystem) -> Any:
    """Return content with the quantities of its sentences in the reader's units."""
    if isinstance(value, str):
        return told(value, system)
    if isinstance(value, list):
        return [_in_units(one, system) for one in value]
    if isinstance(value, dict):
        return {name: _in_units(one, system) for name, one in value.items()}
    return value


def _content(subject: ReportSubject, system: DisplaySystem) -> dict[str, Any]:
    job, plan = subject.job, subject.plan
    steps = step_rows(plan.steps, calibrated=subject.calibrated)
    return {
        **_frame(subject, system),
        "complaints": [complaint.words for complaint in job.complaints],
        "found": found_sentences(subject, system),
        "steps": steps[:MOST_STEPS],
        "more_steps": max(0, len(steps) - MOST_STEPS),
        "changes": changes(subject, system),
        "cost": money_range(
            sum(stage.cost_low for stage in plan.stages),
            sum(stage.cost_high for stage in plan.stages),
        ),
        "anyway": anyway_sentence(plan),
        "safety": safety_lines(subject),
        "cautions": list(CAUTIONS),
        "findings": [_observation(job, one) for one in _by_severity(job)],
        "section": _section(subject, system),
        "chart": energy_chart(plan, system),
        "stages": stage_rows(plan, calibrated=subject.calibrated),
        "about_plan": about_plan(plan),
        "left_out": [{"title": m.title, "why": why} for m, why in plan.blocked],
        "not_seen": [text for visit in job.visits for text in visit.not_seen],
        **_annex(subject, system),
    }


def _frame(subject: ReportSubject, system: DisplaySystem) -> dict[str, Any]:
    """Return title, names, dates and paper."""
    job = subject.job
    visit = job.visits[0] if job.visits else None
    return {
        "paper": _PAPER[system],
        "title": "What your house needs, and in which order",
        "client": job.client,
        "address": job.address,
        "made": subject.made,
        "made_words": day_words(subject.made),
        "assessor": visit.assessor if visit else "",
        "visit": day_words(visit.date) if visit else "",
        "conditions": visit.conditions if visit else "",
        "invented": _invented(job),
        "version": __version__,
    }


def _invented(job: Job) -> str:
    return "Invented house, people and numbers" if job.invented else ""


def _by_severity(job: Job) -> list[Observation]:
    return sorted(job.observations, key=lambda o: (bool(o.cleared), _ORDER.index(o.severity)))


def _observation(job: Job, observation: Observation) -> dict[str, str]:
    places = {place.id: place.name for place in job.places}
    return {
        "place": places.get(observation.place, observation.place),
        "severity": observation.severity.value,
        "says": observation.says,
        "cause": observation.cause,
        "consequence": observation.consequence,
        "remedy": observation.remedy,
        "proof": observation.proof,
        "cleared": observation.cleared,
    }


def _section(subject: ReportSubject, system: DisplaySystem) -> dict[str, str]:
    """Return the drawing without the headings that the page sets itself."""
    pressures = measured_pressures(subject.house, [test.reading for test in subject.job.tests])
    return {
        "title": breathing_sentence(subject.house, subject.state.flow),
        "when": subject.state.when,
        "alt": describe_section(subject.house, subject.state, system, pressures),
        "svg": draw_section(
            subject.house,
            subject.state,
            system=system,
            pressures=pressures,
            headed=False,
            letters=_LETTERS,
        ),
    }


def _later_checks(plan: Plan) -> list[dict[str, Any]]:
    """Return the checks that the plan leaves to the annex, each source told once."""
    told: set[str] = set()
    stages = []
    for stage in plan.stages:
        checks = check_rows(kept_for_annex(stage))
        for check in checks:
            source = check["source"]
            check["source"] = "" if source in told else source
            told.add(source)
        if checks:
            stages.append({"name": stage.name, "checks": checks})
    return stages


def _annex(subject: ReportSubject, system: DisplaySystem) -> dict[str, Any]:
    job, plan = subject.job, subject.plan
    return {
        "tests": pages_of(job, subject.reductions, system),
        "stage_checks": _later_checks(plan),
        "instruments": [
            {
                "name": one.name,
                "kind": one.kind,
                "calibrated": day_words(one.calibrated) or "not recorded",
                "due": day_words(one.due) or "not recorded",
                "overdue": bool(one.due) and bool(job.visits) and one.due < job.visits[0].date,
            }
            for one in job.instruments
        ],
        "known": known_parts(job),
        "known_count": count_words(job),
        "sources": sources_of(subject.reductions, plan),
        "not_certified": NOT_CERTIFIED,
        "packages": f"{len(plan.packages):,}",
        "weather": job.weather,
        "prices": job.tariff.source,
        "calibrated": subject.calibrated,
    }
