"""Which part of a house a message of the engine is about."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.house import House

_ALONE = {
    "terrain": "site",
    "shelter": "site",
    "air handler": "air handler",
    "cooling": "cooling",
    "heating": "heating",
    "water heater": "water heater",
    "setpoint": "use",
}
"""Words of messages about parts of which a house has one at most."""


def part_in(says: str, house: House) -> tuple[str, str, str]:
    """Return kind, name and title of the part that a message names; empty where it names none.

    Parameters
    ----------
    says : str
        Message of an error.
    house : House
        That cannot be simulated.

    Returns
    -------
    tuple of str
        The longest name that the message holds counts: ``wall-north`` rather than ``wall``.
    """
    found = [
        (len(name), kind, part, title)
        for kind, part, title, names in _named(house)
        for name in names
        if name and re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", says)
    ]
    if found:
        _, kind, part, title = max(found)
        return kind, part, title
    for words, kind in _ALONE.items():
        if words in says:
            return kind, "", kind
    return "", "", ""


def _named(house: House) -> Iterator[tuple[str, str, str, tuple[str, ...]]]:
    lists = (
        ("space", house.spaces),
        ("surface", house.surfaces),
        ("window", house.windows),
        ("leak", house.leaks),
        ("duct", house.ducts),
        ("fan", house.fans),
        ("room unit", house.room_units),
    )
    for kind, parts in lists:
        for one in parts:
            yield kind, one.id, one.name, (one.id, one.name)
