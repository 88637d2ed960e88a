"""Cutting lines: the seam line and its allowances, edge by edge; and the way back from a printed cutting line.

Corners are mitred, and cut off square where they would run out too far. At a hem the ends of the allowance are the
mirror image of the sides above it, so that they lie on the sides when the hem is turned up. What else a piece says of
its corners is followed (:mod:`toilewright.cutting.corners` chooses it). A dart's mouth is part of its edge's line,
with its peak: beside it runs the line that the folded, pressed dart would be cut along. (Common practice, no published
source.)
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from toilewright.cutting.corner_joins import join_for
from toilewright.errors import InputError
from toilewright.geometry.offset import offset_ring
from toilewright.geometry.path import Path
from toilewright.geometry.point import cross, dot
from toilewright.pattern.parts import Corner, CornerCut, Edge, EdgeKind
from toilewright.pattern.piece import Piece
from toilewright.tolerance import JOINT


@lru_cache(maxsize=256)
def cutting_line(piece: Piece) -> tuple[Path, ...]:
    """The line to cut along: one path for each edge, in the order of the ring, end to end (mm).

    The seam line is taken as it is; true the darts first (:func:`toilewright.pattern.truing.true_darts`).

    Raises:
        GeometryError: an edge vanishes between its neighbours.
    """
    edges = piece.edges
    joins = {}
    for i, corner in enumerate(corners_of(piece)):
        join = join_for(corner, edges[i], edges[(i + 1) % len(edges)])
        if join is not None:
            joins[i] = join
    return offset_ring([e.path for e in edges], [e.allowance for e in edges], joins=joins)


def corners_of(piece: Piece) -> tuple[Corner, ...]:
    """How each corner is cut, in the order of the ring: the one at the end of the first edge comes first."""
    said = {(c.before, c.after): c for c in piece.corners}
    n = len(piece.edges)
    pairs = [(piece.edges[i], piece.edges[(i + 1) % n]) for i in range(n)]
    return tuple(said.get((a.name, b.name)) or _usual(a, b, n) for a, b in pairs)


def _usual(before: Edge, after: Edge, count: int) -> Corner:
    """Folded back at a hem, between any two other edges mitred."""
    hems = [e for e in (before, after) if e.kind is EdgeKind.HEM]
    if count > 2 and len(hems) == 1:
        return Corner(before.name, after.name, CornerCut.FOLDED, hems[0].name)
    return Corner(before.name, after.name, CornerCut.MITRED)


def square_ends(piece: Piece) -> tuple[tuple[int, bool], ...]:
    """Edges whose allowance ends in a square corner: (number of the edge, at its end?); for :func:`seam_line`."""
    found = []
    for i, corner in enumerate(corners_of(piece)):
        if corner.cut is CornerCut.SQUARE:
            found.append(((i + 1) % len(piece.edges), False) if corner.first == corner.after else (i, True))
    return tuple(found)


def seam_line(cut_paths: Sequence[Path], allowances: Sequence[float],
              square: Sequence[tuple[int, bool]] = ()) -> tuple[Path, ...]:
    """The seam line inside a printed cutting line: the inverse of :func:`cutting_line`.

    Args:
        cut_paths: the printed outline divided into its edges, end to end, counter-clockwise (mm).
        allowances: for each edge what is to be taken off (mm); 0 on a fold.
        square: edges whose allowance was squared off, as :func:`square_ends` gives them. Where a bent edge was
            trimmed by its neighbour's square end, it comes back straight over that stretch.

    Raises:
        InputError: not as many allowances as edges.
        GeometryError: an edge vanishes between its neighbours.
    """
    if len(cut_paths) != len(allowances):
        raise InputError(f"The cutting line has {len(cut_paths)} edges but {len(allowances)} allowances were given; "
                         "give one for each edge, 0 on a fold.")
    return offset_ring(_without_cut_off_corners(_without_square_ends(cut_paths, square)), [-a for a in allowances])


def _without_square_ends(paths: Sequence[Path], square: Sequence[tuple[int, bool]]) -> list[Path]:
    """The short straight line taken away with which a squared allowance ends."""
    kept = list(paths)
    for i, at_end in square:
        path = kept[i] if at_end else kept[i].reversed()
        straight = len(path.handles) - next((k for k, h in enumerate(reversed(path.handles)) if h), len(path.handles))
        for k in range(len(path.handles) - 1, max(straight, len(path.handles) - 3, 0), -1):
            ahead, behind = path.nodes[k + 1] - path.nodes[k], path.split(path.lengths[k])[0].end_tangent
            if abs(dot(ahead, behind)) < 0.01 * abs(ahead):
                path = Path(path.nodes[:k + 1], path.handles[:k])
                break
        kept[i] = path if at_end else path.reversed()
    return kept


def _without_cut_off_corners(paths: Sequence[Path]) -> list[Path]:
    """Both halves of a corner that was cut off square taken away: the edges will be run on until they meet."""
    kept = list(paths)
    for i in range(len(paths)):
        j = (i + 1) % len(paths)
        a, b = kept[i], kept[j]
        if len(a.handles) < 2 or len(b.handles) < 2 or a.handles[-1] or b.handles[0]:
            continue
        one, other = a.nodes[-1] - a.nodes[-2], b.nodes[1] - b.nodes[0]
        if abs(one - other) < 1e-6 * abs(one) + JOINT and abs(cross(one, other)) < JOINT:
            kept[i] = Path(a.nodes[:-1], a.handles[:-1])
            kept[j] = Path(b.nodes[1:], b.handles[1:])
    return kept
