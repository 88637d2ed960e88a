"""Where each page lies on the sheet, and what is wrong with pages that lie nowhere."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from toilewright.errors import FileError, Finding, Severity
from toilewright.geometry.point import Point
from toilewright.intake.clipping import Box
from toilewright.intake.drawing import Page, Stroke
from toilewright.intake.tile_borders import (
    SIDES,
    End,
    Link,
    cropped,
    ends_on,
    find_borders,
    flipped,
    links,
    meeting_ends,
    overlap,
)
from toilewright.intake.tile_grid import Cell, from_labels, from_links, from_order, name_of
from toilewright.intake.tile_repeats import Repeats
from toilewright.intake.tile_sort import Tile

_STEPS = {"left": (-1, 0), "right": (1, 0), "bottom": (0, -1), "top": (0, 1)}
_MOSTLY = 0.95
"""Share of line ends that have a partner, from which pages surely do not overlap."""

_SHRUNK = 0.3
"""Largest change of scale that a printing program makes by itself ("fit to page")."""

_OFF_GRID = 3.0
"""mm; a page that lies farther than this from its column or row was put in the wrong place."""

_DEEP = 15.0
"""mm; a line that runs this far into a place without a page should have been printed on one."""


@dataclass
class Layout:
    """Where pages lie.

    Attributes:
        shifts: by page index, where its lower left corner lies (mm).
        cells: by page index, its column and row (upwards).
        columns, rows: x and y of the joints between pages (mm).
        strokes: pattern lines of pages, where they had to be cut anew.
        repeated: lines are whole on every page that shows a part of them.
        overlapped: neighbouring pages both showed a strip.
    """

    shifts: dict[int, Point]
    cells: dict[int, Cell] = field(default_factory=dict)
    columns: tuple[float, ...] = ()
    rows: tuple[float, ...] = ()
    strokes: dict[int, list[Stroke]] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    repeated: bool = False
    overlapped: bool = False


# -- lines repeated --------------------------------------------------------------------------------


def lay_by_repeats(tiles: Sequence[Tile], groups: Sequence[Mapping[int, Point]], repeats: Repeats) -> Layout:
    """Pages that repeat whole lines: their shifts are known exactly.

    Raises:
        FileError: a page is missing, mirrored, or of another scale.
    """
    shifts = dict(groups[0])
    page = tiles[next(iter(shifts))].page
    dx, dy = _steps(shifts.values(), page, next((t.frame for t in tiles if t.frame), None))
    shifts = _on_grid(shifts, dx, dy)
    origin = shifts[min(shifts)]
    cells = {k: (round((z - origin).real / dx), round((z - origin).imag / dy)) for k, z in shifts.items()}
    _refuse_odd(tiles, [k for k in range(len(tiles)) if k not in cells], repeats)
    for k, cell in _others(tiles, cells, _adjacent(cells)).items():
        cells[k] = cell
        shifts[k] = origin + complex(cell[0] * dx, cell[1] * dy)
    lay = Layout(shifts, cells, repeated=True)
    half = complex(page.width, page.height) / 2
    lay.columns = tuple({z.real + half.real + dx / 2 for z in shifts.values()}
                        | {z.real + half.real - dx / 2 for z in shifts.values()})
    lay.rows = tuple({z.imag + half.imag + dy / 2 for z in shifts.values()}
                     | {z.imag + half.imag - dy / 2 for z in shifts.values()})
    _refuse_gap_under_lines(tiles, lay, (dx, dy), origin + half)
    return lay


def _steps(shifts: Collection[Point], page: Page, frame: Box | None) -> tuple[float, float]:
    """Distances of neighbouring columns and rows (mm).

    Of a single row or column nothing can be seen: it is taken for as much less than the frame as columns are than
    theirs, else for the paper's own size.
    """
    dx, dy = _step([z.real for z in shifts], page.width), _step([z.imag for z in shifts], page.height)
    if frame and (dx is None) != (dy is None):
        width, height = frame[2] - frame[0], frame[3] - frame[1]
        dx, dy = (dx, height - width + dx) if dx is not None else (width - height + dy, dy)
    return dx or page.width, dy or page.height


def _step(places: Sequence[float], size: float) -> float | None:
    """Distance of neighbouring columns or rows (mm); None where there is only one."""
    ordered = sorted(places)
    gaps = [b - a for a, b in pairwise(ordered) if b - a > 0.3 * size]
    if not gaps:
        return None
    for least in sorted(gaps):
        # Places of one column differ by rounding only: a long way divided by its columns is the surest step.
        near = [g / n for g in gaps if abs(g / (n := round(g / least) or 1) - least) < _OFF_GRID]
        if 2 * len(near) > len(gaps):
            break
    return sum(near) / len(near)


def _on_grid(shifts: Mapping[int, Point], dx: float, dy: float) -> dict[int, Point]:
    """The pages without those that lie in no row and column of the others.

    Such a page was placed by a line that happens to be like one of another piece.
    """
    def fits(a: Point, b: Point) -> bool:
        away = b - a
        return all(abs(v - step * round(v / step)) < _OFF_GRID for v, step in ((away.real, dx), (away.imag, dy)))

    base = max(list(shifts)[:30], key=lambda k: sum(fits(shifts[k], z) for z in shifts.values()))
    return {k: z for k, z in shifts.items() if fits(shifts[base], z)}


def _adjacent(cells: Mapping[int, Cell]) -> list[Link]:
    at = {c: k for k, c in cells.items()}
    return [(1.0, k, at[c[0] + 1 - up, c[1] + up], bool(up)) for k, c in cells.items() for up in (0, 1)
            if (c[0] + 1 - up, c[1] + up) in at]


def _others(tiles: Sequence[Tile], cells: Mapping[int, Cell], ties: Sequence[Link]) -> dict[int, Cell]:
    """Cells of pages that no line ties to the others: by label, else by their order in the file."""
    labelled = from_labels(tiles, ties)
    both = [k for k in labelled if k in cells]
    if both:
        a = both[0]
        by = (cells[a][0] - labelled[a][0], cells[a][1] - labelled[a][1])
        moved = {k: (c[0] + by[0], c[1] + by[1]) for k, c in labelled.items()}
        if sum(moved[k] == cells[k] for k in both) > 0.7 * len(both):
            taken = set(cells.values())
            return {k: c for k, c in moved.items() if k not in cells and c not in taken}
    inner = range(min(cells), max(cells) + 1)
    taken = set(cells.values())
    wanted = [k for k, t in enumerate(tiles) if t.strokes and k not in cells
              and (k in inner or _furnished_alike(t, [tiles[j] for j in cells]))]
    for counted_pages in (list(range(len(tiles))), [k for k, t in enumerate(tiles) if t.strokes]):
        rank = {k: i for i, k in enumerate(counted_pages)}
        counted = from_order(len(counted_pages), {rank[k]: c for k, c in cells.items() if k in rank})
        found = {k: c for k in wanted if (c := counted.get(rank[k])) is not None and c not in taken}
        if found:
            return found
    return {}


def _furnished_alike(tile: Tile, others: Sequence[Tile]) -> bool:
    """Has a page the frame, or two of the registration marks, that pages of the sheet have?"""
    if tile.frame:
        return any(o.frame and max(abs(a - b) for a, b in zip(o.frame, tile.frame, strict=True)) < 0.5 for o in others)
    own = {_corner(s) for s in tile.marks}
    return any(len(own & {_corner(s) for s in o.marks}) > 1 for o in others)


def _corner(stroke: Stroke) -> tuple[int, int]:
    x0, y0, _, _ = stroke.path.bounds
    return round(x0), round(y0)


def _refuse_odd(tiles: Sequence[Tile], loose: Iterable[int], repeats: Repeats) -> None:
    for k in loose:
        scale = repeats.of_another_size(tiles[k]) or _frame_scale(tiles, k)
        if scale:
            raise _other_scale(tiles[k], scale)
        if repeats.mirrored(tiles[k]):
            raise _mirrored(tiles[k])


def _frame_scale(tiles: Sequence[Tile], k: int) -> float | None:
    """The scale of a page by its printed frame beside those of the others."""
    widths = sorted(t.frame[2] - t.frame[0] for t in tiles if t.frame)
    if not tiles[k].frame or len(widths) < 3:
        return None
    ratio = (tiles[k].frame[2] - tiles[k].frame[0]) / widths[len(widths) // 2]
    return ratio if 0.003 < abs(ratio - 1) < _SHRUNK else None


def _other_scale(tile: Tile, scale: float) -> FileError:
    return FileError(f"Page {tile.page.number} is printed at {100 * scale:.1f} % of the size of the other pages, so "
                     "its lines do not meet theirs; print all pages to PDF again at 100 %.")


def _mirrored(tile: Tile) -> FileError:
    return FileError(f"Page {tile.page.number} is printed mirrored: its lines meet those of the other pages only when "
                     "it is flipped; print it again without mirroring.")


def _refuse_gap_under_lines(tiles: Sequence[Tile], lay: Layout, step: tuple[float, float], origin: Point) -> None:
    """Whole lines of the pages around it run far across the place of a page that is missing."""
    cells = set(lay.cells.values())
    hits: dict[Cell, set[int]] = {}
    for k, shift in lay.shifts.items():
        for n, stroke in enumerate(tiles[k].strokes):
            for p in _samples(stroke):
                z = p + shift - origin
                cell = (round(z.real / step[0]), round(z.imag / step[1]))
                if cell not in cells and _inside(z, cell, step) and _between(cell, cells):
                    hits.setdefault(cell, set()).add(1000 * k + n)
    for cell, lines in sorted(hits.items(), key=lambda item: -len(item[1])):
        if len(lines) > 1:
            raise _missing(cell, lay.cells)


def _samples(stroke: Stroke) -> list[Point]:
    nodes = stroke.path.nodes
    return [*nodes, *((a + b) / 2 for a, b in pairwise(nodes) if abs(b - a) > 40)]


def _inside(z: Point, cell: Cell, step: tuple[float, float]) -> bool:
    return (abs(z.real - cell[0] * step[0]) < step[0] / 2 - _DEEP
            and abs(z.imag - cell[1] * step[1]) < step[1] / 2 - _DEEP)


def _between(cell: Cell, cells: set[Cell]) -> bool:
    """Is a cell within the rows and columns of the sheet?"""
    return (min(c[0] for c in cells) <= cell[0] <= max(c[0] for c in cells)
            and min(c[1] for c in cells) <= cell[1] <= max(c[1] for c in cells))


def _missing(cell: Cell, cells: Mapping[int, Cell]) -> FileError:
    whole = {**cells, -1: cell}
    return FileError(f"A page is missing: lines of its neighbours run on where {name_of(cell, whole)} of the sheet "
                     "(counted from the top left) should be; find that page or fetch the file again.")


# -- lines cut -------------------------------------------------------------------------------------


def lay_by_ends(tiles: Sequence[Tile]) -> Layout | None:
    """Pages whose lines were cut at their borders; None when no line ends there.

    Raises:
        FileError: a page is missing, mirrored, or of another scale.
    """
    inked = [t for t in tiles if t.strokes]
    border = find_borders(inked) if len(inked) > 1 else None
    if border is None:
        return None
    strips, inner, ends, ties = _overlapped(tiles, border)
    if not ties and sum(len(heap) for e in ends for heap in e.values()) < 4:
        return None
    pairs = {(a, b, above) for _, a, b, above in ties}
    if ties and all((b, a, above) in pairs for a, b, above in pairs):
        return None  # only lines that every page has, such as one above its footing
    _refuse_odd_ends(tiles, ends, ties, inner)
    known = from_labels(tiles, ties)
    cells = dict(from_links(len(tiles), ties, known)[0])
    if len(cells) < 2 and not known:
        return None
    cells.update(_others(tiles, cells, ties))
    _refuse_gap_at_ends(cells, ends)
    return _cut_layout(tiles, cells, inner, strips)


def _overlapped(tiles: Sequence[Tile], border: Box) -> tuple[list[float], Box, list[dict[str, list[End]]], list[Link]]:
    """Widths of the strips that neighbours share, the border without them, and the ends and links there."""
    strips, inner = [0.0, 0.0], border
    ends = whole = [ends_on(t.strokes, border) for t in tiles]
    ties = links(ends)
    for axis, above in ((0, False), (1, True)):
        met = _met(ends, ties, above)
        if met > _MOSTLY or not (strip := overlap(whole, border, above)):
            continue
        tried = list(inner)
        tried[axis] += strip / 2
        tried[axis + 2] -= strip / 2
        other_ends = [ends_on(cropped(t.strokes, tuple(tried)), tuple(tried)) for t in tiles]
        other_ties = links(other_ends)
        if _met(other_ends, other_ties, above) > met:
            strips[axis], inner, ends, ties = strip, tuple(tried), other_ends, other_ties
    return strips, inner, ends, ties


def _met(ends: Sequence[dict[str, list[End]]], ties: Sequence[Link], above: bool) -> float:
    """Share of line ends on right (or upper) borders that have a partner on some other page."""
    side = "top" if above else "right"
    best: dict[int, float] = {}
    for score, a, _, up in ties:
        if up == above:
            best[a] = max(best.get(a, 0.0), score)
    total = sum(len(e[side]) for e in ends)
    return sum(best.values()) / total if total else 1.0


def _cut_layout(tiles: Sequence[Tile], cells: dict[int, Cell], inner: Box, strips: Sequence[float]) -> Layout:
    dx, dy = inner[2] - inner[0], inner[3] - inner[1]
    lay = Layout({k: complex(c[0] * dx, c[1] * dy) for k, c in cells.items()}, cells, overlapped=any(strips))
    taken = set(cells.values())
    for k, (column, row) in cells.items():
        if any(strips):
            open_box = [-1e9, -1e9, 1e9, 1e9]
            for n, side in enumerate(SIDES):
                step = _STEPS[side]
                if (column + step[0], row + step[1]) in taken:
                    open_box[n] = inner[n]
            lay.strokes[k] = cropped(tiles[k].strokes, tuple(open_box))
    lay.columns = tuple({inner[0] + c[0] * dx for c in taken} | {inner[2] + c[0] * dx for c in taken})
    lay.rows = tuple({inner[1] + c[1] * dy for c in taken} | {inner[3] + c[1] * dy for c in taken})
    return lay


def _refuse_odd_ends(tiles: Sequence[Tile], ends: Sequence[dict[str, list[End]]], ties: Sequence[Link],
                     border: Box) -> None:
    """Pages whose lines meet no others: do they when flipped, or are they of another size?"""
    tied = {k for _, a, b, _ in ties for k in (a, b)}
    for k, tile in enumerate(tiles):
        if (scale := _frame_scale(tiles, k)) is not None:
            raise _other_scale(tile, scale)
        if k in tied or not tile.strokes:
            continue
        own = flipped(ends[k], border)
        best = 0.0
        for one, other in (("right", "left"), ("left", "right"), ("top", "bottom"), ("bottom", "top")):
            scores = meeting_ends({k: own[one]}, {j: e[other] for j, e in enumerate(ends) if j != k})
            best = max([best, *scores.values()])
        if best >= 2:
            raise _mirrored(tile)
        scale = _border_scale(tile, border)
        if scale is not None and tied:
            raise _other_scale(tile, scale)


def _border_scale(tile: Tile, border: Box) -> float | None:
    """The scale of a page by the border at which its own lines end."""
    own = find_borders([tile])
    if own is None:
        return None
    ratios = [(own[k + 2] - own[k]) / (border[k + 2] - border[k]) for k in (0, 1)
              if abs(own[k] - border[k]) > 0.3 or abs(own[k + 2] - border[k + 2]) > 0.3]
    even = len(ratios) == 2 and abs(ratios[0] - ratios[1]) < 0.01
    return ratios[0] if even and 0.003 < abs(ratios[0] - 1) < _SHRUNK else None


def _refuse_gap_at_ends(cells: Mapping[int, Cell], ends: Sequence[dict[str, list[End]]]) -> None:
    """Lines that end at a border without a page beyond it: that page is missing."""
    taken = set(cells.values())
    pointing: dict[Cell, int] = {}
    for k, (column, row) in cells.items():
        for side, (dx, dy) in _STEPS.items():
            beyond = (column + dx, row + dy)
            if beyond not in taken and ends[k][side]:
                pointing[beyond] = pointing.get(beyond, 0) + len(ends[k][side])
    cell, most = max(pointing.items(), key=lambda item: item[1], default=((0, 0), 0))
    if most > 1:
        raise _missing(cell, cells)


# -- pages that do not belong together -------------------------------------------------------------


def lay_side_by_side(tiles: Sequence[Tile]) -> Layout:
    """Pages that nothing ties together: by their labels, else beside each other."""
    cells = from_labels(tiles, ()) or {k: (0, 0) for k, t in enumerate(tiles) if t.cell and t.frame and t.strokes}
    page = tiles[0].page
    if cells:
        box = next((t.frame for t in tiles if t.frame), (0.0, 0.0, page.width, page.height))
        return Layout({k: complex(c[0] * (box[2] - box[0]), c[1] * (box[3] - box[1])) for k, c in cells.items()}, cells)
    shifts, x = {}, 0.0
    for k, tile in enumerate(tiles):
        if tile.strokes and not _is_grid(tile.strokes):
            shifts[k] = complex(x, 0.0)
            x += tile.page.width + 50.0
    return Layout(shifts or {0: 0j}, findings=(Finding(
        "pages-separate", "No line goes on from one page to the next, so the pages were laid side by side.",
        Severity.NOTE),))


def _is_grid(strokes: Sequence[Stroke]) -> bool:
    """Is nothing drawn but upright and level lines, four or more each way, to set a projector by?"""
    ways = [s.path.end - s.path.start for s in strokes if len(s.path.nodes) == 2 and not any(s.path.handles)]
    level, upright = (sum(abs(v) > 100 and abs(off) < 0.1 for v, off in found) for found in (
        [(v, v.imag) for v in ways], [(v, v.real) for v in ways]))
    return min(level, upright) >= 4 and level + upright >= 0.8 * len(strokes)
