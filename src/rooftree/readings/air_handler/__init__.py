"""Air handler: static pressure, flow by every method at hand, split, heat delivered."""

from rooftree.readings.air_handler.readings import (
    AirHandlerTest,
    Component,
    ComponentDrop,
    DuctShape,
    FanCurvePoint,
    Operation,
    RegisterFlow,
    RegisterSide,
    TraversePoint,
    TraverseRule,
)
from rooftree.readings.air_handler.reduction import reduce_air_handler
from rooftree.readings.air_handler.results import AirHandlerResult, MethodFlow
from rooftree.readings.air_handler.traverse import traverse_places

__all__ = [
    "AirHandlerResult",
    "AirHandlerTest",
    "Component",
    "ComponentDrop",
    "DuctShape",
    "FanCurvePoint",
    "MethodFlow",
    "Operation",
    "RegisterFlow",
    "RegisterSide",
    "TraversePoint",
    "TraverseRule",
    "reduce_air_handler",
    "traverse_places",
]
