"""Check that years of weather are found, and that a fetched one is kept; never the network."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd
import pvlib.iotools
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import WeatherError
from rooftree.records import open_store, weather_files
from rooftree.records.weather_files import (
    add_shelf,
    epw_text,
    fetch_year,
    open_year,
    plain_name,
)
from rooftree.weather import parse_epw

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

HOURS = np.arange(8760)


def fetched() -> pd.DataFrame:
    """Return a made-up year as the service would send it."""
    day = np.maximum(0.0, np.sin((HOURS % 24 - 6) / 12 * np.pi))
    return pd.DataFrame(
        {
            "temp_air": 12.0 - 10.0 * np.cos(HOURS / 8760 * 2 * np.pi) + 4.0 * day,
            "relative_humidity": np.full(8760, 70.0),
            "ghi": 600.0 * day,
            "dni": 500.0 * day,
            "dhi": 150.0 * day,
            "IR(h)": np.full(8760, 320.0),
            "wind_speed": np.full(8760, 3.0),
            "wind_direction": np.full(8760, 225.0),
            "pressure": np.full(8760, 98_500.0),
        }
    )


@pytest.fixture(autouse=True)
def no_shelves(monkeypatch: pytest.MonkeyPatch) -> None:
    """Start each test without weather folders and without a network."""

    def refuse(*_: object, **__: object) -> None:
        raise ConnectionError("no route to the service")

    monkeypatch.setattr(weather_files, "_shelves", [])
    monkeypatch.setattr(pvlib.iotools, "get_pvgis_tmy", refuse)


@pytest.fixture
def service(monkeypatch: pytest.MonkeyPatch) -> list[tuple[float, float]]:
    """Answer in place of the service; returns the places it was asked for."""
    asked: list[tuple[float, float]] = []

    def answer(latitude: float, longitude: float, **options: object) -> tuple[Any, Any]:
        asked.append((latitude, longitude))
        assert options == {"roll_utc_offset": round(longitude / 15)}
        return fetched(), {"inputs": {"location": {"elevation": 243.0}}}

    monkeypatch.setattr(pvlib.iotools, "get_pvgis_tmy", answer)
    return asked


def test_greensboro_comes_with_the_program() -> None:
    """The embedded year needs neither a file nor a network."""
    year = open_year("greensboro")
    assert (round(year.latitude, 1), round(year.longitude, 1)) == (36.1, -80.0)
    assert year.temperature.shape == (8760,)


def epw(place: Path, *, name: str = "town.epw") -> Path:
    """Write a made-up year."""
    path = place / name
    path.write_text(epw_text(fetched(), 36.1, -79.9, -5, 270.0), encoding="utf-8")
    return path


def test_a_year_is_opened_by_its_path(tmp_path: Path) -> None:
    """Any EPW file will do."""
    year = open_year(str(epw(tmp_path)))
    assert year.elevation == 270.0
    assert year.temperature[0] == pytest.approx(275.15, abs=0.01)


@pytest.mark.parametrize("name", ["town.epw", "town"])
def test_a_year_is_opened_by_its_name_in_the_folder(tmp_path: Path, name: str) -> None:
    """With or without its suffix."""
    epw(tmp_path)
    add_shelf(tmp_path)
    assert open_year(name).elevation == 270.0


def test_a_database_brings_its_folder_of_weather(tmp_path: Path) -> None:
    """A year that was added to it can be named by a job, and is listed."""
    store = open_store(tmp_path / "data")
    content = epw(tmp_path).read_bytes()
    assert store.add_weather("My Town (2004).EPW", content) == "my-town-2004.epw"
    assert store.weather_names() == ("greensboro", "my-town-2004.epw")
    assert open_year("my-town-2004").elevation == 270.0


def test_a_broken_year_is_not_kept(tmp_path: Path) -> None:
    """It is read through first."""
    store = open_store(tmp_path / "data")
    lines = epw(tmp_path).read_text(encoding="utf-8").splitlines()
    february = "\n".join([*lines[: 8 + 744], *lines[8 + 1416 :]])
    with pytest.raises(WeatherError):
        store.add_weather("town.epw", february.encode())
    assert store.weather_names() == ("greensboro",)


def test_a_year_that_is_not_there_is_told() -> None:
    """With what to use instead."""
    with pytest.raises(
        WeatherError,
        match=r'^there is no year of weather "atlantis" .*; use "greensboro", the path',
    ):
        open_year("atlantis")


def test_a_file_too_large_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before it is read."""
    monkeypatch.setattr(weather_files, "LARGEST", 1000)
    with pytest.raises(WeatherError, match=r"^town\.epw has more than 0 MB; it is not a year"):
        open_year(str(epw(tmp_path)))


def test_a_fetched_year_is_kept(tmp_path: Path, service: list[tuple[float, float]]) -> None:
    """The second time it comes from the folder."""
    first = fetch_year(36.07, -79.79, tmp_path)
    second = fetch_year(36.07, -79.79, tmp_path)
    assert first == second
    assert service == [(36.07, -79.79)]
    year = open_year(str(first))
    assert (year.latitude, year.longitude, year.elevation) == (36.07, -79.79, 243.0)
    assert year.utc_offset == -5.0


def test_without_a_network_the_way_out_is_told(tmp_path: Path) -> None:
    """And nothing is left in the folder."""
    with pytest.raises(
        WeatherError,
        match=r"^no typical year could be fetched for 36\.07, -79\.79: no route .*\. "
        r"Without a network, get an EPW file .* and give its path, or use \"greensboro\"$",
    ):
        fetch_year(36.07, -79.79, tmp_path / "cache")
    assert not (tmp_path / "cache").exists()


def test_a_fetched_year_with_missing_hours_is_not_kept(
    tmp_path: Path, service: list[tuple[float, float]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the service sends is read through like any other file."""
    short = fetched().iloc[:8000]
    answer = (short, {"inputs": {"location": {"elevation": 243.0}}})
    monkeypatch.setattr(pvlib.iotools, "get_pvgis_tmy", lambda *_, **__: answer)
    with pytest.raises(WeatherError):
        fetch_year(36.07, -79.79, tmp_path)
    assert list(tmp_path.iterdir()) == []
    assert service == []


def test_what_was_fetched_is_what_is_read() -> None:
    """Each column of the service arrives as the quantity it is, in SI."""
    table = fetched()
    year = parse_epw(epw_text(table, 36.1, -79.9, -5, 270.0))
    pairs: list[tuple[str, Callable[[pd.DataFrame], Any], float]] = [
        ("temperature", lambda t: t["temp_air"] + 273.15, 0.006),
        ("pressure", lambda t: t["pressure"], 0.6),
        ("wind_speed", lambda t: t["wind_speed"], 0.006),
        ("wind_direction", lambda t: t["wind_direction"], 0.6),
        ("global_horizontal", lambda t: t["ghi"], 0.06),
        ("direct_normal", lambda t: t["dni"], 0.06),
        ("diffuse_horizontal", lambda t: t["dhi"], 0.06),
    ]
    for name, expected, last_place in pairs:
        np.testing.assert_allclose(getattr(year, name), expected(table), atol=last_place)
    assert year.sky_temperature[0] == pytest.approx((320.0 / 5.670374e-8) ** 0.25, abs=0.5)


def test_the_dew_point_of_a_fetched_year_fits_its_humidity() -> None:
    """70 % at 20 °C has its dew point at 14.4 °C; saturated air at its own temperature."""
    table = fetched().assign(temp_air=20.0)
    assert parse_epw(epw_text(table, 36, -80, -5, 0)).dew_point[0] == pytest.approx(287.5, abs=0.1)
    wet = table.assign(relative_humidity=100.0)
    assert parse_epw(epw_text(wet, 36, -80, -5, 0)).dew_point[0] == pytest.approx(293.15, abs=0.01)


@given(st.text(max_size=60) | st.from_regex(r"\A[A-Za-z. /\\<>-]{1,20}\Z"))
def test_a_plain_name_is_plain(name: str) -> None:
    """Whatever a browser sends: no folder, no way up, and plain names stay as they are."""
    plain = plain_name(name)
    assert re.fullmatch(r"[a-z0-9-]+(\.[a-z0-9]+)?", plain)
    assert plain_name(plain) == plain
