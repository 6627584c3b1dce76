"""Strategies for things of the domain: a small legal job file, and ways to break it."""

from __future__ import annotations

import copy
from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

from rooftree.units import UNITS, DisplaySystem, Kind, quantity

if TYPE_CHECKING:
    from collections.abc import Callable

NEAR_NOTHING = 1e-12
"""No text of a job file is nearer to zero than this, in any unit, without being zero."""

JOB_ID = "3f0c1e6a-52a7-4a0c-9a0e-0d6a2f3f9b11"

SMALL_JOB: dict[str, Any] = {
    "format": "rooftree-job",
    "version": 1,
    "id": JOB_ID,
    "name": "small house",
    "client": "An invented owner",
    "address": "1 Nowhere Lane",
    "invented": True,
    "weather": "greensboro",
    "budget": "$20,000",
    "visits": [
        {"id": "visit-1", "date": "2026-01-21", "assessor": "A. Sessor", "not_seen": ["slope"]}
    ],
    "complaints": [{"id": "cold", "words": "It is cold.", "place": "hall", "season": "winter"}],
    "places": [
        {"id": "hall", "name": "hall", "kind": "room", "space": "living"},
        {"id": "hatch", "name": "attic hatch", "kind": "opening", "parent": "hall"},
    ],
    "observations": [
        {
            "id": "wet",
            "place": "hall",
            "code": "bulk-water",
            "severity": "gate",
            "says": "Water stands at the wall.",
            "photos": ["photo-1"],
        }
    ],
    "photos": [{"id": "photo-1", "place": "hall", "caption": "The wall", "file": "wall 1.jpg"}],
    "instruments": [{"id": "fan-1", "name": "house fan", "kind": "test fan"}],
    "enclosure": {
        "volume": "8,000 ft3",
        "floor_area": "1,000 ft2",
        "envelope_area": "3,000 ft2",
        "height": "8 ft",
    },
    "tests": [
        {
            "id": "fan-in",
            "kind": "fan test",
            "name": "Fan test, test-in",
            "visit": "visit-1",
            "place": "hall",
            "instrument": "fan-1",
            "direction": "depressurize",
            "standard": "ISO 9972:2015",
            "baseline_before": ["-1.4 Pa", "-1.2 Pa"],
            "baseline_after": ["-1.0 Pa"],
            "stations": [
                {
                    "pressure": f"-{pressure} Pa",
                    "fans": [{"fan": "fan-1", "flow": f"{flow} cfm"}],
                }
                for pressure, flow in ((60, 2420), (50, 2150), (40, 1860), (30, 1540), (20, 1180))
            ],
            "fans": [{"id": "fan-1", "flow_uncertainty": "3 %"}],
            "indoor_temperature": "68 F",
            "outdoor_temperature": "34 F",
            "wind_speed": "4 mph",
            "height": "12 ft",
        },
        {
            "id": "attic-zone",
            "kind": "zone pressure",
            "name": "Attic",
            "visit": "visit-1",
            "space": "attic",
            "house_pressure": "-50 Pa",
            "zone_pressure": "-47 Pa",
        },
        {
            "id": "ducts",
            "kind": "duct leakage",
            "name": "Ducts to outdoors",
            "visit": "visit-1",
            "to_outdoors": True,
            "duct_pressure": "25 Pa",
            "flow": "120 cfm",
            "air_handler_flow": "900 cfm",
        },
        {
            "id": "flue",
            "kind": "combustion",
            "name": "Water heater",
            "visit": "visit-1",
            "appliance": "water heater",
            "draft": "natural draft",
            "ambient_co": "2 ppm",
            "flue_co": "35 ppm",
            "flue_oxygen": "8 %",
            "baseline_pressure": "-0.4 Pa",
            "worst_pressure": "-4.1 Pa",
            "worst_case": "dryer and air handler on",
            "spillage_seconds": "1 min 30 s",
            "draft_pressure": None,
            "gas_leak": False,
            "outdoor_temperature": "34 F",
        },
    ],
    "house": {
        "name": "small house",
        "site": {"latitude": "36.1°", "longitude": "-79.95°", "elevation": "890 ft"},
        "spaces": [
            {
                "id": "living",
                "name": "living space",
                "kind": "living",
                "floor_area": {"value": "1,000 ft2", "known": "measured", "note": "tape"},
                "volume": "8,000 ft3",
                "floor_level": "2 ft",
                "height": "8 ft",
            },
            {
                "id": "attic",
                "name": "attic",
                "kind": "attic",
                "floor_area": "1,000 ft2",
                "volume": "3,000 ft3",
                "floor_level": "10 ft",
                "height": "3 ft",
            },
        ],
        "surfaces": [
            {
                "id": "ceiling",
                "name": "ceiling",
                "kind": "ceiling",
                "inside": "living",
                "outside": "attic",
                "area": "1,000 ft2",
                "tilt": "0°",
                "azimuth": "N",
                "layers": [
                    {
                        "name": "gypsum board",
                        "thickness": "1/2 in",
                        "conductivity": "0.16 W/mK",
                        "density": "50 lb/ft3",
                        "specific_heat": "0.26 Btu/lb·F",
                    },
                    {
                        "name": "loose fill",
                        "thickness": "10 1/2 in",
                        "resistance": {"value": "R-38", "known": "observed"},
                        "role": "insulation",
                    },
                ],
                "void_fraction": "5 %",
                "known": {"layers": {"how": "observed", "note": "from the hatch"}},
            }
        ],
        "windows": [
            {
                "id": "window-south",
                "name": "south windows",
                "space": "living",
                "area": "100 ft2",
                "tilt": "90°",
                "azimuth": "south",
                "u_value": "U-0.35",
                "solar_heat_gain_coefficient": 0.4,
                "panes": 2,
            }
        ],
        "leaks": [
            {
                "id": "leak-wall",
                "name": "wall",
                "first": "living",
                "second": "outdoors",
                "level": "6 ft",
                "azimuth": "180°",
                "coefficient": "120 cfm/Pa^n",
                "exponent": 0.65,
            },
            {
                "id": "leak-ceiling",
                "name": "ceiling",
                "first": "attic",
                "second": "living",
                "level": "10 ft",
                "azimuth": None,
                "coefficient": "60 cfm/Pa^n",
            },
        ],
        "fans": [
            {
                "id": "bath-fan",
                "name": "bath fan",
                "kind": "exhaust",
                "space": "living",
                "flow": "50 cfm",
                "hours": "10 %",
                "purpose": "bath",
            }
        ],
        "heating": {
            "kind": "furnace",
            "fuel": "natural gas",
            "capacity": "60 kBtu/h",
            "efficiency": "80 %",
            "draft": "fan assisted",
        },
        "use": {
            "people": {"value": 3, "known": "told", "note": "owner"},
            "bedrooms": 2,
            "heating_setpoint": {"value": "68 F", "known": "told"},
            "cooling_setpoint": ["76 F"] * 24,
            "sensible_gain": "500 W",
        },
    },
    "bills": [
        {
            "fuel": "natural gas",
            "start": "2025-01-03",
            "end": "2025-02-04",
            "energy": "120 therm",
            "cost": "$144.20",
        },
        {"fuel": "electricity", "start": "2025-01-03", "end": "2025-02-04", "energy": "800 kWh"},
    ],
    "tariff": {
        "price": {"natural gas": "1.20 $/therm", "electricity": "$0.13/kWh"},
        "standing_charge": {"natural gas": "$12/month"},
        "emission": {"natural gas": "53 kg/MMBtu", "electricity": "0.85 lb/kWh"},
        "source": "invented",
    },
    "measures": [
        {
            "id": "seal",
            "kind": "air-sealing",
            "title": "Seal the ceiling",
            "settings": {"target_flow_50": "1100 cfm"},
            "cost_low": "$1,200",
            "cost_high": "$2,000",
            "cost_basis": "invented",
            "life": "20 years",
            "trade": "insulation",
        }
    ],
    "decisions": [{"measure": "seal", "choice": "accepted"}],
}
"""A job file as small as one can be that has something of everything."""


def small_job() -> dict[str, Any]:
    """Return a small legal job file, free to be changed."""
    return copy.deepcopy(SMALL_JOB)


def quantity_texts(kind: Kind, low: float, high: float) -> st.SearchStrategy[str]:
    """Return texts of quantities within a range [unit of the core], in any unit of the kind."""
    units = [unit for unit in UNITS[kind] if not unit.is_inverse]

    def text(value: float, unit_at: int) -> str:
        unit = units[unit_at % len(units)]
        return quantity(value, kind, unit.name, digits=9)

    sizes = st.floats(low, high).filter(lambda value: value == 0.0 or abs(value) > NEAR_NOTHING)
    return st.builds(text, sizes, st.integers(0, 20))


words = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), min_size=1, max_size=20
)
"""What people write: any letters and signs."""

names = st.from_regex(r"\A[A-Za-z0-9][A-Za-z0-9 ._()-]{0,30}\Z")
"""Names of jobs and files."""


@st.composite
def job_files(draw: st.DrawFn) -> dict[str, Any]:
    """Draw a legal job file: the small one with other words, quantities and stations."""
    job = small_job()
    job["name"], job["client"] = draw(names), draw(words)
    job["complaints"][0]["words"] = draw(words)
    house = job["house"]
    for space in house["spaces"]:
        space["floor_area"] = draw(quantity_texts(Kind.AREA, 5.0, 500.0))
        space["volume"] = draw(quantity_texts(Kind.VOLUME, 10.0, 2000.0))
        space["floor_level"] = draw(quantity_texts(Kind.LENGTH, -3.0, 12.0))
    house["surfaces"][0]["layers"][1]["resistance"] = draw(
        quantity_texts(Kind.THERMAL_RESISTANCE, 0.1, 12.0)
    )
    house["use"]["sensible_gain"] = draw(
        st.lists(quantity_texts(Kind.ELECTRIC_POWER, 0.0, 3000.0), min_size=24, max_size=24)
    )
    test = job["tests"][0]
    flows = draw(st.lists(quantity_texts(Kind.FLOW, 0.05, 4.0), min_size=5, max_size=10))
    test["stations"] = [
        {
            "pressure": draw(quantity_texts(Kind.PRESSURE, -75.0, -5.0)),
            "fans": [{"fan": "fan-1", "flow": flow}],
        }
        for flow in flows
    ]
    job["budget"] = draw(st.none() | quantity_texts(Kind.MONEY, 0.0, 1e5))
    return job


systems = st.sampled_from(DisplaySystem)


def put(job: dict[str, Any], path: str, value: object) -> dict[str, Any]:
    """Put a value where a path such as ``"tests.0.stations.2.pressure"`` says."""
    *steps, last = [int(step) if step.isdigit() else step for step in path.split(".")]
    here: Any = job
    for step in steps:
        here = here[step]
    here[last] = value
    return job


def take(job: dict[str, Any], path: str) -> dict[str, Any]:
    """Take away what stands where a path says."""
    *steps, last = [int(step) if step.isdigit() else step for step in path.split(".")]
    here: Any = job
    for step in steps:
        here = here[step]
    del here[last]
    return job


def changed(change: Callable[[dict[str, Any]], object]) -> dict[str, Any]:
    """Return the small job after a change."""
    job = small_job()
    change(job)
    return job
