"""The forms behind the parts of a house, named here once."""

from rooftree.web.house import enclosure, machines, people

__all__ = ["HOUSE_SHEETS", "slug_of"]

HOUSE_SHEETS = {
    one.kind: one
    for one in (
        enclosure.SITE,
        enclosure.SPACE,
        enclosure.SURFACE,
        enclosure.WINDOW,
        enclosure.LEAK,
        machines.DUCT,
        machines.AIR_HANDLER,
        machines.HEATING,
        machines.COOLING,
        machines.ROOM_UNIT,
        machines.WATER_HEATER,
        machines.FAN,
        machines.DEHUMIDIFIER,
        people.USE,
    )
}
"""Every form by the kind of part."""


def slug_of(kind: str) -> str:
    """Return the name of a kind of part in addresses."""
    return kind.replace(" ", "-")
