"""Check that the tables of rules name things that exist, and can be obeyed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from rooftree.errors import PlanError
from rooftree.plan.measures import KINDS
from rooftree.plan.places import condition_holds
from rooftree.plan.rules import exclusions, needs, openings, order_rules, stage_names
from rooftree.survey import gate_rules
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from rooftree.house import House

TABLES = ("order", "exclusions", "needs", "openings", "stages")


def test_rules_name_kinds_of_measure() -> None:
    """A rule about a kind that does not exist would never be obeyed."""
    named = {kind for rule in order_rules() for kind in (rule.first, rule.then)}
    named |= {kind for rule in exclusions() for kind in rule.kinds}
    named |= {kind for rule in needs() for kind in (rule.kind, *rule.needs)}
    named |= {kind for opening in openings().values() for kind in opening.sure}
    assert named <= set(KINDS)


@pytest.mark.parametrize("table", TABLES)
def test_each_rule_has_a_source(table: str) -> None:
    """Every row says where it comes from, if only that it is our judgement."""
    assert all(row["source"] for row in table_rows("rooftree.plan.rules", f"{table}.csv"))


def test_each_kind_says_where_its_life_comes_from() -> None:
    """Lives are positive and sourced, and stages exist."""
    for kind in KINDS.values():
        assert kind.life > 0.0
        assert kind.life_source
        assert kind.trade
        assert kind.stage in stage_names()


def test_ranks_agree_with_the_rules_of_order() -> None:
    """What comes first has the lower rank, so that a set is applied in the order of work."""
    for rule in order_rules():
        if not rule.where:
            assert KINDS[rule.first].rank < KINDS[rule.then].rank, rule


def test_stages_follow_ranks() -> None:
    """No kind of a later stage ranks before a kind of an earlier one."""
    stages = [kind.stage for kind in sorted(KINDS.values(), key=lambda kind: kind.rank)]
    assert stages == sorted(stages)


def test_each_gate_that_a_measure_solves_says_when_it_is_open() -> None:
    """Gates with solving measures are exactly those in the table of openings."""
    solvable = {code for code, rule in gate_rules().items() if rule.solved_by}
    assert set(openings()) == solvable


def test_what_opens_a_gate_for_sure_solves_it() -> None:
    """A sure opener is one of the measures that the gate itself names."""
    for code, opening in openings().items():
        assert opening.sure <= gate_rules()[code].solved_by


def test_conditions_of_rules_exist(house: House) -> None:
    """Every condition that a table asks for can be told of a house."""
    asked = {rule.where for rule in (*order_rules(), *needs())}
    asked |= {opening.proof for opening in openings().values()}
    assert {condition_holds(name, house) for name in asked} <= {True, False}


def test_an_unknown_condition_is_refused(house: House) -> None:
    """A typo in a table is an error, never a rule that silently holds."""
    with pytest.raises(PlanError, match=r"^a rule asks for 'dry'; conditions are: .*$"):
        condition_holds("dry", house)


@pytest.mark.parametrize(
    ("condition", "expected"),
    [
        ("vented crawlspace", True),
        ("leaky ceiling", True),
        ("ducts in the attic", False),
        ("no natural draft inside", False),
        ("no burner on room air inside", False),
        ("no burner on room air in the crawlspace", False),
        ("no burner on room air in the attic", True),
    ],
)
def test_conditions_of_the_small_house(house: House, condition: str, expected: bool) -> None:
    """A house with vents, a natural-draft heater inside and a furnace in the crawlspace."""
    assert condition_holds(condition, house) is expected
