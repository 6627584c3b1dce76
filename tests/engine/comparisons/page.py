"""The page `docs/reference/comparisons.md`, made from the comparisons themselves."""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.comparisons.ducts import SITUATIONS, compare_ducts
from engine.comparisons.infiltration import CASES, compare_infiltration
from rates_page import table

if TYPE_CHECKING:
    from engine.comparisons.ducts import Situation
    from engine.comparisons.infiltration import Plan

HEAD = """# The simulation beside simpler methods

Made by `python tools/comparisons_page.py`; the tests hold its numbers to what the engine gives.
The methods are in `rooftree.physics`: `distribution_efficiency`, `infiltration`, `aim2`, `lbl`.
"""

DUCTS = """## Ducts: Standard 152

A house of 120 m² with all ducts in one space outside the rooms (supply 0.27, return 0.05 of the
floor area), in weather that never changes: -10 °C without sun, or 35 °C under a high sun.
The equipment is just large enough, so that it hardly stops. *Delivered* is the share of the
coil's sensible output that comes out of the registers, simulated and by the standard's equation
from the simulated temperatures. *Efficiency* is what the coil gives without ducts over what it
gives with them; the method takes the temperature round the ducts without their heat, the
regain of the simple tables (attic 0.10, crawlspace 0.12, basement 0.30, recalled) and, where
leaks are unequal, the half-fan rule. *Regain* is the one with which the method would give the
simulated efficiency. *Duct load* is the loss over the building's load, beside the factor that
the handbook prints for 11/11 and 5/5 % (2021, chapter 17, Table 6, furnace or cooling, its own
air flow and house, which are not printed; for the reader only).
"""

DUCTS_SAY = """What is delivered agrees to three digits: the engine's chain is the standard's
equation. The efficiencies differ where heat that ducts lose comes back, and that is the regain.
In a vented attic the simulated one is near the table in winter; in summer a hot attic that leaking
ducts cool gives more back. Under a floor with insulation it is three times the table's 0.12, and
agrees with what we recall of the standard's own table (0.3 with insulated floors, 0.5 without); in
a cellar with bare walls and a bare floor above, it is twice the table's 0.30. The simple method is
thus too low in basements by 7 to 14 points; a measured basement house was 11 points better than
the method on average (ASHRAE Transactions 106(2), MN-00-12-3, abstract). Duct loads are two to
three times the handbook's in winter: equipment that is just large enough moves about a third of
the air that is usual for ducts of this size, and it is 10 K colder than in the table.
"""

AIR = """## Infiltration: the enhanced model, AIM-2 and the LBL model

A house of 120 m² a storey, half of its leaks spread over the walls, a quarter in the ceiling
(below a vented attic), a quarter at the floor, exponent 0.67, shelter class 3; an open flue,
where there is one, has a fifth of all. Typical years of Greensboro NC (mild, calm) and Sand Point
AK (cool, windy). *Network* is the mean of the engine's hourly network over the year [L/s]; the
models, given the same leaks, indoor temperature and weather, as ratios to it, with the
correlation of their hours in brackets. *Same wind* is the network with the enhanced model's wind
at its walls, over the network; *still* the same models in the year without wind.
"""

AIR_SAY = """What explains the spread:

- **Wind at the walls.** The network takes the handbook's profile over suburban ground, the
  models a fixed share of the station's wind (0.48, 0.59). With their wind the network gives 1 to
  8 % less: the models have more wind effect for less wind, and the two nearly cancel.
- **Storeys.** The enhanced model's stack coefficient for two storeys gives 10 to 17 % less than
  the network without wind; AIM-2, from which it was tabulated, 2 to 7 % less.
- **Basement.** The models know one zone: a leaky floor counts fully. In the network air also has
  to get into the cellar, whose walls are as tight as they are; the leakier the floor, the more the
  models exceed it (5 to 28 %). With cellar walls that leak freely the difference is gone.
- **Flue.** The models let wind suck at its top; the network takes a cap as sheltered from wind.
  Without wind AIM-2 is within 7 %; with it the models give 6 to 24 % more, and the hours
  correlate less.
- **LBL.** It turns the leakage area at 4 Pa into an orifice. Real pressures are mostly below
  4 Pa, where leaks of exponent 0.67 pass less than an orifice: 28 % to twofold too much, most
  where pressures are least (one storey, calm).

The enhanced model and AIM-2 claim about 10 %; without flue and basement they are within it in
every house and climate here.
"""


def _duct_row(case: Situation) -> tuple[str, ...]:
    found = compare_ducts(case)
    return (
        case.name,
        f"{found.around_idle - 273.15:.1f}",
        f"{found.around - 273.15:.1f}",
        f"{found.simulated_delivery:.3f}",
        f"{found.method_delivery:.3f}",
        f"{found.simulated:.3f}",
        f"{found.method:.3f}",
        f"{found.implied_regain:.2f}",
        f"{found.duct_load:.2f}",
        "" if case.published is None else f"{case.published:.2f}",
    )


def _air_row(plan: Plan, climate: str) -> tuple[str, ...]:
    found = compare_infiltration(plan, climate)
    models = (found.enhanced, found.aim2, found.lbl)
    still = (found.still_enhanced, found.still_aim2, found.still_lbl)
    return (
        plan.name,
        climate,
        f"{1000.0 * found.network:.1f}",
        *(
            f"{flow / found.network:.2f} ({r:.2f})"
            for flow, r in zip(models, found.correlation, strict=True)
        ),
        f"{found.same_wind / found.network:.2f}",
        f"{1000.0 * found.still:.1f}",
        *(f"{flow / found.still:.2f}" for flow in still),
    )


def render_page() -> str:
    """Return the page as text."""
    ducts = table(
        ("Ducts", "Round them without, °C", "with, °C", "Delivered, simulated", "by method",
         "Efficiency, simulated", "by method", "Regain", "Duct load", "Handbook"),
        [_duct_row(case) for case in SITUATIONS],
    )  # fmt: skip
    air = table(
        ("House", "Climate", "Network", "Enhanced", "AIM-2", "LBL", "Same wind", "Still",
         "Enhanced", "AIM-2", "LBL"),
        [_air_row(*case) for case in CASES],
    )  # fmt: skip
    parts = (HEAD, DUCTS, ducts, DUCTS_SAY, AIR, air, AIR_SAY)
    return "\n\n".join(part.strip() for part in parts) + "\n"
