"""The page of guided air sealing."""

from __future__ import annotations

from rooftree.web.sheets.air_sealing_chart import draw_air_sealing
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

SHEET = Sheet(
    kind="air sealing",
    name="Air sealing",
    group="Work",
    says=(
        "Seal with the fan holding the house, and read it after each location: what each one "
        "brings and costs, what is left where, and whether the next is worth it."
    ),
    parts=(
        Group(
            "Before the first row",
            (
                Field("holes_closed", "Holes and hatches of other tests closed?", "look, then say"),
                Field("held_pressure", "House held at", "50 Pa unless given"),
                Field("baseline_pressure", "House with the fan sealed", "baseline, with its sign"),
                Field("labor_rate", "One person costs", "such as $60/h"),
            ),
        ),
        Rows(
            "rows",
            "Readings, the first before anything is sealed",
            (
                Field("time", "Time since the start", "such as 45 min"),
                Field("location", "Sealed since the row before", "empty in the first"),
                Field("house_pressure", "House against outdoors"),
                Field("fan_flow", "Flow of the fan"),
                Field("work", "Work", "of all people together"),
                Field("material_cost", "Material"),
                Field(
                    "place", "Place of the leak map", "where it is called otherwise", is_seldom=True
                ),
                Field("configuration", "Fan set to", is_seldom=True),
            ),
            each="Row",
            fewest=3,
        ),
        Rows(
            "places",
            "Leak map, as guessed before",
            (
                Field("place", "Place"),
                Field("share", "Share of the leakage"),
                Field("flow_50", "or at 50 Pa", "where a zone test gave it", is_seldom=True),
                Field("sealable", "Can be sealed", "50 % unless given", is_seldom=True),
                Field("work", "Work for that"),
                Field("material_cost", "Material for that"),
                Field("flow_uncertainty", "Known to", "50 % unless given", is_seldom=True),
            ),
            each="Place",
            fewest=2,
            says="May stay empty; with it the page says what is left where, and what to seal next.",
        ),
        Group(
            "Assumed where empty",
            (
                Field("exponent", "Exponent of the leaks", "0.65"),
                Field("flow_uncertainty", "Fan, standard uncertainty", "3 %"),
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.5 Pa"),
                Field("repeatability", "One flow read twice differs by", "0.5 %"),
                Field("pressure_repeatability", "One pressure, gusts", "0.25 Pa"),
            ),
            is_folded=True,
        ),
    ),
    setup=(
        "No vermiculite, no embers, burners off, people who must stay out of the dust are out.",
        "Hatches, doors and holes opened for other tests are closed again.",
        "Fan and gauge in the same configuration for the whole log; read once before sealing.",
        "After each location bring the house back to the held pressure, wait, then read.",
    ),
    picture="air_sealing",
    draw=draw_air_sealing,
    nothing_yet="The first row gives the flow before sealing; the second what was taken away.",
)
