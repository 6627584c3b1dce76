"""From a text to a table of text cells, without losing or changing any of them."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import DocumentError
from rooftree.records.tabular.numbers import DECIMAL_COMMA, is_number

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

SEPARATORS = {"tab": "\t", "semicolon": ";", "bar": "|", "comma": ",", "spaces": "  ", "none": ""}
"""What can part the cells of a line, by its name; two spaces or more, or nothing at all."""

MOST_LINES = 200_000
"""Lines that are taken at once."""

LONGEST = 100_000
"""Characters of the longest line that is taken."""

_SAMPLE = 200
_AGREE = 0.5
"""Share of lines that must have the usual number of cells [0-1]."""


@dataclass(frozen=True, slots=True)
class Table:
    """A table of text cells.

    Attributes
    ----------
    separator : str
        What parts the cells: a name of :data:`SEPARATORS`.
    rows : tuple of tuple of str
        Cells as typed; rows may differ in length, blank lines are left out.
    lines : tuple of int
        Line of the text at which each row begins, from 1.
    notes : tuple of str
        What was noticed while reading.
    """

    separator: str
    rows: tuple[tuple[str, ...], ...]
    lines: tuple[int, ...]
    notes: tuple[str, ...] = ()

    @property
    def width(self) -> int:
        """Return the number of cells of the longest row."""
        return max(map(len, self.rows), default=0)

    def cell(self, row: int, place: int) -> str:
        """Return a cell without spaces around it; empty where the row is too short."""
        cells = self.rows[row]
        return cells[place].strip() if place < len(cells) else ""


def read_table(content: str | bytes, separator: str = "") -> Table:
    r"""Return the table that a text holds.

    Parameters
    ----------
    content : str or bytes
        Pasted text, or a file in UTF-8, UTF-16 or the old code page of Western spreadsheets.
    separator : str
        A name of :data:`SEPARATORS`; empty to find out.

    Returns
    -------
    Table

    Raises
    ------
    DocumentError
        If the file is not text, there is nothing in it, or it is too long.

    Examples
    --------
    >>> read_table("House pressure (Pa);Flow (cfm)\n-52,3;1980").rows
    (('House pressure (Pa)', 'Flow (cfm)'), ('-52,3', '1980'))
    """
    text, notes = text_of(content)
    if not text.strip():
        raise _refused("there is no table in it", "copy the cells again, or choose another file")
    lines = list(io.StringIO(text, newline=""))
    if len(lines) > MOST_LINES:
        raise _refused(
            f"it has {len(lines):,} lines, more than {MOST_LINES:,}",
            "load it in parts, or keep every tenth line",
        )
    if long := next((k for k, line in enumerate(lines, 1) if len(line) > LONGEST), 0):
        raise _refused(f"line {long} is longer than {LONGEST:,} characters", "look at that line")
    if separator not in SEPARATORS:
        separator, doubts = _separator(lines)
        notes += doubts
    rows, numbers, doubts = _split(lines, separator)
    return Table(separator, rows, numbers, tuple(notes + doubts))


def text_of(content: str | bytes) -> tuple[str, list[str]]:
    """Return the text of a file, with a note where its code had to be guessed.

    Raises
    ------
    DocumentError
        If it is not text.
    """
    if isinstance(content, str):
        return content.removeprefix("\ufeff"), []
    try:
        if content.startswith((b"\xff\xfe", b"\xfe\xff")):
            return content.decode("utf-16"), []
        return content.decode("utf-8-sig"), []
    except UnicodeDecodeError:
        pass
    if b"\x00" in content:
        raise _refused("it is not text", "save the sheet as CSV first, then choose that file")
    note = "The file is not UTF-8; it was read as Western European text. Look at signs such as °."
    return content.decode("cp1252", errors="replace"), [note]


def _refused(says: str, remedy: str) -> DocumentError:
    return DocumentError(f"the table cannot be read: {says}; {remedy}")


def _split(
    lines: Sequence[str], separator: str
) -> tuple[tuple[tuple[str, ...], ...], tuple[int, ...], list[str]]:
    """Return rows, the line at which each begins, and what was noticed."""
    sign = SEPARATORS[separator]
    if separator in ("spaces", "none"):
        parted = [(k, _bare_cells(line, separator)) for k, line in enumerate(lines, 1)]
        return *_filled(parted), []
    try:
        return *_filled(_quoted(lines, sign)), []
    except csv.Error:
        rows, odd = _line_by_line(lines, sign)
        return *_filled(rows), [
            f"Line {odd} has a quotation mark that does not end; they were taken line by line."
        ]


def _bare_cells(line: str, separator: str) -> list[str]:
    whole = line.rstrip("\r\n")
    return re.split(r"\s{2,}", whole.strip()) if separator == "spaces" else [whole]


def _quoted(lines: Iterable[str], sign: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(lines, delimiter=sign, strict=True)
    rows, line = [], 1
    for row in reader:
        rows.append((line, row))
        line = reader.line_num + 1
    return rows


def _line_by_line(lines: Sequence[str], sign: str) -> tuple[list[tuple[int, list[str]]], int]:
    rows: list[tuple[int, list[str]]] = []
    odd = 0
    for k, line in enumerate(lines, 1):
        try:
            (row,) = csv.reader([line], delimiter=sign, strict=True)
        except (csv.Error, ValueError):
            row = line.rstrip("\r\n").split(sign)
            odd = odd or k
        rows.append((k, row))
    return rows, odd


def _filled(
    rows: Iterable[tuple[int, Sequence[str]]],
) -> tuple[tuple[tuple[str, ...], ...], tuple[int, ...]]:
    kept = [(line, tuple(row)) for line, row in rows if any(cell.strip() for cell in row)]
    return tuple(row for _, row in kept), tuple(line for line, _ in kept)


def _separator(lines: Sequence[str]) -> tuple[str, list[str]]:
    """Return what most likely parts the cells, with a doubt where two would do."""
    sample = [line for line in lines[: 5 * _SAMPLE] if line.strip()][:_SAMPLE]
    best, best_worth = "none", (0.0, 0)  # numbers found where lines agree, then cells
    for separator in SEPARATORS:
        rows = _split(sample, separator)[0]
        usual, agree = Counter(map(len, rows)).most_common(1)[0] if rows else (0, 0)
        if usual < 2 or agree < _AGREE * len(rows):
            continue
        cells = [cell for row in rows if len(row) == usual for cell in row]
        numbers = sum(is_number(cell) and "\t" not in cell for cell in cells) / len(cells)
        worth = (round(agree / len(rows) * (numbers + 0.05), 3), usual)
        if worth > best_worth:
            best, best_worth = separator, worth
    if best == "comma" and best_worth[1] == 2:
        return _comma_or_decimal(sample)
    return best, []


def _comma_or_decimal(sample: Sequence[str]) -> tuple[str, list[str]]:
    """Tell two columns of whole numbers from one column with decimal commas."""
    plain = [line.strip() for line in sample]
    numbers = [line for line in plain if DECIMAL_COMMA.fullmatch(line)]
    words = [line for line in plain if not DECIMAL_COMMA.fullmatch(line)]
    if len(numbers) < _AGREE * len(plain) or any("," in line for line in words):
        return "comma", []
    if words:
        return "none", []
    doubt = "Each comma was taken to part two columns; if it is a decimal comma, say so."
    return "comma", [doubt]
