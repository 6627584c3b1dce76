"""Bare houses for tests of the air network: spaces and leaks, nothing else that matters."""

from __future__ import annotations

from rooftree.house import (
    OUTDOORS,
    AirHandler,
    DuctRun,
    Fan,
    House,
    Layer,
    Leak,
    LeakKind,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
)

DAY = (1.0,) * 24


def make_space(
    space_id: str, *, kind: str = "living", floor_level: float = 0.5, height: float = 2.5
) -> Space:
    """Return a space of 100 m²."""
    return Space(
        space_id, f"The {space_id}", SpaceKind(kind), 100.0, 100.0 * height, floor_level, height
    )


def make_leak(
    leak_id: str,
    first: str,
    second: str = OUTDOORS,
    *,
    coefficient: float = 0.01,
    exponent: float = 0.65,
    level: float = 1.0,
    azimuth: float | None = None,
    kind: LeakKind = LeakKind.CRACK,
) -> Leak:
    """Return a leak."""
    return Leak(leak_id, leak_id, first, second, level, azimuth, coefficient, exponent, kind)


def make_house(
    *spaces: Space,
    leaks: tuple[Leak, ...] = (),
    fans: tuple[Fan, ...] = (),
    ducts: tuple[DuctRun, ...] = (),
    air_handler: AirHandler | None = None,
) -> House:
    """Return a house of these spaces and leaks, with one wall for form's sake."""
    board = Layer("board", 0.01, 0.2)
    wall = Surface("wall", "A wall", "wall", spaces[0].id, OUTDOORS, 10.0, 90.0, 0.0, (board,))
    use = Use(2, 2, (293.15,) * 24, (299.15,) * 24, (0.0,) * 24)
    return House(
        name="A bare house",
        site=Site(36.0, -80.0, 0.0),
        spaces=spaces,
        surfaces=(wall,),
        use=use,
        leaks=leaks,
        fans=fans,
        ducts=ducts,
        air_handler=air_handler,
    )
