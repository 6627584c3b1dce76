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
                Field("room", "Room", "empty for the main space against outdoors"),
                Field("pressure", "Pressure"),
                Field("doors_closed", "Doors closed?"),
                Field("air_handler", "Air handler on?"),
                Field("exhausts", "Exhaust fans on", "names, with commas"),
                Field("reference", "Against"),
            ),
            "Reading",
            fewest=6,
            says=(
                "Each room with its door closed, air handler on, then one with it off. The main "
                "space against outdoors with doors open, air handler off and on; then with doors "
                "closed; then with each exhaust fan."
            ),
        ),
        Rows(
            "rooms",
            "Rooms",
            (
                Field("name", "Room", "as above"),
                Field("undercut", "Gap under the door"),
                Field("door_width", "Door width", "30 in"),
                Field("other_area", "Other openings", "clear area of grilles"),
                Field("supply_flow", "Supply registers"),
                Field("return_flow", "Return grilles"),
                Field("leakage_share", "Share in the house's leakage", "8 %"),
            ),
            "Room",
            says="Either the gap under the door or the registers; both check each other.",
        ),
        Rows(
            "exhausts",
            "Exhaust fans",
            (Field("name", "Fan", "as above"), Field("flow", "Flow")),
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
            "Assumed",
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
