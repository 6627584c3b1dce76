"""Pictures of where the fan stands and where hoses and probes go, drawn by our own pen."""

from rooftree.papers.setup.scenes import PICTURES

__all__ = ["PICTURES", "setup_svg"]


def setup_svg(name: str) -> str:
    """Return the picture of this name as SVG; empty where there is none.

    Parameters
    ----------
    name : str
        Such as ``"zone_pressures"``.
    """
    return PICTURES[name]().svg() if name in PICTURES else ""
