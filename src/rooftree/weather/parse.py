"""Read hourly weather files that are held in memory: EPW, TMY3 and TM2 layouts.

Sources
-------
[EPW] "Weather file format (EPW)", auxiliary programs documentation of the layout, data
    dictionary: fields, units, missing codes.
[TMY3] Wilcox, S., Marion, W., "Users Manual for TMY3 Data Sets", NREL/TP-581-43156,
    revised 2008.
[TMY2] Marion, W., Urban, K., "User's Manual for TMY2s", NREL/SP-463-7668, 1995,
    table 3-2.
"""

from __future__ import annotations

import io
from contextlib import contextmanager
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import WeatherError
from rooftree.weather.build import weather_year
from rooftree.weather.hours import rows_by_hour

if TYPE_CHECKING:
    from collections.abc import Iterator

    import pandas as pd
    from numpy.typing import NDArray

    from rooftree.weather.year import WeatherYear

_KELVIN = 273.15

_EPW_HEADER_LINES = 8
_EPW_FIELDS = 35
_EPW_TAIL = ("999", "999", "99")  # albedo, liquid precipitation depth and quantity
_EPW_MISSING = {"temp_air": 99.9, "temp_dew": 99.9, "atmospheric_pressure": 999999.0}
_EPW_MISSING |= dict.fromkeys(("ghi_infrared", "ghi", "dni", "dhi"), 9999.0)
_EPW_MISSING |= {"wind_direction": 999.0, "wind_speed": 999.0, "opaque_sky_cover": 99.0}
_TMY3_COLUMNS = {
    "temperature": "Dry-bulb (C)",
    "dew_point": "Dew-point (C)",
    "pressure": "Pressure (mbar)",
    "wind_speed": "Wspd (m/s)",
    "wind_direction": "Wdir (degrees)",
    "global_horizontal": "GHI (W/m^2)",
    "direct_normal": "DNI (W/m^2)",
    "diffuse_horizontal": "DHI (W/m^2)",
    "cloud_cover": "OpqCld (tenths)",
}
# Columns of a TMY2 row, counted from zero, and what all nines stand for: missing.
_TMY2_COLUMNS = {
    "month": (3, 5),
    "day": (5, 7),
    "hour": (7, 9),
    "global_horizontal": (17, 21),
    "direct_normal": (23, 27),
    "diffuse_horizontal": (29, 33),
    "cloud_cover": (63, 65),
    "temperature": (67, 71),
    "dew_point": (73, 77),
    "pressure": (84, 88),
    "wind_direction": (90, 93),
    "wind_speed": (95, 98),
}
_TMY2_ROW = 98


def parse_any(text: str, filename: str = "weather file") -> WeatherYear:
    """Return the year in a weather file, whichever of the three layouts it has.

    Parameters
    ----------
    text : str
        Content of the file.
    filename : str
        Named as the source and in messages; plays no part in telling the layout.

    Returns
    -------
    WeatherYear
        The year, ready to simulate.

    Raises
    ------
    WeatherError
        If the content has none of the layouts, or lacks hours or fields.
    """
    for has_layout, parse in (
        (_is_epw, parse_epw),
        (_is_tmy3, parse_tmy3),
        (_is_tm2, parse_tm2),
    ):
        if has_layout(text):
            return parse(text, filename)
    raise _wrong_layout(filename, "EPW, TMY3 nor TM2")


def parse_epw(text: str, filename: str = "EPW file") -> WeatherYear:
    """Return the year in a file of the EPW layout.

    Parameters
    ----------
    text : str
        Content of the file.
    filename : str
        Named as the source and in messages.

    Returns
    -------
    WeatherYear
        The year, ready to simulate.

    Raises
    ------
    WeatherError
        If the content has another layout, or lacks hours or fields, which it names.

    Notes
    -----
    Hour 1 is 00:00 to 01:00 [EPW]_. Rows of 32 to 34 fields get the missing codes of the
    last fields. Rows of 29 February are left out. The sky temperature comes from the
    horizontal infrared; in hours without it from dew point and opaque cloud cover.

    References
    ----------
    [EPW] "Weather file format (EPW)", data dictionary.
    """
    if not _is_epw(text):
        raise _wrong_layout(filename, "EPW")
    with _plain_errors(filename):
        from pvlib.iotools import read_epw

        rows, place = read_epw(io.StringIO(_complete_epw(text)))
        order = rows_by_hour(rows["month"], rows["day"], rows["hour"])

        def column(name: str) -> NDArray[np.float64]:
            values = _numbers(rows, name)[order]
            return np.where(values == _EPW_MISSING[name], np.nan, values)

        infrared = column("ghi_infrared")
        return weather_year(
            str(place["city"]).strip(),
            filename,
            latitude=place["latitude"],
            longitude=place["longitude"],
            utc_offset=place["TZ"],
            elevation=place["altitude"],
            temperature=column("temp_air") + _KELVIN,
            dew_point=column("temp_dew") + _KELVIN,
            pressure=column("atmospheric_pressure"),
            wind_speed=column("wind_speed"),
            wind_direction=column("wind_direction"),
            global_horizontal=column("ghi"),
            direct_normal=column("dni"),
            diffuse_horizontal=column("dhi"),
            # No sky sends nothing: a zero is a field that was never filled.
            infrared=np.where(infrared == 0.0, np.nan, infrared),
            cloud_cover=column("opaque_sky_cover") / 10.0,
        )


def parse_tmy3(text: str, filename: str = "TMY3 file") -> WeatherYear:
    """Return the year in a file of the TMY3 layout.

    Parameters
    ----------
    text : str
        Content of the file.
    filename : str
        Named as the source and in messages.

    Returns
    -------
    WeatherYear
        The year, ready to simulate.

    Raises
    ------
    WeatherError
        If the content has another layout, or lacks hours or fields, which it names.

    Notes
    -----
    01:00 is the hour from 00:00 to 01:00, 24:00 the last of the day [TMY3]_; -9900
    stands for a missing value. The layout has no infrared: the sky temperature comes
    from dew point and opaque cloud cover.

    References
    ----------
    [TMY3] Wilcox, S., Marion, W., "Users Manual for TMY3 Data Sets",
    NREL/TP-581-43156, revised 2008.
    """
    if not _is_tmy3(text):
        raise _wrong_layout(filename, "TMY3")
    with _plain_errors(filename):
        from pvlib.iotools import read_tmy3

        rows, place = read_tmy3(io.StringIO(text.lstrip("\ufeff")), map_variables=False)
        stamp = rows["Date (MM/DD/YYYY)"].str.split("/", expand=True).astype(int)
        hour = rows["Time (HH:MM)"].str.slice(0, 2).astype(int)
        order = rows_by_hour(stamp[0], stamp[1], hour)
        columns = {key: _numbers(rows, name)[order] for key, name in _TMY3_COLUMNS.items()}
        return weather_year(
            str(place["Name"]).strip('" '),
            filename,
            latitude=place["latitude"],
            longitude=place["longitude"],
            utc_offset=place["TZ"],
            elevation=place["altitude"],
            **_in_si(
                {key: np.where(v <= -990.0, np.nan, v) for key, v in columns.items()}, scale=1.0
            ),
        )


def parse_tm2(text: str, filename: str = "TM2 file") -> WeatherYear:
    """Return the year in a file of the TM2 (TMY2) layout.

    Parameters
    ----------
    text : str
        Content of the file.
    filename : str
        Named as the source and in messages.

    Returns
    -------
    WeatherYear
        The year, ready to simulate.

    Raises
    ------
    WeatherError
        If the content has another layout, or lacks hours or fields, which it names.

    Notes
    -----
    Rows of fixed columns, table 3-2 of [TMY2]_; temperatures and wind in tenths. pvlib's
    reader takes only the path of a file, so the columns are cut here; a test holds the
    result against that reader. The sky temperature comes from dew point and opaque cloud
    cover.

    References
    ----------
    [TMY2] Marion, W., Urban, K., "User's Manual for TMY2s", NREL/SP-463-7668, 1995.
    """
    if not _is_tm2(text):
        raise _wrong_layout(filename, "TM2")
    with _plain_errors(filename):
        lines = text.rstrip().splitlines()
        cut = {key: _cut(lines[1:], *span) for key, span in _TMY2_COLUMNS.items()}
        order = rows_by_hour(*(cut.pop(key) for key in ("month", "day", "hour")))
        station = lines[0]
        return weather_year(
            station[7:29].strip(),
            filename,
            latitude=_degrees(station[37:44], "S"),
            longitude=_degrees(station[45:53], "W"),
            utc_offset=float(station[33:36]),
            elevation=float(station[53:59]),
            **_in_si({key: values[order] for key, values in cut.items()}, scale=0.1),
        )


def _is_epw(text: str) -> bool:
    return text.lstrip("\ufeff").startswith("LOCATION,")


def _is_tmy3(text: str) -> bool:
    return "Date (MM/DD/YYYY),Time (HH:MM)" in text[:400]


def _is_tm2(text: str) -> bool:
    first, _, rest = text[:400].partition("\n")
    return len(first) > 50 and first[37:38] in ("N", "S") and rest[1:9].isdigit()


def _wrong_layout(filename: str, layout: str) -> WeatherError:
    return WeatherError(
        f"{filename} has not the layout of {layout}; give an hourly typical year in EPW, TMY3 "
        "or TM2 layout"
    )


@contextmanager
def _plain_errors(filename: str) -> Iterator[None]:
    """Say which file it was; turn a reader's own complaint into ours."""
    try:
        yield
    except WeatherError as error:
        raise WeatherError(f"{filename}: {error}") from error
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        raise WeatherError(
            f"{filename} cannot be read ({error}); it may be cut short or changed: fetch it again"
        ) from error


def _complete_epw(text: str) -> str:
    """Return the file with every row at 35 fields, or name the row that is cut short."""
    lines = text.lstrip("\ufeff").rstrip().splitlines()
    if len(lines) <= _EPW_HEADER_LINES:
        raise WeatherError("the file ends within its header; fetch it again")
    if not lines[_EPW_HEADER_LINES - 1].startswith("DATA PERIODS"):
        raise WeatherError("line 8 is not DATA PERIODS; the header is damaged, fetch it again")
    for number in range(_EPW_HEADER_LINES, len(lines)):
        lacking = _EPW_FIELDS - 1 - lines[number].count(",")
        if lacking > len(_EPW_TAIL):
            raise WeatherError(
                f"line {number + 1} has {_EPW_FIELDS - lacking} fields; a row has 32 to 35: "
                "the file is cut short or damaged, fetch it again"
            )
        if lacking > 0:
            lines[number] += "," + ",".join(_EPW_TAIL[-lacking:])
        elif lacking < 0:
            lines[number] = ",".join(lines[number].split(",")[:_EPW_FIELDS])
    # pvlib makes dates of the stamps, and 29 February of a common year is none.
    return "\n".join(line for line in lines if line.split(",", 3)[1:3] != ["2", "29"]) + "\n"


def _numbers(rows: pd.DataFrame, name: str) -> NDArray[np.float64]:
    """Return a column; blank or garbled fields are NaN."""
    if name not in rows:
        raise WeatherError(f"the column {name!r} is absent; fetch the file again")
    import pandas as pd

    return np.asarray(pd.to_numeric(rows[name], errors="coerce"), dtype=np.float64)


def _cut(rows: list[str], start: int, end: int) -> NDArray[np.float64]:
    """Return a column of a fixed-column file; all nines are a missing value, NaN."""
    missing = "9" * (end - start)
    for number, row in enumerate(rows):
        if len(row) < _TMY2_ROW:
            raise WeatherError(
                f"line {number + 2} has {len(row)} columns; a row has {_TMY2_ROW} or more: "
                "the file is cut short, fetch it again"
            )
    return np.array([np.nan if (v := row[start:end]) == missing else float(v) for row in rows])


def _in_si(columns: dict[str, NDArray[np.float64]], scale: float) -> dict[str, NDArray[np.float64]]:
    """Turn °C, mbar and tenths of the sky into K, Pa and a fraction; `scale` is of tenths."""
    columns["temperature"] = columns["temperature"] * scale + _KELVIN
    columns["dew_point"] = columns["dew_point"] * scale + _KELVIN
    columns["wind_speed"] = columns["wind_speed"] * scale
    columns["pressure"] = columns["pressure"] * 100.0
    columns["cloud_cover"] = columns["cloud_cover"] / 10.0
    return columns


def _degrees(words: str, negative: str) -> float:
    """Return degrees from a hemisphere letter, degrees and minutes, such as "N 25 48"."""
    hemisphere, whole, minutes = words[0], *words[1:].split()
    return (-1.0 if hemisphere == negative else 1.0) * (float(whole) + float(minutes) / 60.0)
