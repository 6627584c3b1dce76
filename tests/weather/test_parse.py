"""Check the readers of weather files, on good files and on every kind of bad one."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib.iotools import read_tmy2

from rooftree.errors import WeatherError
from rooftree.weather import parse_any, parse_epw, parse_tm2, parse_tmy3
from rooftree.weather.hours import DAYS_IN_MONTH

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from rooftree.weather import WeatherYear

DENVER = "USA_CO_Denver.Intl.AP.725650_TMY3.epw"
HEADER = (
    "LOCATION,Made-up Town,--,---,made,999999,40.0,-105.0,-7.0,1600.0",
    "DESIGN CONDITIONS,0",
    "TYPICAL/EXTREME PERIODS,0",
    "GROUND TEMPERATURES,0",
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
    "COMMENTS 1,made for tests",
    "COMMENTS 2,",
    "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
)


def row(year: int, month: int, day: int, hour: int) -> str:
    """Return one made-up row of 35 fields; the dry bulb is the month, in °C."""
    sun = 300 if 9 <= hour <= 16 else 0
    return (
        f"{year},{month},{day},{hour},0,?,{month}.0,-5.0,50,84000,0,0,250,{sun},{2 * sun // 3},"
        f"{sun // 3},0,0,0,0,270,3.0,5,4,20,2000,9,999999999,10,0.1,0,88,0.2,0,1"
    )


@cache
def rows(leap: bool = False) -> tuple[str, ...]:
    """Return the rows of a made-up year."""
    days = [*DAYS_IN_MONTH]
    days[1] += leap
    return tuple(
        row(2003 + leap, month + 1, day, hour)
        for month in range(12)
        for day in range(1, days[month] + 1)
        for hour in range(1, 25)
    )


def file(*lines: str) -> str:
    """Return an EPW file with these rows."""
    return "\n".join((*HEADER, *lines)) + "\n"


def with_field(number: int, field: int, value: str) -> str:
    """Return a file in which one field of one row is changed."""
    lines = list(rows())
    fields = lines[number].split(",")
    fields[field] = value
    lines[number] = ",".join(fields)
    return file(*lines)


@pytest.mark.parametrize(
    ("name", "mean", "lowest", "highest", "level", "direct", "diffuse"),
    [
        ("ColoradTMY-v5.0.epw", 9.684, -23.3, 34.4, 1842.2, 2395.0, 495.2),
        ("DRYCOLDTMY.epw", 9.706, -24.4, 35.0, 1831.9, 2353.7, 500.5),
        ("LasvegaTMY-v5.0.epw", 19.274, -5.0, 45.0, 2167.0, 2751.0, 492.1),
        (DENVER, 10.875, -19.4, 40.0, 1670.2, 1977.6, 556.5),
        ("USA_FL_Miami.Intl.AP.722020_TMY3.epw", 24.507, 5.0, 35.6, 1753.1, 1453.5, 811.1),
        ("USA_IL_Chicago-OHare.Intl.AP.725300_TMY3.epw", 9.988, -22.8, 35.0, 1406.6, 1294.3, 660.3),
    ],
)
def test_annual_values_of_known_files(
    shared_year: Callable[[str], WeatherYear],
    name: str,
    mean: float,
    lowest: float,
    highest: float,
    level: float,
    direct: float,
    diffuse: float,
) -> None:
    """Means, extremes and sums that others computed come back. Needs ../shared/weather."""
    year = shared_year(name)
    assert year.temperature.mean() - 273.15 == pytest.approx(mean, abs=5.1e-4)
    assert year.temperature.min() - 273.15 == pytest.approx(lowest, abs=1e-6)
    assert year.temperature.max() - 273.15 == pytest.approx(highest, abs=1e-6)
    assert year.global_horizontal.sum() / 1000.0 == pytest.approx(level, abs=0.051)
    assert year.direct_normal.sum() / 1000.0 == pytest.approx(direct, abs=0.051)
    assert year.diffuse_horizontal.sum() / 1000.0 == pytest.approx(diffuse, abs=0.051)


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 140, weather drivers", where="result template, WD100",
    read="source",
)  # fmt: skip
def test_weather_drivers_of_denver(shared_year: Callable[[str], WeatherYear]) -> None:
    """Annual dry bulb, dew point and sun equal the template's values to its last digit.

    Needs ../shared/weather.
    """
    year = shared_year(DENVER)
    assert round(year.temperature.mean() - 273.15, 3) == 10.875
    assert round(year.dew_point.mean() - 273.15, 3) == -1.066
    assert round(year.global_horizontal.sum()) == 1_670_220
    assert round(year.diffuse_horizontal.sum()) == 556_451


def test_made_up_year_comes_back_in_si() -> None:
    """Hour 1 becomes entry 0, °C becomes K, and the place is read from the header."""
    year = parse_epw(file(*rows()), "made.epw")
    assert (year.name, year.source) == ("Made-up Town", "made.epw")
    assert (year.latitude, year.longitude, year.utc_offset) == (40.0, -105.0, -7.0)
    assert year.temperature[0] == 274.15
    assert year.temperature[-1] == 285.15
    assert year.pressure[0] == 84000.0
    assert list(np.flatnonzero(year.global_horizontal[:24])) == list(range(8, 16))


def test_rows_in_another_order_give_the_same_year() -> None:
    """A file that begins in July is put in the order of the calendar."""
    turned = rows()[4344:] + rows()[:4344]
    assert (parse_epw(file(*turned)).temperature == parse_epw(file(*rows())).temperature).all()


@pytest.mark.parametrize("year_of_stamps", ["2004", "2003"])
def test_29_february_is_dropped(year_of_stamps: str) -> None:
    """A file of 8784 rows gives the year without 29 February, whatever its year column."""
    leap = [year_of_stamps + line[4:] for line in rows(leap=True)]
    year = parse_epw(file(*leap))
    assert (year.temperature == parse_epw(file(*rows())).temperature).all()


@pytest.mark.parametrize("fields", [32, 33, 34, 36])
def test_rows_of_other_lengths_are_read(fields: int) -> None:
    """The last three fields may be absent, and more fields do no harm."""
    lines = [",".join((*line.split(","), "7")[:fields]) for line in rows()]
    assert parse_epw(file(*lines)).temperature[0] == 274.15


def test_missing_month_is_named() -> None:
    """A file without its March says so."""
    lines = [line for line in rows() if line.split(",")[1] != "3"]
    with pytest.raises(
        WeatherError,
        match=r"^cut\.epw: the weather file lacks 744 of the 8760 hours of a year: all of March; "
        r"fetch the file again or take another year$",
    ):
        parse_epw(file(*lines), "cut.epw")


def test_four_rows_an_hour_are_refused() -> None:
    """A file of quarter hours is refused, not thinned."""
    with pytest.raises(WeatherError, match=r"more than one row for 8760 hours: the whole year"):
        parse_epw(file(*(line for line in rows() for _ in range(4))))


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        (6, "99.9", "dry-bulb temperature"),
        (7, "99.9", "dew-point temperature"),
        (9, "999999", "station pressure"),
        (13, "9999", "global horizontal irradiance"),
        (14, "9999", "direct normal irradiance"),
        (15, "9999", "diffuse horizontal irradiance"),
        (20, "999", "wind direction"),
        (21, "999", "wind speed"),
        (21, "", "wind speed"),
        (6, "cold", "dry-bulb temperature"),
    ],
)
def test_missing_values_are_named_by_field_and_hour(field: int, value: str, words: str) -> None:
    """A missing code, a blank and a word in a used field are refused by name and hour."""
    with pytest.raises(
        WeatherError,
        match=rf"^EPW file: {words} is missing in 1 hours \(31 January 23:00 to 24:00\); correct "
        r"these hours in the file or take another year$",
    ):
        parse_epw(with_field(743, field, value))


@pytest.mark.parametrize(
    ("field", "value", "message"),
    [
        (6, "71", r"dry-bulb temperature is 71 °C \(1 January 00:00 to 01:00\); weather has -70"),
        (21, "-1", r"wind speed is -1 m/s \(.*\); weather has 0 to 60 m/s"),
        (13, "2000", r"global horizontal irradiance is 2000 W/m² \(.*\); weather has 0 to 1600"),
        (7, "3.1", r"dew-point temperature is 2\.1 K above the dry bulb \(1 January 00:00"),
    ],
)
def test_values_that_no_weather_has_are_refused(field: int, value: str, message: str) -> None:
    """A value beyond any weather is refused with value, hour and range."""
    with pytest.raises(WeatherError, match=message):
        parse_epw(with_field(0, field, value))


def test_all_bad_fields_are_named_at_once() -> None:
    """Two bad columns are told in one message."""
    text = with_field(0, 6, "99.9").replace(",270,3.0,", ",270,999,")
    with pytest.raises(
        WeatherError, match=r"dry-bulb .* missing in 1 hours .*; wind speed is miss"
    ):
        parse_epw(text)


@pytest.mark.parametrize("absent", ["9999", "0", ""])
def test_absent_infrared_is_taken_from_clouds(absent: str) -> None:
    """An hour without infrared gets a sky from dew point and cloud; the others keep theirs."""
    year, whole = parse_epw(with_field(5, 12, absent)), parse_epw(file(*rows()))
    assert year.sky_temperature[5] != whole.sky_temperature[5]
    assert 230.0 < year.sky_temperature[5] < year.temperature[5]
    assert (np.delete(year.sky_temperature, 5) == np.delete(whole.sky_temperature, 5)).all()


def test_neither_infrared_nor_clouds_is_refused() -> None:
    """Without infrared the cloud cover is needed, and asked for by name."""
    text = with_field(5, 12, "9999").replace(",3.0,5,4,20", ",3.0,5,99,20")
    with pytest.raises(
        WeatherError, match=r"opaque cloud cover is missing in 1 hours \(1 January 05"
    ):
        parse_epw(text)


def test_cloud_cover_is_not_asked_for_where_infrared_is_there() -> None:
    """Missing clouds do no harm in a file with infrared."""
    year = parse_epw(file(*rows()).replace(",3.0,5,4,20", ",3.0,5,99,20"))
    assert year.sky_temperature.min() > 200.0


@pytest.mark.parametrize(
    "text", ["", "\n", "<html>not found</html>", "\x89PNG\r\n\x1a\n", "a,b\n1,2\n"]
)
def test_files_of_another_kind_are_refused(text: str) -> None:
    """What is no weather file is refused with the layouts that are taken."""
    with pytest.raises(
        WeatherError,
        match=r"^photo\.png has not the layout of EPW, TMY3 nor TM2; give an hourly typical year "
        r"in EPW, TMY3 or TM2 layout$",
    ):
        parse_any(text, "photo.png")


@pytest.mark.parametrize("parse", [parse_epw, parse_tmy3, parse_tm2])
def test_each_reader_refuses_other_layouts(parse: Callable[[str], WeatherYear]) -> None:
    """A reader given another layout says which one it wanted."""
    with pytest.raises(WeatherError, match=r"has not the layout of (EPW|TMY3|TM2); give an hourly"):
        parse("neither")


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (HEADER[:3], r"the file ends within its header; fetch it again$"),
        ((*HEADER[:7], "1,2,3", rows()[0]), r"line 8 is not DATA PERIODS; the header is damaged"),
        ((*HEADER, rows()[0][:60]), r"line 9 has \d+ fields; a row has 32 to 35: the file is cut"),
        (("LOCATION,x", *HEADER[1:], *rows()), r"cannot be read .* fetch it again$"),
    ],
)
def test_damaged_files_are_refused(lines: tuple[str, ...], message: str) -> None:
    """A damaged header or a row cut short is told by line."""
    with pytest.raises(WeatherError, match=message):
        parse_epw("\n".join(lines))


@settings(max_examples=15)
@given(st.floats(0.0, 0.999))
def test_file_cut_anywhere_is_refused_plainly(share: float) -> None:
    """Wherever a file breaks off, the error is ours."""
    text = file(*rows())
    with pytest.raises(WeatherError):
        parse_any(text[: int(share * (len(text) - 40))], "cut.epw")


@given(st.text(max_size=300))
def test_no_text_makes_another_error(text: str) -> None:
    """Text of any kind is refused as no weather file, header or not."""
    for head in ("", "LOCATION,", "Date (MM/DD/YYYY),Time (HH:MM)", "\n".join(HEADER) + "\n"):
        with pytest.raises(WeatherError):
            parse_any(head + text)


def test_tmy3_year_of_the_wheel(greensboro: WeatherYear) -> None:
    """Greensboro is read with its place, and its first row is 10.0 °C at 993 mbar."""
    assert greensboro.name == "GREENSBORO PIEDMONT TRIAD INT"
    assert (greensboro.latitude, greensboro.longitude) == (36.1, -79.95)
    assert (greensboro.utc_offset, greensboro.elevation) == (-5.0, 273.0)
    assert greensboro.temperature[0] == pytest.approx(283.15)
    assert greensboro.pressure[0] == 99_300.0
    assert greensboro.temperature[-1] == pytest.approx(275.35)


def test_tmy3_without_a_month_is_refused(wheel: Path) -> None:
    """A TMY3 file without July says so, and a missing code names field and hour."""
    lines = (wheel / "723170TYA.CSV").read_text().splitlines()
    with pytest.raises(WeatherError, match=r"lacks 744 of the 8760 hours of a year: all of July;"):
        parse_tmy3("\n".join(line for line in lines if not line.startswith("07/")))
    lines[2] = re.sub(r",10\.0,A,7,6\.1,", ",-9900,A,7,6.1,", lines[2])
    with pytest.raises(
        WeatherError, match=r"dry-bulb temperature is missing in 1 hours \(1 January 00:00"
    ):
        parse_tmy3("\n".join(lines))


def test_tmy3_without_a_column_is_refused(wheel: Path) -> None:
    """A TMY3 file whose wind column is renamed names the column."""
    text = (wheel / "703165TY.csv").read_text().replace("Wspd (m/s)", "Wind")
    with pytest.raises(WeatherError, match=r"the column 'Wspd \(m/s\)' is absent; fetch the file"):
        parse_tmy3(text)


def test_tm2_agrees_with_a_reader_of_files(wheel: Path) -> None:
    """The columns that are cut here are those that pvlib cuts from the file."""
    path = wheel / "12839.tm2"
    expected, place = read_tmy2(path)
    year = parse_tm2(path.read_text(), path.name)
    assert year.name == "MIAMI"
    assert (year.latitude, year.longitude) == pytest.approx((25.8, -80.2666667))
    assert (year.utc_offset, year.elevation) == (place["TZ"], place["altitude"])
    for found, column, scale, zero in (
        (year.temperature, "DryBulb", 0.1, 273.15),
        (year.pressure, "Pressure", 100.0, 0.0),
        (year.wind_speed, "Wspd", 0.1, 0.0),
        (year.wind_direction, "Wdir", 1.0, 0.0),
        (year.global_horizontal, "GHI", 1.0, 0.0),
        (year.direct_normal, "DNI", 1.0, 0.0),
        (year.diffuse_horizontal, "DHI", 1.0, 0.0),
    ):
        assert found == pytest.approx(expected[column].to_numpy() * scale + zero)
    dew_point = np.minimum(expected["DewPoint"], expected["DryBulb"]).to_numpy() * 0.1 + 273.15
    assert year.dew_point == pytest.approx(dew_point)


def test_tm2_cut_short_is_refused(wheel: Path) -> None:
    """A TM2 row that is cut short is told by line; missing values by field."""
    lines = (wheel / "12839.tm2").read_text().splitlines()
    with pytest.raises(
        WeatherError, match=r"line 11 has 40 columns; a row has 98 or more: the file is cut short"
    ):
        parse_tm2("\n".join([*lines[:10], lines[10][:40]]))
    lines[1] = lines[1][:67] + "9999" + lines[1][71:]
    with pytest.raises(WeatherError, match=r"dry-bulb temperature is missing in 1 hours"):
        parse_tm2("\n".join(lines))


@pytest.mark.parametrize("name", ["723170TYA.CSV", "703165TY.csv", "12839.tm2"])
def test_layout_is_told_by_content(wheel: Path, name: str) -> None:
    """Each layout in the wheel is told without looking at the name, byte-order mark or not."""
    year = parse_any("\ufeff" * (name != "12839.tm2") + (wheel / name).read_text())
    assert year.source == "weather file"
    assert year.temperature.shape == (8760,)
