"""What a pan pressure means for one register.

Sources
-------
[DICTIONARY] LBNL, dictionary of building data, entry "pressure pan": near 0 Pa the run is not
    connected to outdoors, from 5 Pa it is. (Its remark that a smaller reading means more
    leakage contradicts its own rule.)
[GUIDES] State weatherization field guides: 1 Pa or less at each register after sealing,
    house at 50 Pa (recalled).
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated

REFERENCE = 50.0
"""House pressure to which pan pressures are brought [Pa]."""

TARGET = 1.0
"""Pan pressure that is wanted after sealing [Pa], [GUIDES]."""

CONNECTED = 5.0
"""Pan pressure from which a run counts as leaking to outdoors [Pa], [DICTIONARY]."""

OPEN = 0.9 * REFERENCE
"""Pan pressure from which a run is as good as open to outdoors [Pa]; ours: at 45 Pa it is four
times as open to outdoors as to the house."""


class Standing(StrEnum):
    """How a register stands."""

    TIGHT = "tight"
    SOME = "leaks a little"
    LEAKS = "leaks to outdoors"
    OPEN = "open to outdoors"


def stand(normalized: Propagated) -> Standing:
    """Return how a register stands by its pressure.

    Parameters
    ----------
    normalized : Propagated
        Pan pressure with the house at 50 Pa [Pa].

    Returns
    -------
    Standing
        By the value itself; near a limit its range tells how sure that is.
    """
    value = normalized.value
    if value >= OPEN:
        return Standing.OPEN
    if value >= CONNECTED:
        return Standing.LEAKS
    return Standing.SOME if value > TARGET else Standing.TIGHT
