"""Infiltration of the air network through a year, beside three published models of one zone.

Each house is run three times: as it is; with the wind as strong at its walls as the enhanced
model has it; and in air without wind. The first tells how far models and network are apart,
the second how much of it is the wind at the walls, the third what the stack does alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from engine.comparisons.plain_house import (
    EXPONENT,
    FLUE_RATIO,
    STOREY,
    Plan,
    plain_house,
)
from rooftree.engine import simulate
from rooftree.engine.wind import terrain_factor, wall_height
from rooftree.physics.aim2 import (
    LeakDistribution,
    aim2_eave_wind,
    aim2_infiltration,
    aim2_shelter,
)
from rooftree.physics.infiltration import HANDBOOK_DENSITY, enhanced_infiltration, shelter_factor
from rooftree.physics.lbl import lbl_infiltration, lbl_stack_factor, lbl_wind_factor
from rooftree.weather import parse_tmy3

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.house import House
    from rooftree.weather import WeatherYear

SHELTER_CLASS = 3
"""Moderate shelter: the factor 0.7 of the house's site."""

CLIMATES = {"Greensboro": "723170TYA.CSV", "Sand Point": "703165TY.csv"}
"""Typical years that come with the package pvlib: mixed and calm, cool and windy."""

PLANS = tuple(
    Plan(storeys, foundation, air_changes, flue)  # type: ignore[arg-type]
    for storeys, foundation, air_changes, flue in (
        *product((1, 2), ("slab", "crawlspace", "basement"), (3.0, 12.0), (False,)),
        *product((1, 2), ("slab", "crawlspace"), (6.0,), (True,)),
    )
)
CASES = tuple(product(PLANS, CLIMATES))


@dataclass(frozen=True, slots=True)
class InfiltrationComparison:
    """One house in one climate.

    Attributes
    ----------
    network, enhanced, aim2, lbl : float
        Mean over the year by each model [m³/s].
    correlation : tuple of float
        Of the network with each of the three, hour by hour [-].
    same_wind : float
        Mean of the network with the enhanced model's wind at its walls [m³/s].
    still, still_enhanced, still_aim2, still_lbl : float
        Means without wind [m³/s].
    """

    plan: Plan
    climate: str
    network: float
    enhanced: float
    aim2: float
    lbl: float
    correlation: tuple[float, float, float]
    same_wind: float
    still: float
    still_enhanced: float
    still_aim2: float
    still_lbl: float


@cache
def climate_year(name: str) -> WeatherYear:
    """Return a typical year."""
    return parse_tmy3((files("pvlib") / "data" / CLIMATES[name]).read_text())


def _distribution(plan: Plan) -> LeakDistribution:
    body = 1.0 - plan.flue_share
    foundation = "crawlspace" if plan.foundation == "crawlspace" else "slab"
    return LeakDistribution(
        EXPONENT, 0.5 * body, 0.0, plan.flue_share, FLUE_RATIO, foundation  # type: ignore[arg-type]
    )  # fmt: skip


def _models(
    plan: Plan, year: WeatherYear, indoor: NDArray[np.float64], wind: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return the flows of the enhanced model, AIM-2 and the LBL model [m³/s]."""
    apart, height = indoor - year.temperature, plan.storeys * STOREY
    leaks = _distribution(plan)
    shelter = shelter_factor(SHELTER_CLASS, storeys=plan.storeys, flue=plan.flue)
    enhanced = enhanced_infiltration(
        plan.coefficient, EXPONENT, apart, wind, storeys=plan.storeys, shelter=shelter,
        foundation=leaks.foundation, flue=plan.flue,
    )  # fmt: skip
    aim2 = aim2_infiltration(
        plan.coefficient, leaks, height, indoor, year.temperature,
        aim2_eave_wind(wind, height),
        shelter=aim2_shelter(shelter_factor(SHELTER_CLASS), plan.flue_share),
    )  # fmt: skip
    area = plan.coefficient * 4.0 ** (EXPONENT - 0.5) / math.sqrt(2.0 / HANDBOOK_DENSITY)
    lbl = lbl_infiltration(
        area,
        lbl_stack_factor(height, 294.0, leaks.ceiling_and_floor + plan.flue_share,
                         plan.flue_share),
        lbl_wind_factor(plan.ceiling_level, leaks.ceiling_and_floor + plan.flue_share,
                        shielding_class=SHELTER_CLASS, terrain_class=3),
        apart, wind,
    )  # fmt: skip
    return enhanced.flow, aim2.flow, lbl


def _with_model_wind(house: House, plan: Plan) -> House:
    """Return the house with the enhanced model's wind at its walls."""
    multiplier = {1: 0.48, 2: 0.59}[plan.storeys]  # [HOF2021] ch. 16, Table 7
    own = terrain_factor(wall_height(house), house.site.terrain)
    shelter = shelter_factor(SHELTER_CLASS) * multiplier / own
    return replace(house, site=replace(house.site, shelter=shelter))


@cache
def compare_infiltration(plan: Plan, climate: str) -> InfiltrationComparison:
    """Run one house in one climate, and the models with its indoor temperature."""
    year, house = climate_year(climate), plain_house(plan)
    still_year = _still(climate)
    run = simulate(house, year, hourly=True)
    still = simulate(house, still_year, hourly=True)
    assert run.hourly is not None
    assert still.hourly is not None
    storeys = slice(0, plan.storeys)
    indoor = run.hourly.temperature[:, storeys].mean(axis=1)
    models = _models(plan, year, indoor, year.wind_speed)
    indoor_still = still.hourly.temperature[:, storeys].mean(axis=1)
    calm = _models(plan, still_year, indoor_still, still_year.wind_speed)
    network = run.hourly.infiltration
    return InfiltrationComparison(
        plan, climate, float(network.mean()),
        *(float(flow.mean()) for flow in models),
        correlation=tuple(float(np.corrcoef(network, flow)[0, 1]) for flow in models),  # type: ignore[arg-type]
        same_wind=simulate(_with_model_wind(house, plan), year).mean_infiltration,
        still=still.mean_infiltration,
        still_enhanced=float(calm[0].mean()),
        still_aim2=float(calm[1].mean()),
        still_lbl=float(calm[2].mean()),
    )  # fmt: skip


@cache
def _still(climate: str) -> WeatherYear:
    year = climate_year(climate)
    return replace(year, wind_speed=np.zeros_like(year.wind_speed))
