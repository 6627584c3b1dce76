"""Check what a line of a stream may hold, and what is said about one that holds something else."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.records.streams import Refusal, Sample, read_line, time_text
from rooftree.records.streams.lines import EXAMPLE, LONGEST
from rooftree.units import Kind, parse

TIME = "2026-11-25T10:00:01.2Z"


def taken(entry: object) -> Sample:
    """Return the sample of a line that must be taken."""
    found = read_line(json.dumps(entry).encode())
    assert isinstance(found, Sample), found
    return found


def refused(raw: bytes) -> Refusal:
    """Return why a line is refused, which it must be."""
    found = read_line(raw)
    assert isinstance(found, Refusal), found
    assert found.says
    assert found.remedy
    return found


def test_the_example_of_every_remedy_is_taken() -> None:
    """What a refused logger is shown as an example is itself a line."""
    sample = read_line(EXAMPLE.encode())
    assert isinstance(sample, Sample)
    assert sample.values["house_pressure"].value == -50.2
    assert sample.values["flow"].kind is Kind.FLOW
    assert sample.raw == EXAMPLE.encode()


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("-50.2 Pa", Kind.PRESSURE), ("−50.2 Pa", Kind.PRESSURE), ("0.21 in. w.c.", Kind.PRESSURE),
        ("1,980 cfm", Kind.FLOW), ("12 L/s", Kind.FLOW), ("72 °F", Kind.TEMPERATURE),
        ("22.5°C", Kind.TEMPERATURE), ("820 ppm", Kind.CONCENTRATION), ("+3 Pa", Kind.PRESSURE),
        (".5 Pa", Kind.PRESSURE), ("5. Pa", Kind.PRESSURE), ("1.5e2 Pa", Kind.PRESSURE),
        ("3 m/s", Kind.SPEED),
    ],
)  # fmt: skip
def test_quantities_of_the_trade_are_read(text: str, kind: Kind) -> None:
    """A reading is read as everywhere else in the program."""
    reading = taken({"time": TIME, "values": {"x": text}}).values["x"]
    assert reading.kind is kind
    assert reading.value == pytest.approx(parse(text.replace("5. ", "5 "), kind))
    assert reading.text == text


@pytest.mark.parametrize(
    ("text", "step"),
    [("-50.2 Pa", 0.1), ("-50 Pa", 1.0), ("50.00 Pa", 0.01), ("0.20 in. w.c.", 2.49089)],
)
def test_the_step_of_the_display_is_known(text: str, step: float) -> None:
    """The last digit that was sent is the step of the display, zeros included."""
    reading = taken({"time": TIME, "values": {"x": text}}).values["x"]
    assert reading.resolution == pytest.approx(step, rel=1e-4)


@pytest.mark.parametrize(
    "text", ["2026-11-25T10:00:01.2Z", "2026-11-25T05:00:01.2-05:00", "2026-11-25 10:00:01.200+00"]
)
def test_a_time_may_be_written_in_any_zone(text: str) -> None:
    """The same moment is the same time."""
    assert time_text(taken({"time": text, "values": {"x": "1 Pa"}}).time) == TIME


@pytest.mark.parametrize(
    ("entry", "says", "remedy"),
    [
        ([], "is not an object", "send each reading like"),
        (7, "is not an object", "send each reading like"),
        ({"values": {"x": "1 Pa"}}, 'has no "time"', "with Z"),
        ({"time": 1764064801.2, "values": {"x": "1 Pa"}}, 'has no "time"', "with Z"),
        ({"time": "now", "values": {"x": "1 Pa"}}, 'the time "now"', "with Z"),
        ({"time": "2026-11-25T10:00:01", "values": {"x": "1 Pa"}}, "without its distance", "Z"),
        ({"time": "2026-13-25T10:00:01Z", "values": {"x": "1 Pa"}}, "which is none", "with Z"),
        ({"time": TIME}, 'has no "values"', "send each reading like"),
        ({"time": TIME, "values": {}}, 'has no "values"', "send each reading like"),
        ({"time": TIME, "values": ["1 Pa"]}, 'has no "values"', "send each reading like"),
        ({"time": TIME, "values": {"x": -50.2}}, "x is the number -50.2 without its unit", "Pa"),
        ({"time": TIME, "values": {"x": "-50.2"}}, "has no unit", "unit of the trade"),
        ({"time": TIME, "values": {"x": "-50.2 Pz"}}, 'unknown unit "Pz"', "unit of the trade"),
        ({"time": TIME, "values": {"x": "OL Pa"}}, "not a number", "leave out"),
        ({"time": TIME, "values": {"x": "> 2000 ppm"}}, "not a number", "leave out"),
        ({"time": TIME, "values": {"x": "NaN Pa"}}, "not a number", "leave out"),
        ({"time": TIME, "values": {"x": "1e999 Pa"}}, "cannot be", "check the instrument"),
        ({"time": TIME, "values": {"x": "-500 °C"}}, "cannot be", "check the instrument"),
        ({"time": TIME, "values": {"x": ""}}, "not a number", "leave out"),
        ({"time": TIME, "values": {"x": None}}, "is not a reading", "leave out"),
        ({"time": TIME, "values": {"x": True}}, "is not a reading", "leave out"),
        ({"time": TIME, "values": {"house pressure": "1 Pa"}}, "the name", "house_pressure"),
        ({"time": TIME, "values": {"": "1 Pa"}}, "the name", "house_pressure"),
        ({"time": TIME, "sequence": "7", "values": {"x": "1 Pa"}}, "sequence", "leave it out"),
        ({"time": TIME, "sequence": -1, "values": {"x": "1 Pa"}}, "sequence", "leave it out"),
        ({"time": TIME, "y": "1 Pa", "values": {"x": "1 Pa"}}, 'member "y"', '"values"'),
    ],
)  # fmt: skip
def test_what_cannot_be_taken_is_said(entry: object, says: str, remedy: str) -> None:
    """Each refusal names what is wrong and what to send instead."""
    refusal = refused(json.dumps(entry).encode())
    assert says in refusal.says
    assert remedy in refusal.remedy
    assert not refusal.is_cut


@pytest.mark.parametrize("raw", [b"{", b"x", b"\xff\xfe", b'{"time": "2026', b"[" * 9999])
def test_what_is_no_json_may_have_been_cut(raw: bytes) -> None:
    """A line that does not end may be one half of a line."""
    assert refused(raw).is_cut


def test_a_name_twice_is_refused() -> None:
    """Of two readings with one name nobody knows which is right."""
    line = f'{{"time": "{TIME}", "values": {{"x": "1 Pa", "x": "2 Pa"}}}}'
    assert refused(line.encode()).says == "has a name twice"


def test_an_endless_line_is_refused() -> None:
    """A logger without line breaks is told so before memory runs out."""
    assert "line break" in refused(b" " * (LONGEST + 1)).remedy


@given(st.binary(max_size=200))
def test_any_bytes_are_answered(raw: bytes) -> None:
    """Whatever is sent is taken or refused in words; nothing fails."""
    assert isinstance(read_line(raw), Sample | Refusal)


_anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner, max_size=3)
    ),
    max_leaves=8,
)


@given(_anything, _anything, _anything)
def test_any_json_is_answered(time: object, sequence: object, values: object) -> None:
    """A line of legal JSON with anything in it is taken or refused in words."""
    line = {"time": time, "sequence": sequence, "values": values}
    assert isinstance(read_line(json.dumps(line).encode()), Sample | Refusal)


@given(st.integers(-(10**15), 10**16))
def test_times_survive(time: int) -> None:
    """A time written in a line is read back to the microsecond."""
    line = {"time": time_text(time), "values": {"x": "1 Pa"}}
    assert taken(line).time == time
