"""The page of carbon monoxide in room air."""

from __future__ import annotations

from rooftree.web.sheets.ambient_co_chart import draw_ambient_co
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

SHEET = Sheet(
    kind="room air",
    name="Carbon monoxide of room air",
    group="Burners",
    says="What the people of the house breathe, place by place over the visit, and what to do.",
    parts=(
        Group(
            "First",
            (
                Field("zeroed_outdoors", "Analyser warm and zeroed outdoors?"),
                Field("alarm_sounded", "Has an alarm sounded?"),
                Field("symptoms", "Headache, nausea, drowsiness?"),
            ),
        ),
        Rows(
            "air",
            "Readings",
            (
                Field("seconds", "Time since the first", "such as 20 min"),
                Field("place", "Place", "room, or outdoors"),
                Field("carbon_monoxide", "Carbon monoxide", "such as 3 ppm"),
                Field("running", "What burnt or ran"),
            ),
            each="Reading",
            fewest=4,
        ),
        Group(
            "The analyser",
            (
                Field("analyser_range", "Shows at most", "such as 1000 ppm"),
                Field("reading_uncertainty", "Standard uncertainty near zero", "such as 1 ppm"),
                Field("concentration_uncertainty", "Of the reading", "such as 5 %"),
            ),
            is_folded=True,
        ),
    ),
    picture="ambient_co",
    setup=(
        "Analyser started and zeroed outdoors, away from engines.",
        "Read outdoors first and last; then each room with a burner, and where people sleep.",
        "Above 35 ppm: stop, burners off, windows open, everybody outside.",
    ),
    draw=draw_ambient_co,
)
