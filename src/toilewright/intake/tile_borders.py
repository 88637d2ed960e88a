"""Pages placed by line ends that meet: lines that were cut at the border of each page."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import floor

from toilewright.geometry.point import Point, dot
from toilewright.intake.clipping import Box, clip, crossings
from toilewright.intake.drawing import Stroke
from toilewright.intake.tile_merge import MEET, outward
from toilewright.intake.tile_sort import Tile

SIDES = ("left", "bottom", "right", "top")
"""Side k of a box has its coordinate at index k."""

_ALONG = 0.97
"""cosine of the turn that a line may make at a joint."""

_OVERLAP = 45.0
"""mm; widest strip that neighbouring pages both show."""

Link = tuple[float, int, int, bool]
"""How sure, page, its neighbour, and whether that lies above (else to the right)."""


@dataclass(frozen=True, slots=True)
class End:
    """A line end on a side of a page: place along the side (mm), look, direction outwards, its stroke."""

    along: float
    look: int
    out: Point
    stroke: Stroke


def find_borders(tiles: Sequence[Tile]) -> Box | None:
    """The border at which lines were cut, the same on all pages: where most line ends lie; None where none do."""
    middle = complex(tiles[0].page.width, tiles[0].page.height) / 2
    bins: list[dict[int, list[tuple[int, float]]]] = [defaultdict(list) for _ in SIDES]
    for index, tile in enumerate(tiles):
        for p, out in _ends(tile.strokes):
            for k, (level, away) in enumerate(((p.real, -out.real), (p.imag, -out.imag),
                                               (p.real, out.real), (p.imag, out.imag))):
                beyond = level - (middle.imag if k % 2 else middle.real)
                if away > 0.1 and (beyond > 0) == (k > 1):
                    bins[k][round(level / 0.05)].append((index, level))
    found = []
    for k in range(4):
        best = max(bins[k].items(), default=None,
                   key=lambda item: (len({i for i, _ in item[1]}), len(item[1]), item[0] if k > 1 else -item[0]))
        if best is None or len(best[1]) < 2:
            found.append(None)
        else:
            found.append(sum(v for _, v in best[1]) / len(best[1]))
    frame = Counter(tuple(round(v, 1) for v in t.frame) for t in tiles if t.frame).most_common(1)
    if frame:
        exact = next(t.frame for t in tiles if t.frame and tuple(round(v, 1) for v in t.frame) == frame[0][0])
        found = [f if f is not None else e for f, e in zip(found, exact, strict=True)]
    if (found[0] is None) != (found[2] is None) or (found[1] is None) != (found[3] is None) or not any(found):
        # Only one of two opposite sides has line ends: pages lie one row or column deep at most.
        found = _filled(found, tiles)
    if all(f is None for f in found):
        return None
    return tuple(f if f is not None else d for f, d in zip(
        found, (0.0, 0.0, 2 * middle.real, 2 * middle.imag), strict=True))


def _filled(found: list[float | None], tiles: Sequence[Tile]) -> list[float | None]:
    """Borders not seen, taken as far from the paper's edge as the one opposite."""
    size = (tiles[0].page.width, tiles[0].page.height) * 2
    return [f if f is not None else (size[k] - o if (o := found[k ^ 2]) is not None else None)
            for k, f in enumerate(found)]


def _ends(strokes: Sequence[Stroke]):
    for stroke in strokes:
        nodes = stroke.path.nodes
        if nodes[0] != nodes[-1] and abs(nodes[0] - nodes[-1]) > 1e-6:
            yield nodes[0], outward(stroke.path, 0)
            yield nodes[-1], outward(stroke.path, 1)


def ends_on(strokes: Sequence[Stroke], border: Box) -> dict[str, list[End]]:
    """The ends of cut lines on each side of a border."""
    found: dict[str, list[End]] = {side: [] for side in SIDES}
    for stroke in strokes:
        nodes = stroke.path.nodes
        if nodes[0] == nodes[-1]:
            continue
        for side in (0, 1):
            p = nodes[-side]
            for k, name in enumerate(SIDES):
                if abs((p.imag if k % 2 else p.real) - border[k]) < MEET:
                    out = outward(stroke.path, side)
                    if (out.imag if k % 2 else out.real) * (1 if k > 1 else -1) > 0.02:
                        found[name].append(End(p.real if k % 2 else p.imag, id(stroke.look), out, stroke))
    return found


def links(ends: Sequence[dict[str, list[End]]]) -> list[Link]:
    """Pages whose line ends meet, the surest first; of equals, those that follow each other in the file."""
    found = []
    for one, other, above in (("right", "left", False), ("top", "bottom", True)):
        found += [(score, a, b, above) for (a, b), score in meeting_ends(
            {k: e[one] for k, e in enumerate(ends)}, {k: e[other] for k, e in enumerate(ends)}).items() if a != b]
    return sorted(found, key=lambda link: (-link[0], abs(link[1] - link[2]), link[1]))


def meeting_ends(first: dict[int, list[End]], second: dict[int, list[End]]) -> dict[tuple[int, int], float]:
    """For pairs of pages how well their ends meet: number of pairs times the share of ends that have one."""
    cells: dict[tuple, list[tuple[int, End]]] = defaultdict(list)
    for b, ends in second.items():
        for end in ends:
            cells[end.look, floor(end.along)].append((b, end))
    hits: Counter = Counter()
    for a, ends in first.items():
        for end in ends:
            met = set()
            for cell in {floor(end.along - MEET), floor(end.along + MEET)}:
                met |= {b for b, other in cells.get((end.look, cell), ())
                        if abs(other.along - end.along) < MEET and dot(end.out, -other.out) > _ALONG}
            hits.update((a, b) for b in met)
    scores = {}
    for (a, b), n in hits.items():
        share = min(1.0, 2 * n / (len(first[a]) + len(second[b])))
        if share >= 0.5:
            scores[a, b] = n * share
    return scores


def flipped(ends: dict[str, list[End]], border: Box) -> dict[str, list[End]]:
    """The ends of a page as they would lie if it were printed mirrored, left to right."""
    turned = {side: [replace(e, out=-e.out.conjugate()) for e in heap] for side, heap in ends.items()}
    turned["left"], turned["right"] = turned["right"], turned["left"]
    for side in ("top", "bottom"):
        turned[side] = [replace(e, along=border[0] + border[2] - e.along) for e in turned[side]]
    return turned


# -- overlapping pages -----------------------------------------------------------------------------


def overlap(ends: Sequence[dict[str, list[End]]], border: Box, above: bool) -> float:
    """Width (mm) of the strip that neighbours both show; 0 where lines end at one joint or nothing can be told.

    A line that page A ends at its right border goes on through the left strip of page B: where B's line has the
    height of A's end, it is as far from B's border as the strip is wide.
    """
    one, other, axis = ("top", "bottom", 0) if above else ("right", "left", 1)
    level = border[1] if above else border[0]
    votes: Counter = Counter()
    exact: dict[int, list[float]] = defaultdict(list)
    by_look: dict[int, list[tuple[int, End]]] = defaultdict(list)
    for b, heap in enumerate(ends):
        for end in heap[other]:
            by_look[end.look].append((b, end))
    reach = 1 if not above else 20
    for a, heap in enumerate(ends):
        for end in heap[one]:
            for b, partner in by_look.get(end.look, ()):
                if a == b or abs(a - b) > reach or abs(partner.along - end.along) > _OVERLAP:
                    continue
                for p in _meets(partner.stroke, axis, end.along, level, 1 - axis):
                    votes[round(p / 0.1)] += 1
                    exact[round(p / 0.1)].append(p)
    if not votes:
        return 0.0
    best, times = max(((k, votes[k] + votes[k + 1]) for k in list(votes)), key=lambda item: item[1])
    near = exact[best] + exact.get(best + 1, [])
    return sum(near) / len(near) if times > 2 else 0.0


def _meets(stroke: Stroke, axis: int, along: float, level: float, across: int) -> list[float]:
    """How far from a border a stroke has a given height, within the widest overlap."""
    found = []
    for curve, (p, q) in zip(stroke.path.curves, pairwise(stroke.path.nodes), strict=True):
        far = min(abs((z.imag if across else z.real) - level) for z in (p, q))
        if far < _OVERLAP:
            for t in crossings(curve, axis, along):
                z = curve.point(t)
                d = (z.imag if across else z.real) - level
                if 0.5 < d < _OVERLAP:
                    found.append(d)
    return found


def cropped(strokes: Sequence[Stroke], box: Box) -> list[Stroke]:
    """Strokes cut at a box."""
    kept = []
    for stroke in strokes:
        x0, y0, x1, y1 = stroke.path.bounds
        if x0 >= box[0] and y0 >= box[1] and x1 <= box[2] and y1 <= box[3]:
            kept.append(stroke)
        elif x1 >= box[0] and y1 >= box[1] and x0 <= box[2] and y0 <= box[3]:
            kept += [replace(stroke, path=part) for part in clip(stroke.path, box)]
    return kept
