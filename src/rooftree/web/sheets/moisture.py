"""The page of moisture readings."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Rows, Sheet
from rooftree.web.sheets.moisture_chart import draw_moisture

SHEET = Sheet(
    kind="moisture",
    name="Moisture",
    group="Moisture and insulation",
    says=(
        "Which air holds the most water, which surface is cold enough to be wet by it, and"
        " whether the wood is wetter than the air explains."
    ),
    parts=(
        Rows(
            "places",
            "Air",
            (
                Field("name", "Place", "such as hall, yard"),
                Field("kind", "Kind of place"),
                Field("temperature", "Air temperature"),
                Field("relative_humidity", "Relative humidity", "or one of the next two"),
                Field("wet_bulb", "Wet bulb", is_seldom=True),
                Field("dew_point", "Dew point", is_seldom=True),
                Field(
                    "earlier_temperature",
                    "Temperature two minutes before",
                    "shows settling",
                    is_seldom=True,
                ),
                Field("earlier_humidity", "Humidity two minutes before", is_seldom=True),
            ),
            "Place",
            says=(
                "Outdoors in the shade and every kind of air in the house, within the hour; leave"
                " the probe in each place until two readings agree."
            ),
        ),
        Rows(
            "surfaces",
            "Surfaces",
            (
                Field("name", "Surface", "such as north corner"),
                Field("temperature", "Temperature, as shown"),
                Field("place", "Place whose air touches it", "as named above"),
                Field("side", "Which face"),
                Field("thermometer", "Read with", is_seldom=True),
                Field("finish", "Finish", is_seldom=True),
                Field("set_emissivity", "Emissivity set", "such as 0.95", is_seldom=True),
                Field(
                    "reflected_temperature",
                    "Mirrored temperature",
                    "off crumpled foil",
                    is_seldom=True,
                ),
                Field("sunless_time", "Since the sun left it", "such as 4 h", is_seldom=True),
            ),
            "Surface",
            fewest=2,
        ),
        Rows(
            "woods",
            "Wood",
            (
                Field("name", "Piece", "such as joist 3"),
                Field("moisture_content", "Moisture content, as shown"),
                Field("place", "Place it stands in", "as named above"),
                Field("temperature", "Its temperature", "if not that of the air", is_seldom=True),
                Field("wood", "It is"),
                Field("meter_set_to", "Meter set to", is_seldom=True),
                Field("mode", "Meter", is_seldom=True),
                Field("in_the_way", "Near the pins", is_seldom=True),
                Field("depth", "Depth of the pins", is_seldom=True),
            ),
            "Piece",
            fewest=2,
            says="A wet spot: a hand away, and at three depths, before it is believed.",
        ),
        Group(
            "Conditions",
            (
                Field("wind_speed", "Wind", "such as 5 mph"),
                Field("steady_time", "Inside warmer or cooler since", "such as 6 h"),
                Field("rule", "Conditions by"),
            ),
        ),
        Group(
            "Assumed where empty",
            (
                Field("barometric_pressure", "Barometer", "from the altitude"),
                Field(
                    "temperature_uncertainty",
                    "Thermometer, standard uncertainty",
                    "0.3 °C (0.5 °F)",
                ),
                Field("humidity_uncertainty", "Hygrometer", "2 %"),
                Field("surface_uncertainty", "Surface thermometer", "0.7 °C (1.3 °F)"),
                Field("emissivity_uncertainty", "Emissivity", "0.03"),
                Field("wood_uncertainty", "Wood meter", "1.5 %"),
            ),
            is_folded=True,
        ),
    ),
    picture="moisture",
    setup=(
        "Crawlspace or attic safe to enter: no standing water, no bad air, somebody outside.",
        "Hygrometer checked against another this week; it has lain in the shade, not in the sun.",
        "Note the weather: sun on which face, wind, and how long inside has been warm or cool.",
        "Infrared: emissivity set, foil and bare metal taped; meter: set to the wood, pins clean.",
    ),
    draw=draw_moisture,
    nothing_yet="Dew points appear here as soon as one place has temperature and humidity.",
)
