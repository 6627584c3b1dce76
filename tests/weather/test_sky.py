"""Check the sky models against their own worked values and laws."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.weather.sky import sky_emissivity, sky_infrared, sky_temperature

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.weather import WeatherYear


@pytest.mark.parametrize(
    ("dry_bulb", "dew_point", "cloud", "celsius"),
    [(20.0, 10.0, 0.0, 5.34), (20.0, 10.0, 1.0, 15.5), (30.0, 22.0, 0.0, 17.6), (0, -5, 0, -17.0)],
)
def test_sky_temperature_of_the_clear_and_clouded_sky(
    dry_bulb: float, dew_point: float, cloud: float, celsius: float
) -> None:
    """The equations, worked by hand, give these sky temperatures (to the digits worked)."""
    infrared = sky_infrared(dry_bulb + 273.15, dew_point + 273.15, cloud)
    assert sky_temperature(infrared) - 273.15 == pytest.approx(celsius, abs=0.06)


@given(st.floats(230.0, 310.0), st.floats(0.0, 1.0))
def test_clouds_and_damp_air_warm_the_sky(dew_point: float, cloud: float) -> None:
    """A damper sky never sends less, and an overcast one sends more than a clear one."""
    assert sky_emissivity(dew_point + 1.0, cloud) > sky_emissivity(dew_point, cloud)
    assert sky_emissivity(dew_point, 1.0) > sky_emissivity(dew_point, 0.0)


@given(st.floats(200.0, 330.0))
def test_black_body_gives_back_its_temperature(temperature: float) -> None:
    """Infrared of a black body at a temperature is read back as that temperature."""
    assert sky_temperature(5.670374419e-8 * temperature**4) == pytest.approx(temperature)


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 140-2023", where="table B8-16, sky temperature, Case 600",
    read="source",
)  # fmt: skip
def test_sky_of_denver_lies_in_the_reference_range(
    shared_year: Callable[[str], WeatherYear],
) -> None:
    """Mean, lowest and highest sky temperature lie between those of the programs compared.

    Needs ../shared/weather; the range is printed to a tenth of a degree.
    """
    sky = shared_year("USA_CO_Denver.Intl.AP.725650_TMY3.epw").sky_temperature - 273.15
    assert -5.95 <= sky.mean() <= -1.95
    assert -46.95 <= sky.min() <= -37.95
    assert 24.55 <= sky.max() <= 30.15


def test_model_and_recorded_infrared_agree_over_a_year(
    shared_text: Callable[[str], str], shared_year: Callable[[str], WeatherYear]
) -> None:
    """Without its infrared column, Denver's mean sky comes within 2 K of the recorded one.

    Needs ../shared/weather.
    """
    from rooftree.weather import parse_epw

    name = "USA_CO_Denver.Intl.AP.725650_TMY3.epw"
    lines = shared_text(name).splitlines()
    for number in range(8, len(lines)):
        fields = lines[number].split(",")
        fields[12] = "9999"
        lines[number] = ",".join(fields)
    modelled = parse_epw("\n".join(lines)).sky_temperature
    recorded = shared_year(name).sky_temperature
    assert modelled.mean() == pytest.approx(recorded.mean(), abs=2.0)
    assert np.corrcoef(modelled, recorded)[0, 1] > 0.95
