"""The page of an air handler."""

from __future__ import annotations

from rooftree.web.sheets.air_handler_chart import draw_air_handler
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

SHEET = Sheet(
    kind="air handler",
    name="Air handler",
    group="Ducts and air handler",
    says=(
        "How hard the fan works, how much air it moves, and what that air carries. Fill in what "
        "you have read: each way to tell the flow stands beside the others."
    ),
    parts=(
        Group(
            "Static pressure",
            (
                Field("entering_static", "Before the equipment", "against the room, such as -0.25"),
                Field("leaving_static", "After the equipment", "against the room, such as 0.25"),
                Field("total_static", "Both hoses at once", "if read"),
                Field("static_swing", "Swing of the reading", "highest less lowest"),
                Field("rated_static", "Highest on the nameplate"),
            ),
            says="Fan running as usual, filter in, every register open.",
        ),
        Rows(
            "drops",
            "Drop of each part",
            (
                Field("part", "Part"),
                Field("drop", "Drop", "without sign"),
                Field("inside", "Inside the cabinet?"),
            ),
            "Part",
            fewest=4,
            says=(
                "Those outside the cabinet have to add up to the total: return duct, filter, coil "
                "on a furnace, supply duct."
            ),
        ),
        Group(
            "Temperatures",
            (
                Field("operation", "What it does"),
                Field("return_temperature", "Return air"),
                Field("supply_temperature", "Supply air"),
                Field("outdoor_temperature", "At the outdoor unit"),
            ),
            says="After fifteen steady minutes, in the plenums, out of sight of burner and coil.",
        ),
        Group(
            "Humidity, when it cools",
            (
                Field("return_wet_bulb", "Return air, wet bulb", "or the humidity"),
                Field("return_humidity", "Return air, humidity"),
                Field("supply_wet_bulb", "Supply air, wet bulb"),
                Field("supply_humidity", "Supply air, humidity"),
            ),
            is_folded=True,
        ),
        Group(
            "Nameplates and power",
            (
                Field("rated_capacity", "Nominal cooling capacity", "such as 3 ton"),
                Field("blower_power", "Power of the fan"),
                Field("heat_input", "Heat put in", "fuel clocked at the meter, or elements"),
                Field("heat_efficiency", "Share that reaches the air", "such as 80 %"),
                Field("rated_rise_low", "Rise on the nameplate, from"),
                Field("rated_rise_high", "Rise on the nameplate, to"),
            ),
        ),
        Rows(
            "registers",
            "Registers and grilles",
            (
                Field("name", "Where"),
                Field("side", "Side"),
                Field("flow", "Flow"),
                Field("design", "Design"),
            ),
            "Register",
            says="Every one of a side: one that is missing makes the flow too small.",
            is_seldom=True,
        ),
        Rows(
            "fan_curve",
            "The maker's table, at the speed that is set",
            (Field("static", "Static pressure"), Field("flow", "Flow")),
            "Line",
            is_seldom=True,
        ),
        Group(
            "Measuring plate in the filter's place",
            (
                Field("slot_flow", "Flow"),
                Field("slot_static", "Supply plenum, plate in"),
                Field("usual_static", "Supply plenum, as usual"),
            ),
            is_folded=True,
        ),
        Group(
            "Duct of the traverse",
            (
                Field("traverse_side", "In which duct"),
                Field("duct_shape", "Shape"),
                Field("duct_diameter", "Diameter inside"),
                Field("duct_width", "Width inside"),
                Field("duct_height", "Height inside"),
                Field("traverse_rule", "Where the points lie"),
            ),
            is_folded=True,
        ),
        Rows(
            "traverse",
            "Points of the traverse",
            (Field("velocity_pressure", "Velocity pressure"), Field("speed", "or speed")),
            "Point",
            fewest=2,
            is_seldom=True,
        ),
        Group(
            "Assumed where empty",
            (
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.5 Pa"),
                Field("probe_uncertainty", "Place of a probe", "2.5 Pa"),
                Field("velocity_pressure_uncertainty", "Velocity pressure", "0.25 Pa"),
                Field("temperature_uncertainty", "Thermometer", "0.3 °C (0.5 °F)"),
                Field("mixing_uncertainty", "Mixing in the plenum", "0.3 °C (0.5 °F)"),
                Field("humidity_uncertainty", "Humidity", "3 %"),
                Field("flow_uncertainty", "Register flows, shared", "5 %"),
                Field("flow_repeatability", "One register read again", "3 %"),
                Field("fan_curve_uncertainty", "The maker's table", "7 %"),
                Field("traverse_uncertainty", "Few points of a traverse", "4 %"),
                Field("slot_uncertainty", "Measuring plate", "5 %"),
                Field("heat_input_uncertainty", "Heat input", "3 %"),
                Field("length_uncertainty", "A measure of the duct", "3 mm"),
            ),
            is_folded=True,
        ),
    ),
    picture="air_handler",
    setup=(
        "Before registers are taped for the duct test; filter as found, noted clean or dirty.",
        "All registers and inside doors open; fan at the speed that cooling uses.",
        "Probe holes in straight sheet metal, clear of coil, blower and elbows; nose upstream.",
        "Gauge zeroed and its unit noted: inches of water or pascals.",
        "Afterwards close every hole and put thermostat and speed back as found.",
    ),
    draw=draw_air_handler,
    nothing_yet="Static pressure and flow appear here as soon as one of them can be told.",
)
