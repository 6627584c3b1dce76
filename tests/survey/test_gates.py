"""Check that gates hold back what they must, and open only as their rule says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.finding import Finding, Severity
from rooftree.survey import (
    blocked_kinds,
    forbidden_tests,
    gate_rules,
    gates_of,
    judge_observations,
    measure_kinds,
    named_kinds,
    retests_after,
    standing_gates,
)

if TYPE_CHECKING:
    from rooftree.survey import Rule

KINDS = [
    "air-sealing",
    "attic-insulation",
    "bonus-floor-fix",
    "knee-wall-fix",
    "duct-sealing",
    "duct-insulation",
    "ducts-inside",
    "crawlspace-closing",
    "wall-insulation",
    "windows",
    "furnace",
    "air-conditioner",
    "heat-pump",
    "water-heater",
    "ventilation",
    "local-exhaust",
    "dehumidifier",
    "flue-repair",
    "drainage",
]


@dataclass(frozen=True, slots=True)
class Seen:
    """The least that an observation tells the gates."""

    id: str
    code: str
    severity: Severity = Severity.NOTE
    cleared: str = ""


observed = st.lists(
    st.builds(
        Seen,
        st.uuids().map(str),
        st.sampled_from(sorted(gate_rules())),
        st.sampled_from(Severity),
        st.sampled_from(["", "electrician's report of 3 May"]),
    ),
    max_size=8,
)


def test_kinds_are_the_agreed_names() -> None:
    """Measures, plan and gates speak of the same kinds."""
    assert list(measure_kinds()) == KINDS


@pytest.mark.parametrize("rule", gate_rules().values(), ids=lambda rule: rule.code)
def test_each_rule_can_be_acted_on(rule: Rule) -> None:
    """A rule says why, what to do, who clears it with what, from where, and how well we know."""
    for field in ("title", "why", "remedy", "who", "evidence", "source"):
        assert getattr(rule, field)
    assert rule.basis in {"source", "quoted", "recalled", "judgement"}
    assert rule.blocks.isdisjoint(rule.solved_by)


@pytest.mark.parametrize("rule", gate_rules().values(), ids=lambda rule: rule.code)
def test_a_stop_or_gate_holds_something_back(rule: Rule) -> None:
    """Only a note may hold nothing back."""
    holds = rule.blocks or rule.forbids
    assert bool(holds) == (rule.severity is not Severity.NOTE)


@pytest.mark.parametrize(
    ("code", "kinds"),
    [
        ("bulk-water", {"crawlspace-closing", "air-sealing"}),
        ("knob-and-tube", {"attic-insulation", "wall-insulation", "knee-wall-fix"}),
        ("vermiculite", {"attic-insulation", "air-sealing", "ducts-inside"}),
        ("spillage", {"air-sealing", "local-exhaust", "wall-insulation", "windows"}),
        ("natural-draft-in-living-zone", {"air-sealing", "ventilation"}),
        ("wet-crawlspace", {"crawlspace-closing"}),
        ("gas-leak", set(KINDS)),
        ("high-co", {"air-sealing", "local-exhaust"}),
        ("bath-fan-into-attic", {"attic-insulation"}),
        ("friable-asbestos", {"attic-insulation", "duct-sealing", "crawlspace-closing"}),
        ("lead-paint", {"wall-insulation", "windows"}),
        ("active-roof-leak", {"attic-insulation"}),
        ("mould", {"air-sealing", "attic-insulation", "crawlspace-closing"}),
    ],
)
def test_hazard_holds_back_its_measures(code: str, kinds: set[str]) -> None:
    """Each hazard holds back at least the measures that it makes dangerous."""
    assert kinds <= set(blocked_kinds(gates_of([Seen("o1", code)])))


@pytest.mark.published(
    source="US EPA, Healthy Indoor Environment Protocols for Home Energy Upgrades",
    where="p. 10: unresolved moisture, no measure that reduces infiltration",
    read="source",
)
@pytest.mark.parametrize("code", ["mould", "condensation"])
def test_unresolved_moisture_stops_tightening(code: str) -> None:
    """No measure that makes the house tighter goes before moisture is understood."""
    assert named_kinds(["tightening"]) <= set(blocked_kinds(gates_of([Seen("o1", code)])))


def test_cleared_observation_sets_no_gate() -> None:
    """A gate opens when its observation is cleared by somebody with evidence."""
    assert gates_of([Seen("o1", "knob-and-tube", Severity.STOP, "rewired, report")]) == ()


def test_blanks_do_not_clear() -> None:
    """Spaces in the field are not evidence."""
    assert gates_of([Seen("o1", "knob-and-tube", cleared="  ")])


def test_gate_stands_until_every_observation_is_cleared() -> None:
    """One of two leaks repaired leaves the gate standing, for the other one."""
    (gate,) = gates_of(
        [Seen("o1", "plumbing-leak", cleared="plumber"), Seen("o2", "plumbing-leak")]
    )
    assert gate.observed == ("o2",)


def test_observer_makes_a_rule_graver_never_lighter() -> None:
    """Calling vermiculite a note leaves it a stop; calling lead paint a stop makes it one."""
    stops = gates_of([Seen("a", "vermiculite"), Seen("b", "lead-paint", Severity.STOP)])
    assert [gate.severity for gate in stops] == [Severity.STOP, Severity.STOP]


def test_unnamed_stop_holds_everything() -> None:
    """A stop without a known rule holds back every measure."""
    for code in ("", "strange-smell"):
        assert set(blocked_kinds(gates_of([Seen("o1", code, Severity.STOP)]))) == set(KINDS)


def test_unnamed_gate_is_doubted() -> None:
    """A gate without a rule holds nothing back and is told to get one."""
    one, other = Seen("o1", "strange-smell", Severity.GATE), Seen("o2", "", Severity.GATE)
    doubts = judge_observations([one, other, Seen("o3", "")])
    assert [(doubt.code, doubt.about) for doubt in doubts] == [
        ("survey/no-rule", "o1"),
        ("survey/no-rule", "o2"),
    ]
    assert "'strange-smell'" in doubts[0].says


def test_test_finding_calls_on_its_rule() -> None:
    """A failed spillage test holds back tightening like an observation would."""
    failed = Finding("combustion/spillage", Severity.GATE, "spills for 90 s", about="t7")
    (gate,) = gates_of([], [failed])
    assert gate.code == "spillage"
    assert gate.observed == ("t7",)
    assert "air-sealing" in gate.blocks


def test_note_of_a_test_calls_on_nothing() -> None:
    """A finding that is only worth knowing sets no gate."""
    assert gates_of([], [Finding("combustion/spillage", Severity.NOTE, "passed")]) == ()


def test_measure_that_removes_the_cause_opens_the_gate() -> None:
    """With the water heater replaced first, tightening is free."""
    gates = gates_of([Seen("o1", "natural-draft-in-living-zone")])
    assert "air-sealing" in blocked_kinds(gates)
    assert blocked_kinds(gates, done={"water-heater"}) == {}


def test_no_measure_opens_what_only_a_person_can() -> None:
    """Doing every measure does not clear asbestos or old wiring."""
    gates = gates_of([Seen("o1", "friable-asbestos"), Seen("o2", "knob-and-tube")])
    assert standing_gates(gates, KINDS) == gates


def test_drainage_comes_before_closing_the_crawlspace() -> None:
    """Closing waits for drainage and for nothing else when the ground is wet."""
    gates = gates_of([Seen("o1", "wet-crawlspace")])
    assert set(blocked_kinds(gates)) == {"crawlspace-closing"}
    assert not blocked_kinds(gates, ["drainage"])


def test_loose_asbestos_forbids_sucking_on_the_house() -> None:
    """The fan may not depressurize a house with vermiculite; pressurizing is not named."""
    assert set(forbidden_tests(gates_of([Seen("o1", "vermiculite")]))) == {"fan-depressurization"}


def test_gate_reads_as_plain_sentences() -> None:
    """A gate names the danger, the remedy, who may clear it and with what."""
    (finding,) = judge_observations([Seen("o9", "knob-and-tube")])
    assert finding.code == "gate/knob-and-tube"
    assert finding.about == "o9"
    assert "Licensed electrician may clear this with: Electrician's report" in finding.says


def test_tightening_asks_for_combustion_and_ventilation_again() -> None:
    """After sealing, fan test, combustion and ventilation are repeated; after drainage, nothing."""
    assert retests_after(["air-sealing"]) == ("fan-test", "combustion", "ventilation")
    assert retests_after(["drainage"]) == ()
    assert retests_after(["duct-sealing", "air-sealing"]) == (
        "fan-test", "duct-leakage", "combustion", "ventilation",
    )  # fmt: skip


def test_unknown_kind_is_refused() -> None:
    """A word that names neither a kind nor a group is an error of the table."""
    with pytest.raises(
        KeyError, match=r"^'tunnelling is neither a kind of measure nor a group of them'$"
    ):
        named_kinds(["tunnelling"])


@given(observed, observed)
def test_more_observations_never_block_less(first: list[Seen], second: list[Seen]) -> None:
    """Knowing of more hazards can only hold more back."""
    assert set(blocked_kinds(gates_of(first))) <= set(blocked_kinds(gates_of(first + second)))


@given(observed)
def test_stops_come_first(seen: list[Seen]) -> None:
    """The gravest gate is read first."""
    ranks = [
        [Severity.STOP, Severity.GATE, Severity.NOTE].index(g.severity) for g in gates_of(seen)
    ]
    assert ranks == sorted(ranks)
