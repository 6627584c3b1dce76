"""Check what local exhaust is asked for and what is missing."""

from __future__ import annotations

import pytest

from rooftree.readings.ventilation import ExhaustReading, RoomKind, code_fan_flow
from rooftree.readings.ventilation.editions import CFM, SQUARE_FOOT
from rooftree.readings.ventilation.local_exhaust import exhaust_deficit


@pytest.mark.published(
    source="US DOE, Standard Work Specifications",
    where="bath 50 or 20 cfm; kitchen 100 cfm or 5 air changes; half bath none",
    read="source",
)
@pytest.mark.parametrize(
    ("reading", "missing"),
    [
        (ExhaustReading("bath", RoomKind.BATH, 50 * CFM), 0.0),
        (ExhaustReading("bath", RoomKind.BATH, 20 * CFM, runs_always=True), 0.0),
        (ExhaustReading("bath", RoomKind.BATH, 0.0), 50.0),
        (ExhaustReading("half bath", RoomKind.HALF_BATH, 0.0), 0.0),
        (ExhaustReading("kitchen", RoomKind.KITCHEN_HOOD, 100 * CFM), 0.0),
        (ExhaustReading("kitchen", RoomKind.KITCHEN_HOOD, 60 * CFM), 40.0),
        (
            ExhaustReading("kitchen", RoomKind.KITCHEN_OTHER, 0.042, runs_always=True, volume=30.0),
            0,
        ),
    ],
)
def test_deficit_of_a_room(reading: ExhaustReading, missing: float) -> None:
    """What is missing of the rate on demand; a fan that always runs may be smaller."""
    assert exhaust_deficit(reading).missing / CFM == pytest.approx(missing, abs=1e-6)


@pytest.mark.published(
    source="ASHRAE 62.2, Table 5.1 and appendix A",
    where="300 cfm for kitchen fans other than hoods; 20 cfm for a window",
    read="memory",
)
def test_recalled_rates() -> None:
    """A wall fan of 100 cfm lacks 200; a window takes 20 off."""
    fan = ExhaustReading("kitchen", RoomKind.KITCHEN_OTHER, 100 * CFM, window_opens=True)
    assert exhaust_deficit(fan).missing / CFM == pytest.approx(180.0)


def test_window_cannot_make_more_than_enough() -> None:
    """A small deficit with a window is none."""
    bath = ExhaustReading("bath", RoomKind.BATH, 40 * CFM, window_opens=True)
    assert exhaust_deficit(bath).missing == 0.0


@pytest.mark.published(
    source="International Residential Code, M1505.4.3", where="continuous rates", read="source"
)
@pytest.mark.parametrize(
    ("square_feet", "bedrooms", "cfm"),
    [
        (1500, 0, 30), (1500, 1, 30), (1500, 2, 45), (1500, 3, 45), (1501, 1, 45), (3000, 3, 60),
        (2000, 5, 75), (3001, 1, 60),
    ],
)  # fmt: skip
def test_rates_of_the_residential_code(square_feet: float, bedrooms: int, cfm: float) -> None:
    """Each cell that was seen, and that each band adds 15 cfm."""
    assert code_fan_flow(square_feet * SQUARE_FOOT, bedrooms) / CFM == pytest.approx(cfm)


@pytest.mark.published(
    source="International Residential Code, M1505.4.3", where="intermittent factors", read="source"
)
@pytest.mark.parametrize(
    ("share", "factor"), [(0.25, 4), (0.33, 3), (0.5, 2), (0.66, 1.5), (0.75, 1.3), (1.0, 1)]
)
def test_intermittent_factors_of_the_residential_code(share: float, factor: float) -> None:
    """A fan that rests moves more while it runs: 60 cfm at half time is 120."""
    always = code_fan_flow(180.0, 3)
    assert code_fan_flow(180.0, 3, share) == pytest.approx(factor * always)
