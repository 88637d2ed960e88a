"""Lines that were cut at page borders made whole again."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import floor

from toilewright.geometry.curve import Cubic
from toilewright.geometry.path import Handles, Path
from toilewright.geometry.point import Point, dot
from toilewright.intake.drawing import Stroke, Word
from toilewright.intake.shapes import Shapes

MEET = 0.3
"""mm; ends of one line on two pages lie this near to each other (a wide pen line; printing programs round)."""

_ALONG = 0.98
"""cosine of the turn that a line may make where two pages meet (11 degrees)."""

_WHOLE = 0.005
"""mm; two parts that agree this well with one curve are that curve."""


def without_repeats(strokes: Iterable[Stroke]) -> list[Stroke]:
    """Strokes of which each is drawn once, also where pages overlap."""
    shapes = Shapes()
    starts: dict[int, list[Point]] = defaultdict(list)
    kept = []
    for stroke in strokes:
        group, start = shapes.add(stroke), stroke.path.nodes[0]
        if not any(abs(start - p) < 0.1 for p in starts[group]):
            starts[group].append(start)
            kept.append(stroke)
    return kept


def words_once(words: Iterable[Word]) -> tuple[Word, ...]:
    """Words of which each is written once."""
    kept: dict[tuple, list[Word]] = defaultdict(list)
    for word in words:
        near = kept[word.text, word.look.layer]
        if not any(abs(word.at - w.at) < 0.5 for w in near):
            near.append(word)
    return tuple(w for group in kept.values() for w in group)


def merge(strokes: Sequence[Stroke], columns: Sequence[float], rows: Sequence[float]) -> tuple[list[Stroke], int]:
    """Join strokes end to end where pages meet.

    Args:
        columns, rows: x and y of the joints between pages (mm).

    Returns:
        the strokes, and how many ends at a joint found no partner.
    """
    ends = _ends_at_joints(strokes, columns, rows)
    partner = _partners(strokes, ends)
    done: set[int] = set()
    merged = []
    for k, stroke in enumerate(strokes):
        if k in done:
            continue
        if (k, 0) not in partner and (k, 1) not in partner:
            merged.append(stroke)
            continue
        merged.append(_chained(strokes, partner, k, done))
    return merged, len(ends) - len(partner)


def _ends_at_joints(strokes: Sequence[Stroke], columns: Sequence[float],
                    rows: Sequence[float]) -> list[tuple[int, int]]:
    across, along = ({(cell, level) for level in levels for cell in (floor(level - MEET), floor(level + MEET))}
                     for levels in (columns, rows))
    x_levels, y_levels = dict(across), dict(along)
    found = []
    for k, stroke in enumerate(strokes):
        nodes = stroke.path.nodes
        if nodes[0] != nodes[-1]:
            for side, p in ((0, nodes[0]), (1, nodes[-1])):
                x, y = x_levels.get(floor(p.real)), y_levels.get(floor(p.imag))
                if (x is not None and abs(p.real - x) < MEET) or (y is not None and abs(p.imag - y) < MEET):
                    found.append((k, side))
    return found


def outward(path: Path, side: int) -> Point:
    """Unit direction in which a path leaves its start (side 0) or its end (side 1), without building its curves."""
    nodes, handles = path.nodes, path.handles
    if side:
        v = nodes[-1] - (handles[-1][1] if handles[-1] else nodes[-2])
    else:
        v = nodes[0] - (handles[0][0] if handles[0] else nodes[1])
    size = abs(v)
    if size > 1e-9:
        return v / size
    tip = nodes[-side]
    points = [nodes[0], *(p for end, bent in zip(nodes[1:], handles, strict=True) for p in (*(bent or ()), end))]
    away = next((tip - p for p in (reversed(points) if side else points) if abs(tip - p) > 1e-9), 0j)
    return away / (abs(away) or 1.0)


def _partners(strokes: Sequence[Stroke], ends: list[tuple[int, int]]) -> dict[tuple[int, int], tuple[int, int]]:
    """For each cut end the one that goes on from it: the nearest first."""
    cells: dict[tuple, list[tuple[int, int]]] = defaultdict(list)
    spots = {end: strokes[end[0]].path.nodes[-end[1]] for end in ends}
    for end in ends:
        p = spots[end]
        cells[id(strokes[end[0]].look), floor(p.real), floor(p.imag)].append(end)
    pairs = []
    for end in ends:
        p, look = spots[end], id(strokes[end[0]].look)
        around = {(look, floor(p.real + dx), floor(p.imag + dy)) for dx in (-MEET, MEET) for dy in (-MEET, MEET)}
        for other in (o for cell in around for o in cells.get(cell, ()) if o > end):
            gap = abs(spots[other] - p)
            if (gap < MEET and other[0] != end[0]) or (gap < MEET and len(strokes[end[0]].path.nodes) > 2):
                a, b = (outward(strokes[e[0]].path, e[1]) for e in (end, other))
                if dot(a, -b) > _ALONG:
                    pairs.append((round(gap, 4), -dot(a, -b), end, other))
    partner: dict[tuple[int, int], tuple[int, int]] = {}
    for _, _, a, b in sorted(pairs):
        if a not in partner and b not in partner:
            partner[a], partner[b] = b, a
    return partner


def _chained(strokes: Sequence[Stroke], partner: dict, k: int, done: set[int]) -> Stroke:
    """The whole line that stroke k is a part of."""
    at, entry, start = k, 0, k
    while (at, entry) in partner:  # back to its beginning, or once around
        at, side = partner[at, entry]
        entry = 1 - side
        if at == start:
            break
    nodes: list[Point] = []
    handles: list[Handles] = []
    looped = (at, entry) in partner
    first = at
    while True:
        done.add(at)
        path = strokes[at].path if entry == 0 else strokes[at].path.reversed()
        _append(nodes, handles, path)
        follow = partner.get((at, 1 - entry))
        if follow is None or follow[0] == first:
            break
        at, entry = follow
    if looped:
        nodes[-1] = nodes[0]
    return replace(strokes[k], path=Path(tuple(nodes), tuple(handles)))


def _append(nodes: list[Point], handles: list[Handles], path: Path) -> None:
    """Add a path; the two parts of one curve become that curve again."""
    if not nodes:
        nodes += path.nodes
        handles += path.handles
        return
    joint = (nodes[-1] + path.nodes[0]) / 2
    whole = _one_curve(nodes[-2], handles[-1], joint, path.handles[0], path.nodes[1])
    if whole is False:
        nodes[-1] = joint
        nodes += path.nodes[1:]
        handles += path.handles
    else:
        nodes[-1:] = path.nodes[1:]
        handles[-1:] = [whole, *path.handles[1:]]


def _one_curve(a: Point, first: Handles, joint: Point, second: Handles, b: Point) -> Handles | bool:
    """Handles of the one curve of which two are the parts (None for a line), or False."""
    if (first is None) != (second is None):
        return False
    if first is None:
        along = b - a
        off = abs(((joint - a) * along.conjugate()).imag) / abs(along) if along else MEET
        return None if off < _WHOLE and 0 < dot(joint - a, along) < abs(along) ** 2 else False
    before, after = abs(joint - first[1]), abs(second[0] - joint)
    if before + after < 1e-9:
        return False
    t = before / (before + after)
    if not 0.001 < t < 0.999:
        return False
    c1, c2 = a + (first[0] - a) / t, b + (second[1] - b) / (1 - t)
    left, right = Cubic(a, c1, c2, b).split(t)
    fits = all(abs(p - q) < 4 * _WHOLE for p, q in (
        (left.c2, first[1]), (left.end, joint), (right.c1, second[0])))
    return (c1, c2) if fits else False
