"""Edges moved and redrawn: ends that go elsewhere, joints that are faired, corners that slide, partners made even."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from toilewright.errors import AlterationError
from toilewright.geometry.affine import Affine
from toilewright.geometry.fairing import hermite
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, cross, turn, unit
from toilewright.pattern.piece import Piece
from toilewright.tolerance import JOINT

REACH = 70.0
"""mm of a curved edge on both sides of the cut that is redrawn across the step (a French curve's length)."""

STAY = Affine()
"""The map that leaves everything where it is."""

TOUCHES = 1.0
"""mm; an inner line that ends nearer than this to an edge was drawn up to it (a pen line and a little)."""

SMOOTH = 0.006
"""radians (a third of a degree); a joint that turns less than this is not faired."""


@dataclass(frozen=True, slots=True)
class Redrawn:
    """An edge with its new line, and the arc lengths (old, new) between which marks are spread evenly (mm)."""

    edge: str
    path: Path
    old: tuple[float, ...]
    new: tuple[float, ...]

    def at(self, s: float) -> float:
        """Where a mark goes that lay at arc length s."""
        k = next((i for i in range(1, len(self.old) - 1) if s <= self.old[i]), len(self.old) - 1)
        span = self.old[k] - self.old[k - 1]
        share = (s - self.old[k - 1]) / span if span > JOINT else 0.0
        return self.new[k - 1] + share * (self.new[k] - self.new[k - 1])


def redraw_edge(piece: Piece, *redrawn: Redrawn, landmarks: Mapping[str, Point] | None = None) -> Piece:
    """The piece with some edges exchanged; their marks go along. Neighbours that share a corner must come together."""
    by_name = {r.edge: r for r in redrawn}
    moved = landmarks or {}
    edges = [replace(e, path=by_name[e.name].path) if e.name in by_name else e for e in piece.edges]
    for i, edge in enumerate(edges):  # one corner, one point
        start = edges[i - 1].path.end
        if edge.path.start != start and abs(edge.path.start - start) < 1e-3:
            edges[i] = replace(edge, path=edge.path.with_ends(start=start))
    return replace(
        piece, edges=tuple(edges),
        darts=tuple(replace(d, start=by_name[d.edge].at(d.start), end=by_name[d.edge].at(d.end))
                    if d.edge in by_name else d for d in piece.darts),
        notches=tuple(replace(n, at=by_name[n.edge].at(n.at)) if n.edge in by_name else n for n in piece.notches),
        landmarks=tuple(replace(m, at=moved[m.name]) if m.name in moved else m for m in piece.landmarks))


# -- neighbours and corners -------------------------------------------------------------------------


def ends_at(piece: Piece, edge: str, other: str) -> bool:
    """Does the edge end (True) or start (False) where the other one begins?

    Raises:
        AlterationError: they do not meet.
    """
    names = [e.name for e in piece.edges]
    piece.edge(edge), piece.edge(other)
    i = names.index(edge)
    if names[(i + 1) % len(names)] == other:
        return True
    if names[i - 1] == other:
        return False
    raise AlterationError(f'This needs "{edge}" and "{other}" of "{piece.name}" to meet in a corner, but they do not; '
                          "look at the names of the edges in the labels file.")


def other_end(piece: Piece, edge: str, one: str) -> str:
    """The neighbour of an edge that is not that one."""
    names = [e.name for e in piece.edges]
    i = names.index(edge)
    return next(n for n in (names[i - 1], names[(i + 1) % len(names)]) if n != one)


def corner(piece: Piece, edge: str, other: str) -> Point:
    """The point where two edges meet."""
    path = piece.edge(edge).path
    return path.end if ends_at(piece, edge, other) else path.start


def towards(piece: Piece, edge: str, other: str) -> Path:
    """An edge's line, walked so that it ends at its corner with the other edge."""
    path = piece.edge(edge).path
    return path if ends_at(piece, edge, other) else path.reversed()


# -- lines that go elsewhere ------------------------------------------------------------------------


def bend(path: Path, first: Affine, last: Affine) -> Path:
    """The path carried by `first` at its start and by `last` at its end, and by what lies between in between.

    Every joint is carried together with its handles, so smooth joints stay smooth.
    """
    total = path.length
    maps = [_between(first, last, s / total) for s in path.lengths]
    nodes = tuple(m(p) for m, p in zip(maps, path.nodes, strict=True))
    handles = tuple(h and (maps[i](h[0]), maps[i + 1](h[1])) for i, h in enumerate(path.handles))
    return Path(nodes, handles)


def _between(a: Affine, b: Affine, u: float) -> Affine:
    return Affine(a.p + (b.p - a.p) * u, a.q + (b.q - a.q) * u, a.r + (b.r - a.r) * u)


def shift_end(piece: Piece, edge: str, other: str, move: Affine, reach: float | None = None) -> Redrawn:
    """An edge whose corner with another one moves; the shift tapers to nothing at its nearest dart, or within `reach`.

    Args:
        move: carries the corner and the direction of the edge there.
        reach: mm from the corner; None for as far as there is no dart.
    """
    path = piece.edge(edge).path
    at_end = ends_at(piece, edge, other)
    length = path.length
    free = min((length - d.end if at_end else d.start for d in piece.darts if d.edge == edge), default=length)
    stretch = free if reach is None else min(free, reach)
    keep = length - stretch
    if at_end:
        head, tail = (None, path) if keep <= JOINT else path.split(keep)
        fresh = bend(tail, STAY, move)
        whole = fresh if head is None else Path.joined([head, fresh])
        return Redrawn(edge, whole, (0.0, keep, length), (0.0, keep, keep + fresh.length))
    tail, head = (path, None) if keep <= JOINT else path.split(stretch)
    fresh = bend(tail, move, STAY)
    whole = fresh if head is None else Path.joined([fresh, head])
    return Redrawn(edge, whole, (0.0, stretch, length), (0.0, fresh.length, fresh.length + keep))


def run_on(piece: Piece, edge: str, other: str, by: float) -> Redrawn:
    """An edge run on straight by `by` mm at its corner with another one, or cut short when negative."""
    path = towards(piece, edge, other)
    length = path.length
    fresh = (Path.joined((path, Path.line(path.end, path.end + path.end_tangent * by))) if by > 0
             else path.split(length + by)[0])
    kept = min(length, length + by)
    if ends_at(piece, edge, other):
        return Redrawn(edge, fresh, (0.0, kept, max(length, kept + JOINT)), (0.0, kept, fresh.length))
    lost, gained = length - kept, fresh.length - kept
    return Redrawn(edge, fresh.reversed(), (0.0, max(lost, JOINT), length), (0.0, gained, fresh.length))


def slide_corner(piece: Piece, edge: str, other: str, by: float) -> Piece:
    """The corner of two edges pushed along the first one, so that it grows by `by` mm (or shrinks); the other follows.

    Meant for the last tenths of a millimetre that make partners even.
    """
    if abs(by) < 1e-7:
        return piece
    along = towards(piece, edge, other).end_tangent
    move = Affine.shift(along * by)
    reach = max(60.0, 3 * abs(by))
    first, second = shift_end(piece, edge, other, move, reach), shift_end(piece, other, edge, move)
    here = corner(piece, edge, other)
    marks = {m.name: m.at + along * by for m in piece.landmarks if abs(m.at - here) < 1e-3}
    return redraw_edge(piece, first, second, landmarks=marks)


def match_length(piece: Piece, edge: str, other: str, sewn: float) -> Piece:
    """Make an edge `sewn` mm long, darts closed, by sliding its corner with the other edge."""
    for _ in range(3):
        miss = sewn - piece.sewn_length(edge)
        if abs(miss) < 1e-6:
            break
        piece = slide_corner(piece, edge, other, miss)
    return piece


def reline(before: Piece, after: Piece, *edges: str) -> Piece:
    """Straight inner lines that reached one of these edges reach it again, at its new place."""
    lines = []
    for old, new in zip(before.lines, after.lines, strict=True):
        a, b = new.path.start, new.path.end
        if len(new.path.nodes) == 2 and a != b:
            for edge in edges:
                first = _reach(before, after, edge, old.path, a, b)
                a, b = first, _reach(before, after, edge, old.path.reversed(), b, a)
        kept = (a, b) == (new.path.start, new.path.end)
        lines.append(new if kept else replace(new, path=Path.line(a, b)))
    return replace(after, lines=tuple(lines))


def _reach(before: Piece, after: Piece, edge: str, old: Path, end: Point, other: Point) -> Point:
    """Where the line's end lies on the edge, if it did so before; else where it is."""
    path, was = after.edge(edge).path, before.edge(edge).path
    if path is was or not _near(was, old.start):
        return end
    along = unit(end - other)
    if not line_meetings(was, old.start - along * TOUCHES, old.start + along * TOUCHES):
        return end
    now = line_meetings(path, end - along * 60.0, end + along * 60.0)
    return min((m.point for m in now), key=lambda p: abs(p - end), default=end)


def _near(path: Path, at: Point) -> bool:
    """Can a point touch the path: does it lie within one of the boxes round its curves?"""
    x, y = at.real, at.imag
    return any(x0 - TOUCHES <= x <= x1 + TOUCHES and y0 - TOUCHES <= y <= y1 + TOUCHES for x0, y0, x1, y1 in path.hulls)


# -- across a cut ----------------------------------------------------------------------------------


def free_stretch(piece: Piece, edge: str, at: float) -> tuple[float, float]:
    """The stretch of an edge around a place that holds no dart."""
    low, high = 0.0, piece.edge(edge).path.length
    for d in piece.darts_on(edge):
        if d.end <= at + 1e-6:
            low = max(low, d.end)
        elif d.start >= at - 1e-6:
            high = min(high, d.start)
    return low, high


def redraw_across(piece: Piece, edge: str, start: float, end: float) -> Redrawn:
    """An edge redrawn across the step that a cut made in it: straight where it was straight, else one smooth curve.

    Args:
        start, end: arc lengths of both sides of the cut on the edge as it is now (mm).
    """
    path = piece.edge(edge).path
    low, high = free_stretch(piece, edge, (start + end) / 2)
    lines = path.lengths
    lead = _straight_run(path, start, [s for s in reversed(lines) if low - 1e-6 <= s < min(start, end) - 1e-3] or [low])
    tail = _straight_run(path, end, [s for s in lines if max(start, end) + 1e-3 < s <= high + 1e-6] or [high])
    before, after = start - lead.length, end + tail.length
    if straight(lead) and straight(tail):
        fresh = Path.line(lead.start, tail.end)
    else:
        before, after = max(low, start - REACH), min(high, end + REACH)
        lead, tail = path.sub(before, start), path.sub(end, after)
        fresh = hermite(lead.start, lead.start_tangent, tail.end, tail.end_tangent)
    head = path.sub(0.0, before) if before > 1e-6 else None
    rest = path.sub(after, path.length) if after < path.length - 1e-6 else None
    whole = [p for p in (head, fresh, rest) if p is not None]
    a, b = before, before + fresh.length
    near, far = a + lead.length, b - tail.length
    lap = max(0.0, near - far) / 2  # half of a lap is lost on both sides of the cut; marks in it meet in its middle
    return Redrawn(edge, Path.joined(whole), (0.0, before, start - lap, end + lap, after, path.length),
                   (0.0, a, near - lap, far + lap, b, b + path.length - after))


def _straight_run(path: Path, at: float, joints: Sequence[float]) -> Path:
    """The line from a place to the first of some joints, and on to the next ones for as long as it runs straight."""
    run = path.sub(min(at, joints[0]), max(at, joints[0]))
    for joint in joints[1:]:
        longer = path.sub(min(at, joint), max(at, joint))
        if not straight(longer):
            break
        run = longer
    return run


# -- fairing ----------------------------------------------------------------------------------------


def soften(piece: Piece, edge: str, at: float, reach: float = 30.0) -> Piece:
    """Fair the joint of an edge at arc length `at` over `reach` mm on both sides; its length stays what it was."""
    path = piece.edge(edge).path
    marks = [s for d in piece.darts if d.edge == edge for s in (d.start, d.end)]
    low_end = max([s for s in marks if s <= at], default=0.0)
    high_end = min([s for s in marks if s > at], default=path.length)
    low, high = max(at - reach, low_end + 0.1 * (at - low_end)), min(at + reach, high_end - 0.1 * (high_end - at))
    fresh = fair_joint(path, at, low, high)
    if fresh is path:
        return piece
    return replace(piece, edges=tuple(replace(e, path=fresh) if e.name == edge else e for e in piece.edges))


def fair_joint(path: Path, at: float, low: float, high: float) -> Path:
    """The path with its stretch from low to high as one curve of the same length and the same end directions."""
    if abs(turn(path.tangent_at(at - 0.01), path.tangent_at(at + 0.01))) < SMOOTH:
        return path
    parts = path.cut_at((low, high))
    start, end = parts[0].end, parts[-1].start
    t0, t1 = parts[0].end_tangent, parts[-1].start_tangent
    middle = curve_of_length(start, t0, end, t1, high - low)
    return Path.joined([parts[0], middle, parts[-1]])


def curve_of_length(start: Point, along_start: Point, end: Point, along_end: Point, length: float) -> Path:
    """One curve between two points with given directions, as long as asked (mm) if its fullness allows."""
    x0, x1 = 0.33, 0.36
    first = hermite(start, along_start, end, along_end, x0)
    y0 = first.length - length
    found = first
    for _ in range(8):
        found = hermite(start, along_start, end, along_end, x1)
        y1 = found.length - length
        if abs(y1) < 1e-7 or y1 == y0:
            break
        x0, x1, y0 = x1, min(max(x1 - y1 * (x1 - x0) / (y1 - y0), 0.08), 0.8), y1
    return found


def straight(path: Path, within: float = 0.05) -> bool:
    """Is it one straight line (within mm)?"""
    chord = path.end - path.start
    if abs(chord) < JOINT:
        return False
    along = unit(chord)
    points = [*path.nodes, *(h for pair in path.handles if pair for h in pair)]
    return all(abs(cross(along, p - path.start)) < within for p in points)


def sums(parts: Sequence[Path]) -> tuple[float, ...]:
    """Arc lengths at the ends of parts laid end to end, 0 first (mm)."""
    out = [0.0]
    for part in parts:
        out.append(out[-1] + part.length)
    return tuple(out)
