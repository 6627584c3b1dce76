"""Where the fonts of papers and charts lie; the front-end build puts them there."""

from __future__ import annotations

from pathlib import Path

FONTS = Path(__file__).parent / "fonts"
"""Folder of the TrueType files of Source Sans 3."""
