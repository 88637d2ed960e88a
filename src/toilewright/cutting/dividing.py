"""A piece divided by a straight seam, because the cloth is too narrow or too short for it.

Common practice, no published source: the line is drawn on the pattern, the pattern cut along it, and an allowance added
to both sides; the join is sewn first, and the piece then treated as one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

from toilewright.errors import GeometryError
from toilewright.geometry.meeting import meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot
from toilewright.pattern.garment import EdgeRef, Seam
from toilewright.pattern.parts import Dart, Edge, EdgeKind, Grain, InnerLine, Notch
from toilewright.pattern.piece import Piece
from toilewright.tolerance import JOINT

SLIM = 20.0
"""mm; a part narrower than this between its seam lines is a slip of the pen (our own bound)."""

MARK_AT = 0.4
"""Share of a join at which its balance mark lies: away from the middle, so that no part can be turned end for end
(common practice, no published source)."""

SNAP = 0.5
"""mm; a seam that would meet an edge so near to its end goes through the corner."""

_AT_JOIN = 3.0  # mm; a balance mark so near to the join is told by the join itself


@dataclass(frozen=True, slots=True)
class Stretch:
    """What became of an edge, or of a part of it.

    Attributes:
        piece: the part on which it lies, under the same name of the edge.
        edge: of the whole piece.
        start, end: arc lengths on that edge (mm).
    """

    piece: str
    edge: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Division:
    """A piece in parts.

    Attributes:
        parts: in order across the piece.
        joins: for each seam between one part and the next, the name that its edge has on both.
        stretches: what became of the edges, in order along each.
    """

    parts: tuple[Piece, ...]
    joins: tuple[str, ...]
    stretches: tuple[Stretch, ...]


def grain_of(piece: Piece) -> Point:
    """Unit direction of its grain, from tail to head; of a piece without one, that of its fold, else upwards."""
    line = piece.grain and piece.grain.end - piece.grain.start
    if not line:
        fold = next((e.path for e in piece.edges if e.kind is EdgeKind.FOLD), None)
        line = 1j if fold is None else fold.end - fold.start
        line = line if (round(line.imag, 6), line.real) > (0.0, 0.0) else -line
    return line / abs(line)


def extent(piece: Piece, across: Point) -> tuple[float, float]:
    """Least and greatest place of its seam line in a direction (mm from the origin of the drawing)."""
    places = [dot(p, across) for p in piece.outline.flatten(0.05)]
    return min(places), max(places)


def divided(piece: Piece, way: Point, places: Iterable[float], names: tuple[str, ...], joins: tuple[str, ...],
            allowance: float) -> Division:
    """A piece in parts, by seams that all run in one direction.

    Args:
        way: unit direction of the seams.
        places: how far to the right of the origin each of them lies, seen along `way` (mm), from left to right.
        names: of the parts, from left to right.
        joins: names of the new edges.
        allowance: beyond each of them (mm).

    Raises:
        GeometryError: a seam that leaves the piece, runs through a dart, cuts it into more than two, or leaves next
            to nothing on one side.
    """
    whole = [Stretch(piece.name, e.name, 0.0, e.path.length) for e in piece.edges]
    parts: list[Piece] = []
    rest, left = piece, whole
    kept: list[Stretch] = []
    for place, name, follower, join in zip(places, names[:-1], names[1:], joins, strict=True):
        (one, on_one), (other, on_other) = _halves(rest, way, place, join, allowance, piece.name)
        start = {s.edge: s.start for s in left}
        kept += [Stretch(name, e, start[e] + a, start[e] + b) for e, (a, b) in on_one.items() if e in start]
        left = [Stretch(follower, e, start[e] + a, start[e] + b) for e, (a, b) in on_other.items() if e in start]
        parts.append(replace(one, name=name))
        rest = replace(other, name=follower)
    order = {e.name: k for k, e in enumerate(piece.edges)}
    stretches = sorted((*kept, *left), key=lambda s: (order[s.edge], s.start))
    return Division((*parts, rest), joins, tuple(stretches))


def resewn(seams: Iterable[Seam], piece: str, stretches: Iterable[Stretch]) -> tuple[Seam, ...]:
    """The seams with the parts of a piece in its place, in the order in which each seam passes them."""
    known: dict[str, list[Stretch]] = {}
    for one in stretches:
        known.setdefault(one.edge, []).append(one)
    return tuple(replace(s, a=_on_parts(s.a, piece, known), b=_on_parts(s.b, piece, known)) for s in seams)


def _on_parts(refs: tuple[EdgeRef, ...], piece: str, known: dict[str, list[Stretch]]) -> tuple[EdgeRef, ...]:
    return tuple(one for ref in refs for one in (_passed(ref, known[ref.edge]) if ref.piece == piece else (ref,)))


def _passed(ref: EdgeRef, stretches: list[Stretch]) -> tuple[EdgeRef, ...]:
    if len(stretches) == 1:
        return (replace(ref, piece=stretches[0].piece),)
    low, high = ref.part or (stretches[0].start, stretches[-1].end)
    found = []
    for s in reversed(stretches) if ref.reverse else stretches:
        a, b = max(s.start, low), min(s.end, high)
        if b - a > JOINT:
            part = None if (a, b) == (s.start, s.end) else (a - s.start, b - s.start)
            found.append(replace(ref, piece=s.piece, part=part, times=1))
    return tuple(found) * ref.times


# -- one seam ---------------------------------------------------------------------------------------

_Runs = dict[str, tuple[float, float]]
"""By edge, the stretch of it that a part has (mm)."""

_Place = tuple[int, float]
"""Number of an edge, and arc length on it."""


def _halves(piece: Piece, way: Point, place: float, join: str, allowance: float, called: str
            ) -> tuple[tuple[Piece, _Runs], tuple[Piece, _Runs]]:
    """The parts left and right of a seam, each with what it has of every edge."""
    across = way * -1j
    low, high = extent(piece, across)
    if not low + SLIM <= place <= high - SLIM:
        raise GeometryError(f'The seam would leave "{called}", or leave less than {SLIM / 10:g} cm of it on one side; '
                            "put it farther in.")
    one, other = _crossings(piece, way, place, called)
    first, last = (piece.edges[i].path.point_at(s) for i, s in (one, other))
    found = []
    for begin, end, p, q in ((one, other, first, last), (other, one, last, first)):
        edges, runs = _run(piece, begin, end, p, q, called)
        ring = (*edges, Edge(join, Path.line(q, p), EdgeKind.SEAM, allowance))
        most = max((dot(a, across) - place for e in edges for a in e.path.flatten(1.0)), key=abs)
        found.append((most > 0.0, _part(piece, ring, runs, across, place, most < 0.0, p == first), runs))
    found.sort(key=lambda row: row[0])
    return (found[0][1], found[0][2]), (found[1][1], found[1][2])


def _crossings(piece: Piece, way: Point, place: float, called: str) -> tuple[_Place, _Place]:
    """The two places at which the seam meets the ring, in the order of the ring."""
    low, high = extent(piece, way)
    through = way * -1j * place
    line = Path.line(through + way * (low - 10.0), through + way * (high + 10.0))
    n = len(piece.edges)
    found: dict[_Place, None] = {}
    for i, edge in enumerate(piece.edges):
        for m in meetings(edge.path, line):
            if m.on_first < SNAP:
                found[i, 0.0] = None
            elif m.on_first > edge.path.length - SNAP:
                found[(i + 1) % n, 0.0] = None
            else:
                found[i, m.on_first] = None
    if len(found) != 2:
        raise GeometryError(f'The seam would meet the edge of "{called}" in {len(found)} places, and so not divide it '
                            "into two; put it elsewhere.")
    first, last = sorted(found)
    return first, last


def _run(piece: Piece, begin: _Place, end: _Place, p: Point, q: Point, called: str) -> tuple[list[Edge], _Runs]:
    """The edges from one place on the ring to another, their ends exactly on p and q."""
    (i, s), (j, t) = begin, end
    n = len(piece.edges)
    stretches: list[tuple[Edge, float, float]] = []
    if i == j and s < t:
        stretches = [(piece.edges[i], s, t)]
    else:
        stretches = [(piece.edges[i], s, piece.edges[i].path.length)]
        k = (i + 1) % n
        while k != j:
            stretches.append((piece.edges[k], 0.0, piece.edges[k].path.length))
            k = (k + 1) % n
        if t > 0.0:
            stretches.append((piece.edges[j], 0.0, t))
    runs: _Runs = {}
    edges = []
    for edge, a, b in stretches:
        if edge.name in runs:
            raise GeometryError(f'The seam would meet "{edge.name}" of "{called}" twice and leave two ends of it on '
                                "one part; put it elsewhere.")
        runs[edge.name] = a, b
        whole = a == 0.0 and b == edge.path.length
        edges.append(edge if whole else replace(edge, path=edge.path.sub(a, b)))
    edges[0] = replace(edges[0], path=edges[0].path.with_ends(start=p))
    edges[-1] = replace(edges[-1], path=edges[-1].path.with_ends(end=q))
    return edges, runs


def _part(piece: Piece, ring: tuple[Edge, ...], runs: _Runs, across: Point, place: float, left: bool,
          back: bool) -> Piece:
    """One part with whatever lies on it; `back`: does its join run from the second crossing to the first?"""
    join = ring[-1]
    length = join.path.length
    mark = Notch(join.name, join.name, length * (1.0 - MARK_AT if back else MARK_AT))
    followers = {(a.name, b.name) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)}
    on_fold = any(e.kind is EdgeKind.FOLD for e in ring)
    cut = piece.cut
    if piece.on_fold and not on_fold:
        cut = replace(cut, count=2 * cut.count, mirrored=True)
    side = -1.0 if left else 1.0
    return Piece(
        piece.name, ring, _darts(piece, runs, across, place, side), (*_notches(piece, runs), mark),
        _grain(piece, ring, across, place, side),
        tuple(m for m in piece.landmarks if side * (dot(m.at, across) - place) >= (0.0 if left else 1e-9)),
        tuple(_lines(piece, across, place, side)), cut,
        tuple(c for c in piece.corners if (c.before, c.after) in followers))


def _notches(piece: Piece, runs: _Runs) -> list[Notch]:
    found = []
    for n in piece.notches:
        if n.edge not in runs:
            continue
        a, b = runs[n.edge]
        length = piece.edge(n.edge).path.length
        low, high = a + _AT_JOIN if a > 0.0 else -1.0, b - _AT_JOIN if b < length else length + 1.0
        if low <= n.at <= high:
            found.append(replace(n, at=n.at - a))
    return found


def _darts(piece: Piece, runs: _Runs, across: Point, place: float, side: float) -> tuple[Dart, ...]:
    found = []
    for d in piece.darts:
        feet = (*piece.feet(d), d.apex)
        sides = {dot(p, across) > place for p in feet}
        if len(sides) > 1:
            raise GeometryError(f'The seam would run through "{d.name}" of "{piece.name}"; put it beside the dart.')
        if d.edge in runs and (side > 0) in sides and runs[d.edge][0] <= d.start and d.end <= runs[d.edge][1]:
            a = runs[d.edge][0]
            found.append(replace(d, start=d.start - a, end=d.end - a))
    return tuple(found)


def _lines(piece: Piece, across: Point, place: float, side: float) -> Iterable[InnerLine]:
    """Inner lines cut off at the seam."""
    way = across * 1j
    low, high = extent(piece, way)
    seam = Path.line(across * place + way * (low - 1e3), across * place + way * (high + 1e3))
    for line in piece.lines:
        at = [m.on_first for m in meetings(line.path, seam)]
        stops = [0.0, *(s for s in at if 1.0 < s < line.path.length - 1.0), line.path.length]
        for a, b in pairwise(stops):
            if side * (dot(line.path.point_at((a + b) / 2), across) - place) > 0.0:
                yield InnerLine(line.name, line.path if b - a == line.path.length else line.path.sub(a, b))


def _grain(piece: Piece, ring: tuple[Edge, ...], across: Point, place: float, side: float) -> Grain | None:
    """The arrow where it lies, if it is clear of the seam; else one like it in the middle of the part."""
    old = piece.grain
    if old is None and not piece.on_fold:
        return None
    if old is not None and all(side * (dot(p, across) - place) > SLIM / 2 for p in (old.start, old.end)):
        return old
    import shapely

    way = grain_of(piece)
    body = shapely.Polygon([(p.real, p.imag) for p in Path.joined([e.path for e in ring]).flatten(0.5)]).buffer(0)
    middle = body.centroid if body.contains(body.centroid) else body.representative_point()
    at, far = complex(middle.x, middle.y), complex(*body.bounds[:2]) - complex(*body.bounds[2:])
    ends = (at - way * abs(far), at + way * abs(far))
    chords = shapely.intersection(body, shapely.LineString([(p.real, p.imag) for p in ends]))
    chord = min(shapely.get_parts(chords), key=lambda c: c.distance(middle))
    places = [dot(complex(*c), way) for c in chord.coords]
    long = min(0.6 * (max(places) - min(places)), abs(old.end - old.start) if old is not None else 300.0)
    centre = at + way * ((max(places) + min(places)) / 2 - dot(at, way))
    return Grain(centre - way * long / 2, centre + way * long / 2)
