"""The page of gas leaks."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

SHEET = Sheet(
    kind="gas leaks",
    name="Gas leaks",
    group="Burners",
    says="Where gas escapes, how it was found, who was told, and whether it is tight again.",
    parts=(
        Group(
            "On coming in",
            (
                Field("gas", "Gas"),
                Field("smell_on_entry", "Smell of gas?"),
                Field("ambient_gas", "In the air", "of the lower explosive limit, such as 2 %"),
            ),
        ),
        Rows(
            "leaks",
            "Leaks",
            (
                Field("place", "Where"),
                Field("found_by", "Found by"),
                Field("confirmed", "Confirmed?"),
                Field("reported_to", "Told to"),
                Field("repaired", "Repaired?"),
                Field("tested_again", "Found tight again?"),
                Field("note", "Note"),
            ),
            each="Leak",
            fewest=1,
        ),
        Group(
            "The walk",
            (
                Field("joints_checked", "Joints passed"),
                Field("all_reached", "Every joint from meter or tank to burner?"),
                Field("connectors", "Connector kinked, corroded or before 1973?"),
                Field("tubing_bonded", "Corrugated tubing bonded?"),
            ),
        ),
    ),
    picture="gas_leaks",
    setup=(
        "Detector started in fresh air; it ticks evenly.",
        "From the meter or tank along every joint, about an inch a second; low for propane.",
        "Bubbles on every place where it ticks faster.",
    ),
    nothing_yet="What to do appears here as soon as something is answered.",
)
