"""Check that what a stream acknowledges is kept, once, whatever happens on the way."""

from __future__ import annotations

import errno
import json
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rooftree.errors import DocumentError, StoreError
from rooftree.records.streams import Sending, Sent, Stream, StreamShelf, time_text
from rooftree.records.streams.lines import LONGEST
from rooftree.records.streams.sending import MOST_PROBLEMS

if TYPE_CHECKING:
    from collections.abc import Iterable

TEN = 1_795_600_800_000_000  # 2026-11-25T10:00:00Z
SECOND = 1_000_000


def line(second: float, pressure: str = "-50.2 Pa", **more: object) -> bytes:
    """Return one line of a stream, so many seconds after ten o'clock."""
    time = time_text(TEN + round(second * SECOND))
    entry = {"time": time, "values": {"house_pressure": pressure}} | more
    return json.dumps(entry).encode() + b"\n"


def lines(count: int, *, numbered: bool = False) -> bytes:
    """Return lines, two in a second."""
    return b"".join(
        line(k / 2, f"{-50.0 + k % 5} Pa", **({"sequence": k} if numbered else {}))
        for k in range(count)
    )


def send(stream: Stream, *pieces: bytes, is_cut: bool = False) -> Sent:
    """Send pieces in one sending."""
    sending = Sending(stream)
    for piece in pieces:
        sending.feed(piece)
    return sending.finish(is_cut=is_cut)


def content(stream: Stream) -> list[bytes]:
    """Return every line of every file of a stream."""
    files = sorted(stream.folder.glob("*.jsonl"))
    return [row for path in files for row in path.read_bytes().split(b"\n") if row]


@pytest.fixture
def stream(tmp_path: Path) -> Stream:
    """Return a stream that holds nothing yet."""
    return StreamShelf(tmp_path).stream("gauge")


def test_ten_is_ten() -> None:
    """The times below mean what they say."""
    assert time_text(TEN) == "2026-11-25T10:00:00Z"


def test_lines_are_kept_as_they_were_sent(stream: Stream, tmp_path: Path) -> None:
    """The file holds the very bytes that were sent, under the day of the readings."""
    sent = send(stream, lines(3))
    assert (sent.kept, sent.repeated, sent.refused, sent.problems) == (3, 0, 0, ())
    assert sent.last == "2026-11-25T10:00:01Z"
    path = tmp_path / "streams" / "gauge" / "2026-11-25.jsonl"
    assert path.read_bytes() == lines(3)


def test_a_sending_of_nothing_keeps_nothing(stream: Stream, tmp_path: Path) -> None:
    """An empty body makes no folder and is whole."""
    sent = send(stream, b"", b"\n  \n")
    assert (sent.kept, sent.last, sent.is_whole) == (0, "", True)
    assert not (tmp_path / "streams").exists()


@given(st.lists(st.integers(1, 400), max_size=20))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_pieces_of_any_size_make_the_same_stream(
    tmp_path_factory: pytest.TempPathFactory, sizes: list[int]
) -> None:
    """Where the network parts the bytes does not matter."""
    stream = StreamShelf(tmp_path_factory.mktemp("s")).stream("gauge")
    rest, pieces = lines(12), []
    for size in sizes:
        pieces.append(rest[:size])
        rest = rest[size:]
    assert send(stream, *pieces, rest).kept == 12
    assert b"\n".join(content(stream)) + b"\n" == lines(12)


@pytest.mark.parametrize("is_cut", [True, False])
def test_a_sending_cut_at_any_byte_goes_on(
    tmp_path_factory: pytest.TempPathFactory, *, is_cut: bool
) -> None:
    """Cut anywhere, what was acknowledged is kept, and the whole sent again completes it."""
    body = lines(4)
    shelf = StreamShelf(tmp_path_factory.mktemp("s"))
    for cut in range(len(body) + 1):
        stream = shelf.stream(f"gauge-{cut}")
        whole = body[:cut].count(b"\n")
        first = send(stream, body[:cut], is_cut=is_cut)
        rest = body[:cut].rpartition(b"\n")[2]
        ends = rest.endswith(b"}}") and not is_cut  # only the line break is missing
        assert first.kept == whole + ends
        assert len(content(stream)) == first.kept
        if (rest and not ends) or is_cut:
            assert first.go_on_with == whole + 1
            assert first.problems[-1].line == whole + 1
            assert first.problems[-1].says == "was cut short"
            assert not first.is_whole
        again = send(stream, body)
        assert (again.kept, again.repeated, again.is_whole) == (4 - first.kept, first.kept, True)
        assert b"\n".join(content(stream)) + b"\n" == body


def test_a_file_cut_at_any_byte_goes_on(tmp_path_factory: pytest.TempPathFactory) -> None:
    """After a power cut in a write, whole lines are read and the stream can go on."""
    body = lines(3)
    folder = tmp_path_factory.mktemp("s")
    for cut in range(len(body) + 1):
        path = folder / "streams" / f"gauge-{cut}" / "2026-11-25.jsonl"
        path.parent.mkdir(parents=True)
        path.write_bytes(body[:cut])
        stream = StreamShelf(folder).stream(f"gauge-{cut}")
        rest = body[:cut].rpartition(b"\n")[2]
        whole = body[:cut].count(b"\n") + rest.endswith(b"}}")
        status = stream.status()
        assert status.count == whole
        assert status.unreadable == bool(rest and not rest.endswith(b"}}"))
        again = send(stream, body, line(9))
        assert (again.kept, again.repeated, again.refused) == (4 - whole, whole, 0)
        assert StreamShelf(folder).stream(f"gauge-{cut}").status().count == 4


def test_what_is_sent_twice_is_kept_once(stream: Stream) -> None:
    """A logger that did not hear the answer sends again; nothing doubles."""
    send(stream, lines(5))
    again = send(stream, lines(7))
    assert (again.kept, again.repeated, again.refused) == (2, 5, 0)
    assert again.is_whole
    assert len(content(stream)) == 7


def test_what_is_sent_twice_after_a_restart_is_kept_once(stream: Stream, tmp_path: Path) -> None:
    """The files alone tell what is there already."""
    send(stream, lines(5, numbered=True))
    again = send(StreamShelf(tmp_path).stream("gauge"), lines(7, numbered=True))
    assert (again.kept, again.repeated) == (2, 5)


def test_time_going_back_is_refused(stream: Stream) -> None:
    """A clock that was set back is told; what is kept stays, and later lines are taken."""
    sent = send(stream, line(10), line(4), line(11))
    assert (sent.kept, sent.refused) == (2, 1)
    problem = sent.problems[0]
    assert (problem.line, problem.says) == (
        2, "goes back in time: 2026-11-25T10:00:04Z after 2026-11-25T10:00:10Z",
    )  # fmt: skip
    assert "set the clock right" in problem.remedy


def test_other_readings_at_a_kept_time_are_refused(stream: Stream) -> None:
    """What is kept is never overwritten."""
    send(stream, line(1, "-50 Pa"))
    sent = send(stream, line(1, "-49 Pa"))
    assert (sent.kept, sent.refused) == (0, 1)
    assert 'number the lines with "sequence"' in sent.problems[0].remedy
    assert len(content(stream)) == 1


def test_numbered_lines_may_share_a_time(stream: Stream) -> None:
    """A fast logger with a coarse clock numbers its lines; missing numbers are counted."""
    sent = send(stream, *(line(1, f"-{k} Pa", sequence=k) for k in (1, 2, 5)), line(2, sequence=0))
    assert (sent.kept, sent.refused, sent.last_sequence) == (4, 0, 0)
    assert sent.notes == ("by their sequence, 2 lines are missing",)
    again = send(stream, line(1, "-2 Pa", sequence=2))
    assert again.repeated == 1


def test_bad_lines_do_not_hold_up_good_ones(stream: Stream) -> None:
    """Each refused line is named; the others are kept."""
    sent = send(stream, line(1), b'{"time": 7}\n', b"junk\n", b"\n", line(2, "12"), line(3))
    assert (sent.kept, sent.refused) == (2, 3)
    assert [one.line for one in sent.problems] == [2, 3, 5]
    assert all(one.says and one.remedy for one in sent.problems)
    assert not sent.is_whole
    assert sent.go_on_with is None


def test_the_list_of_problems_has_an_end(stream: Stream) -> None:
    """A thousand bad lines are counted, and the first hundred named."""
    sent = send(stream, b"junk\n" * 1000, line(1))
    assert (sent.kept, sent.refused, len(sent.problems)) == (1, 1000, MOST_PROBLEMS)


def test_a_sending_of_junk_is_not_read_to_its_end(stream: Stream) -> None:
    """After ten thousand refused lines the logger is told to mend itself, and from where."""
    sent = send(stream, line(1), b"junk\n" * 30_000, line(2))
    assert sent.go_on_with is not None
    assert "mend the logger" in sent.problems[-1].remedy
    assert sent.kept == 1


def test_an_endless_line_is_cut_off(stream: Stream) -> None:
    """A body without line breaks does not fill the memory."""
    sent = send(stream, line(1), b"x" * (LONGEST + 1), b"x" * 10_000_000)
    assert (sent.kept, sent.go_on_with) == (1, 2)
    assert "line break" in sent.problems[-1].remedy


def test_a_new_name_in_the_middle_is_told(stream: Stream) -> None:
    """A mistyped name is kept as its own series, and the logger told which names there were."""
    odd = json.dumps({"time": time_text(TEN + 9 * SECOND), "values": {"house_presure": "-5 Pa"}})
    sent = send(stream, line(1), odd.encode())
    assert sent.kept == 2
    assert len(sent.notes) == 1
    assert "line 2 (2026-11-25T10:00:09Z) brings the new name house_presure" in sent.notes[0]
    assert "mistyped house_pressure" in sent.notes[0]


def test_a_name_keeps_its_quantity(stream: Stream) -> None:
    """What was a pressure cannot become a flow; another unit of pressure can be taken."""
    sent = send(stream, line(1, "-50 Pa"), line(2, "1980 cfm"), line(3, "-0.2 in. w.c."))
    assert (sent.kept, sent.refused) == (2, 1)
    assert sent.problems[0].says == "house_pressure is flow here and was pressure before"


def test_too_many_names_are_refused(stream: Stream) -> None:
    """A logger that counts in its names is told."""
    entries = (
        {"time": time_text(TEN + k), "values": {f"pressure_{k}": "1 Pa"}} for k in range(100)
    )
    sent = send(stream, *(json.dumps(one).encode() + b"\n" for one in entries))
    assert (sent.kept, sent.refused) == (64, 36)


def test_a_test_across_midnight_is_one_stream(stream: Stream, tmp_path: Path) -> None:
    """Each day has its file; the last readings are those across both."""
    midnight = 14 * 3600
    send(stream, *(line(midnight + k) for k in range(-5, 5)))
    assert [path.name for path in sorted(stream.folder.iterdir())] == [
        "2026-11-25.jsonl", "2026-11-26.jsonl",
    ]  # fmt: skip
    for one in (stream, StreamShelf(tmp_path).stream("gauge")):
        readings = one.readings("house_pressure", 8.0)
        assert readings is not None
        assert readings.time.tolist() == [float(k) for k in range(-8, 1)]


def test_two_programs_may_write_one_stream(stream: Stream, tmp_path: Path) -> None:
    """What another program has added is seen before anything is added to it."""
    other = StreamShelf(tmp_path).stream("gauge")
    send(stream, lines(3))
    assert send(other, lines(5)).repeated == 3
    assert stream.status().count == 5
    assert send(stream, line(60)).kept == 1
    assert other.status().count == 6


def test_a_full_disk_loses_nothing_acknowledged(
    stream: Stream, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the disk is full the sending fails in words, and goes on once there is room."""
    send(stream, lines(2))

    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    sending = Sending(stream)
    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", full)
        with pytest.raises(StoreError, match=r"^the stream in .* the disk is full\. Free some"):
            sending.feed(lines(4))
    told = sending.finish(is_cut=True)
    assert (told.kept, told.go_on_with) == (0, 1)
    assert send(stream, lines(4)).kept == 2
    assert len(content(stream)) == 4


def test_readings_are_those_of_the_last_seconds(stream: Stream) -> None:
    """Times count back from the last line of the stream."""
    send(stream, lines(20))
    readings = stream.readings("house_pressure", 2.0)
    assert readings is not None
    assert readings.time.tolist() == [-2.0, -1.5, -1.0, -0.5, 0.0]
    assert readings.value.tolist() == [-50.0 + k % 5 for k in range(15, 20)]
    assert stream.readings("flow", 2.0) is None


def test_a_name_that_has_stopped_has_no_readings(stream: Stream) -> None:
    """An old reading is not passed off as a new one."""
    later = json.dumps({"time": time_text(TEN + 60 * SECOND), "values": {"flow": "7 cfm"}})
    send(stream, line(0), later.encode())
    readings = stream.readings("house_pressure", 20.0)
    assert readings is not None
    assert readings.value.size == 0


def test_a_hundred_thousand_lines_are_taken(stream: Stream) -> None:
    """A long test at a fast rate is kept whole and read back."""
    sent = send(stream, lines(100_000))
    assert (sent.kept, sent.refused) == (100_000, 0)
    readings = stream.readings("house_pressure", 1e6)
    assert readings is not None
    assert readings.value.size == 100_000
    assert stream.status().count == 100_000


def test_streams_are_listed_by_name(tmp_path: Path) -> None:
    """A stream is there from its first line on; other folders are none."""
    shelf = StreamShelf(tmp_path)
    assert shelf.names() == ()
    for name in ("one", "two"):
        send(shelf.stream(name), line(1))
    (shelf.folder / "Not a stream").mkdir()
    assert sorted(shelf.names()) == ["one", "two"]
    assert shelf.stream("one") is shelf.stream("one")


@pytest.mark.parametrize("name", ["", "..", "a/b", "A", "a b", "-a", "x" * 65, "é"])
def test_odd_names_are_refused(tmp_path: Path, name: str) -> None:
    """A name cannot lead out of the folder."""
    with pytest.raises(DocumentError, match=r"^\".*\" cannot name a stream; use small letters"):
        StreamShelf(tmp_path).stream(name)


_steps = st.lists(
    st.tuples(st.integers(-3, 5), st.sampled_from(["-50 Pa", "-51 Pa", "12", "7 cfm"])),
    max_size=30,
)


@given(_steps)
def test_kept_lines_rise_in_time_and_are_counted(
    tmp_path_factory: pytest.TempPathFactory, steps: Iterable[tuple[int, str]]
) -> None:
    """Whatever comes, every line is kept, repeated or refused, and the file is in order."""
    folder = tmp_path_factory.mktemp("s")
    stream = StreamShelf(folder).stream("gauge")
    second, body = 0, []
    for step, text in steps:
        second += step
        body.append(line(second, text))
    sent = send(stream, *body)
    assert sent.kept + sent.repeated + sent.refused == len(body)
    times = [json.loads(row)["time"] for row in content(stream)]
    assert len(times) == sent.kept
    assert times == sorted(set(times))
    again = send(StreamShelf(folder).stream("gauge"), *body)
    assert (again.kept, again.repeated) == (0, sent.kept + sent.repeated)
