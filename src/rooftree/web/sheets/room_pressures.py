"""The page of room and house pressures."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Rows, Sheet
from rooftree.web.sheets.room_pressures_chart import draw_room_pressures

SHEET = Sheet(
    kind="room pressures",
    name="Room pressures",
    group="Ducts and air handler",
    says=(
        "Which rooms are out of balance when their door is closed, what relieves them, and what "
        "air handler and exhaust fans do to the whole house."
    ),
    parts=(
        Rows(
            "pressures",
            "Pressures",
            (
                Field("room", "Room", "empty for the house"),
                Field("pressure", "Pressure", "such as 4.2 Pa"),
                Field("doors_closed", "Doors shut?"),
                Field("air_handler", "Air handler?"),
                Field("exhausts", "Fans on", "such as dryer"),
                Field("reference", "Against"),
            ),
            "Reading",
            fewest=6,
            says=(
                "Each room against the main space, door shut, air handler on; then with it off. "
                "Room empty: the main space against outdoors, doors open, air handler off and on; "
                "with doors shut; with each exhaust fan by its name."
            ),
        ),
        Rows(
            "rooms",
            "Rooms",
            (
                Field("name", "Room"),
                Field("undercut", "Door gap", "such as 1/2 in"),
                Field("door_width", "Width of the door", is_seldom=True),
                Field("other_area", "Clear area of grilles", is_seldom=True),
                Field("supply_flow", "Supply", "such as 90 cfm"),
                Field("return_flow", "Return"),
                Field("leakage_share", "Share of leaks", is_seldom=True),
            ),
            "Room",
            says=(
                "Names as above. The gap under the door, its width (30 in if empty) and the clear "
                "area of grilles; or what the registers give: both check each other. Leakage: the "
                "room's share of the house's leaks, 8 % if empty."
            ),
        ),
        Rows(
            "exhausts",
            "Exhaust fans",
            (Field("name", "Fan"), Field("flow", "Flow")),
            "Fan",
            fewest=2,
        ),
        Group(
            "The house",
            (
                Field("main_supply_flow", "Supply registers of the main space"),
                Field("main_return_flow", "Return grilles of the main space"),
                Field("house_height", "Height from lowest to highest leak"),
                Field("indoor_temperature", "Indoors"),
                Field("outdoor_temperature", "Outdoors"),
            ),
        ),
        Group(
            "Assumed where empty",
            (
                Field("allowed_pressure", "Allowed in a closed room", "3 Pa"),
                Field("discharge", "Discharge of gaps and grilles", "0.6"),
                Field("discharge_uncertainty", "Its standard uncertainty", "0.04"),
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.15 Pa"),
                Field("wind_uncertainty", "Wind", "0.2 Pa"),
                Field("flow_uncertainty", "Register flows", "7 %"),
                Field("length_uncertainty", "Ruler", "0.5 mm"),
                Field("gap_uncertainty", "Unevenness of a gap", "1 mm"),
            ),
            is_folded=True,
        ),
    ),
    picture="room_pressures",
    setup=(
        "Windows and outside doors shut; fireplace dampers shut; no embers.",
        "Gauge zeroed; the room's hose on the input, the main space or outdoors on the reference.",
        "Tube under the door not pinched: blow into it and see the gauge move.",
        "Wait a minute after each change; average ten seconds, longer in wind.",
        "Afterwards put doors, fans and thermostat back as found.",
    ),
    draw=draw_room_pressures,
    nothing_yet="Rooms appear here as soon as one closed room was read with the air handler on.",
)
