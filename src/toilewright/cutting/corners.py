"""Which corner of a garment is cut how: mitred, folded back, or square, so that partners' allowances match when sewn.

Our own statement of what pattern makers do (common practice, no published source):

* A seam that ends where another edge crosses it is sewn first. When the two pieces lie on each other for it, the ends
  of their allowances should coincide. Mitred, they do where both corners are nearly square; where they would miss each
  other by more than a notch, both are cut off square to the seam that is sewn first, at one and the same distance.
* An edge that is turned back (a hem, a facing grown on at an opening) ends as the mirror image of the line beside it.
* Two edges that are both turned back, or both finished by nothing, are mitred.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import cos, pi, radians, sin

from toilewright.cutting.allowances import corners_of
from toilewright.cutting.corner_joins import natural_reach
from toilewright.geometry.offset import offset_path
from toilewright.geometry.point import turn
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Corner, CornerCut, Edge, EdgeKind
from toilewright.pattern.piece import Piece

MISS = 4.0
"""mm; by so much the ends of two partners' mitred allowances may miss each other: the depth of a notch (common
practice, no published source)."""

SHARPEST = radians(25.0)
"""radians; a corner nearer than this to a straight run, or to nothing, is left mitred."""

TRUE = radians(1.0)
"""radians; an opening that stands square to its neighbour by this much needs no folded corner."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One corner of one piece, seen from the seam that ends there.

    Attributes:
        piece: its name.
        index: of the edge that arrives at the corner.
        seam: the edge of the seam that ends there.
        beside: the other edge.
    """

    piece: str
    index: int
    seam: str
    beside: str


def with_corners(garment: Garment) -> Garment:
    """The garment with its corners as the trade cuts them; those that a piece says already are kept."""
    found: dict[tuple[str, int], Corner] = {}
    for piece in garment.pieces:
        for i, corner in enumerate(corners_of(piece)):
            edges = piece.edges[i], piece.edges[(i + 1) % len(piece.edges)]
            if corner.cut is CornerCut.MITRED and (turned := _turned_back(*edges)):
                found[piece.name, i] = Corner(edges[0].name, edges[1].name, CornerCut.FOLDED, turned)
    for one, other in partners(garment):
        if (one.piece, one.index) in found or (other.piece, other.index) in found:
            continue
        found.update(_matched(garment, one, other))
    return put(garment, found)


def put(garment: Garment, corners: dict[tuple[str, int], Corner], over: bool = False) -> Garment:
    """The garment with corners written on its pieces: (piece, number of the edge that arrives) -> corner.

    Args:
        over: also where a piece says how it is cut already.
    """
    for piece in garment.pieces:
        new = {(c.before, c.after): c for (name, _), c in corners.items() if name == piece.name}
        said = {(c.before, c.after): c for c in piece.corners}
        if new:
            both = {**said, **new} if over else {**new, **said}
            garment = garment.with_piece(replace(piece, corners=tuple(both.values())))
    return garment


def partners(garment: Garment) -> Iterator[tuple[Spot, Spot]]:
    """Pairs of corners that come together at an end of a plain seam of two edges, the seam that is sewn first."""
    for seam in garment.seams:
        if len(seam.a) != 1 or len(seam.b) != 1 or seam.ratio is not None:
            continue
        a, b = seam.a[0], seam.b[0]
        if a.part is not None or b.part is not None or not (garment.has(a.piece) and garment.has(b.piece)):
            continue
        for at_start in (True, False):
            one, other = _spot(garment, a, at_start), _spot(garment, b, at_start)
            if sewn_first(garment, seam, one, other):
                yield one, other


def partner_of(garment: Garment, spot: Spot) -> Spot | None:
    """The corner that comes to lie on this one when the seam that ends here is sewn."""
    for one, other in partners(garment):
        if spot in (one, other):
            return other if spot == one else one
    return None


def spot_at(piece: Piece, index: int, first: str) -> Spot:
    """A corner of a piece, seen from one of its two edges."""
    before, after = piece.edges[index].name, piece.edges[(index + 1) % len(piece.edges)].name
    return Spot(piece.name, index, first, after if first == before else before)


def _spot(garment: Garment, ref: EdgeRef, at_start: bool) -> Spot:
    """The corner at the start or end of a seam, on one of its edges."""
    piece = garment.piece(ref.piece)
    i = piece.edges.index(piece.edge(ref.edge))
    n = len(piece.edges)
    if at_start == ref.reverse:  # the end of the edge
        return Spot(piece.name, i, ref.edge, piece.edges[(i + 1) % n].name)
    return Spot(piece.name, (i - 1) % n, ref.edge, piece.edges[i - 1].name)


def sewn_first(garment: Garment, seam: Seam, one: Spot, other: Spot) -> bool:
    """Does what lies beside the end of a seam run on across it, so that the seam is sewn before that is?

    It does where both edges beside it belong to one side of another seam, or to none at all.
    """
    if one.beside == one.seam or other.beside == other.seam:
        return False
    pair = (one.piece, one.beside), (other.piece, other.beside)
    sides = [{(r.piece, r.edge) for r in side} for s in garment.seams if s is not seam for side in (s.a, s.b)]
    if any(set(pair) <= side for side in sides):
        return True
    return not any(p in side for p in pair for side in sides)


def _turned_back(before: Edge, after: Edge) -> str:
    """Which of two edges is an opening whose allowance is turned back, beside one that is not; or ""."""
    openings = [e for e in (before, after) if e.kind is EdgeKind.OPENING and e.allowance > 0]
    if len(openings) != 1 or EdgeKind.FOLD in (before.kind, after.kind) or before.allowance * after.allowance <= 0:
        return ""
    angle = pi - turn(before.path.end_tangent, after.path.start_tangent)
    return openings[0].name if TRUE < abs(angle - pi / 2) < pi / 2 - SHARPEST else ""


def _matched(garment: Garment, one: Spot, other: Spot) -> dict[tuple[str, int], Corner]:
    """Both corners squared off at one distance, where mitred ends would miss each other."""
    ends = [_ends(garment.piece(s.piece), s) for s in (one, other)]
    if None in ends:
        return {}
    (reach, mitred), (other_reach, other_mitred) = ends
    if abs(mitred - other_mitred) <= MISS:
        return {}
    return {(s.piece, s.index): square(garment.piece(s.piece), s, max(reach, other_reach)) for s in (one, other)}


def square(piece: Piece, spot: Spot, reach: float | None) -> Corner:
    """A corner squared off to the seam that ends there."""
    before, after = piece.edges[spot.index].name, piece.edges[(spot.index + 1) % len(piece.edges)].name
    return Corner(before, after, CornerCut.SQUARE, spot.seam, reach)


def shared_reach(garment: Garment, one: Spot, other: Spot) -> float | None:
    """How far beyond their corners the square ends of two partners lie, so that they coincide (mm)."""
    found = [natural(garment.piece(s.piece), s) for s in (one, other)]
    return None if None in found else max(found)


def natural(piece: Piece, spot: Spot) -> float | None:
    """How far beyond a corner the cutting line beside a seam crosses the seam line that runs on (mm)."""
    seam, beside = piece.edge(spot.seam), piece.edge(spot.beside)
    line = offset_path(beside.path, beside.allowance)
    if piece.edges[spot.index].name == spot.seam:
        return natural_reach(seam.path, line)
    return natural_reach(seam.path.reversed(), line.reversed())


def _ends(piece: Piece, spot: Spot) -> tuple[float, float] | None:
    """(where a square end lies, where a mitred one would) beyond a corner along its seam (mm); None to leave it."""
    seam, beside = piece.edge(spot.seam), piece.edge(spot.beside)
    if EdgeKind.FOLD in (seam.kind, beside.kind) or EdgeKind.HEM in (seam.kind, beside.kind):
        return None
    before, after = piece.edges[spot.index], piece.edges[(spot.index + 1) % len(piece.edges)]
    angle = pi - turn(before.path.end_tangent, after.path.start_tangent)
    if seam.allowance <= 0 or beside.allowance <= 0 or not SHARPEST < angle < pi - SHARPEST:
        return None
    reach = natural(piece, spot)
    return None if reach is None else (reach, reach + seam.allowance * cos(angle) / sin(angle))
