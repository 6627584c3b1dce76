"""The drawing of a search: every combination of fans and doors, read and predicted."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rooftree.readings.worst_case.switches import EXHAUSTS, available_exhausts
from rooftree.tables.depressurization import depressurization_limit
from rooftree.web.charts import COOL, INK, SOFT, WARM, Drawing, chart_spec, name_axis

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.worst_case import (
        Combination,
        StateResult,
        WorstCaseResult,
        WorstCaseTest,
    )
    from rooftree.units import DisplaySystem

ROW = 40
"""Height of one combination [px]."""

READ, FORETOLD = "read", "by the balance of air"

SHOWN_LIMIT = 20.0
"""Limit from which on it is not drawn: sealed burners bear more than any house pulls [Pa]."""

_LOOKS = {READ: (COOL, "circle"), FORETOLD: (WARM, "diamond")}
_TURNS = {
    "interior_doors_closed": "rooms closed",
    "zone_door_closed": "zone closed",
    "air_handler": "handler on",
}


def draw_worst_case(
    reading: WorstCaseTest, result: WorstCaseResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of all combinations; pressures are in pascals in any system.

    Parameters
    ----------
    reading : WorstCaseTest
        As read.
    result : WorstCaseResult
        As reduced.
    system : DisplaySystem
        Units, which pressures do not need.

    Returns
    -------
    Drawing or None
        None before two combinations were read.
    """
    del system
    if len(result.states) < 2 or result.worst is None:
        return None
    values = [_value(reading, each) for each in result.states]
    foretold = [
        _foretold(reading, each, predicted)
        for each, predicted in zip(result.states, result.predictions, strict=True)
        if predicted is not None
    ]
    title = (
        f"The zone is pulled deepest, to {result.worst.net.value:.1f} Pa, with"
        f" {short_words(reading, result.worst.combination)}."
    ).replace("-", "−")
    return Drawing(
        title=title,
        alternative=(
            f"{title} A dot with its 95 % range for each combination, a diamond for what the"
            " balance of air gives; the table has them."
        ),
        spec=chart_spec(
            values,
            height=ROW * len(values) + 20,
            layer=_layers(reading, values, foretold),
            encoding={"y": _combinations()},
        ),
        key=_key(reading),
        columns=("Fans and doors", "Read, baseline off, Pa", "By the balance of air, Pa"),
        rows=tuple(
            (
                each.words,
                f"{each.net.value:.1f}".replace("-", "−"),
                f"{predicted.value:.1f}".replace("-", "−") if predicted else "not known",
            )
            for each, predicted in zip(result.states, result.predictions, strict=True)
        ),
    )


def short_words(reading: WorstCaseTest, combination: Combination) -> str:
    """Return a combination in few words.

    Parameters
    ----------
    reading : WorstCaseTest
        The search.
    combination : Combination
        Fans and doors.

    Returns
    -------
    str
    """
    on = combination.exhausts
    fans = " + ".join(words for name, words in EXHAUSTS.items() if name in on)
    if len(on) > 1 and on == frozenset(available_exhausts(reading)):
        fans = "all exhaust"
    turned = [words for name, words in _TURNS.items() if name in combination.turns]
    return ", ".join([fans or "no exhaust", *turned])


def _value(reading: WorstCaseTest, each: StateResult) -> dict[str, Any]:
    return {
        "state": short_words(reading, each.combination),
        "pressure": round(each.net.value, 2),
        "low": round(each.net.low, 2),
        "high": round(each.net.high, 2),
        "kind": READ,
    }


def _foretold(reading: WorstCaseTest, each: StateResult, predicted: Propagated) -> dict[str, Any]:
    return {
        "state": short_words(reading, each.combination),
        "pressure": round(predicted.value, 2),
        "kind": FORETOLD,
    }


def _combinations() -> dict[str, Any]:
    return {
        "field": "state",
        "type": "nominal",
        "sort": None,
        "axis": name_axis(),
    }


def _layers(
    reading: WorstCaseTest, shown: list[dict[str, Any]], foretold: list[dict[str, Any]]
) -> list[dict[str, Any]]:
    axis = {"title": "zone against outdoors, Pa", "grid": False, "tickCount": 4}
    kinds = [READ, FORETOLD] if foretold else [READ]
    look = {
        channel: {
            "field": "kind",
            "type": "nominal",
            "scale": {"domain": kinds, "range": [_LOOKS[kind][k] for kind in kinds]},
            "legend": {"title": None, "orient": "top"},
        }
        for k, channel in enumerate(("color", "shape"))
    }
    layers: list[dict[str, Any]] = [
        {
            "mark": {"type": "rule", "color": INK, "strokeWidth": 1.4},
            "encoding": {
                "x": {"field": "low", "type": "quantitative", "axis": axis},
                "x2": {"field": "high"},
            },
        },
        {
            "data": {"values": [*shown, *foretold]},
            "mark": {"type": "point", "filled": True, "size": 80, "opacity": 1},
            "encoding": {"x": {"field": "pressure", "type": "quantitative"}} | look,
        },
    ]
    limit = _shown_limit(reading)
    if limit is not None:
        layers.insert(
            0,
            {
                "data": {"values": [{"limit": -limit}]},
                "mark": {"type": "rule", "color": SOFT, "strokeDash": [3, 4]},
                "encoding": {"x": {"field": "limit", "type": "quantitative"}, "y": None},
            },
        )
    return layers


def _shown_limit(reading: WorstCaseTest) -> float | None:
    limit = depressurization_limit(reading.appliance, reading.draft)
    return limit.value if limit is not None and limit.value < SHOWN_LIMIT else None


def _key(reading: WorstCaseTest) -> str:
    limit = _shown_limit(reading)
    if limit is None:
        return ""
    return f"Dashed: −{limit:g} Pa, the limit of older practice for this burner (recalled)."
