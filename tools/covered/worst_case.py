"""Round trips of the worst-case search, on networks of three spaces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from covered.method import Method
from rooftree.readings.worst_case import Combination, predict_state, reduce_worst_case
from rooftree.readings.worst_case.prediction import leakage_of_flow_50
from zone_network import ALL_EXHAUSTS, draw_house, draw_search, leakage_read

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.physics.propagation import Propagated

CLOSED = frozenset({"zone_door_closed"})
BLOWING = frozenset({"zone_door_closed", "air_handler"})


def search(rng: Generator) -> tuple[float, Propagated] | None:
    """Search in a drawn house, and hold the deepest pressure against the true one there."""
    house = draw_house(rng)
    result = reduce_worst_case(draw_search(rng, house, wind=rng.uniform(0.0, 0.6)))
    if result.worst is None:
        return None
    return house.net(result.worst.combination), result.worst.net


def _predicted(rng: Generator, turns: frozenset[str]) -> tuple[float, Propagated] | None:
    house = draw_house(rng)
    test = draw_search(rng, house, most=1)
    flow_50, exponent = leakage_read(rng, house)
    combination = Combination(ALL_EXHAUSTS, turns)
    found = predict_state(test, leakage_of_flow_50(flow_50, exponent, 0.05), combination)
    return (house.net(combination), found) if found else None


DRAWS = "house, leaks by space and height, fans, ducts, gaps of doors, weather"

METHODS = (
    Method("worst case by the guided search", search, f"{DRAWS}, wind of 0 to 0.6 Pa"),
    Method("zone pressure by the balance of air, doors open",
           lambda rng: _predicted(rng, frozenset()), DRAWS),
    Method("the same, zone door closed", lambda rng: _predicted(rng, CLOSED), DRAWS),
    Method("the same, zone door closed and air handler on",
           lambda rng: _predicted(rng, BLOWING), DRAWS),
)  # fmt: skip
