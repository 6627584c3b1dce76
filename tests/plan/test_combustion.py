"""Check the pull on flues against the orifice law and the limits of the trade."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from rooftree.finding import Severity
from rooftree.house import OUTDOORS, Draft, Fan, House, Leak
from rooftree.plan.combustion import (
    beyond_prediction,
    flue_pulls,
    is_pulled_too_far,
    judge_flues,
)
from rooftree.plan.measures import apply_measure, apply_measures

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.plan.model import Measure

    MakeMeasure = Callable[..., Measure]

CFM = 0.3048**3 / 60.0


def shoebox(house: House, exhaust: float, leakage: float) -> House:
    """Return one space with an exhaust fan and a leakage at 50 Pa [cfm both]."""
    return replace(
        house,
        spaces=house.spaces[:1],
        surfaces=house.surfaces[:1],
        windows=(),
        ducts=(),
        air_handler=None,
        heating=None,
        fans=(Fan("fan", "fan", "exhaust", "main", exhaust * CFM, (1.0,) * 24),),
        leaks=(
            Leak("leak", "leak", "main", OUTDOORS, 1.8, None,
                 leakage * CFM / math.pow(50.0, 0.65), 0.65),
        ),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("exhaust", "leakage", "pascal"),
    [(150, 3000, 0.50), (300, 1500, 4.20), (300, 1000, 7.84), (200, 800, 5.93), (450, 1500, 7.84)],
)
def test_pull_is_net_exhaust_through_the_leaks(
    house: House, exhaust: float, leakage: float, pascal: float
) -> None:
    """Without weather, the pull is (exhaust / leakage coefficient) to the power 1/0.65."""
    (pull,) = flue_pulls(shoebox(house, exhaust, leakage))
    assert pull.pull == pytest.approx(pascal, abs=0.02)


@pytest.mark.published(
    source="BPI Building Analyst standard, older edition",
    where="depressurization limits: natural-draft water heater alone 2 Pa, with a furnace on "
    "the same flue 3 Pa; fan-assisted furnace alone 15 Pa",
    read="memory",
)
def test_limits_by_kind_of_flue(house: House) -> None:
    """The strictest limit is that of a natural-draft water heater alone on its flue."""
    assert {pull.burner: pull.limit for pull in flue_pulls(house)} == {
        "water heater": 2.0,
        "furnace": 15.0,
    }
    assert house.heating is not None
    natural = replace(house.heating, space="main", draft=Draft.NATURAL)
    shared = replace(house, heating=natural)
    assert {pull.limit for pull in flue_pulls(shared)} == {3.0}


def test_a_tighter_house_pulls_harder(house: House, measure: MakeMeasure) -> None:
    """The same fans pull more on the flue of a sealed house."""
    tight = apply_measure(house, measure("air-sealing", target_flow_50=0.5))
    loose, hard = (
        next(p.pull for p in flue_pulls(each) if p.burner == "water heater")
        for each in (house, tight)
    )
    assert hard > loose > 0.0


def test_a_sealed_burner_has_no_flue_to_pull_on(house: House, measure: MakeMeasure) -> None:
    """Sealed and electric appliances drop out, and the finding says that none is left."""
    clean = apply_measures(house, [measure("furnace"), measure("water-heater")])
    assert flue_pulls(clean) == ()
    (finding,) = judge_flues(flue_pulls(house), ())
    assert finding.code == "plan/no-burner"


def test_a_house_without_burners_has_nothing_to_say() -> None:
    """Nothing before, nothing after, no finding."""
    assert judge_flues((), ()) == ()


def test_what_a_test_found_beyond_is_added_but_never_taken_off(house: House) -> None:
    """A worse reading than predicted adds its excess; a better one leaves the prediction."""
    predicted = max(pull.pull for pull in flue_pulls(house))
    extra = beyond_prediction(house, predicted + 1.5)
    assert extra == pytest.approx(1.5)
    assert beyond_prediction(house, 0.5 * predicted) == 0.0
    assert beyond_prediction(house, None) == 0.0
    assert max(pull.pull for pull in flue_pulls(house, extra=extra)) == pytest.approx(
        predicted + 1.5
    )


def test_beyond_the_limit_and_worse_is_too_far(house: House, measure: MakeMeasure) -> None:
    """What was beyond its limit as found and gets no worse is not blamed on the work."""
    tight = apply_measure(house, measure("air-sealing", target_flow_50=0.4))
    before, after = flue_pulls(house), flue_pulls(tight, extra=1.0)
    assert is_pulled_too_far(before, after)
    assert not is_pulled_too_far(after, after)
    assert not is_pulled_too_far(before, before)


def test_a_flue_beyond_its_limit_is_a_gate(house: House, measure: MakeMeasure) -> None:
    """The finding names burner, pull and limit, and the remedy."""
    tight = apply_measure(house, measure("air-sealing", target_flow_50=0.4))
    judged = {f.about: f for f in judge_flues(flue_pulls(house), flue_pulls(tight, extra=1.0))}
    assert judged["water heater"].severity is Severity.GATE
    assert judged["water heater"].limit == 2.0
    assert "Replace it by a sealed or electric one" in judged["water heater"].says
    assert judged["furnace"].severity is Severity.NOTE
