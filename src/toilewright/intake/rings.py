"""Strokes end to end: closed outlines, and the lines that are left over."""

from __future__ import annotations

import cmath
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.sketch import Sketch
from toilewright.tolerance import JOINT, READ_JOIN

NOISE = 0.15
"""mm; ends of one line that was cut up are nearer than this (rounding of files, overlaps of pages)."""

BACK = 0.03
"""radians; no dart is as narrow as this."""

CROWD = 200
"""Ends in one spot that are compared with each other; more are scribble, or a file made to keep us busy."""


@dataclass(frozen=True, slots=True)
class Chained:
    """What a heap of lines makes: closed rings (counter-clockwise) and the paths that are in none of them."""

    rings: tuple[Path, ...]
    loose: tuple[Path, ...]


def chain(paths: Iterable[Path], tolerance: float = READ_JOIN) -> Chained:
    """Join lines whose ends meet into closed rings.

    Lines that lead nowhere (ticks, inner lines) are set aside; of what hangs together the outermost way round
    is the ring, so that dart legs and other lines inside do not lead it astray. Nearest ends meet first.
    """
    rings, rest, loose = [], [], []
    for path in paths:
        gap = abs(path.start - path.end)
        if gap <= JOINT:
            rings.append(path)
        elif gap <= tolerance and len(path.handles) > 1 and _reach(path) > 10 * tolerance:
            rings.append(path.with_ends(end=path.start))
        elif len(path.nodes) > 2 or gap > JOINT:
            rest.append(path)
    nodes = _ends_meeting([p for path in rest for p in (path.start, path.end)], tolerance)
    edges = [(nodes[2 * i], nodes[2 * i + 1]) for i in range(len(rest))]
    kept = _without_dead_ends(edges)
    loose.extend(path for i, path in enumerate(rest) if i not in kept)
    for part in _components(edges, kept):
        walk = _outer_walk(rest, edges, part)
        if walk is None:
            loose.extend(rest[i] for i in part)
            continue
        rings.append(join([rest[i] if ahead else rest[i].reversed() for i, ahead in walk], closed=True))
        used = {i for i, _ in walk}
        loose.extend(rest[i] for i in part if i not in used)
    return Chained(tuple(ccw(r) for r in rings), tuple(loose))


def runs(paths: Sequence[Path], tolerance: float = READ_JOIN) -> tuple[Path, ...]:
    """Open lines joined where just two ends meet, so that each run is as long as it can be; close ends first."""
    return _runs(_runs(paths, NOISE), tolerance) if tolerance > NOISE else _runs(paths, tolerance)


def _runs(paths: Sequence[Path], tolerance: float) -> tuple[Path, ...]:
    nodes = _ends_meeting([p for path in paths for p in (path.start, path.end)], tolerance)
    at: dict[int, list[int]] = defaultdict(list)
    for end, node in enumerate(nodes):
        at[node].append(end)
    done: set[int] = set()
    found = []

    def follow(end: int) -> list[Path]:
        """From this end of a line through the line and on, while there is just one way on."""
        walked = []
        while True:
            i = end // 2
            done.add(i)
            walked.append(paths[i] if end % 2 == 0 else paths[i].reversed())
            here = at[nodes[end ^ 1]]
            following = [e for e in here if e // 2 not in done]
            if len(here) != 2 or not following or _turns_back(walked[-1], paths[following[0] // 2], following[0] % 2):
                return walked
            end = following[0]

    starts = [e for e in range(len(nodes)) if len(at[nodes[e]]) != 2]
    for end in (*starts, *range(0, len(nodes), 2)):
        if end // 2 not in done:
            found.append(join(follow(end)))
    return tuple(found)


def _turns_back(path: Path, following: Path, from_end: int) -> bool:
    """Would the next line run straight back over this one? Then they are two lines that end at one place."""
    a = path.nodes[-1] - path.nodes[-2]
    b = following.nodes[-2] - following.nodes[-1] if from_end else following.nodes[1] - following.nodes[0]
    return (b * a.conjugate()).real < 0 and abs((b * a.conjugate()).imag) < BACK * abs(a) * abs(b)


def join(paths: Sequence[Path], closed: bool = False) -> Path:
    """Paths end to end; small gaps close on the earlier end."""
    nodes, handles = list(paths[0].nodes), list(paths[0].handles)
    for path in paths[1:]:
        moved = path.with_ends(start=nodes[-1])
        nodes.extend(moved.nodes[1:])
        handles.extend(moved.handles)
    whole = Path(tuple(nodes), tuple(handles))
    return whole.with_ends(end=whole.start) if closed else whole


def ccw(ring: Path) -> Path:
    """The closed path, counter-clockwise."""
    return ring if Sketch(ring).area >= 0 else ring.reversed()


def _reach(path: Path) -> float:
    return max(abs(p - path.start) for p in path.nodes)


def _ends_meeting(ends: Sequence[Point], tolerance: float) -> list[int]:
    """For each end the number of the meeting point it belongs to; nearest pairs first, no meeting point too wide."""
    first: dict[Point, int] = {}
    spot = [first.setdefault(p, i) for i, p in enumerate(ends)]
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for p, i in first.items():
        cells[int(p.real // tolerance), int(p.imag // tolerance)].append(i)
    pairs = []
    for (cx, cy), members in cells.items():
        near = [j for dx in (-1, 0, 1) for dy in (-1, 0, 1) for j in cells.get((cx + dx, cy + dy), ())]
        for i in members:
            pairs.extend((abs(ends[i] - ends[j]), i, j) for j in near[:CROWD] if i < j)
    group = {i: i for i in first.values()}
    members_of = {i: [i] for i in group}
    for gap, i, j in sorted(pairs):
        a, b = group[i], group[j]
        if gap > tolerance or a == b:
            continue
        both = members_of[a] + members_of[b]
        if len(both) > 2 and max(abs(ends[x] - ends[y]) for x in members_of[a] for y in members_of[b]) > tolerance:
            continue
        for x in members_of.pop(b):
            group[x] = a
        members_of[a] = both
    return [group[i] for i in spot]


def _without_dead_ends(edges: Sequence[tuple[int, int]]) -> set[int]:
    """Numbers of the edges that are part of some way round."""
    at: dict[int, set[int]] = defaultdict(set)
    for i, (a, b) in enumerate(edges):
        at[a].add(i)
        at[b].add(i)
    kept = set(range(len(edges)))
    alone = [n for n, here in at.items() if len(here) == 1]
    while alone:
        node = alone.pop()
        for i in list(at[node]):
            kept.discard(i)
            for n in edges[i]:
                at[n].discard(i)
                if len(at[n]) == 1:
                    alone.append(n)
    return kept


def _components(edges: Sequence[tuple[int, int]], kept: set[int]) -> list[list[int]]:
    """Edges that hang together, heap by heap."""
    at: dict[int, list[int]] = defaultdict(list)
    for i in sorted(kept):
        for n in edges[i]:
            at[n].append(i)
    seen: set[int] = set()
    parts = []
    for first in sorted(kept):
        if first in seen:
            continue
        seen.add(first)
        part, todo = [], [first]
        while todo:
            i = todo.pop()
            part.append(i)
            for n in edges[i]:
                for j in at[n]:
                    if j not in seen:
                        seen.add(j)
                        todo.append(j)
        parts.append(part)
    return parts


def _outer_walk(paths: Sequence[Path], edges: Sequence[tuple[int, int]],
                part: Sequence[int]) -> list[tuple[int, bool]] | None:
    """The outermost way round a heap of edges, as (edge, walked ahead?), or None when there is none.

    Every face of the drawing is walked by leaving each meeting point by the next line clockwise; the one face
    with negative area is the outside.
    """
    degree = Counter(n for i in part for n in edges[i])
    if len(part) > 1 and set(degree.values()) == {2}:
        return _single_loop(edges, part)
    out: dict[int, list[tuple[float, int, bool]]] = defaultdict(list)
    points = {i: Sketch(paths[i]).points for i in part}
    for i in part:
        p = points[i]
        out[edges[i][0]].append((_bearing(p), i, True))
        out[edges[i][1]].append((_bearing(p[::-1]), i, False))
    order = {node: [(i, ahead) for _, i, ahead in sorted(leaving)] for node, leaving in out.items()}
    seen: set[tuple[int, bool]] = set()
    best: tuple[float, list[tuple[int, bool]] | None] = (-1.0, None)
    for i in part:
        for ahead in (True, False):
            if (i, ahead) in seen:
                continue
            walk, area, here = [], 0.0, (i, ahead)
            while here not in seen:
                seen.add(here)
                walk.append(here)
                p = points[here[0]] if here[1] else points[here[0]][::-1]
                area += float((p[:-1].real * p[1:].imag - p[:-1].imag * p[1:].real).sum() / 2)
                node = edges[here[0]][1 if here[1] else 0]
                leaving = order[node]
                here = leaving[leaving.index((here[0], not here[1])) - 1]
            best = min(best, (area, walk), key=lambda found: found[0])
    return best[1]


def _single_loop(edges: Sequence[tuple[int, int]], part: Sequence[int]) -> list[tuple[int, bool]]:
    """The way round when every meeting point joins just two edges."""
    at: dict[int, list[int]] = defaultdict(list)
    for i in part:
        for n in edges[i]:
            at[n].append(i)
    walk, i, node = [], part[0], edges[part[0]][0]
    for _ in part:
        ahead = edges[i][0] == node
        walk.append((i, ahead))
        node = edges[i][1 if ahead else 0]
        i = next((j for j in at[node] if j != i), i)
    return walk


def _bearing(points: Sequence[Point]) -> float:
    """Direction in which a line sets off, taken a millimetre out so that drawing noise does not matter."""
    start = points[0]
    for p in points[1:]:
        if abs(p - start) >= 1.0:
            return cmath.phase(p - start)
    return cmath.phase(points[-1] - start)
