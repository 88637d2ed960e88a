"""Rows and columns of pages from what ties them together, from labels, and from their order in the file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product

from toilewright.intake.tile_borders import Link
from toilewright.intake.tile_sort import Tile

Cell = tuple[int, int]
"""Column from the left, row counted upwards; from any origin."""


def from_labels(tiles: Sequence[Tile], ties: Sequence[Link]) -> dict[int, Cell]:
    """Cells by the labels on the pages; empty where they are missing or contradict the lines that meet.

    The way round that agrees with most meeting lines is taken: letters for rows or for columns, from the top or
    from the bottom.
    """
    labelled = {k: t.cell for k, t in enumerate(tiles) if t.cell}
    if len(labelled) < 2:
        return {}
    checks = [(a, b, above) for _, a, b, above in ties if a in labelled and b in labelled]
    best: tuple[int, dict[int, Cell]] = (-1, {})
    for swap, up in product((False, True), (False, True)):
        cells = {}
        for k, (row, column) in labelled.items():
            r, c = (column, row) if swap else (row, column)
            cells[k] = (c, r if up else -r)
        agreed = sum(follows(cells[a], cells[b], above) for a, b, above in checks)
        if agreed > best[0]:
            best = (agreed, cells)
    return best[1] if 2 * best[0] >= len(checks) else {}


def follows(a: Cell, b: Cell, above: bool) -> bool:
    """Is b right of a, or above it?"""
    return (b[0] - a[0], b[1] - a[1]) == ((0, 1) if above else (1, 0))


def from_links(count: int, ties: Sequence[Link], known: Mapping[int, Cell]) -> list[dict[int, Cell]]:
    """Groups of pages with their cells, the largest first; the surest links are followed first."""
    home = list(range(count))
    groups: dict[int, dict[int, Cell]] = {k: {k: (0, 0)} for k in range(count)}
    if known:
        first = min(known)
        for k in known:
            groups.pop(k, None)
            home[k] = first
        groups[first] = dict(known)
    for _, a, b, above in ties:
        one, other = home[a], home[b]
        if one == other:
            continue
        ca, cb = groups[one][a], groups[other][b]
        dx, dy = ca[0] + (not above) - cb[0], ca[1] + above - cb[1]
        moved = {k: (c[0] + dx, c[1] + dy) for k, c in groups[other].items()}
        if set(moved.values()) & set(groups[one].values()):
            continue
        groups[one].update(moved)
        del groups[other]
        for k in moved:
            home[k] = one
    return sorted(groups.values(), key=lambda g: (-len(g), min(g)))


def from_order(count: int, known: Mapping[int, Cell]) -> dict[int, Cell]:
    """Cells of all pages by their order in the file, where one way of counting fits all cells that are known."""
    if len(known) < 2:
        return {}
    for width, by_rows, down in product(range(1, count + 1), (True, False), (True, False)):
        for start in range(min(min(known), 3) + 1):
            cells = {k: _counted(k - start, width, by_rows, down) for k in range(start, count)}
            a = next(iter(known))
            if a not in cells:
                continue
            dx, dy = known[a][0] - cells[a][0], known[a][1] - cells[a][1]
            if all(k in cells and (cells[k][0] + dx, cells[k][1] + dy) == c for k, c in known.items()):
                return {k: (c[0] + dx, c[1] + dy) for k, c in cells.items()}
    return {}


def _counted(k: int, width: int, by_rows: bool, down: bool) -> Cell:
    major, minor = divmod(k, width)
    column, row = (minor, major) if by_rows else (major, minor)
    return column, -row if down else row


def in_reading_order(cells: Mapping[int, Cell]) -> bool:
    """Do the pages follow each other row by row or column by column, in any of the usual ways?"""
    line = [cells[k] for k in sorted(cells)]
    keys = (lambda c: (-c[1], c[0]), lambda c: (c[1], c[0]), lambda c: (c[0], -c[1]), lambda c: (c[0], c[1]),
            lambda c: (-c[1], -c[0]), lambda c: (-c[0], -c[1]))
    return any([key(c) for c in line] == sorted(key(c) for c in line) for key in keys)


def name_of(cell: Cell, cells: Mapping[int, Cell]) -> str:
    """A cell in words, counted from the top left."""
    left, top = min(c[0] for c in cells.values()), max(c[1] for c in cells.values())
    return f"row {top - cell[1] + 1}, column {cell[0] - left + 1}"
