"""From the pieces of a garment to what lies on the cloth: cutting lines, their grain along the selvedge."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import radians, sin

from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.lay.plan import CutPiece, Mark
from toilewright.errors import GeometryError
from toilewright.geometry.point import Point, cross, dot, parallel, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece
from toilewright.tolerance import FLATTEN, JOINT

OFF_GRAIN = 0.5
"""degrees; a fold edge that leaves the grain by more than this cannot lie on a fold along the cloth, so the piece is
opened out (common practice, no published source)."""

EVEN = 0.05
"""mm; a piece whose mirror image leaves it by less than this is the same on both hands (a pen line is 0.3 mm)."""

BENT = 0.3
"""mm; a fold edge may be bent by so much (a pen line) and still be laid on a fold."""

LEVEL = 3.0
"""mm; a hem that leaves a straight line by no more than this may lie along a border (common practice, no published
source)."""

OFF_HEM = 3.0
"""degrees between such a hem and the line square to the grain (our own bound)."""

HAIR = 5.0
"""mm^2; a cutting line that crosses itself by less than this has a hair at a corner, which is trimmed."""

_SAME = 0.01  # mm; two corners of a flattened line nearer than this are one (where allowances meet, hairs remain)


def cut_pieces(garment: Garment, make: str = "") -> tuple[CutPiece, ...]:
    """Every piece of a garment as it is cut, in the garment's order.

    Args:
        make: whose it is, where several makes share a lay.

    Raises:
        GeometryError: a cutting line that cannot be drawn, or a fold edge that is no straight line.
    """
    return tuple(cut_piece(piece, make) for piece in garment.pieces)


def cut_piece(piece: Piece, make: str = "") -> CutPiece:
    """One piece as it is cut: its grain along +x, its lower left corner at the origin, a fold edge on the x axis.

    Raises:
        GeometryError: its cutting line cannot be drawn, or its fold edge is no straight line.
    """
    folds = [i for i, e in enumerate(piece.edges) if e.kind is EdgeKind.FOLD]
    paths = [p.flatten(FLATTEN) for p in cutting_line(piece)]
    marks = _marks(piece)
    way, notes = _grain_of(piece, [piece.edges[i].path.end - piece.edges[i].path.start for i in folds])
    turned = way.conjugate()
    lines = [tuple(p * turned for p in path) for path in paths]
    marks = tuple(replace(m, at=m.at * turned) for m in marks)
    cut = CutPiece(piece.name, (), piece.cut.cloth, make, False, piece.cut.count, piece.cut.mirrored,
                   piece.grain is not None or bool(folds), marks, hem=_straight_hem(piece, way), notes=notes)
    if not folds:
        return _settled(replace(cut, outline=_ring(lines, piece.name)))
    return _folded(cut, lines, folds[0])


def opened(piece: CutPiece) -> CutPiece:
    """A piece on the fold opened out to the whole of it; any other piece as it is."""
    if not piece.on_fold:
        return piece
    ends = sorted((p for p in piece.outline if p.imag == 0.0), key=lambda p: p.real)
    left, right = ends[0], ends[-1]
    start = piece.outline.index(right) + 1
    above = [p for p in piece.outline[start:] + piece.outline[:start] if p.imag > 0.0]
    up = 1j * max(p.imag for p in above)
    whole = (left, *(p.conjugate() for p in reversed(above)), right, *above)
    marks = piece.marks + tuple(replace(m, at=m.at.conjugate()) for m in piece.marks if m.at.imag > FLATTEN)
    return replace(piece, outline=tuple(p + up for p in whole), on_fold=False, even=True,
                   marks=tuple(replace(m, at=m.at + up) for m in marks))


def other_hand(piece: CutPiece) -> CutPiece:
    """The mirror image of a piece, its grain still along +x."""
    return _settled(replace(piece, outline=tuple(p.conjugate() for p in reversed(piece.outline)),
                            marks=tuple(replace(m, at=m.at.conjugate()) for m in piece.marks)))


def area_of(outline: tuple[Point, ...]) -> float:
    """Signed area (mm^2), positive counter-clockwise."""
    first = outline[0]
    return sum(cross(a - first, b - first) for a, b in pairwise((*outline, first))) / 2


def whole_area(piece: CutPiece) -> float:
    """Cloth in one whole piece (mm^2): of a piece on the fold, both halves."""
    return abs(area_of(piece.outline)) * (2 if piece.on_fold else 1)


# -- grain ------------------------------------------------------------------------------------------


def _grain_of(piece: Piece, folds: list[Point]) -> tuple[Point, tuple[str, ...]]:
    """The direction that lies along the selvedge, its head first, and what is to be said about it."""
    if piece.grain is not None and abs(piece.grain.end - piece.grain.start) > JOINT:
        way = unit(piece.grain.end - piece.grain.start)
        for fold in folds:
            if parallel(way, fold, sin(radians(OFF_GRAIN))):  # the fold itself is the better grain line
                return unit(fold if dot(fold, way) > 0 else -fold), ()
        return way, ()
    if folds:
        up = folds[0] if (folds[0].imag, folds[0].real) > (0.0, 0.0) else -folds[0]
        return unit(up), ()
    return 1j, (f'"{piece.name}" does not say how its grain runs; it lies as it is drawn, its upper end towards the '
                "end of the cloth.",)


def _straight_hem(piece: Piece, way: Point) -> str:
    """The one straight hem that runs across the grain, or nothing."""
    found = []
    for edge in piece.edges:
        chord = edge.path.end - edge.path.start
        straight = abs(chord) > JOINT and all(abs(cross(p - edge.path.start, unit(chord))) <= LEVEL
                                              for p in edge.path.flatten(FLATTEN))
        if edge.kind is EdgeKind.HEM and straight and abs(dot(unit(chord), way)) < sin(radians(OFF_HEM)):
            found.append(edge.name)
    return found[0] if len(found) == 1 else ""


# -- outlines ---------------------------------------------------------------------------------------


def _ring(lines: list[tuple[Point, ...]], name: str) -> tuple[Point, ...]:
    """Lines end to end as one ring without double corners or hairs, counter-clockwise."""
    ring: list[Point] = []
    for p in (p for line in lines for p in line[:-1]):
        if not ring or abs(p - ring[-1]) > _SAME:
            ring.append(p)
        elif p.imag == 0.0:  # the end of a fold edge stays
            ring[-1] = p
    while len(ring) > 1 and abs(ring[0] - ring[-1]) <= _SAME:
        ring.pop(0 if ring[-1].imag == 0.0 else -1)
    points = _simple(tuple(ring), name)
    return points if area_of(points) > 0 else points[::-1]


def _simple(ring: tuple[Point, ...], name: str) -> tuple[Point, ...]:
    """The ring without the hairs at which it crosses itself.

    Raises:
        GeometryError: it crosses itself by more than a hair.
    """
    from shapely.geometry import MultiPolygon, Polygon

    if len(ring) >= 3:
        shape = Polygon([(p.real, p.imag) for p in ring])
        if shape.is_valid and shape.area > 1.0:
            return ring
        whole = shape.buffer(0)
        largest = max(whole.geoms, key=lambda g: g.area) if isinstance(whole, MultiPolygon) else whole
        if largest.area > 1.0 and abs(largest.area - abs(area_of(ring))) < HAIR and not largest.interiors:
            return tuple(complex(x, y) for x, y in largest.exterior.coords[:-1])
    raise GeometryError(f'The cutting line of "{name}" crosses itself or holds no cloth, so it cannot be laid; look at '
                        "the piece and at its allowances.")


def _settled(piece: CutPiece) -> CutPiece:
    """Its lower left corner at the origin; told whether it is even."""
    by = complex(min(p.real for p in piece.outline), min(p.imag for p in piece.outline))
    outline = tuple(p - by for p in piece.outline)
    return replace(piece, outline=outline, marks=tuple(replace(m, at=m.at - by) for m in piece.marks),
                   even=_even(outline))


def _folded(cut: CutPiece, lines: list[tuple[Point, ...]], at: int) -> CutPiece:
    """The half above the x axis, its fold edge exactly on it; opened out where the fold is not along the grain."""
    fold = lines[at]
    start, end = fold[0], fold[-1]
    way = unit(end - start)
    if max(abs(cross(p - start, way)) for p in fold) > BENT:
        raise GeometryError(f'The fold edge of "{cut.name}" is not straight, so it cannot lie on a fold; straighten it '
                            "on the pattern, or have the piece drawn whole.")
    if not parallel(way, 1 + 0j, sin(radians(OFF_GRAIN))):
        return _opened_across(cut, lines, at, way)
    turned = way.conjugate() if way.real > 0 else -way.conjugate()  # grain and fold agree but for a hair
    y = ((start + end) / 2 * turned).imag

    def settle(p: Point) -> Point:
        q = p * turned - 1j * y
        return q if way.real > 0 else q.conjugate()

    settled = [tuple(settle(p) for p in line) for line in lines]
    if min(p.imag for line in settled for p in line) < -BENT:
        raise GeometryError(f'"{cut.name}" runs out beyond its fold edge, so it cannot lie on a fold; have the piece '
                            "drawn whole.")
    settled[at] = tuple(complex(p.real, 0.0) for p in settled[at])
    ring = _ring([tuple(complex(p.real, p.imag if p.imag > _SAME else 0.0) for p in line) for line in
                  _joined_at(settled, at)], cut.name)
    left = min(p.real for p in ring)
    return replace(cut, outline=_without_middle_of_fold(tuple(p - left for p in ring)), on_fold=True, even=True,
                   marks=tuple(replace(m, at=settle(m.at) - left) for m in cut.marks))


def _joined_at(lines: list[tuple[Point, ...]], at: int) -> list[tuple[Point, ...]]:
    """The neighbours of the fold edge brought to its ends."""
    n, out = len(lines), list(lines)
    before, after = (at - 1) % n, (at + 1) % n
    out[before] = (*out[before][:-1], out[at][0])
    out[after] = (out[at][-1], *out[after][1:])
    return out


def _without_middle_of_fold(ring: tuple[Point, ...]) -> tuple[Point, ...]:
    """Corners between the ends of the fold edge say nothing."""
    ends = {min(p.real for p in ring if p.imag == 0.0), max(p.real for p in ring if p.imag == 0.0)}
    return tuple(p for p in ring if p.imag > 0.0 or p.real in ends)


def _opened_across(cut: CutPiece, lines: list[tuple[Point, ...]], at: int, way: Point) -> CutPiece:
    """The whole piece, where its fold edge does not run with the grain."""
    start = lines[at][0]
    half = [p for k in range(1, len(lines)) for p in lines[(at + k) % len(lines)][:-1]] + [start]

    def image(p: Point) -> Point:
        return start + way * ((p - start) * way.conjugate()).conjugate()

    whole = [*half, *(image(p) for p in reversed(half[1:-1]))]
    note = (f'The fold edge of "{cut.name}" does not run with its grain, so it is opened out and cut whole.',)
    marks = cut.marks + tuple(replace(m, at=image(m.at)) for m in cut.marks)
    return _settled(replace(cut, outline=_ring([(*whole, whole[0])], cut.name), marks=marks, notes=cut.notes + note))


def _marks(piece: Piece) -> tuple[Mark, ...]:
    """Balance marks by name (with their edge's where a name comes twice), and both ends of every edge."""
    names = [n.name for n in piece.notches]
    notches = [Mark(n.name if names.count(n.name) == 1 else f"{n.edge}: {n.name}",
                    piece.edge(n.edge).path.point_at(n.at), n.edge, n.count) for n in piece.notches]
    ends = [mark for e in piece.edges for mark in (Mark(f"{e.name} start", e.path.start, e.name),
                                                   Mark(f"{e.name} end", e.path.end, e.name))]
    return (*notches, *ends)


def _even(outline: tuple[Point, ...]) -> bool:
    """Is it its own mirror image in the line along the grain through its middle?"""
    top = max(p.imag for p in outline)
    low = min(p.imag for p in outline)
    return all(_away(complex(p.real, top + low - p.imag), outline) <= EVEN for p in outline)


def _away(p: Point, outline: tuple[Point, ...]) -> float:
    """Distance of a point from an outline (mm)."""
    return min(_from_edge(p, a, b) for a, b in pairwise((*outline, outline[0])))


def _from_edge(p: Point, a: Point, b: Point) -> float:
    along = b - a
    size = dot(along, along)
    t = min(max(dot(p - a, along) / size, 0.0), 1.0) if size else 0.0
    return abs(p - a - along * t)
