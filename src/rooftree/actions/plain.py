"""Turn what actions return into plain values that JSON can hold."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

import numpy as np

from rooftree.units import told

LEFT_OUT = ("hourly", "house", "known")
"""Fields that are huge or are in the job file already."""


def plain(value: Any, left_out: tuple[str, ...] = LEFT_OUT) -> Any:
    """Return a value as dicts, lists, strings and numbers, in SI.

    Parameters
    ----------
    value : object
        Dataclasses, mappings, sequences, sets, enums, arrays and plain values.
    left_out : tuple of str
        Names of fields that are not taken.

    Returns
    -------
    object
        Keys that are pairs become ``"first/second"``; an infinite number, such as degrees
        of freedom without limit, becomes None, for JSON has none.
    """
    if is_dataclass(value) and not isinstance(value, type):
        return {
            f.name: plain(getattr(value, f.name), left_out)
            for f in fields(value)
            if f.name not in left_out
        }
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Mapping):
        return {_key(key): plain(item, left_out) for key, item in value.items()}
    if isinstance(value, np.ndarray | np.generic):
        return plain(value.tolist(), left_out)
    if isinstance(value, set | frozenset):
        return sorted(plain(item, left_out) for item in value)
    if isinstance(value, str):
        return told(value, None)
    if isinstance(value, list | tuple):
        return [plain(item, left_out) for item in value]
    return None if isinstance(value, float) and math.isinf(value) else value


def _key(key: Any) -> str:
    parts = key if isinstance(key, tuple) else (key,)
    return "/".join(str(part.value if isinstance(part, Enum) else part) for part in parts)
