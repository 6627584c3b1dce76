"""Years of weather that are kept for jobs to name: from files and from the network."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pandas as pd
import pytest

from cli.test_bad_input import typical_year
from rooftree.actions.weather import keep_weather
from rooftree.errors import StoreError, WeatherError
from rooftree.records.weather_files import open_year

if TYPE_CHECKING:
    from pathlib import Path


def fetched(*_: object, **__: object) -> tuple[pd.DataFrame, dict[str, Any]]:
    """Return an even year in the shape in which the service gives it."""
    table = pd.DataFrame(
        {
            "temp_air": [15.0] * 8760,
            "relative_humidity": 60.0,
            "pressure": 99_000.0,
            "ghi": 100.0,
            "dni": 50.0,
            "dhi": 70.0,
            "IR(h)": 330.0,
            "wind_speed": 3.0,
            "wind_direction": 180.0,
        }
    )
    return table, {"inputs": {"location": {"elevation": 273.0}}}


def unreachable(*_: object, **__: object) -> None:
    """Fail as a machine without a network does."""
    raise OSError("no route to host")


def test_without_a_file_the_years_are_listed(tmp_path: Path) -> None:
    """The year that comes with the program is always there."""
    shelf = keep_weather(tmp_path)
    assert shelf.added == ()
    assert shelf.names == ("greensboro",)


def test_a_file_is_kept_under_a_plain_name(tmp_path: Path) -> None:
    """Jobs call it by that name from then on."""
    file = tmp_path / "Oak Street (2005).EPW"
    file.write_text(typical_year(), encoding="utf-8")
    shelf = keep_weather(tmp_path / "database", file)
    assert shelf.added == ("oak-street-2005.epw",)
    assert "oak-street-2005.epw" in shelf.names
    assert open_year("oak-street-2005.epw").temperature[0] == pytest.approx(288.15)


def test_a_year_with_a_missing_month_is_not_kept(tmp_path: Path) -> None:
    """The month is named and the list stays as it was."""
    file = tmp_path / "holed.epw"
    file.write_text(typical_year(without_month=3), encoding="utf-8")
    with pytest.raises(WeatherError, match="March"):
        keep_weather(tmp_path / "database", file)
    assert keep_weather(tmp_path / "database").names == ("greensboro",)


def test_a_file_that_is_not_there_makes_no_database(tmp_path: Path) -> None:
    """The path is told before anything is made."""
    with pytest.raises(StoreError, match=r"nowhere\.epw cannot be read"):
        keep_weather(tmp_path / "database", tmp_path / "nowhere.epw")
    assert not (tmp_path / "database").exists()


def test_a_fetched_year_is_kept_and_not_fetched_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second time the network is not asked."""
    monkeypatch.setattr("pvlib.iotools.get_pvgis_tmy", fetched)
    (name,) = keep_weather(tmp_path, place=(36.07, -79.79)).added
    assert open_year(name).latitude == pytest.approx(36.07)
    monkeypatch.setattr("pvlib.iotools.get_pvgis_tmy", unreachable)
    assert keep_weather(tmp_path, place=(36.07, -79.79)).added == (name,)


def test_without_a_network_it_says_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The message names the place, the cause and the way without a network."""
    monkeypatch.setattr("pvlib.iotools.get_pvgis_tmy", unreachable)
    with pytest.raises(
        WeatherError, match=r"36\.07, -79\.79: no route to host\. Without a network, get an EPW"
    ):
        keep_weather(tmp_path, place=(36.07, -79.79))
    assert keep_weather(tmp_path).names == ("greensboro",)
