"""The page of fan flows and ventilation."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Rows, Sheet
from rooftree.web.sheets.ventilation_chart import draw_ventilation

SHEET = Sheet(
    kind="ventilation",
    name="Fan flows and ventilation",
    group="Ventilation",
    says=(
        "What each fan really moves, what the house needs by ASHRAE 62.2, and what is missing. "
        "Floor area, bedrooms and the fan test come from the house."
    ),
    parts=(
        Rows(
            "fans",
            "Fans",
            (
                Field("name", "Fan or room", "such as main bath"),
                Field("purpose", "What for"),
                Field("flow", "Flow", "such as 85 cfm"),
                Field("turned_flow", "Read again", "with the hood turned", is_seldom=True),
                Field("supply_flow", "Supply stream", "of balanced fans", is_seldom=True),
                Field("rated_flow", "On the label"),
                Field("method", "Read by"),
                Field("is_even", "Even grille?", is_seldom=True),
                Field("is_clean", "Clean?"),
                Field("goes_outdoors", "Goes outdoors?"),
                Field("running", "Runs"),
                Field("run_share", "Share of the time", "such as 33 %", is_seldom=True),
                Field("cycle", "From start to start", "such as 3 h", is_seldom=True),
                Field("power", "Power", "such as 12 W", is_seldom=True),
                Field("window_opens", "Window opens?", is_seldom=True),
                Field("room_volume", "Volume of the room", "of kitchens", is_seldom=True),
            ),
            "Fan",
            fewest=3,
            says=(
                "Every fan that moves air in or out, the dryer too, and each bath and kitchen "
                "without a fan. Read one label at least: it shows a unit that was mixed up."
            ),
        ),
        Group(
            "The dwelling",
            (
                Field("edition", "Edition of ASHRAE 62.2", "2019 where empty"),
                Field("weather_factor", "Weather-and-shielding factor", "printed for the place"),
                Field("people", "People", "where more than bedrooms and one"),
                Field("is_new", "New dwelling?"),
                Field("exterior_share", "Envelope that faces outdoors", "100 % where detached"),
            ),
        ),
        Group(
            "Assumed where empty",
            (Field("flow_uncertainty", "Flow meter, standard uncertainty", "5 %"),),
            is_folded=True,
        ),
    ),
    picture="ventilation",
    setup=(
        "Doors of the rooms as in use; the air handler off unless it drives the ventilation.",
        "Grilles cleaned first; where one was dirty, read before and after.",
        "The hood covers the grille all round; a quarter turn and once more where it is uneven.",
        "Look outdoors: the flap opens, and the air ends there and not in the attic.",
        "The unit on the meter's display is the one that is typed.",
    ),
    draw=draw_ventilation,
    nothing_yet="Flows and needs appear here as soon as one fan was read.",
)
