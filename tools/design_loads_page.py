"""Write `docs/reference/design-loads.md`: python tools/design_loads_page.py."""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "reference" / "design-loads.md"


def main() -> None:
    """Run the comparison with the handbook's house and write the page."""
    sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "tools")]
    from engine.comparisons.atlanta_page import render_page

    PAGE.write_text(render_page(), encoding="utf-8")
    print(f"wrote {PAGE.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
