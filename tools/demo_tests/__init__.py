"""Tests of the demo's visit besides those of air tightness, ducts and the burners themselves.

Each module has ``tests(house, rng)``, which yields tests of the "true" demo house: invented
readings, as instruments with their usual scatter would have shown them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING
from zlib import crc32

import numpy as np

from demo_tests import (
    air_handler,
    air_sealing,
    burners,
    duct_heat,
    insulation,
    moisture,
    room_pressures,
    tracer_decay,
    ventilation,
    zones_and_ducts,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from types import ModuleType

    from rooftree.house import House
    from rooftree.job import Test

OTHER_TESTS: tuple[ModuleType, ...] = (
    zones_and_ducts,
    room_pressures,
    air_handler,
    duct_heat,
    moisture,
    insulation,
    air_sealing,
    ventilation,
    tracer_decay,
    burners,
)
"""Modules in the order of the visit."""


def other_tests(house: House, seed: int) -> Iterator[Test]:
    """Yield the tests of every module, each with chances of its own: none shifts the others."""
    for module in OTHER_TESTS:
        rng = np.random.default_rng([seed, crc32(module.__name__.encode())])
        yield from module.tests(house, rng)
