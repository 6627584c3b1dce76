"""Form of the people and what they do."""

from __future__ import annotations

from rooftree.web.house.enclosure import day_rows
from rooftree.web.sheets.layout import Field, Group, Sheet

_WRAPS = "The last period lasts until the first begins."

USE = Sheet(
    kind="use",
    name="People and use",
    group="People",
    says="Who lives there, how warm they keep it, and what they use.",
    parts=(
        Group(
            "People",
            (
                Field("people", "People"),
                Field("bedrooms", "Bedrooms"),
                Field("thermostat", "Thermostat hangs in", "largest", among="living_spaces"),
                Field("open_window_area", "Windows they open", "free area; 0 for shut"),
            ),
        ),
        day_rows("heating_setpoint", "Thermostat, heating", "Temperature", _WRAPS),
        day_rows("cooling_setpoint", "Thermostat, cooling", "Temperature", _WRAPS),
        day_rows(
            "sensible_gain", "Heat of people, lights and appliances", "All living spaces", _WRAPS
        ),
        Group(
            "What they use",
            (
                Field("electricity", "Lights and appliances", "mean over the year"),
                Field("hot_water_heat", "Heat in the hot water", "mean over the year"),
                Field("cooking_gas", "Gas to cook and dry", "mean over the year"),
                Field("vapor_gain", "Water vapor released", "people, cooking, washing"),
                Field("radiant_fraction", "Radiant share of the heat", "40 % usual"),
            ),
        ),
        day_rows(
            "vapor_hours", "When vapor is released", "Weight",
            "Weights of any size, each over their mean. Empty: evenly.", seldom=True,
        ),
        day_rows(
            "hot_water_hours", "When hot water is drawn", "Weight",
            "Weights of any size, each over their mean. Empty: evenly.", seldom=True,
        ),
    ),
)  # fmt: skip
