"""Pages placed by the lines that are drawn on several of them: a sheet repeated behind a window on every page."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from toilewright.geometry.point import Point
from toilewright.intake.drawing import Stroke
from toilewright.intake.shapes import Shapes, shape_of
from toilewright.intake.tile_sort import Tile

_TELLING = 15.0
"""mm; smaller shapes (ticks, arrow heads) are too much alike to tell where a page lies."""

_LONG = 60.0
"""mm; one bent line of this size is enough to tie two pages together."""

_APART = 20.0
"""mm; pages of one sheet lie at least this far from each other."""

_OFF_GRID = 1.0
"""mm; pages of one sheet lie in rows and columns this exactly."""

_CUT = 2.0
"""mm; lines that were cut at the edge of their page end nearer to it than this."""


class Repeats:
    """The telling shapes of all pages, and where each page saw them.

    Attributes:
        whole: number of pages with lines that run on beyond their edge, and so were not cut there.
    """

    def __init__(self, tiles: Sequence[Tile]) -> None:
        """Look through all pages."""
        self.shapes = Shapes()
        self.sizes: list[float] = []
        self.seen: list[list[tuple[int, Point]]] = []
        self.cells = [tile.cell for tile in tiles]
        self.whole = 0
        for index, tile in enumerate(tiles):
            out = [_beyond(stroke, tile) for stroke in tile.strokes]
            self.whole += any(out)
            for stroke, beyond in zip(tile.strokes, out, strict=True):
                if (size := telling_size(stroke) or beyond) > _TELLING:
                    group = self.shapes.add(stroke)
                    if group == len(self.seen):
                        self.seen.append([])
                        self.sizes.append(size)
                    self.seen[group].append((index, stroke.path.nodes[0]))

    def offsets(self, count: int) -> list[dict[int, Point]]:
        """Groups of pages whose places relative to each other are known, the largest first: page index to shift."""
        votes: dict[tuple[int, int], Counter] = defaultdict(Counter)
        exact: dict[tuple, list[Point]] = defaultdict(list)
        for seen, size in zip(self.seen, self.sizes, strict=True):
            if len(seen) < 2 or len({page for page, _ in seen}) < len(seen):
                continue
            for (a, p), (b, q) in pairwise(seen):
                shift = p - q
                if abs(shift) > _APART:
                    key = (round(shift.real / 0.2), round(shift.imag / 0.2))
                    votes[a, b][key] += 1 + (size > _LONG)
                    exact[a, b, key].append(shift)
        edges = []
        for (a, b), heap in votes.items():
            key, most = heap.most_common(1)[0]
            if most > 1:
                shifts = exact[a, b, key]
                edges.append((-most, a, b, sum(shifts) / len(shifts)))
        return _spread(sorted(self._on_grid(edges), key=lambda e: e[:3]), count)

    def _on_grid(self, edges: list[tuple]) -> list[tuple]:
        """The edges that lead whole columns and rows on, as the labels of their pages say; others come from lines of
        two pieces that are alike.
        """
        rows = _step(edges, "imag", "real")
        columns = _step(edges, "real", "imag", rows)
        steps = columns, rows or _step(edges, "imag", "real", columns)
        found = []
        for edge in edges:
            away = [round(v / step) if step else 0 for v, step in zip((edge[3].real, edge[3].imag), steps, strict=True)]
            exact = complex(*(n * step for n, step in zip(away, steps, strict=True)))
            off = edge[3] - exact
            if all(abs(v) < _OFF_GRID for v, step in zip((off.real, off.imag), steps, strict=True) if step):
                found.append((edge, tuple(away)))
        ways = [(swap, sign) for swap in (False, True) for sign in (1, -1)]
        said = [{w for w in ways if self._label_step(edge, w) == away} if self._label_step(edge, ways[0]) else None
                for edge, away in found]
        votes = Counter(w for s in said if s is not None for w in s)
        way, most = votes.most_common(1)[0] if votes else (None, 0)
        if most < 0.6 * sum(s is not None for s in said):
            way = None
        return [edge for (edge, _), s in zip(found, said, strict=True) if way is None or s is None or way in s]

    def _label_step(self, edge: tuple, way: tuple[bool, int]) -> tuple[int, int] | None:
        """Columns and rows (upwards) from one page to the other by their labels, which count one way or another."""
        one, other = self.cells[edge[1]], self.cells[edge[2]]
        if one is None or other is None:
            return None
        rows, columns = other[0] - one[0], other[1] - one[1]
        if way[0]:
            rows, columns = columns, rows
        return columns, way[1] * rows

    def of_another_size(self, tile: Tile) -> float | None:
        """The scale at which a page repeats lines of the others; None when it does not."""
        ratios: Counter = Counter()
        by_kind: dict[tuple, list] = defaultdict(list)
        for members in self.shapes.members:
            first = members[0]
            if first.page != tile.page.number:
                by_kind[_kind(first)].append(shape_of(first))
        for stroke in tile.strokes:
            if telling_size(stroke) <= _TELLING:
                continue
            own = shape_of(stroke)
            for shape in by_kind.get(_kind(stroke), ()):
                pair = [(a, b) for a, b in zip(own, shape, strict=True) if abs(b) > 5]
                if pair:
                    s = pair[0][0] / pair[0][1]
                    if abs(s.imag) < 0.002 and 0.5 < s.real < 2 and all(abs(a - s * b) < 0.1 for a, b in pair):
                        ratios[round(s.real, 3)] += 1
        ratio, times = ratios.most_common(1)[0] if ratios else (1.0, 0)
        return ratio if times > 1 and abs(ratio - 1) > 0.003 else None

    def mirrored(self, tile: Tile) -> bool:
        """Does a page repeat lines of the others only when it is flipped?"""
        plain = flipped = 0
        for stroke in tile.strokes:
            if telling_size(stroke) <= _TELLING:
                continue
            shape = shape_of(stroke)
            count, look = len(stroke.path.nodes), stroke.look
            plain += self._elsewhere(count, look, shape, tile)
            flipped += any(self._elsewhere(count, look, tuple(f(v) for v in shape), tile)
                           for f in (complex.conjugate, lambda v: -v.conjugate()))
        return flipped > 1 and flipped > 2 * plain

    def _elsewhere(self, count: int, look: object, shape: tuple, tile: Tile) -> bool:
        group = self.shapes.find(count, look, shape)
        return group is not None and any(s.page != tile.page.number for s in self.shapes.members[group])


def _kind(stroke: Stroke) -> tuple:
    """Equal for lines that may be one at two scales: pen and dashes shrink with the page."""
    return len(stroke.path.nodes), stroke.look.layer, stroke.look.colour


def telling_size(stroke: Stroke) -> float:
    """How far a bent stroke reaches (mm); 0 for a straight one, which may look like any other."""
    nodes = stroke.path.nodes
    if len(nodes) == 2 and not stroke.path.handles[0]:
        return 0.0
    return max(map(abs, shape_of(stroke)))


def _step(edges: list[tuple], way: str, other: str, whole: float = 0.0) -> float:
    """The distance of neighbouring columns (or rows) that most edges show (mm); 0 where none does.

    Args:
        whole: the distance of rows (or columns), where it is known: edges may lead to another row besides.
    """
    straight = [(-e[0], step) for e in edges if (step := abs(getattr(e[3], way))) > 1.0
                and abs((off := getattr(e[3], other)) - (whole and whole * round(off / whole))) < 1.0]
    votes: Counter = Counter()
    for most, step in straight:
        votes[round(step)] += most
    usual = votes.most_common(1)[0][0] if votes else 0
    return median([step for _, step in straight if abs(step - usual) < 1.0]) if usual else 0.0


def _beyond(stroke: Stroke, tile: Tile) -> float:
    """How far a line reaches that runs on beyond the edge of its page (mm); 0 for one that does not."""
    nodes, page = stroke.path.nodes, tile.page
    if all(-_CUT < p.real < page.width + _CUT and -_CUT < p.imag < page.height + _CUT for p in nodes):
        return 0.0
    return max(abs(p - nodes[0]) for p in nodes)


def _spread(edges: list[tuple], count: int) -> list[dict[int, Point]]:
    """Shifts from edges between pages, the surest edges first."""
    home = list(range(count))
    groups: dict[int, dict[int, Point]] = {k: {k: 0j} for k in range(count)}
    for _, a, b, shift in edges:
        one, other = home[a], home[b]
        if one == other:
            continue
        by = groups[one][a] + shift - groups[other][b]
        for k, at in groups.pop(other).items():
            groups[one][k] = at + by
            home[k] = one
    return sorted((g for g in groups.values() if len(g) > 1), key=len, reverse=True)
