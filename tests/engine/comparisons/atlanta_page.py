"""The page `docs/reference/design-loads.md`, its numbers from the comparison itself."""

from __future__ import annotations

from engine.comparisons.atlanta import GLASS, modelled, rows, why
from rates_page import table

HEAD = """# Design loads and equipment sizing

```python
from rooftree.engine.design import design_loads
from rooftree.engine.sizing import size_equipment

loads = design_loads(house, weather)  # DesignLoads, with its parts
sizing = size_equipment(house, loads, weather)  # machines beside the loads, and findings
before_and_after = [design_loads(one, weather) for one in houses]
```

On the command line: `rooftree loads JOB`, with `--stages` for the house after each stage of the
plan, and `--cold` and `--hot` where a code sets the temperatures. In an action:
`rooftree.actions.loads.design_of`.

This page is made by `python tools/design_loads_page.py`; the tests hold its numbers to what the
engine gives.

## What is computed

The model of the year, with an ideal thermostat in every living space. The cold day is the
temperature that 99 % of the hours of the year exceed, held for weeks, with the mean wind and sky of
hours that cold, without sun and people. The hot day is the mean of the seven days nearest to the
1 % temperature, shifted to it and repeated, with sun and people. Every fan runs at its mean of the
day. A typical year leaves out most extremes, so its heating temperature is often one to two kelvin
milder than a handbook's (recalled): where a code sets one, use that.

**Parts.** Each load is the sum of its parts: every surface and pane (heat that comes out of its
layers, with what they stored earlier), the sun through each window, air by where it comes from,
balanced fans, people and appliances. A floor that takes up sun in that hour has a negative part.

**Moisture.** Air that comes in, against rooms at 50 % relative humidity, and vapor released
inside. Negative where outdoor air dries.

**Machines.** What the engine's own equipment gives at the design hour: by outdoor temperature, by
the air that reaches the coil, by air flow. Beside it the load at the machine: the rooms' load with
what the ducts lose, and with what comes back from the spaces around them, which the ducts warm or
cool (the day is run again with it). Half of what a coil could dry beyond the load counts as
sensible (recalled).

| Machine | Size that fits, over the load at design conditions | Known |
| --- | --- | --- |
| furnace, boiler | 1.00 to 1.40 | ACCA Manual S, quoted |
| air conditioner, one speed | to 1.15; from 0.90 | quoted; recalled |
| air conditioner, heat pump, variable speed | 0.90 to 1.30 | recalled |
| heat pump, one speed, by its cold | to 1.25; from 0.90 | quoted; recalled |

Heat beyond the load recovers from a setback: 30 % does so in less than four hours almost all
season (ASHRAE Handbook - Fundamentals 2021, chapter 17). The allowance for heat pumps in cold, dry
climates is not computed. The result says where a machine is far off; a replacement is sized by its
maker's data and by the load calculation that the local code asks for.

**Known errors.** Floors on the ground lose their heat to the damped temperature of the ground, so
that the edge of a slab on a cold day is underestimated (below). Air that leaking ducts press out
or draw in is not in the load. Moisture in buffer spaces is that of the day repeated. Machines of
single rooms are not judged.
"""

EXAMPLE = """## Beside the handbook's block load

`rooftree.physics.block_load` is the block load of chapter 17: infiltration by driving force,
leaks and fans together, peak gains, duct loss factors, and factors for opaque parts and glass. The
chapter's house in Atlanta, row by row, is in its tests; every printed row is met, but for the
latent total, which does not follow from its own terms (752 W printed; 903 W and 111 W are 1014 W).

Here the same house by our model. Read in the chapter: 195.3 m², 356.5 m² exposed, 499 cm² of
leaks, 43 L/s of balanced ventilation, four people, -3.5 and 33 °C outdoors, 20 and 24 °C inside,
ducts in the attic with R-8 and 5 % leakage a side, the enclosure's sums of 4674 and 1900 W.
Recalled: ceiling 0.18, walls 0.51, windows 2.86 W/(m²·K), the slab's edge 0.85 W/(m·K) with carpet,
a roof of absorptance 0.85, shades half closed, SHGC 0.6. Assumed: a rectangle along east and west,
no doors and garage, {glass:.1f} m² of glass (what the printed heating sum leaves), a quarter on
each side without overhangs, a quarter of the leaks in the ceiling, attic vents of 1/300, 0.43 m³/s
of air, ducts of 0.27 and 0.05 of the floor area; the sun, wind, sky and ground of Greensboro, which
is 2.5° further north.
"""

SAYS = """What explains it:

- **Enclosure, heating.** The slab: its edge against the outdoor air gives {slab:.0f} W, the model,
  with ground of {ground:.1f} °C beneath, {slab_model:.0f} W. Walls and ceiling agree within a
  tenth; panes lose less, since the wind is {wind:.1f} m/s at the station and not 6.7.
- **Enclosure, cooling.** The ceiling: the recalled factor gives {ceiling:.0f} W, the model
  {ceiling_model:.0f} W under an attic of {attic_hot:.0f} °C, which is within the 10 to 45 K above
  outdoors that the handbook tells of sunny attics; its duct table takes 49 °C. Less comes in
  through floor and glass.
- **Leaks.** {leak:.0f} L/s against 36 on the cold day; in open country without shelter the same
  house has {leak_open:.0f} L/s. The method's wind is 6.7 m/s.
- **Ducts.** The loss over the rooms' load is {duct[0]:.2f} and {duct[1]:.2f} where the handbook's
  table has 0.13 and 0.27. With half the surface of ducts it is {half[0]:.2f} and {half[1]:.2f},
  with leaks alone {leaky[0]:.2f} and {leaky[1]:.2f}. The table's surfaces, air flow and regain are
  not printed, and its attic is at 0 and 49 °C, so the rest cannot be told. Against Standard 152 the
  chain of the engine is exact ([comparisons](comparisons.md)).
- **Moisture.** {moist:.0f} W against 1014: the hot days of Greensboro are at {humid:.1f} g/kg,
  indoors 9.6; the chapter takes 5 g/kg of difference.

The sums for heating are near each other because a smaller enclosure and larger ducts cancel: that
is chance. For cooling the model asks for {more:.0f} % more, nearly all of it for attic and ducts.
"""


def render_page() -> str:
    """Return the page as text."""
    found, reasons = rows(), why()
    by_name = {row.name: row for row in found}
    body = table(
        ("W", "Heating, handbook", "model", "Cooling, handbook", "model"),
        [
            (row.name, *(f"{watts:.0f}" for watts in (
                row.heating, row.heating_model, row.cooling, row.cooling_model)))
            for row in found
        ],
    )  # fmt: skip
    total = by_name["sensible load"]
    says = SAYS.format(
        slab=reasons.slab,
        slab_model=reasons.slab_model,
        ground=reasons.ground - 273.15,
        wind=reasons.wind,
        ceiling=reasons.ceiling,
        ceiling_model=reasons.ceiling_model,
        attic_hot=reasons.attic_hot - 273.15,
        leak=1e3 * reasons.infiltration,
        leak_open=1e3 * reasons.infiltration_open,
        duct=reasons.ducts["as found"],
        half=reasons.ducts["half the surface"],
        leaky=reasons.ducts["no surface"],
        moist=by_name["moisture"].cooling_model,
        humid=1e3 * modelled()[0].outdoor_humidity,
        more=100.0 * (total.cooling_model / total.cooling - 1.0),
    )
    parts = (HEAD, EXAMPLE.format(glass=GLASS), body, says)
    return "\n\n".join(part.strip() for part in parts) + "\n"
