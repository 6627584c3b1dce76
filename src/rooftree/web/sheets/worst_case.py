"""The page of the search for the worst case of an appliance zone."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Rows, Sheet
from rooftree.web.sheets.worst_case_chart import draw_worst_case

_READING = (Field("", "Reading", "such as -0.4 Pa"),)

SHEET = Sheet(
    kind="worst case",
    name="Worst case of a zone",
    group="Burners",
    says=(
        "Which fans and doors pull deepest on the room of a burner. The page says what to set and "
        "read next, keeps every reading, and takes the baseline off."
    ),
    parts=(
        Group(
            "The zone",
            (
                Field("zone", "Room of the burner"),
                Field("appliance", "Burner that is pulled on most easily"),
                Field("draft", "How it is vented"),
                Field("shares_flue", "Does another burner use its flue?"),
            ),
        ),
        Group(
            "Before any fan runs",
            (
                Field("hearth", "Fireplaces and stoves"),
                Field("closed_up", "Outside doors, windows, damper closed?"),
            ),
        ),
        Group(
            "What is there to be tried",
            (
                Field("has_dryer", "Dryer"),
                Field("has_range_hood", "Range hood"),
                Field("has_bath_fans", "Bath fans"),
                Field("has_other_exhaust", "Other exhaust"),
                Field("has_air_handler", "Air handler"),
                Field("has_interior_doors", "Doors of rooms"),
                Field("has_zone_door", "Door of the zone"),
            ),
            says="Unanswered counts as yes, but for other exhaust.",
            is_folded=True,
        ),
        Rows("baseline_before", "Baseline before: all off, doors open", _READING, each="Reading"),
        Rows(
            "states",
            "Combinations, in the order read",
            (
                Field("pressure", "Zone against outdoors", "such as -3.2 Pa"),
                Field("dryer", "Dryer on?"),
                Field("range_hood", "Hood on?"),
                Field("bath_fans", "Bath fans on?"),
                Field("other_exhaust", "Other exhaust on?", is_seldom=True),
                Field("air_handler", "Air handler on?"),
                Field("interior_doors_closed", "Rooms closed?"),
                Field("zone_door_closed", "Zone door closed?"),
                Field("gust", "Half of the swing", is_seldom=True),
            ),
            each="Combination",
            fewest=4,
            says="Unanswered counts as off and open. What to read next stands in the result.",
        ),
        Rows("baseline_after", "Baseline after: all off, doors open", _READING, each="Reading"),
        Group(
            "Flows, for what the fans should do",
            (
                Field("dryer_flow", "Dryer"),
                Field("range_hood_flow", "Range hood"),
                Field("bath_fans_flow", "Bath fans together"),
                Field("other_exhaust_flow", "Other exhaust"),
                Field("air_handler_pull", "Duct leaks draw out", "supply less return leaks"),
                Field("zone_return_leak", "Returns draw from the zone"),
                Field("door_gap", "Gap of the closed zone door"),
                Field("zone_share", "Share of the house's leaks in the zone", "5 % if not known"),
            ),
            says="The leakage of the house comes from the fan test.",
            is_folded=True,
        ),
        Group(
            "Weather",
            (
                Field("height", "Height of the heated house"),
                Field("indoor_temperature", "Indoors"),
                Field("outdoor_temperature", "Outdoors"),
            ),
            is_folded=True,
        ),
        Group(
            "Before you leave: as it was?",
            (
                Field("fans_restored", "Fans and air handler"),
                Field("doors_restored", "Doors and hatches"),
            ),
        ),
        Group(
            "Assumed where empty",
            (
                Field("pressure_uncertainty", "Gauge without wind", "0.3 Pa"),
                Field("flow_uncertainty", "Flow of a fan", "10 %"),
            ),
            is_folded=True,
        ),
    ),
    picture="worst_case",
    setup=(
        "No embers anywhere; ash taken out or covered; dampers closed.",
        "Burners off or on pilot; thermostat and water temperature noted as found.",
        "Outside doors and windows closed; lint filter of the dryer clean; filters in.",
        "Hose to outdoors out of sun and wind; gauge shows zone against outdoors.",
        "Carbon monoxide of the room in sight all the time.",
    ),
    draw=draw_worst_case,
    nothing_yet="What to set and read first appears here as soon as the zone has a name.",
)
