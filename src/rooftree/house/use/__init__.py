"""What people use in a house: by published equations, and by what was seen."""

from rooftree.house.use.household import draw_of, household_of, use_of
from rooftree.house.use.items import Seen, UseItem, power_item, replace_seen
from rooftree.house.use.outside import electric_vehicle, pool_pump, water_heating, well_pump
from rooftree.house.use.reference import Household, design_vapor, reference_items, vapor_of
from rooftree.house.use.tank import rated_tank_loss, reference_water_heater, tank_efficiency
from rooftree.house.use.water import (
    Draw,
    hot_water_heat,
    hot_water_months,
    hot_water_volume,
    mains_of_year,
    reference_draw,
)

__all__ = [
    "Draw",
    "Household",
    "Seen",
    "UseItem",
    "design_vapor",
    "draw_of",
    "electric_vehicle",
    "hot_water_heat",
    "hot_water_months",
    "hot_water_volume",
    "household_of",
    "mains_of_year",
    "pool_pump",
    "power_item",
    "rated_tank_loss",
    "reference_draw",
    "reference_items",
    "reference_water_heater",
    "replace_seen",
    "tank_efficiency",
    "use_of",
    "vapor_of",
    "water_heating",
    "well_pump",
]
