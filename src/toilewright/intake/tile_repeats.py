"""Pages placed by the lines that are drawn on several of them: a sheet repeated behind a window on every page."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from itertools import pairwise

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

_OFF_GRID = 3.0
"""mm; pages of one sheet lie in rows and columns this exactly."""


class Repeats:
    """The telling shapes of all pages, and where each page saw them."""

    def __init__(self, tiles: Sequence[Tile]) -> None:
        """Look through all pages."""
        self.shapes = Shapes()
        self.sizes: list[float] = []
        self.seen: list[list[tuple[int, Point]]] = []
        for index, tile in enumerate(tiles):
            for stroke in tile.strokes:
                if (size := telling_size(stroke)) > _TELLING:
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
        return _spread(sorted(_on_grid(edges), key=lambda e: e[:3]), count)

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


def _on_grid(edges: list[tuple]) -> list[tuple]:
    """The edges that lead a whole number of columns and rows on; others come from lines of two pieces alike."""
    steps = []
    for way, other in (("real", "imag"), ("imag", "real")):
        votes: Counter = Counter()
        for most, _, _, shift in edges:
            if abs(getattr(shift, other)) < 1.0:
                votes[round(abs(getattr(shift, way)))] -= most
        step = votes.most_common(1)[0][0] if votes else 0
        exact = [abs(getattr(e[3], way)) for e in edges
                 if abs(getattr(e[3], other)) < 1.0 and abs(abs(getattr(e[3], way)) - step) < 1.0]
        steps.append((way, sum(exact) / len(exact) if exact else 0.0))

    def fits(shift: Point) -> bool:
        return all(abs(v - step * round(v / step)) < _OFF_GRID
                   for v, step in ((getattr(shift, way), step) for way, step in steps) if step)
    return [e for e in edges if fits(e[3])]


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
