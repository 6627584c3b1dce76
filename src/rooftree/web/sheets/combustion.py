"""The page of the readings at a burner."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Sheet

SHEET = Sheet(
    kind="combustion",
    name="Combustion",
    group="Burners",
    says="Whether a burner draws its air and drives its smoke out, with the house at its worst.",
    parts=(
        Group(
            "The burner",
            (
                Field("appliance", "Appliance"),
                Field("draft", "How it is vented"),
                Field("outdoor_temperature", "Outdoors"),
            ),
        ),
        Group(
            "In the room",
            (
                Field("gas_leak", "Gas leak found?"),
                Field("ambient_co", "Carbon monoxide in the room", "such as 3 ppm"),
            ),
        ),
        Group(
            "Pressure of the room against outdoors",
            (
                Field("baseline_pressure", "Everything off"),
                Field("worst_pressure", "Worst case"),
                Field("worst_case", "What ran, which doors were shut"),
            ),
        ),
        Group(
            "The burner fired",
            (
                Field("spillage_seconds", "Spillage stopped after", "empty if it never did"),
                Field("draft_pressure", "Flue against room"),
                Field("flue_co", "Carbon monoxide in the flue", "before any dilution"),
                Field("flue_oxygen", "Oxygen in the flue", "such as 7 %"),
            ),
        ),
    ),
    picture="combustion",
    setup=(
        "No embers, no ash in fireplaces; flues cold before the first firing.",
        "Meter warmed up and set to zero outdoors; watch the room's carbon monoxide all the time.",
        "Note thermostat, pilot and dampers as found: they are put back at the end.",
    ),
)
