"""Check what the report says, part by part, as plain data."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from job.jobs import OBSERVATIONS, TYPED, make_fan_test, make_job, make_tests, one_test
from papers.subjects import (
    DAMP,
    FLUE,
    FRESH_AIR,
    RETEST,
    RISING,
    make_effect,
    make_plan,
    make_step,
    make_subject,
    make_year,
)
from rooftree.finding import Finding, Severity
from rooftree.house import EndUse, Space, SpaceKind
from rooftree.job import Typed, Visit
from rooftree.job.reduction import reduce_job
from rooftree.known import How, Known
from rooftree.papers.report.annex import pages_of, sources_of, test_pages
from rooftree.papers.report.charts import energy_chart, energy_title, uses_of
from rooftree.papers.report.content import MOST_STEPS, report_content
from rooftree.papers.report.front import changes, found_sentences, safety_lines
from rooftree.papers.report.record import count_words, known_parts
from rooftree.papers.report.stages import anyway_sentence, likely_whole, stage_rows, step_rows
from rooftree.plan.combustion import CAUTION
from rooftree.plan.model import Stage
from rooftree.units import DisplaySystem

test_pages.__test__ = False  # type: ignore[attr-defined]

IP, SI = DisplaySystem.IP, DisplaySystem.SI


@pytest.mark.parametrize("system", DisplaySystem)
def test_content_is_plain_data(system: DisplaySystem) -> None:
    """Everything the template gets survives JSON unchanged."""
    content = report_content(make_subject(), system)
    assert json.loads(json.dumps(content)) == content


def test_paper_follows_the_units() -> None:
    """Letter paper for inches and pounds, A4 for the metric system."""
    subject = make_subject()
    assert report_content(subject, IP)["paper"] == "us-letter"
    assert report_content(subject, SI)["paper"] == "a4"


def test_complaints_are_in_the_clients_words() -> None:
    """Nothing of a complaint is changed."""
    subject = make_subject()
    words = [complaint.words for complaint in subject.job.complaints]
    assert report_content(subject, IP)["complaints"] == words


@pytest.mark.parametrize(("count", "shown", "more"), [(2, 2, 0), (5, 5, 0), (7, MOST_STEPS, 2)])
def test_first_page_has_at_most_five_steps(count: int, shown: int, more: int) -> None:
    """The first steps in order, and how many follow."""
    content = report_content(make_subject(count=count), IP)
    assert [step["number"] for step in content["steps"]] == list(range(1, shown + 1))
    assert content["more_steps"] == more


def test_steps_are_numbered_through_all_stages() -> None:
    """A step has the same number on the first page and in its stage."""
    content = report_content(make_subject(), IP)
    numbers = [step["number"] for stage in content["stages"] for step in stage["steps"]]
    assert numbers == [1, 2, 3, 4, 5, 6, 7]


def test_cost_is_that_of_all_stages() -> None:
    """The cost range adds both ends over every step."""
    plan = make_subject().plan
    low, high = (sum(getattr(s.measure, f"cost_{end}") for s in plan.steps)
                 for end in ("low", "high"))  # fmt: skip
    content = report_content(make_subject(), IP)
    assert content["cost"] == f"${low:,.0f} to ${high:,.0f}"


def test_found_sentences_tell_hole_air_and_ducts() -> None:
    """What was measured comes first, in words anybody has seen."""
    sentences = found_sentences(make_subject(), IP)
    assert sentences[0].startswith("All the leaks together are as large as ")
    assert "times an hour" in sentences[0]
    assert "of the air that leaks in comes through" in sentences[1]
    assert (
        sentences[2] == "The ducts leak about 12 % of the air that the fan moves to the outdoors."
    )
    assert any("crawlspace is damp" in sentence for sentence in sentences)


def test_without_tests_the_found_sentences_say_only_what_is_known() -> None:
    """A job without tests speaks of what was seen and computed."""
    sentences = found_sentences(make_subject(make_job(tests=())), IP)
    assert not any("leaks together" in sentence for sentence in sentences)
    assert OBSERVATIONS[0].says in sentences


def test_safety_has_every_stop_and_every_standing_gate() -> None:
    """Stops of tests and plan come first; what was cleared is gone; notes are no hazards."""
    job = make_job(observations=(
        *OBSERVATIONS,
        replace(OBSERVATIONS[0], id="gas", severity=Severity.STOP, says="It smells of gas."),
    ))  # fmt: skip
    subject = make_subject(job)
    stop = Finding("plan/x", Severity.STOP, "The plan says stop.")
    subject = replace(subject, plan=replace(subject.plan, findings=(stop,)))
    lines = safety_lines(subject)
    says = [line["says"] for line in lines]
    spilled = [f.says for f in subject.reductions.findings if f.severity is Severity.STOP]
    assert spilled
    assert {"It smells of gas.", "The plan says stop.", *spilled} <= set(says)
    assert OBSERVATIONS[0].says in says
    assert OBSERVATIONS[1].says not in says
    assert OBSERVATIONS[2].says not in says
    order = [line["severity"] for line in lines]
    assert order == sorted(order, key=["stop", "gate"].index)
    assert len(says) == len(set(says))


def test_observations_keep_everything_and_put_the_grave_ones_first() -> None:
    """Cause, consequence, remedy and proof are all there; cleared ones come last."""
    findings = report_content(make_subject(), IP)["findings"]
    assert [one["severity"] for one in findings] == ["gate", "note", "gate"]
    assert findings[-1]["cleared"]
    assert findings[0]["place"] == "utility closet"
    for one, observation in zip(findings, OBSERVATIONS, strict=True):
        for key in ("says", "cause", "consequence", "remedy", "proof", "cleared"):
            assert one[key] == getattr(observation, key)


def test_changes_tell_bills_and_air_before_and_after() -> None:
    """Bills as a likely range, air as computed."""
    rows = {row["what"]: row for row in changes(make_subject(), IP)}
    assert rows["Energy bills in a year (computed)"]["before"].startswith("about $")
    assert rows["Energy bills in a year (computed)"]["after"].startswith("likely $")
    assert rows["Of it by crawlspace, attic or garage"]["before"] == "60 %"
    assert rows["Time with damp air in the crawlspace"] == {
        "what": "Time with damp air in the crawlspace", "before": "20 %", "after": "20 %",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("money", "bills", "carbon"),
    [(600.0, "less", "t less"), (-600.0, "more", "t more")],
)
def test_a_plan_that_costs_energy_says_so(money: float, bills: str, carbon: str) -> None:
    """More energy bought is never told as a saving."""
    subject = make_subject()
    subject = replace(subject, plan=replace(subject.plan, whole=make_effect(money)))
    rows = {row["what"]: row for row in changes(subject, IP)}
    assert rows["Energy bills in a year (computed)"]["after"].endswith(bills)
    assert rows["Carbon dioxide in a year"]["after"].endswith(carbon)


def test_a_range_across_zero_tells_both_ends() -> None:
    """A plan that may go either way says so."""
    subject = make_subject()
    plan = replace(subject.plan, whole_low=make_effect(-80.0), whole_high=make_effect(200.0))
    rows = {row["what"]: row for row in changes(replace(subject, plan=plan), IP)}
    assert rows["Energy bills in a year (computed)"]["after"].startswith("between $")


def test_uncertain_measures_widen_the_range() -> None:
    """The least and the most effective outcome are inside the range that is told."""
    plan = make_plan(make_job().house)
    wide = replace(plan, whole_low=make_effect(100.0), whole_high=make_effect(900.0))
    narrow_low, narrow_high = likely_whole(plan, calibrated=True)
    low, high = likely_whole(wide, calibrated=True)
    assert low.money_saved < narrow_low.money_saved
    assert high.money_saved > narrow_high.money_saved


def test_problem_rooms_are_told_apart() -> None:
    """A second living space has its coldest and hottest hour in found and changes."""
    job = make_job()
    room = Space("den", "den", SpaceKind.LIVING, 20.0, 48.0, 0.8, 2.4)
    house = replace(job.house, spaces=(*job.house.spaces, room))
    subject = make_subject(make_job(tests=()))
    before, after = make_year(house, cold=283.15), make_year(house, cold=288.15)
    stages = tuple(replace(stage, year=after) for stage in subject.plan.stages)
    plan = replace(subject.plan, before=before, stages=stages)
    subject = replace(subject, house=house, plan=plan)
    rows = {row["what"]: row for row in changes(subject, SI)}
    assert rows["Coldest hour in the den"]["before"] == "10 °C"
    assert rows["Coldest hour in the den"]["after"] == "15 °C"
    assert any("the den falls to 10 °C" in one for one in found_sentences(subject, SI))


def test_step_tells_cost_reason_trade_and_both_savings() -> None:
    """A row holds what an owner asks of a step."""
    (row,) = step_rows((make_step(3, 200.0),), calibrated=True, start=3)
    assert row["number"] == 3
    assert row["title"] == "Measure number 3"
    assert row["why"] == "It is the reason number 3. A figure such as 2.5 Pa follows."
    assert row["short"] == "It is the reason number 3."
    assert row["cost"] == "$2,400 to $3,600"
    assert row["trade"] == "any trade"
    assert row["alone"].startswith("saves $")
    assert row["in_place"].startswith("saves $")


def test_stage_with_an_open_gate_is_not_safe_to_stop_at() -> None:
    """A check that demands something is never hidden behind 'safe to stop'."""
    first, second = stage_rows(make_plan(make_job().house), calibrated=False)
    assert first["is_safe"]
    assert not second["is_safe"]
    assert second["checks"][0]["says"] == RISING.says


def test_notes_on_damp_air_stand_in_the_annex() -> None:
    """The plan leaves them out, and the annex has them all; a source is told once."""
    content = report_content(make_subject(), IP)
    in_plan = [check["says"] for stage in content["stages"] for check in stage["checks"]]
    assert DAMP.says not in in_plan
    later = [check for stage in content["stage_checks"] for check in stage["checks"]]
    assert [check["says"] for check in later] == [DAMP.says, DAMP.says]
    assert [bool(check["source"]) for check in later] == [True, False]


def test_checks_that_stay_the_same_are_not_repeated() -> None:
    """A check told word for word after the stage before is referred to."""
    first, second = stage_rows(make_plan(make_job().house), calibrated=False)
    assert FRESH_AIR.says in [check["says"] for check in first["checks"]]
    assert FRESH_AIR.says not in [check["says"] for check in second["checks"]]
    assert (first["same_as"], second["same_as"]) == (0, 1)


def test_a_gate_is_repeated_as_long_as_it_stands() -> None:
    """What must be solved is told after every stage that leaves it open."""
    house = make_job().house
    plan = make_plan(house)
    stages = tuple(replace(stage, checks=(RISING,)) for stage in plan.stages)
    rows = stage_rows(replace(plan, stages=stages), calibrated=False)
    assert [[check["says"] for check in row["checks"]] for row in rows] == [[RISING.says]] * 2


def test_caution_about_burners_is_told_once_in_a_stage() -> None:
    """The last check of a stage that carries the caution keeps it."""
    house = make_job().house
    stage = Stage("One", (make_step(1),), house, make_year(house), (FLUE, RETEST))
    plan = replace(make_plan(house), stages=(stage,))
    (row,) = stage_rows(plan, calibrated=False)
    says = [check["says"] for check in row["checks"]]
    assert says == ["The flue holds.", f"Repeat the combustion test. {CAUTION}"]


def test_cost_that_is_due_anyway_is_told() -> None:
    """What would have to be bought in any case is named as such, and else nothing is."""
    plan = make_plan(make_job().house)
    assert anyway_sentence(plan) == ""
    stage = Stage("One", (make_step(1, anyway_cost=2200.0),), plan.stages[0].house, plan.before, ())
    assert "$2,200 of this is due in any case" in anyway_sentence(replace(plan, stages=(stage,)))


def test_left_out_measures_have_their_reason() -> None:
    """Whoever misses a measure finds why it is not there."""
    left_out = report_content(make_subject(), IP)["left_out"]
    assert left_out == [{"title": "New windows", "why": "They cost more than the budget."}]


def test_empty_plan_makes_a_report_too() -> None:
    """A house for which nothing is planned still gets its report."""
    subject = make_subject()
    plan = replace(subject.plan, stages=(), packages=(), findings=(), blocked=())
    content = report_content(replace(subject, plan=plan), IP)
    assert content["steps"] == []
    assert content["cost"] == "$0"
    assert content["about_plan"] == []


# ---------------------------------------------------------------- tests of the annex


def test_every_test_has_method_results_and_doubts() -> None:
    """Each test of the job has its page with method, rows and every finding."""
    job = make_job()
    reductions = reduce_job(job)
    pages = pages_of(job, reductions, IP)
    assert len(pages) == len(job.tests) + 1
    for page, reduced in zip(pages, reductions.tests, strict=False):
        assert page["name"] == reduced.test.name
        assert page["method"]
        assert page["rows"]
        assert [doubt["says"] for doubt in page["findings"]] == [f.says for f in reduced.findings]
        assert "21 January 2026, D. Arden" in page["about"]
    assert pages[0]["method"].startswith("ISO 9972:2015, air pulled out of the house, 8 stations")
    assert pages[2]["method"].startswith("Two leaks in series")
    assert "mean of all" in pages[-1]["name"]


def test_pages_without_a_job_are_the_same_but_for_when_and_where() -> None:
    """The command line prints the same pages from reductions alone."""
    job = make_job()
    reductions = reduce_job(job)
    bare = [{**page, "about": ""} for page in pages_of(job, reductions, SI)]
    assert test_pages(reductions, SI) == bare


def test_stations_are_listed_as_read() -> None:
    """Each station of a fan test has pressure, flow and how far off the curve it is."""
    job = make_job()
    page = pages_of(job, reduce_job(job), IP)[0]
    (stations,) = page["tables"]
    assert stations["columns"][:2] == ["Read, Pa", "Induced, Pa"]
    assert len(stations["rows"]) == 8
    assert stations["rows"][0][:2] == ["−15.0", "15.0"]


def test_a_test_that_cannot_be_reduced_still_has_its_page() -> None:
    """Its finding says why, and no result is made up."""
    job = make_job(tests=(one_test("hasty", make_fan_test(pressures=())),))
    (page,) = pages_of(job, reduce_job(job), IP)
    assert page["tables"] == []
    assert not any(row["name"] == "Flow at 50 Pa" for row in page["rows"])
    assert page["findings"][0]["says"].startswith("hasty cannot be reduced")


def test_spillage_that_never_stopped_is_told_as_such() -> None:
    """A missing time is not shown as a number."""
    job = make_job(tests=make_tests()[-1:])
    (page,) = pages_of(job, reduce_job(job), IP)
    assert {"name": "Spillage", "value": "did not stop within the test"} in page["rows"]


def test_sources_are_listed_once_and_without_the_simulation_itself() -> None:
    """The declaration lists documents, not our own computation."""
    subject = make_subject()
    own = Finding("plan/comfort-heating", Severity.NOTE, "x", source="the simulated year")
    plan = replace(subject.plan, findings=(own, own))
    sources = sources_of(subject.reductions, plan)
    assert "ISO 9972:2015" in sources
    assert "ASHRAE 62.2-2019, 4.1" in sources
    assert not any("simulated" in source for source in sources)
    assert len(sources) == len(set(sources))
    assert sources == sorted(sources)


def test_overdue_calibration_is_marked() -> None:
    """An instrument that was due before the visit says so; one without a date does not."""
    rows = report_content(make_subject(), IP)["instruments"]
    assert [row["overdue"] for row in rows] == [False, True, False]
    assert rows[2]["calibrated"] == "not recorded"


# ---------------------------------------------------------------- the record


def text_of(job_parts: list[dict[str, object]]) -> str:
    """Return all parts of the record as one text."""
    return json.dumps(job_parts, ensure_ascii=False)


def test_every_value_of_the_record_is_told_with_how_it_is_known() -> None:
    """No typed value is lost, none keeps its raw path."""
    text = text_of(known_parts(make_job()))
    for typed in TYPED:
        assert typed.text in text
        assert typed.known.how.value in text
        assert typed.known.note in text
        assert typed.path not in text
    assert "[" not in text.replace("[{", "").replace("[]", "")


def test_things_have_their_own_names() -> None:
    """A surface, its layer and a test are called what the record calls them."""
    parts = {part["name"]: part["items"] for part in known_parts(make_job())}
    ceiling = next(
        item for item in parts["Walls, ceilings, floors and roofs"] if item["name"] == "ceiling"
    )
    assert ceiling["groups"][0] == {
        "how": "measured: ruler", "values": "batts: thickness 3 1/2 in",
    }  # fmt: skip
    readings = {item["name"]: item["groups"] for item in parts["Readings of the tests"]}
    assert readings["Fan test, pulling"][0]["values"] == "station 3: pressure -29 Pa"
    assert readings["Duct leakage"][0]["values"] == "flow 127 cfm"
    assert parts["People and what they do"][0]["groups"][0]["how"] == "told: owner"


def hours(values: list[str]) -> tuple[Typed, ...]:
    """Return a thermostat as typed, hour by hour."""
    known = Known(How.TOLD, "owner")
    return tuple(
        Typed(f"house.use.heating_setpoint[{hour}]", text, known)
        for hour, text in enumerate(values)
    )


def test_runs_of_equal_values_are_joined() -> None:
    """Twenty-four hours of a thermostat take one line."""
    job = make_job(typed=hours(["64 °F"] * 6 + ["68 °F"] * 17 + ["66 °F"]))
    ((part),) = known_parts(job)
    values = part["items"][0]["groups"][0]["values"]
    assert values == "heating setpoint 64 °F (6 times), 68 °F (17 times), 66 °F"


def layer_values(surface: int, thickness: str) -> tuple[Typed, ...]:
    """Return the layer of a surface as typed."""
    path = f"house.surfaces[{surface}].layers[0]"
    return (Typed(f"{path}.thickness", thickness, Known()),
            Typed(f"{path}.density", "50 lb/ft3", Known()))  # fmt: skip


def test_layers_that_are_alike_everywhere_are_told_once() -> None:
    """The same board in three walls is described once and named in each."""
    typed = layer_values(0, "1/2 in") + layer_values(1, "1/2 in") + layer_values(2, "1/2 in")
    walls, repeated = known_parts(make_job(typed=typed))
    assert [item["groups"][0]["values"] for item in walls["items"]] == ["gypsum board"] * 3
    assert repeated["name"] == "Layers and parts that occur more than once"
    assert repeated["items"][0]["name"] == "gypsum board"
    assert text_of([walls, repeated]).count("50 lb/ft3") == 1


def test_layers_of_one_name_that_differ_stay_where_they_are() -> None:
    """Two thicknesses under one name are not mixed up."""
    typed = layer_values(0, "1/2 in") + layer_values(1, "5/8 in")
    (walls,) = known_parts(make_job(typed=typed))
    told = [item["groups"][0]["values"] for item in walls["items"]]
    assert told == [
        "gypsum board: thickness 1/2 in, density 50 lb/ft3",
        "gypsum board: thickness 5/8 in, density 50 lb/ft3",
    ]


@pytest.mark.parametrize("path", ["house.surfaces[99].area", "house.attics[0].area", "budget"])
def test_a_path_that_leads_nowhere_is_told_in_plain_words(path: str) -> None:
    """A value is never lost because the job is built differently."""
    job = make_job(typed=(Typed(path, "7 ft2", Known()),))
    text = text_of(known_parts(job))
    assert "7 ft2" in text
    assert path not in text or path == "budget"


def test_the_record_is_counted_by_how_it_is_known() -> None:
    """The count names each way of knowing that occurs."""
    assert count_words(make_job()) == (
        "9 values: 5 measured, 1 observed, 1 told, 1 assumed, 1 not seen."
    )
    assert count_words(make_job(typed=())) == "No values were typed."


# ---------------------------------------------------------------- the chart


def test_chart_title_says_what_it_shows() -> None:
    """Less, more or about the same energy."""
    house = make_job().house
    found, less = make_year(house), make_year(house, heating=30.0)
    assert energy_title(found, less) == "The house buys about 27 % less energy after the plan"
    assert energy_title(less, found) == "The house buys about 38 % more energy after the plan"
    assert energy_title(found, found) == (
        "The house buys about as much energy after the plan as before"
    )


def test_chart_tells_every_use_largest_first() -> None:
    """Every use that is bought at all stands in chart, table and text."""
    plan = make_plan(make_job().house)
    uses = uses_of(plan.before, plan.stages[-1].year)
    assert uses == [EndUse.HEATING, EndUse.OTHER, EndUse.HOT_WATER, EndUse.COOLING]
    chart = energy_chart(plan, SI)
    assert [row["use"] for row in chart["rows"]] == [use.value for use in uses]
    for row in chart["rows"]:
        assert f"{row['use']}: {row['before']}, then {row['after']}" in chart["alt"]
        assert row["before"] in chart["svg"]
    assert {row["use"] for row in chart["fuels"]} == {"electricity", "natural gas"}


def test_a_house_that_buys_nothing_has_an_empty_chart() -> None:
    """No division by nothing."""
    plan = make_plan(make_job().house)
    idle = replace(plan.before, energy={})
    chart = energy_chart(replace(plan, before=idle, stages=()), IP)
    assert chart["rows"] == []
    assert chart["fuels"] == []


def test_job_without_a_visit_is_reported() -> None:
    """A record typed at a desk has no visit to name."""
    content = report_content(make_subject(make_job(visits=(), tests=())), IP)
    assert content["assessor"] == content["visit"] == content["conditions"] == ""
    assert content["not_seen"] == []


def test_not_seen_of_all_visits_is_told() -> None:
    """What could not be seen at any visit stands in the report."""
    visits = (*make_job().visits,
              Visit("v2", "2026-03-01", "D. Arden", not_seen=("the roof: snow",)))  # fmt: skip
    content = report_content(make_subject(make_job(visits=visits)), IP)
    assert content["not_seen"] == ["inside of the north wall: closed", "the roof: snow"]
