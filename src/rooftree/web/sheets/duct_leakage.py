"""The page of a duct pressurization test."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Sheet

SHEET = Sheet(
    kind="duct leakage",
    name="Duct leakage",
    group="Ducts and air handler",
    says="How much the ducts leak at 25 Pa, in all or to outdoors only.",
    parts=(
        Group(
            "Readings",
            (
                Field("to_outdoors", "House held at the same pressure?", "then it is to outdoors"),
                Field("duct_pressure", "Ducts against house or outdoors"),
                Field("flow", "Flow of the duct fan"),
                Field("air_handler_flow", "Flow of the air handler"),
            ),
        ),
        Group(
            "Assumed",
            (
                Field("exponent", "Exponent of the leaks", "0.6 where nothing is known"),
                Field("flow_uncertainty", "Fan, standard uncertainty", "such as 3 %"),
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "such as 0.25 Pa"),
            ),
            is_folded=True,
        ),
    ),
    picture="duct_leakage",
    setup=(
        "Every register sealed; filter out; dampers open; air handler off.",
        "For leakage to outdoors the house is held at the same pressure as the ducts.",
        "Every tape off again when the test is done.",
    ),
)
