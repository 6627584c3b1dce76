"""Logs of air sealing that tests are built from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.readings.air_sealing import AirSealingLog, SealingRow

if TYPE_CHECKING:
    from collections.abc import Sequence

NAMES = ("", "chase", "top plates", "rim joist", "hatch", "sill", "ducts", "soffit")


def row(number: int, flow: float, **changes: Any) -> SealingRow:
    """Return one row at 50 Pa, half an hour after the one before, with some things changed."""
    plain: dict[str, Any] = {
        "time": 1800.0 * number,
        "location": NAMES[number],
        "house_pressure": -50.0,
        "fan_flow": flow,
        "work": 1500.0 if number else 0.0,
        "material_cost": 20.0 if number else 0.0,
    }
    return SealingRow(**(plain | changes))


def log(flows: Sequence[float] = (1.20, 1.05, 0.97), **changes: Any) -> AirSealingLog:
    """Return a log with these flows [m³/s], holes confirmed closed."""
    rows = tuple(row(number, flow) for number, flow in enumerate(flows))
    plain: dict[str, Any] = {"labor_rate": 60.0 / 3600.0, "holes_closed": True}
    return AirSealingLog(rows, **(plain | changes))
