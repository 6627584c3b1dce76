"""Play a recorded fan test to a running server as a logger would send it.

The recording is invented: a house whose leaks follow a power law, held at five pressures
one after the other, with the noise of a gauge, gusts of wind and a baseline that drifts.
Run ``python tools/play_readings.py`` while ``rooftree serve`` runs, open the page of a test
and choose the stream "gauge". ``--speed 10`` plays ten times as fast, ``--read FILE`` plays
lines that were recorded before, ``--write FILE`` writes them instead of sending.
"""

from __future__ import annotations

import argparse
import json
import math
import time
from datetime import UTC, datetime, timedelta
from http.client import HTTPConnection
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

USUAL = "http://127.0.0.1:8437/streams/gauge"
STEP = 0.5
"""Between two readings [s]."""

BASELINE, HOLD, RAMP = 40.0, 40.0, 8.0
"""With the fan sealed, at each pressure, and on the way to it [s]."""

PRESSURES = (60.0, 50.0, 40.0, 30.0, 20.0)
COEFFICIENT, EXPONENT = 155.0, 0.65
"""Of the invented house [cfm/Paⁿ] and [-]."""

NOISE, GUSTS, GUST_TIME, DRIFT = 0.15, 0.6, 4.0, 1.2
"""Of the gauge [Pa], of the wind [Pa] and [s], and of the baseline over the test [Pa]."""


def held_pressures() -> Iterator[float]:
    """Yield what the fan is meant to hold at each reading [Pa]."""
    before = 0.0
    for pressure, hold in ((0.0, BASELINE), *((p, HOLD) for p in PRESSURES), (0.0, BASELINE)):
        ramp = RAMP if pressure != before else 0.0
        for k in range(round((ramp + hold) / STEP)):
            share = min(k * STEP / ramp, 1.0) if ramp else 1.0
            yield before + share * (pressure - before)
        before = pressure


def recording(seed: int = 7) -> list[tuple[float, dict[str, str]]]:
    """Return the invented test: seconds from its start, and what the gauge shows."""
    noise = np.random.default_rng(seed)
    held = list(held_pressures())
    alike = math.exp(-STEP / GUST_TIME)
    gust, made = 0.0, []
    for k, target in enumerate(held):
        gust = alike * gust + math.sqrt(1.0 - alike**2) * noise.normal(0.0, GUSTS)
        baseline = -0.8 + DRIFT * k / len(held)
        pressure = -target + baseline + gust + noise.normal(0.0, NOISE)
        through = abs(target - gust)
        flow = COEFFICIENT * through**EXPONENT * (1.0 + noise.normal(0.0, 0.01)) if target else 0.0
        made.append((k * STEP, {"house_pressure": f"{pressure:.1f} Pa", "flow": f"{flow:.0f} cfm"}))
    return made


def as_lines(test: Iterable[tuple[float, dict[str, str]]], start: datetime) -> list[bytes]:
    """Return the lines of a recording that starts at a time."""
    return [
        json.dumps(
            {
                "time": (start + timedelta(seconds=seconds)).isoformat().replace("+00:00", "Z"),
                "sequence": k,
                "values": values,
            }
        ).encode()
        + b"\n"
        for k, (seconds, values) in enumerate(test)
    ]


def read_recording(path: Path) -> list[tuple[float, dict[str, str]]]:
    """Return a recording that lies in a file of lines: seconds from its first line."""
    entries = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines() if line]
    times = [datetime.fromisoformat(entry["time"]) for entry in entries]
    return [
        ((at - times[0]).total_seconds(), entry["values"])
        for at, entry in zip(times, entries, strict=True)
    ]


def play(
    test: list[tuple[float, dict[str, str]]],
    start: datetime,
    send: Callable[[bytes], None],
    wait: Callable[[float], None],
    speed: float = 1.0,
) -> None:
    """Send the lines of a recording in their own time, or faster, a few with each sending."""
    lines = as_lines(test, start)
    together = max(round(speed / 2.0), 1)
    for first in range(0, len(lines), together):
        send(b"".join(lines[first : first + together]))
        last = min(first + together, len(lines)) - 1
        wait((test[last][0] - test[first][0] + STEP) / speed)


def sender(address: str) -> Callable[[bytes], None]:
    """Return what sends lines to a stream and says what was refused."""
    parts = urlsplit(address)

    def send(lines: bytes) -> None:
        connection = HTTPConnection(parts.hostname or "", parts.port, timeout=30)
        connection.request("POST", parts.path, lines, {"Content-Type": "application/x-ndjson"})
        answer = json.loads(connection.getresponse().read())
        connection.close()
        for problem in answer.get("problems", []):
            print(f"line {problem.get('line')}: {problem['says']}; {problem.get('remedy', '')}")
        if "last" not in answer:
            raise SystemExit(answer.get("says", "the server refused the readings"))

    return send


def start_time(address: str) -> datetime:
    """Return when a recording can begin: now, or after what the stream holds already."""
    parts = urlsplit(address)
    connection = HTTPConnection(parts.hostname or "", parts.port, timeout=30)
    connection.request("GET", parts.path)
    answer = json.loads(connection.getresponse().read())
    connection.close()
    now = datetime.now(UTC).replace(microsecond=0)
    last = answer.get("last")
    return max(now, datetime.fromisoformat(last) + timedelta(seconds=1)) if last else now


def main(arguments: list[str] | None = None) -> None:
    """Play, or write, what the command line asks for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--to", default=USUAL, help=f"address of the stream ({USUAL})")
    parser.add_argument("--speed", type=float, default=1.0, help="times as fast as it was (1)")
    parser.add_argument("--seed", type=int, default=7, help="of the invented noise (7)")
    parser.add_argument("--read", type=Path, help="file of lines to play instead")
    parser.add_argument("--write", type=Path, help="file to write the lines to instead of sending")
    asked = parser.parse_args(arguments)
    test = read_recording(asked.read) if asked.read else recording(asked.seed)
    if asked.write:
        start = datetime.now(UTC).replace(microsecond=0)
        asked.write.write_bytes(b"".join(as_lines(test, start)))
        print(f"{asked.write}: {len(test)} lines")
        return
    print(f"Playing {test[-1][0]:.0f} s of readings to {asked.to} (stop with Ctrl+C)")
    try:
        play(test, start_time(asked.to), sender(asked.to), time.sleep, asked.speed)
    except ConnectionRefusedError:
        raise SystemExit(f"nothing answers at {asked.to}; start `rooftree serve` first") from None


if __name__ == "__main__":
    main()
