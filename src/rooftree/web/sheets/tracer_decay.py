"""The page of a tracer decay."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Rows, Sheet
from rooftree.web.sheets.tracer_decay_chart import draw_tracer_decay

SHEET = Sheet(
    kind="tracer decay",
    name="Tracer decay",
    group="Ventilation",
    says=(
        "How fast carbon dioxide, or another gas, is carried away tells the air change of that "
        "hour. It takes an empty house, a sensor, and patience until half of it is gone."
    ),
    parts=(
        Rows(
            "lines",
            "Indoors",
            (
                Field("time", "Time", "such as 45 min"),
                Field("concentration", "Concentration", "such as 1450 ppm"),
                Field("position", "Where", "such as bedroom"),
            ),
            "Reading",
            fewest=6,
            says="Paste a logger's record, or read every quarter of an hour.",
        ),
        Rows(
            "outdoors",
            "Outdoors",
            (
                Field("concentration", "Concentration", "such as 425 ppm"),
                Field("time", "Time", "on the same clock"),
            ),
            "Reading",
            fewest=2,
            says="Before and after, with the same sensor, away from people and exhaust.",
        ),
        Group(
            "The test",
            (
                Field("tracer", "Gas"),
                Field("people", "People inside meanwhile", "none where empty"),
                Field("is_mixed", "Fans stir, inside doors open?"),
                Field("same_sensor", "Same sensor outdoors?"),
                Field("volume", "Volume of the air", "from the house where empty"),
                Field("window_start", "Use from", "found where empty"),
                Field("window_end", "Use to", "found where empty"),
            ),
        ),
        Rows(
            "steady",
            "With people inside, nearly steady",
            (Field("time", "Time"), Field("concentration", "Concentration")),
            "Reading",
            fewest=1,
            says="A second estimate: an evening or a night with the same people inside.",
            is_seldom=True,
        ),
        Group(
            "People who were inside then",
            (
                Field("steady_people", "How many", "such as 3"),
                Field("steady_activity", "What they did"),
            ),
            is_folded=True,
        ),
        Group(
            "Assumed where empty",
            (
                Field("concentration_uncertainty", "Sensor, standard uncertainty", "3 %"),
                Field("concentration_scatter", "Scatter of one reading", "5 ppm"),
                Field("highest_concentration", "End of the sensor's range", "5000 ppm"),
                Field("volume_uncertainty", "Volume, standard uncertainty", "5 %"),
            ),
            is_folded=True,
        ),
    ),
    picture="tracer_decay",
    setup=(
        "Sensor warmed up; outdoors read for five minutes in the open.",
        "Concentration raised to 1500 ppm or more, by breath or from a bottle, below 5000 ppm.",
        "Fans that only stir run, inside doors open, windows and outside doors shut.",
        "Everybody and every pet out before the first reading that counts.",
        "Ventilation and air handler as they are to be tested, and left alone.",
    ),
    draw=draw_tracer_decay,
    nothing_yet="The air change appears here as soon as the concentration has fallen by a quarter.",
)
