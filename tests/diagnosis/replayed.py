"""The heat at both faces of every element, worked out again from the faces' temperatures."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.compile import compile_house

if TYPE_CHECKING:
    from rooftree.engine import YearResult
    from rooftree.house import House
    from rooftree.weather import WeatherYear

WARM_UP = 60 * 24


def replay(house: House, result: YearResult, weather: WeatherYear) -> YearResult:
    """Return the year with the heat that left the layers at both faces, hour by hour.

    The layers' modes are stepped with the recorded faces, two months beforehand.
    """
    hourly = result.hourly
    assert hourly is not None
    compiled = compile_house(house, weather)
    elements = compiled.elements
    owner, m = elements.owner, elements.area.size
    inside, outside = hourly.face_inside, hourly.face_outside
    hours = inside.shape[0]
    modes = np.zeros(owner.size)
    given_in, given_out = np.zeros((hours, m)), np.zeros((hours, m))
    for k in range(-WARM_UP, hours):
        u, v = inside[k], outside[k]
        if k >= 0:
            felt_in = np.bincount(owner, elements.feel_inside * modes, minlength=m)
            felt_out = np.bincount(owner, elements.feel_outside * modes, minlength=m)
            given_in[k] = felt_in + elements.across * v - elements.inside * u
            given_out[k] = felt_out + elements.across * u - elements.outside * v
        pushed = elements.push_inside * u[owner] + elements.push_outside * v[owner]
        modes = elements.fade * modes + pushed
    glass = elements.first_window + np.arange(elements.glazing.size)
    given_in[:, glass] += elements.glass_taken * compiled.weather.glass_heat[:, elements.glazing]
    area = elements.area
    return replace(
        result,
        hourly=replace(
            hourly, conducted_inside=given_in * area, conducted_outside=given_out * area
        ),
    )
