"""Bring a pasted or loaded table into a list of a form: shared by the pages of tests."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

from rooftree.web.requests import MAX_FIELDS
from rooftree.web.security import MEBIBYTE
from rooftree.web.table_step import (
    REPLACE,
    TABLE_FIELD,
    Filled,
    TableSource,
    TableStep,
    asked_list,
    filled_in,
    look_at,
    take_from,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from starlette.requests import Request

    from rooftree.web.table_step import WantedList

TABLE_LIMIT = 16 * MEBIBYTE
"""Largest form with a table in it [bytes]."""

TABLE_LIMITS = {"*/table": TABLE_LIMIT}
"""Largest body by the end of the path that takes it [bytes]."""

_MOST_FILES = 16


async def read_table_form(request: Request) -> tuple[dict[str, str], bytes]:
    """Return the text fields of a form, and the file for the list whose button was pressed."""
    async with request.form(
        max_files=_MOST_FILES, max_fields=MAX_FIELDS, max_part_size=TABLE_LIMIT
    ) as form:
        items = form.multi_items()
        sent = {name: value for name, value in items if isinstance(value, str)}
        wanted = f"{TABLE_FIELD}file.{asked_list(sent)[1]}"
        content = b""
        for name, value in items:
            if name == wanted and isinstance(value, UploadFile):
                content = await value.read()
    return sent, content


def brought_in(
    sent: Mapping[str, str],
    file: bytes,
    lists: Iterable[WantedList],
    fields: Mapping[str, str],
    address: str,
) -> TableStep | TableSource | Filled:
    """Return what follows from the button that was pressed.

    Parameters
    ----------
    sent : mapping from str to str
        Text fields of the form, steering fields included.
    file : bytes
        A file that was chosen; empty for none.
    lists : iterable of WantedList
        Lists of the form that tables can fill.
    fields : mapping from str to str
        What was typed, by path.
    address : str
        Where the buttons of the step send it.

    Returns
    -------
    TableStep, TableSource or Filled
        The step to look at, an empty place for another table, or the form filled in.
    """
    button, name = asked_list(sent)
    wanted = next((one for one in lists if one.name == name), None)
    if wanted is None:
        raise HTTPException(422, "Press one of the buttons beside the table.")
    content = file or sent.get(f"{TABLE_FIELD}text.{name}", "")
    match button:
        case "table.other":
            return TableSource(wanted.name, address)
        case "table.look":
            return look_at(wanted, sent, content, address)
    taken = take_from(wanted, sent, content)
    return filled_in(fields, wanted, taken, in_place=button == REPLACE)
