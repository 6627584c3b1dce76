"""The page of the readings at a burner."""

from __future__ import annotations

from rooftree.web.sheets.combustion_chart import draw_combustion
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

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
                Field("vent_category", "Category on the rating plate"),
                Field("fuel", "Fuel"),
                Field("outdoor_temperature", "Outdoors"),
            ),
        ),
        Group(
            "Protocol",
            (
                Field("protocol", "Judged by"),
                Field("edition", "Edition of your copy"),
                Field("own_spillage_limit", "Its limit on spillage", "such as 120 s"),
                Field("own_co_limit", "Its limit on carbon monoxide", "such as 200 ppm"),
            ),
            says="What your copy prints counts before what we recall.",
            is_folded=True,
        ),
        Group(
            "In the room",
            (
                Field("gas_leak", "Gas leak found?"),
                Field("zeroed_outdoors", "Analyser warm and zeroed outdoors?"),
                Field("ambient_co", "Carbon monoxide before", "such as 3 ppm"),
                Field("ambient_co_after", "Carbon monoxide after the burner ran"),
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
            "The burner fires",
            (
                Field("vent_state", "Vent at fire-up"),
                Field("timed_from", "Timer started at"),
                Field("flame", "Flame"),
                Field("flame_moves", "Flame changes when the blower starts?"),
                Field("soot", "Soot, scorching, rust or a melted hood?"),
            ),
        ),
        Rows(
            "spillage_checks",
            "Looks at the draft hood",
            (
                Field("seconds", "After fire-up", "such as 20 s"),
                Field("spills", "Spills?"),
                Field("place", "Where, seen with"),
            ),
            each="Look",
            says="Every ten seconds or so. Or only the time when it stopped, below.",
            is_seldom=True,
        ),
        Group(
            "Spillage and draft",
            (
                Field("spillage_seconds", "Spillage stopped after", "empty if it never did"),
                Field("natural_tested", "Repeated with fans off?"),
                Field("natural_spillage_seconds", "Then stopped after", "empty if it never did"),
                Field("draft_pressure", "Flue against room"),
                Field("flue_temperature", "Flue there"),
                Field("flue_height", "From there to the top"),
            ),
        ),
        Group(
            "Flue gas",
            (
                Field("probe", "Probe stood"),
                Field("analyser_range", "Analyser shows at most"),
                Field("flue_co", "Carbon monoxide", "before any dilution"),
                Field("flue_oxygen", "Oxygen", "such as 7 %"),
                Field("flue_carbon_dioxide", "Carbon dioxide", "where no oxygen is shown"),
                Field("sample_seconds", "Read after fire-up", "such as 10 min"),
            ),
        ),
        Rows(
            "flue_samples",
            "Or samples until it is steady",
            (
                Field("seconds", "After fire-up"),
                Field("carbon_monoxide", "Carbon monoxide"),
                Field("oxygen", "Oxygen"),
                Field("carbon_dioxide", "Carbon dioxide"),
            ),
            each="Sample",
            is_seldom=True,
        ),
        Group(
            "Before you leave: as it was?",
            (
                Field("pilot_relit", "Pilot"),
                Field("thermostat_restored", "Thermostat, water temperature"),
                Field("switches_restored", "Gas cock and switches"),
                Field("doors_restored", "Doors, hatches, windows"),
            ),
        ),
        Group(
            "Assumed where empty",
            (
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.5 Pa"),
                Field("concentration_uncertainty", "Carbon monoxide, of the reading", "5 %"),
                Field("gas_uncertainty", "Oxygen and carbon dioxide", "0.2 %"),
            ),
            is_folded=True,
        ),
    ),
    picture="combustion",
    setup=(
        "No embers, no ash in fireplaces; flues cold before the first firing.",
        "Meter warmed up and set to zero outdoors; watch the room's carbon monoxide all the time.",
        "Note thermostat, pilot and dampers as found: they are put back at the end.",
        "The fans and doors stand in the worst case that the search found.",
        "Start the timer when the burner fires, not when the thermostat calls.",
        "Probe below the draft hood, in each passage of the heat exchanger.",
    ),
    draw=draw_combustion,
)
