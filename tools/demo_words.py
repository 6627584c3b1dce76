"""The invented people, places, findings and offers of the demo job.

None of this is anybody's house. Costs are invented too, in the range that such work
commonly has, and say so in their basis.
"""

from __future__ import annotations

VISITS = [
    {
        "id": "visit-1",
        "date": "2026-01-21",
        "assessor": "D. Arden",
        "purpose": "test-in",
        "conditions": "34 °F, light wind from the northwest, dry, no sun on the south wall",
        "not_seen": [
            "inside of the wall to the garage: closed, painted, no outlet to look behind",
            "sloped ceilings of the bonus room: closed",
            "drain under the slab of the garage",
        ],
    }
]

COMPLAINTS = [
    {
        "id": "complaint-cold",
        "words": "The room over the garage is an icebox in January and an oven in July. "
        "The kids will not sleep there.",
        "place": "bonus-room",
        "season": "January and July",
    },
    {
        "id": "complaint-smell",
        "words": "It smells damp when we come home, worst in summer, and the oak floor in the "
        "hall has started to cup.",
        "place": "hall",
        "season": "summer",
    },
    {
        "id": "complaint-bills",
        "words": "We pay more than the neighbours and are still not comfortable.",
        "place": "living",
        "season": "all year",
    },
]

PLACES = [
    ("site", "site and drainage", "exterior", "", ""),
    ("exterior-north", "north side", "exterior", "site", ""),
    ("exterior-south", "south side", "exterior", "site", ""),
    ("exterior-east", "east side", "exterior", "site", ""),
    ("exterior-west", "west side", "exterior", "site", ""),
    ("roof", "roof and gutters", "exterior", "site", ""),
    ("living", "main floor", "storey", "", "living"),
    ("kitchen", "kitchen", "room", "living", "living"),
    ("hall", "hall", "room", "living", "living"),
    ("bath-1", "hall bath", "room", "living", "living"),
    ("bath-2", "bath of the main bedroom", "room", "living", "living"),
    ("bedroom-1", "main bedroom", "room", "living", "living"),
    ("bedroom-2", "north bedroom", "room", "living", "living"),
    ("bedroom-3", "west bedroom", "room", "living", "living"),
    ("family-room", "family room", "room", "living", "living"),
    ("laundry", "laundry", "room", "living", "living"),
    ("utility-closet", "utility closet", "mechanical room", "living", "living"),
    ("bonus-room", "bonus room", "room", "", "bonus"),
    ("stair", "stair to the bonus room", "room", "bonus-room", "living"),
    ("attic", "attic", "attic", "", "attic"),
    ("attic-hatch", "attic hatch", "opening", "attic", "attic"),
    ("attic-eaves", "eaves", "part", "attic", "attic"),
    ("knee-wall-north", "north knee-wall attic", "knee-wall attic", "", "knee"),
    ("knee-wall-south", "south knee-wall attic", "knee-wall attic", "", "knee"),
    ("crawlspace", "crawlspace", "crawlspace", "", "crawl"),
    ("crawl-north-wall", "north crawlspace wall", "part", "crawlspace", "crawl"),
    ("furnace-place", "furnace in the crawlspace", "part", "crawlspace", "crawl"),
    ("ducts-crawl", "ducts in the crawlspace", "ducts", "crawlspace", "crawl"),
    ("duct-bonus", "duct to the bonus room", "ducts", "knee-wall-north", "knee"),
    ("garage", "garage", "garage", "", "garage"),
    ("garage-ceiling", "garage ceiling", "part", "garage", "garage"),
    ("electrical-panel", "electrical panel", "part", "garage", "garage"),
]

OBSERVATIONS = [
    {
        "id": "obs-natural-draft",
        "place": "utility-closet",
        "code": "natural-draft-in-living-zone",
        "severity": "gate",
        "says": "The water heater takes its air from the house and sends its smoke up a "
        "natural-draft vent.",
        "cause": "Vent and closet of 1961; the heater is 14 years old.",
        "consequence": "With the dryer and the air handler on and doors shut, the closet is "
        "pulled below outdoors and smoke can come back into the house.",
        "remedy": "Replace it by one that burns nothing inside before the house is tightened.",
        "proof": "No burner left in the closet; vent capped; combustion test of the furnace.",
    },
    {
        "id": "obs-bulk-water",
        "place": "exterior-north",
        "code": "bulk-water",
        "severity": "gate",
        "says": "Two downspouts end at the north wall and the soil slopes to the house.",
        "cause": "Settled backfill; splash blocks gone.",
        "consequence": "Rain stands against the crawlspace wall; stains reach 10 in up the block.",
        "remedy": "Carry downspouts 10 ft away and slope the soil 6 in over 10 ft.",
        "proof": "Dry wall after an inch of rain; photo.",
    },
    {
        "id": "obs-wet-crawl",
        "place": "crawlspace",
        "code": "wet-crawlspace",
        "severity": "gate",
        "says": "Bare, damp soil; joists read 21 % and 23 % moisture at the north end.",
        "cause": "Water at the north wall, no ground cover, open vents in humid summers.",
        "consequence": "Damp smell, cupped oak floor above, batts hanging down.",
        "remedy": "Solve the water outside first, then cover the ground and close the vents.",
        "proof": "Joists below 16 % moisture for a month.",
    },
    {
        "id": "obs-bath-fan",
        "place": "bath-1",
        "code": "bath-fan-into-attic",
        "severity": "gate",
        "says": "The hall bath fan blows into the attic, 21 cfm at the grille.",
        "cause": "Flexible duct fell off its collar.",
        "consequence": "Wet air reaches the roof deck; dark stains on six sheathing boards.",
        "remedy": "New fan with smooth duct to a wall hood, 80 cfm measured.",
        "proof": "Measured flow and photo of the hood.",
    },
    {
        "id": "obs-open-joists",
        "place": "garage-ceiling",
        "code": "garage-air",
        "severity": "gate",
        "says": "The joist bays under the bonus room are open to the knee-wall attics.",
        "cause": "Room finished later; no blocking under the knee walls.",
        "consequence": "Outdoor air washes through the floor; garage air reaches the room.",
        "remedy": "Block every bay under the knee walls, seal the garage ceiling, fill the bays.",
        "proof": "Zone pressures after sealing; photo of the blocking before it is closed.",
    },
    {
        "id": "obs-ceiling-bypass",
        "place": "attic",
        "code": "",
        "severity": "note",
        "says": "Open chases at two plumbing walls, a dropped soffit over the kitchen, 14 light "
        "boxes and an attic hatch without gasket.",
        "cause": "As built.",
        "consequence": "House air leaves through the ceiling and pulls crawlspace air in below.",
        "remedy": "Seal before any insulation is added.",
        "proof": "Fan test and zone pressure after sealing.",
    },
    {
        "id": "obs-attic-insulation",
        "place": "attic",
        "code": "",
        "severity": "note",
        "says": "Batts of 3 1/2 in, gaps over the hall, none over the dropped soffit.",
        "cause": "Insulation of 1961, disturbed by later wiring.",
        "consequence": "Ceiling loses three times what a new one would.",
        "remedy": "Blow in loose fill to R-49 after sealing; baffles at the eaves.",
        "proof": "Depth rulers in ten places; photo.",
    },
    {
        "id": "obs-loose-batts",
        "place": "crawlspace",
        "code": "",
        "severity": "note",
        "says": "A third of the floor batts hang loose or lie on the ground.",
        "cause": "Damp, and wire supports rusted through.",
        "consequence": "Cold floors; the ducts' leaks blow straight at the boards.",
        "remedy": "Take them out when the crawlspace is closed; insulate the walls instead.",
        "proof": "Photo.",
    },
    {
        "id": "obs-ducts",
        "place": "ducts-crawl",
        "code": "",
        "severity": "note",
        "says": "Cloth tape has let go at the plenum and at four boots; return box open at a seam.",
        "cause": "Age of tape.",
        "consequence": "A fifth of the air handler's flow never reaches a room or comes from "
        "the crawlspace.",
        "remedy": "Mastic on all joints, boots sealed to the floor.",
        "proof": "Duct test at 25 Pa: no more than 60 cfm to outdoors.",
    },
    {
        "id": "obs-no-fan",
        "place": "kitchen",
        "code": "",
        "severity": "note",
        "says": "The range hood sends its air back into the kitchen; there is no whole-house fan.",
        "cause": "As bought.",
        "consequence": "Cooking moisture and fumes stay inside.",
        "remedy": "Hood ducted outdoors; whole-house fan sized after tightening.",
        "proof": "Measured flows.",
    },
    {
        "id": "obs-lead",
        "place": "living",
        "code": "",
        "severity": "note",
        "says": "Painted trim of 1961 has not been tested for lead.",
        "cause": "Built before 1978.",
        "consequence": "Sanding or cutting it spreads dust that harms children.",
        "remedy": "Treat as lead paint; certified renovator for any work that disturbs it.",
        "proof": "Test report or clean-up record.",
    },
    {
        "id": "obs-alarm",
        "place": "hall",
        "code": "no-alarms",
        "severity": "gate",
        "says": "No carbon monoxide alarm in the house.",
        "cause": "Never fitted.",
        "consequence": "Nobody would be warned if the vent spilled at night.",
        "remedy": "One on each storey near the bedrooms.",
        "proof": "Alarms seen and tested.",
        "cleared": "D. Arden fitted two alarms on 2026-01-21 and tested them; photo.",
    },
    {
        "id": "obs-radon",
        "place": "crawlspace",
        "code": "radon-unknown",
        "severity": "note",
        "says": "Radon has not been measured.",
        "cause": "",
        "consequence": "Closing the crawlspace changes how soil gas moves.",
        "remedy": "Test before the crawlspace is closed and again after.",
        "proof": "Two test reports.",
    },
    {
        "id": "obs-furnace",
        "place": "furnace-place",
        "code": "",
        "severity": "note",
        "says": "Furnace 24 years old, air conditioner 19; both run but are near their end.",
        "cause": "Age.",
        "consequence": "One of them will fail within a few seasons, perhaps on a cold night.",
        "remedy": "Plan the replacement now; size it for the tightened house.",
        "proof": "Load calculation after the shell work.",
    },
]

INSTRUMENTS = [
    ("fan-1", "house fan (invented)", "test fan", "2025-03-11", "2030-03-11"),
    ("gauge-1", "two-channel gauge (invented)", "pressure gauge", "2025-09-02", "2027-09-02"),
    ("duct-fan", "duct fan (invented)", "test fan", "2025-03-11", "2030-03-11"),
    ("flue-probe", "flue gas analyser (invented)", "combustion analyser", "2025-11-20",
     "2026-11-20"),
    ("flow-box", "exhaust flow box (invented)", "flow box", "2025-09-02", "2027-09-02"),
    ("pin-meter", "wood moisture meter (invented)", "moisture meter", "2025-09-02", "2027-09-02"),
]  # fmt: skip

DECISIONS = [
    ("crawlspace", "accepted", "The damp smell must go."),
    ("knee-walls", "accepted", "The children want to sleep up there."),
]
"""What the owner said at the kitchen table."""

BASIS = "invented for the demo, 2026"

MEASURES = [
    # id, kind, title, settings, low, high, due anyway
    ("drainage", "drainage", "Keep rain away from the north wall", {}, 1400, 2600, 0),
    ("water-heater", "water-heater", "Heat-pump water heater: no flame in the closet",
     {"kind": "heat pump", "efficiency": "2.9", "closed_flue": "flue"}, 3400, 4900, 2200),
    ("flue", "flue-repair", "Reline the vent of the old water heater", {}, 900, 1700, 0),
    ("local-exhaust", "local-exhaust", "Bath and kitchen fans that reach outdoors",
     {"bath_flow": "80 cfm", "kitchen_flow": "150 cfm"}, 1100, 1900, 0),
    ("air-sealing", "air-sealing", "Seal the leaks of ceiling, floor and garage wall",
     {"target_flow_50": "1750 cfm", "low_target_flow_50": "1500 cfm",
      "high_target_flow_50": "2100 cfm"}, 1900, 3200, 0),
    ("ventilation", "ventilation", "Quiet whole-house fan", {"style": "exhaust"}, 700, 1500, 0),
    ("bonus-floor", "bonus-floor-fix", "Block and fill the floor of the bonus room",
     {"resistance": "R-25"}, 1300, 2200, 0),
    ("knee-walls", "knee-wall-fix", "Back and insulate the knee walls", {"resistance": "R-19"},
     900, 1700, 0),
    ("attic", "attic-insulation", "Insulate the attic floor to R-49", {"resistance": "R-49"},
     2300, 3300, 0),
    ("crawlspace", "crawlspace-closing", "Cover the ground and close the crawlspace",
     {"resistance": "R-10"}, 6200, 9500, 0),
    ("duct-sealing", "duct-sealing", "Seal the ducts with mastic", {"target_leakage": "3 %"}, 600,
     1100, 0),
    ("duct-wrap", "duct-insulation", "Wrap the ducts to R-8", {"resistance": "R-8"}, 900, 1600,
     0),
    ("ducts-inside", "ducts-inside", "Move the ducts into a dropped hall ceiling", {}, 7800, 11500,
     0),
    ("walls", "wall-insulation", "Fill the outside walls with dense insulation",
     {"resistance": "R-13", "sealed_share": "20 %"}, 4200, 6400, 0),
    ("windows", "windows", "New windows", {"u_value": "0.28 Btu/h·ft2·F"}, 11500, 17000, 0),
    ("furnace", "furnace", "Condensing furnace with sealed combustion",
     {"efficiency": "0.95", "draft": "sealed combustion"}, 4800, 6800, 4600),
    ("air-conditioner", "air-conditioner", "New air conditioner", {"cop": "3.8"}, 4600, 6600, 4600),
    ("heat-pump", "heat-pump", "Variable-speed heat pump for heating and cooling",
     {"heating_cop": "3.9", "cooling_cop": "4.1"}, 11000, 15500, 9200),
    ("dehumidifier", "dehumidifier", "Dehumidifier for the crawlspace", {"space": "crawl"}, 1300,
     2200, 0),
]  # fmt: skip
"""What is offered: the furnace and the heat pump are alternatives."""
