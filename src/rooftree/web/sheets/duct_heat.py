"""The page of duct runs."""

from __future__ import annotations

from rooftree.web.sheets.duct_heat_chart import draw_duct_heat
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

SHEET = Sheet(
    kind="duct heat",
    name="Duct heat",
    group="Ducts and air handler",
    says=(
        "How much of the heating or cooling that enters a run arrives at its register, what its"
        " wrap is worth, and whether it sweats."
    ),
    parts=(
        Rows(
            "runs",
            "Runs",
            (
                Field("name", "Run or register", "such as bedroom 2"),
                Field("entering_temperature", "Air that enters"),
                Field("surroundings_temperature", "Air round it"),
                Field("register_temperature", "Air at the register", "after 5 minutes of running"),
                Field("running_time", "Fan had run for", "such as 10 min"),
                Field("length", "Length"),
                Field("diameter", "Diameter inside"),
                Field("width", "or width", "of a rectangular duct", is_seldom=True),
                Field("height", "and height", is_seldom=True),
                Field("air_speed", "Air speed", "or its flow"),
                Field("flow", "Flow", is_seldom=True),
                Field("insulation_resistance", "Wrap, labelled", "such as R-6; empty for none"),
                Field("bare_share", "Torn or bare", "share of the surface", is_seldom=True),
                Field("wrap_thickness", "Thickness, if crushed", is_seldom=True),
                Field("kind", "Duct", is_seldom=True),
                Field("jacket", "Outer face", is_seldom=True),
                Field("cover", "It lies", is_seldom=True),
                Field("cover_depth", "Insulation over its top", is_seldom=True),
                Field("foam_thickness", "Foam on it", is_seldom=True),
                Field(
                    "surroundings_humidity",
                    "Humidity round it",
                    "to see whether it sweats",
                    is_seldom=True,
                ),
                Field("surroundings_dew_point", "or dew point round it", is_seldom=True),
                Field("standing_time", "Fan had stood for", "for the first minute", is_seldom=True),
            ),
            "Run",
            fewest=1,
            says=(
                "Only name, temperatures, length, size and flow are needed; the rest sharpens the"
                " answer."
            ),
        ),
        Group("The rooms", (Field("room_temperature", "Room temperature"),)),
        Group(
            "Assumed where empty",
            (
                Field("barometric_pressure", "Barometer", "from the altitude"),
                Field(
                    "temperature_uncertainty",
                    "Air in ducts, standard uncertainty",
                    "0.4 °C (0.7 °F)",
                ),
                Field("surroundings_uncertainty", "Surroundings along the run", "2 °C (3.6 °F)"),
                Field("humidity_uncertainty", "Hygrometer", "3 %"),
                Field("flow_uncertainty", "Flow or air speed", "10 %"),
                Field("length_uncertainty", "Length", "1 ft"),
                Field("insulation_uncertainty", "Labelled wrap", "15 %"),
                Field("film_uncertainty", "Films of air", "20 %"),
            ),
            is_folded=True,
        ),
    ),
    picture="duct_heat",
    setup=(
        "Old white or grey paper or tape on ducts: do not touch it, it can be asbestos.",
        "Attic: short stays, water, boards to walk on, somebody who knows that you are up there.",
        "Air handler on for ten minutes, filter in, doors as in daily life.",
        "Probe in the middle of the stream, out of sight of the coil and of the sun.",
    ),
    draw=draw_duct_heat,
    nothing_yet="Results appear here as soon as one run has temperatures, length, size and flow.",
)
