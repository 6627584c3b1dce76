"""Read the demo, put its tests into its house, simulate: all of a new process.

Run by ``python -m bench``.
"""

from __future__ import annotations

from rooftree.actions.demo import demo_text
from rooftree.actions.simulation import case_of
from rooftree.actions.year import weather_of
from rooftree.engine import simulate
from rooftree.records.document import read_document

if __name__ == "__main__":
    job = read_document(demo_text()).to_core()
    result = simulate(case_of(job).house, weather_of(job))
    print(f"{result.heating_load / 3.6e9:.2f} MWh of heat")
