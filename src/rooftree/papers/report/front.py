"""The first page: what was found, what changes, what is dangerous."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.bills.tariff import cost_of
from rooftree.finding import Severity
from rooftree.house import OUTDOORS, SpaceKind
from rooftree.papers.report.stages import likely_whole
from rooftree.papers.report.words import dollars, money_range
from rooftree.papers.section.state import breathing_sentence
from rooftree.readings.airtightness import hole_in_words
from rooftree.readings.duct_leakage import DuctLeakageResult
from rooftree.units import DisplaySystem, Kind, show

if TYPE_CHECKING:
    from rooftree.engine.results import YearResult
    from rooftree.house import House, Space
    from rooftree.job import Observation
    from rooftree.papers.report.subject import ReportSubject

Row = dict[str, str]

CAUTIONS = (
    (
        "Gas smell or a carbon monoxide alarm: leave at once, and call the gas utility or the fire "
        "service from outside."
    ),
    (
        "Burners, flues and gas lines are for a licensed technician, wiring is for a licensed "
        "electrician; local codes decide."
    ),
    (
        "Paint from before 1978 may hold lead; old insulation, wraps and siding may hold "
        "asbestos. Do not cut, sand or disturb them before they are tested."
    ),
    "Mould, radon, structure and chimneys are for people who are trained and licensed for them.",
    (
        "Attics and crawlspaces are hot, dark and tight: nobody enters alone or against the "
        "warnings of this report."
    ),
)
"""The usual cautions; they stand in every report."""

MOST_FOUND = 5
"""Sentences that explain the house on the first page."""

_DAMP = 0.02
"""Share of the year above 80 % relative humidity from which dampness is told [-]; judgement."""

_HOURS_A_YEAR = 8760.0
_BUFFERS_BELOW = (SpaceKind.CRAWLSPACE, SpaceKind.BASEMENT)


def found_sentences(subject: ReportSubject, system: DisplaySystem) -> list[str]:
    """Return the few sentences that explain the house.

    Parameters
    ----------
    subject : ReportSubject
        What the report is about.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    list of str
        Measured things first, then computed ones, then what was seen.
    """
    sentences = [
        *_air_sentences(subject, system),
        *_duct_sentences(subject),
        *_room_sentences(subject, system),
        *_damp_sentences(subject),
    ]
    seen = [o.says for o in subject.job.observations if not o.cleared]
    return [*sentences, *seen[: max(0, MOST_FOUND - len(sentences))]]


def _air_sentences(subject: ReportSubject, system: DisplaySystem) -> list[str]:
    sentences = []
    air = subject.reductions.airtightness
    if air is not None:
        changes50 = air.sizes.air_changes50
        hole = hole_in_words(air.sizes.equivalent_leakage_area.value, system)
        sentences.append(
            f"All the leaks together are as large as {hole}. With the test fan at 50 Pa, the air "
            f"of the house changed about {changes50.value:.0f} times an hour."
        )
    when = subject.state.when[:1].lower() + subject.state.when[1:]
    sentences.append(f"{breathing_sentence(subject.house, subject.state.flow)} ({when}).")
    return sentences


def _duct_sentences(subject: ReportSubject) -> list[str]:
    shares = [
        100.0 * reduced.result.share.value
        for reduced in subject.reductions.tests
        if isinstance(reduced.result, DuctLeakageResult)
        if reduced.result.to_outdoors and reduced.result.share
    ]
    return [
        f"The ducts leak about {share:.0f} % of the air that the fan moves to the outdoors."
        for share in shares[-1:]
    ]


def _room_sentences(subject: ReportSubject, system: DisplaySystem) -> list[str]:
    """Tell the extremes of each problem room."""
    year = subject.plan.before
    return [
        f"In a typical year the {space.name} falls to "
        f"{_warmth(year.minimum_temperature[k], system)} in its coldest hour and climbs to "
        f"{_warmth(year.maximum_temperature[k], system)} in its hottest (computed)."
        for k, space in _side_rooms(subject.house, year)
    ]


def _damp_sentences(subject: ReportSubject) -> list[str]:
    year = subject.plan.before
    shares = [
        (space.name, float(year.hours_above_80_percent[k]) / _HOURS_A_YEAR)
        for k, space in _spaces(subject.house, year)
        if space.kind in _BUFFERS_BELOW
    ]
    return [
        f"The air of the {name} is damp, above 80 % humidity, for about {100.0 * share:.0f} % of "
        "the year (computed)."
        for name, share in shares
        if share > _DAMP
    ]


def changes(subject: ReportSubject, system: DisplaySystem) -> list[Row]:
    """Return what the plan changes, each with before and after.

    Parameters
    ----------
    subject : ReportSubject
        What the report is about.
    system : DisplaySystem
        Units to show.

    Returns
    -------
    list of dict
        With what, before and after.
    """
    before, after = years_of(subject)
    return [
        _bills(subject),
        *_room_changes(subject.house, before, after, system),
        *_damp_changes(subject.house, before, after),
        _row(
            "Air that leaks in or fans draw in, mean",
            show(before.mean_infiltration, Kind.FLOW, system, digits=2),
            show(after.mean_infiltration, Kind.FLOW, system, digits=2),
        ),
        _row("Of it by crawlspace, attic or garage", _indirect(before), _indirect(after)),
        _carbon(subject),
    ]


def years_of(subject: ReportSubject) -> tuple[YearResult, YearResult]:
    """Return the year as found and the year after the whole plan.

    Parameters
    ----------
    subject : ReportSubject
        What the report is about.

    Returns
    -------
    tuple of YearResult
    """
    plan = subject.plan
    return plan.before, plan.stages[-1].year if plan.stages else plan.before


def _bills(subject: ReportSubject) -> Row:
    low, high = (effect.money_saved for effect in likely_whole(subject.plan, subject.calibrated))
    now = dollars(cost_of(subject.plan.before, subject.job.tariff))
    if low >= 0.0:
        then = f"likely {money_range(low, high)} less"
    elif high <= 0.0:
        then = f"likely {money_range(-high, -low)} more"
    else:
        then = f"between {dollars(high)} less and {dollars(-low)} more"
    return _row("Energy bills in a year (computed)", f"about {now}", then)


def _carbon(subject: ReportSubject) -> Row:
    low, high = (
        effect.emissions_saved / 1000.0 for effect in likely_whole(subject.plan, subject.calibrated)
    )
    if low >= 0.0:
        then = f"likely {low:.1f} to {high:.1f} t less"
    elif high <= 0.0:
        then = f"likely {-high:.1f} to {-low:.1f} t more"
    else:
        then = f"between {high:.1f} t less and {-low:.1f} t more"
    return _row("Carbon dioxide in a year", "", then)


def _room_changes(
    house: House, before: YearResult, after: YearResult, system: DisplaySystem
) -> list[Row]:
    rows = []
    for k, space in _side_rooms(house, before):
        for what, name in (("Coldest", "minimum"), ("Hottest", "maximum")):
            was, then = (getattr(year, f"{name}_temperature")[k] for year in (before, after))
            rows.append(
                _row(
                    f"{what} hour in the {space.name}",
                    _warmth(was, system),
                    _warmth(then, system),
                )
            )
    return rows


def _damp_changes(house: House, before: YearResult, after: YearResult) -> list[Row]:
    return [
        _row(
            f"Time with damp air in the {space.name}",
            *(
                f"{100.0 * float(year.hours_above_80_percent[k]) / _HOURS_A_YEAR:.0f} %"
                for year in (before, after)
            ),
        )
        for k, space in _spaces(house, before)
        if space.kind in _BUFFERS_BELOW
    ]


def _indirect(year: YearResult) -> str:
    """Return the share of the entering air that does not come straight from outdoors."""
    share = sum(part for source, part in year.source_shares.items() if source != OUTDOORS)
    return f"{100.0 * share:.0f} %"


def safety_lines(subject: ReportSubject) -> list[Row]:
    """Return what must not be done, or not yet, gravest first.

    Parameters
    ----------
    subject : ReportSubject
        What the report is about.

    Returns
    -------
    list of dict
        With severity and says.
    """
    findings = (*subject.reductions.findings, *subject.plan.findings)
    stops = [f.says for f in findings if f.severity is Severity.STOP]
    stops += [o.says for o in _standing(subject, Severity.STOP)]
    gates = [f.says for f in subject.reductions.findings if f.severity is Severity.GATE]
    gates += [o.says for o in _standing(subject, Severity.GATE)]
    return [
        {"severity": severity.value, "says": says}
        for severity, group in ((Severity.STOP, stops), (Severity.GATE, gates))
        for says in dict.fromkeys(group)
    ]


def _standing(subject: ReportSubject, severity: Severity) -> list[Observation]:
    return [o for o in subject.job.observations if o.severity is severity and not o.cleared]


def _spaces(house: House, year: YearResult) -> list[tuple[int, Space]]:
    return [(k, house.space(key)) for k, key in enumerate(year.space_ids)]


def _side_rooms(house: House, year: YearResult) -> list[tuple[int, Space]]:
    """Return the living spaces besides the largest: the rooms people complain about."""
    main = max(house.living_spaces, key=lambda space: space.volume).id
    return [
        (k, space)
        for k, space in _spaces(house, year)
        if space.kind is SpaceKind.LIVING and space.id != main
    ]


def _warmth(kelvin: float, system: DisplaySystem) -> str:
    return show(float(kelvin), Kind.TEMPERATURE, system, digits=2)


def _row(what: str, before: str, after: str) -> Row:
    return {"what": what, "before": before, "after": after}
