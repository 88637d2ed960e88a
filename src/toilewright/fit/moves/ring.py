"""The ring cut into regions, each carried by a rigid move and joined up again: what every cut with scissors is.

A region is a stretch of the ring together with the corners of the cut inside the piece. Where two neighbouring
stretches no longer meet, a straight line bridges the gap on the edge it opened on; where they still meet (a hinge),
they share their point exactly.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from toilewright.errors import AlterationError
from toilewright.geometry.affine import Affine
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.parts import Edge, Grain
from toilewright.pattern.piece import Piece
from toilewright.tolerance import JOINT

_COARSE = 1.0
"""mm; how near a polygon follows the ring when it is asked on which side of a cut a point lies."""

ON_CORNER = 1e-3
"""mm; a landmark that lies nearer than this to a corner of the ring goes where the corner goes."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place on the ring: an edge, and the arc length from its start (mm)."""

    edge: str
    at: float


@dataclass(frozen=True, slots=True)
class Region:
    """A stretch of the ring, counter-clockwise from start to end, and how it moves.

    Attributes:
        within: corners of the cut inside the piece, from the end of the stretch back to its start.
        move: rigid and orientation-keeping; None when it stays where it is.
    """

    start: Place
    end: Place
    within: tuple[Point, ...] = ()
    move: Affine | None = None


@dataclass(frozen=True, slots=True)
class _Part:
    edge: str
    low: float
    high: float
    region: int
    path: Path


@dataclass(frozen=True, slots=True)
class Carried:
    """A piece after its regions were moved.

    Attributes:
        spots: for each edge, its kept parts as (old start, old end, new start) arc lengths (mm).
        regions: what was moved, and how.
    """

    piece: Piece
    spots: Mapping[str, tuple[tuple[float, float, float], ...]]
    regions: tuple[Region, ...] = ()

    def at(self, edge: str, old: float, after: bool = False) -> float:
        """New arc length of an old place; at a gap, its near end, or its far end if `after`."""
        return _spot(self.spots.get(edge, ()), old, after)


def point_of(piece: Piece, place: Place) -> Point:
    """Where a place lies."""
    return piece.edge(place.edge).path.point_at(place.at)


def crossing(piece: Piece, edge: str, through: Point, along: Point) -> Place | None:
    """Where the straight line through a point crosses an edge: the crossing nearest to that point, or None."""
    far = along / abs(along) * 3000.0
    hits = line_meetings(piece.edge(edge).path, through - far, through + far)
    if not hits:
        return None
    return Place(edge, min(hits, key=lambda m: abs(m.point - through)).on_first)


def carry(piece: Piece, regions: Sequence[Region], closed: Sequence[str] = (),
          apexes: Mapping[str, Point] | None = None) -> Carried:
    """Move every region and join the ring again.

    Args:
        regions: in ring order; what lies between the end of one and the start of the next is left out (the mouth of
            a dart that closes).
        closed: darts that are gone afterwards.
        apexes: where dart points go that lie on a cut.
    """
    parts = _parts(piece, regions)
    edges, spots = [], {}
    for edge in piece.edges:
        mine = sorted((p for p in parts if p.edge == edge.name), key=lambda p: p.low)
        path, spots[edge.name] = _rejoined(edge.path, mine, regions)
        edges.append(edge if path is edge.path else replace(edge, path=path))
    find = _Finder(piece, parts, regions)
    put = apexes or {}
    return Carried(replace(
        piece, edges=tuple(edges),
        darts=tuple(replace(d, start=_spot(spots[d.edge], d.start, False), end=_spot(spots[d.edge], d.end, True),
                            apex=put[d.name] if d.name in put else find.moved(d.apex))
                    for d in piece.darts if d.name not in closed),
        notches=tuple(replace(n, at=_spot(spots[n.edge], n.at, False)) for n in piece.notches),
        grain=piece.grain and find.grain(piece.grain),
        landmarks=tuple(replace(m, at=_with_corner(m.at, piece.edges, edges, find)) for m in piece.landmarks),
        lines=tuple(replace(m, path=find.line(m.path)) for m in piece.lines)), spots, tuple(regions))


def _with_corner(at: Point, old: Sequence[Edge], new: Sequence[Edge], find: _Finder) -> Point:
    """Where a landmark goes: where its corner goes, else with its region."""
    corners = (b.path.start for a, b in zip(old, new, strict=True) if abs(a.path.start - at) < ON_CORNER)
    return next(corners, find.moved(at))


def cut_out(piece: Piece, region: Region, fineness: float = 0.2) -> tuple[Point, ...]:
    """Corners of a region as it lies on the piece, curves followed within `fineness` mm."""
    points = [p for part in _parts(piece, (region,)) for p in part.path.flatten(fineness)]
    return (*points, *region.within)


def _parts(piece: Piece, regions: Sequence[Region]) -> list[_Part]:
    names = [e.name for e in piece.edges]
    found: list[_Part] = []
    for k, region in enumerate(regions):
        i, j = names.index(region.start.edge), names.index(region.end.edge)
        if i == j and region.start.at <= region.end.at:
            found.append(_part(piece, i, region.start.at, region.end.at, k))
            continue
        found.append(_part(piece, i, region.start.at, None, k))
        m = (i + 1) % len(names)
        while m != j:
            found.append(_part(piece, m, 0.0, None, k))
            m = (m + 1) % len(names)
        found.append(_part(piece, j, 0.0, region.end.at, k))
    return found


def _part(piece: Piece, i: int, low: float, high: float | None, region: int) -> _Part:
    path = piece.edges[i].path
    top = path.length if high is None else high
    return _Part(piece.edges[i].name, low, top, region, path if low <= JOINT and high is None else path.sub(low, top))


def _rejoined(path: Path, parts: Sequence[_Part], regions: Sequence[Region],
              ) -> tuple[Path, tuple[tuple[float, float, float], ...]]:
    """New path of one edge, and where its parts lie on it."""
    moves = [regions[p.region].move for p in parts]
    if len(parts) == 1 and parts[0].path is path and moves[0] is None:
        return path, ((0.0, path.length, 0.0),)
    run: list[Path] = []
    spots, length = [], 0.0
    for part, move in zip(parts, moves, strict=True):
        piece = part.path if move is None else part.path.mapped(move)
        if run:
            gap = abs(piece.start - run[-1].end)
            if gap > 1e-4:
                run.append(Path.line(run[-1].end, piece.start))
                length += gap
            else:
                piece = piece.with_ends(start=run[-1].end)
        spots.append((part.low, part.high, length))
        run.append(piece)
        length += part.high - part.low
    return Path.joined(run), tuple(spots)


def _spot(spots: Sequence[tuple[float, float, float]], old: float, after: bool) -> float:
    eps = 1e-6
    for low, high, start in reversed(spots) if after else spots:
        if low - eps <= old <= high + eps:
            return start + old - low
    before = [s for s in spots if s[1] < old]  # on a stretch that is gone: the near end of the gap
    if not before:
        raise AlterationError("A mark of the piece lies on the stretch that is cut away; move the mark first.")
    low, high, start = before[-1]
    return start + high - low


class _Finder:
    """Which region an inner point belongs to; the polygons are made when first asked for."""

    def __init__(self, piece: Piece, parts: Sequence[_Part], regions: Sequence[Region]) -> None:
        self._regions = regions
        self._polygons: list[list[Point]] = [[] for _ in regions]
        for part in parts:
            self._polygons[part.region].extend(part.path.flatten(_COARSE))
        for polygon, region in zip(self._polygons, regions, strict=True):
            polygon.extend(region.within)
        corners = [e.path.start for e in piece.edges]
        self._middle = sum(corners) / len(corners)

    def move(self, p: Point) -> Affine | None:
        inner = p + (self._middle - p) * 0.004  # points on the outline are looked up a hair inside
        for polygon, region in zip(self._polygons, self._regions, strict=True):
            if _inside(polygon, inner):
                return region.move
        return None

    def moved(self, p: Point) -> Point:
        move = self.move(p)
        return p if move is None else move(p)

    def grain(self, grain: Grain) -> Grain:
        """The arrow moves as one, stays where it is as long as one end of it does, and is never turned."""
        moves = self.move(grain.start), self.move(grain.end)
        if moves[0] is None or moves[1] is None:
            return grain
        middle = (grain.start + grain.end) / 2
        by = moves[0](middle) - middle
        return Grain(grain.start + by, grain.end + by)

    def line(self, path: Path) -> Path:
        nodes = tuple(self.moved(p) for p in path.nodes)
        if nodes == path.nodes:
            return path
        return Path(nodes, tuple(h and (self.moved(h[0]), self.moved(h[1])) for h in path.handles))


def _inside(polygon: Sequence[Point], p: Point) -> bool:
    inside = False
    x, y = p.real, p.imag
    a = polygon[-1]
    for b in polygon:
        if (a.imag > y) != (b.imag > y) and x < a.real + (y - a.imag) * (b.real - a.real) / (b.imag - a.imag):
            inside = not inside
        a = b
    return inside
