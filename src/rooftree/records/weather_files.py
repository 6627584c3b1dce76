"""Open years of weather: the one that comes with pvlib, files, and fetched ones."""

from __future__ import annotations

import importlib.util
import math
import re
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rooftree.errors import WeatherError
from rooftree.records.files import write_whole

if TYPE_CHECKING:
    from collections.abc import Hashable, Mapping

    import pandas as pd

    from rooftree.weather import WeatherYear

GREENSBORO = "greensboro"
"""Name of the typical year of Greensboro, North Carolina, in pvlib's wheel (TMY3)."""

SUFFIXES = (".epw", ".csv", ".tm2")
"""Of files that hold a year."""

LARGEST = 16 * 1024 * 1024
"""Largest file of weather that is read [bytes]; a year of hours has about 2 MB."""

_shelves: list[Path] = []


def add_shelf(folder: Path) -> None:
    """Let names of years be looked for in a folder.

    Parameters
    ----------
    folder : Path
        Such as the weather folder of the database that is open.
    """
    if folder not in _shelves:
        _shelves.insert(0, folder)


def open_year(name_or_path: str) -> WeatherYear:
    """Open a year of weather.

    Parameters
    ----------
    name_or_path : str
        ``"greensboro"``, the name of a file in a weather folder with or without its
        suffix, or the path of an EPW, TMY3 or TM2 file.

    Returns
    -------
    WeatherYear

    Raises
    ------
    WeatherError
        If there is no such year, or hours or fields are missing in it.
    """
    from rooftree.weather import parse_any

    path = _find(name_or_path)
    if path.stat().st_size > LARGEST:
        message = f"{path.name} has more than {LARGEST // 1024**2} MB; it is not a year of weather"
        raise WeatherError(message)
    return parse_any(path.read_text(encoding="utf-8", errors="replace"), path.name)


def _find(name: str) -> Path:
    if name == GREENSBORO:
        return _in_pvlib("723170TYA.CSV")
    path = Path(name)
    if path.is_file():
        return path
    for shelf in _shelves:
        for candidate in (shelf / path.name, *(shelf / f"{path.name}{s}" for s in SUFFIXES)):
            if candidate.is_file():
                return candidate
    looked = ", ".join(str(shelf) for shelf in _shelves) or "no weather folder"
    message = (
        f'there is no year of weather "{name}" ({looked}); use "{GREENSBORO}", the path of an EPW '
        "or TMY3 file, or add the file on the page Jobs"
    )
    raise WeatherError(message)


def _in_pvlib(name: str) -> Path:
    spec = importlib.util.find_spec("pvlib")
    if spec is None or spec.origin is None:
        raise WeatherError("pvlib is not installed; install Rooftree with its requirements")
    return Path(spec.origin).parent / "data" / name


def fetch_year(latitude: float, longitude: float, folder: Path) -> Path:
    """Fetch a typical year for a place over the network, once; later it is taken from the folder.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive [°].
    folder : Path
        Where fetched years are kept.

    Returns
    -------
    Path
        Of an EPW file.

    Raises
    ------
    WeatherError
        If there is no network or no year for the place; it says what to do instead.
    """
    kept = folder / f"typical-{latitude:.2f}-{longitude:.2f}.epw"
    if kept.is_file():
        return kept
    from pvlib.iotools import get_pvgis_tmy

    from rooftree.weather import parse_epw

    offset = round(longitude / 15.0)
    try:
        table, meta = get_pvgis_tmy(latitude, longitude, roll_utc_offset=offset)
    except Exception as error:
        message = (
            f"no typical year could be fetched for {latitude:.2f}, {longitude:.2f}: {error}. "
            "Without a network, get an EPW file of a station nearby on another machine and give "
            f'its path, or use "{GREENSBORO}"'
        )
        raise WeatherError(message) from error
    elevation = float(meta["inputs"]["location"]["elevation"])
    text = epw_text(table, latitude, longitude, offset, elevation)
    parse_epw(text, kept.name)
    write_whole(kept, text.encode())
    return kept


def epw_text(
    table: pd.DataFrame, latitude: float, longitude: float, offset: float, elevation: float
) -> str:
    """Return a fetched year in the open EPW layout, so that any reader can use the file.

    Parameters
    ----------
    table : DataFrame
        8760 rows with temp_air [°C], relative_humidity [%], pressure [Pa], ghi, dni, dhi,
        IR(h) [W/m²], wind_speed [m/s] and wind_direction [°].
    latitude, longitude : float
        North and east positive [°].
    offset : float
        Hours ahead of UTC [h].
    elevation : float
        Above sea level [m].

    Returns
    -------
    str

    Notes
    -----
    Dew point by the Magnus form with 17.62 and 243.12 °C (World Meteorological
    Organization, Guide No. 8, recalled). Columns that were not fetched hold EPW's
    missing codes.
    """
    head = [
        f"LOCATION,Typical year,-,-,PVGIS,0,{latitude:g},{longitude:g},{offset:g},{elevation:g}",
        "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
        "COMMENTS 1,fetched through pvlib from PVGIS of the European Commission",
        "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
    ]
    rows = [_epw_row(hour, row) for hour, row in enumerate(table.to_dict("records"))]
    return "\n".join([*head, *rows]) + "\n"


def _epw_row(hour: int, row: Mapping[Hashable, Any]) -> str:
    at = datetime(2001, 1, 1) + timedelta(hours=hour)
    temperature, humidity = row["temp_air"], max(1.0, row["relative_humidity"])
    magnus = math.log(humidity / 100.0) + 17.62 * temperature / (243.12 + temperature)
    dew_point = 243.12 * magnus / (17.62 - magnus)
    values = [
        at.year, at.month, at.day, at.hour + 1, 60, "-", round(temperature, 2),
        round(dew_point, 2), round(humidity, 1), round(row["pressure"]), 9999, 9999,
        round(row["IR(h)"], 1), round(row["ghi"], 1), round(row["dni"], 1),
        round(row["dhi"], 1), 999999, 999999, 999999, 9999, round(row["wind_direction"]),
        round(row["wind_speed"], 2), 99, 99, 9999, 99999, 9, 999999999, 999, 0.999, 999, 99,
        999, 999, 99,
    ]  # fmt: skip
    return ",".join(map(str, values))


def plain_name(name: str) -> str:
    """Return a file name without folders or odd signs.

    Parameters
    ----------
    name : str
        As given by whoever sent the file.

    Returns
    -------
    str

    Examples
    --------
    >>> plain_name("../My Town (2004).EPW")
    'my-town-2004.epw'
    """
    path = Path(name.replace("\\", "/"))
    stem = re.sub(r"[^a-z0-9]+", "-", path.stem.lower()).strip("-") or "weather"
    suffix = re.sub(r"[^a-z0-9]", "", path.suffix.lower())
    return f"{stem}.{suffix}" if suffix else stem
