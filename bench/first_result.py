"""Take a house and its weather, simulate the year and print what it needs: all of a new process.

Run by ``python -m bench`` with the file that holds both.
"""

from __future__ import annotations

import pickle
import sys
from pathlib import Path

from rooftree.engine import simulate

if __name__ == "__main__":
    house, year = pickle.loads(Path(sys.argv[1]).read_bytes())  # noqa: S301, written by the bench
    print(f"{simulate(house, year).heating_load / 3.6e9:.2f} MWh of heat")
